package claim

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/fieldreport"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/tomlfile"
	"spectally/cmd/internal/userfile"
)

// logFlags choose what is judged of field logs.
type logFlags struct {
	set                   *pflag.FlagSet
	log, earlier, network string
}

func (l *logFlags) add(set *pflag.FlagSet) {
	set.StringVar(&l.log, "log", "", "judge every claim of a field log, a `FILE` or - for standard input; beside other flags, the claim they make about a network of it")
	set.StringVar(&l.earlier, "earlier", "", "an earlier field log, a `FILE`: comparisons are with the same network in it")
	set.StringVar(&l.network, "network", "", "the `NAME` of the network of the log that is meant, if there are several")
}

// without is a flag that needs --log; empty if none is given.
func (l *logFlags) without() string {
	switch {
	case l.earlier != "":
		return "--earlier"
	case l.network != "":
		return "--network"
	}
	return ""
}

// own are flags whose place a log takes.
var own = []string{"carriers", "runs", "idle-runs", "loaded-runs", "plan"}

func (l *logFlags) answer(env *command.Env, args []string, f *claimFlags) (*render.Answer, error) {
	if len(args) > 0 {
		return nil, command.At("--log", errors.New("not with CARRIERS: the log has its own"))
	}
	for _, name := range own {
		if l.set.Changed(name) {
			return nil, command.Conflict(name, "log", "the log has its own")
		}
	}
	file := userfile.Kind[*fieldlog.Log]{Noun: "log", Name: "field log", Read: fieldlog.Read}
	log, err := file.OpenAt(env, "--log", l.log)
	if err != nil {
		return nil, err
	}
	var earlier *fieldlog.Log
	if l.earlier != "" {
		if earlier, err = file.OpenAt(env, "--earlier", l.earlier); err != nil {
			return nil, err
		}
		if err := fieldlog.CheckEarlier(log, earlier); err != nil {
			return nil, command.At("--earlier", err)
		}
	}
	c, err := f.claim()
	if err != nil {
		return nil, err
	}
	compares := c.By != "" || c.Times.IsGiven() || c.PercentMore.IsGiven() || f.than != ""
	if !c.IsEmpty() || compares || c.Relation != "" {
		own, err := l.claim(log, c, f, compares)
		if err != nil {
			return nil, err
		}
		if _, err := own.Claim.Kind(); err != nil && len(own.Parts()) < 2 {
			return nil, err
		}
		log.Claims = []fieldlog.Claim{own}
		return fieldreport.ClaimAnswer(fieldlog.AnalyseBeside(log, earlier).Claims[0].Judgement), nil
	}
	if l.network != "" {
		return nil, command.At("--network", errors.New("it goes with a claim of other flags"))
	}
	return fieldreport.ClaimsAnswer(fieldlog.AnalyseBeside(log, earlier)), nil
}

// claim is the claim of the flags about a network of a log.
func (l *logFlags) claim(log *fieldlog.Log, c claim.Claim, f *claimFlags, compares bool) (own fieldlog.Claim, err error) {
	own = fieldlog.Claim{Claim: c, OtherNetwork: -1}
	names := make([]string, len(log.Networks))
	for i := range names {
		names[i] = log.Networks[i].Name
	}
	indexOf := func(name string) int {
		return slices.IndexFunc(names, func(n string) bool { return strings.EqualFold(n, name) })
	}
	switch own.Network = indexOf(l.network); {
	case l.network != "" && own.Network < 0:
		return own, command.At("--network", &bands.ValueError{Param: "network", Got: l.network, Allowed: strings.Join(names, ", "), Nearest: tomlfile.Nearest(l.network, names)})
	case l.network == "" && len(names) > 1:
		return own, command.AbsentFlag("network", "one of those in the log: "+strings.Join(names, ", "))
	}
	own.Network = max(own.Network, 0)
	switch {
	case f.than != "" && indexOf(f.than) >= 0:
		own.OtherNetwork = indexOf(f.than)
		own.Than = &claim.Other{Evidence: &claim.Evidence{Name: names[own.OtherNetwork]}} // its figures come with the analysis
	case f.than != "":
		if own.Than, err = f.other(); err == nil {
			return own, f.compared(&own.Claim, true, len(log.Networks[own.Network].Runs) > 0)
		}
		if near := tomlfile.Nearest(f.than, names); near != "" {
			err = command.At("--than", &bands.ValueError{Param: "network", Got: f.than, Allowed: strings.Join(names, ", ") + ", carriers or a figure", Nearest: near})
		}
	case l.earlier != "" && (compares || c.IsEmpty()):
		own.Earlier = true
		own.Than = &claim.Other{Evidence: &claim.Evidence{Name: "the earlier log"}}
	case l.earlier != "":
		err = command.At("--earlier", errors.New("it goes with a comparison, such as --by measured --more-than"))
	case compares || c.IsEmpty():
		err = command.AbsentFlag("than", "another network of the log, carriers or a figure; or --earlier with another log")
	}
	return own, err
}
