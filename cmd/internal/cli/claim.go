package cli

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/fieldreport"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/render"
)

func claimCommand(p *program) *cobra.Command {
	f := newClaimFlags()
	cmd := &cobra.Command{
		Use:   "claim [CARRIERS] --FIGURE …",
		Short: "judge one statement about carriers or measurements",
		Long: "Holds a statement against what is known: a total of bandwidth under each of its meanings, a number of carriers, a peak or measured rate, the time of a transfer, a latency, a share of the peak, or that all carriers come from one site. " +
			"The answer is that it holds, under which reading, that it fails, or that what is known does not decide it, with the working. If it fails the exit status is 1.\n\n" +
			"A figure counts with the digits it is stated with: 200 stands for 199.5 to 200.5, and with --about for 10 % to either side. " +
			"CARRIERS are written as for the command ca, or given with --carriers. --runs, --idle-runs and --loaded-runs say what was measured. " +
			"The command field judges the claims of a field log in the same way, against all that the log has.",
		Example: "spectally claim --carriers B3:20+n78:80 --total-mhz 100   # a total, under each of its meanings\n" +
			"spectally claim B3:20 + n78:80 --rate 2000   # a peak rate\n" +
			"spectally claim --transfer 1GB --in 13.3 --rate 600   # the time of a transfer against its speed\n" +
			"spectally claim --share 27 --rate 612 --carriers B3:20,qam=256,layers=4+n78:80   # a share of the peak\n" +
			"spectally claim --idle-ms 15 --idle-runs 14,15,16   # a latency",
		RunE:              p.answers(func(args []string) (*render.Answer, error) { return f.answer(args) }),
		ValidArgsFunction: completeBands,
	}
	f.add(cmd)
	return cmd
}

// claimFlags are the flags of the command.
type claimFlags struct {
	carriers                                                     string
	text                                                         string
	about                                                        bool
	measured                                                     bool
	sameSite                                                     bool
	direction                                                    flags.Choice
	transfer                                                     sizeFlag
	total, count, rate, seconds, idle, loaded, roundTrips, share figureFlag
	runs, idleRuns, loadedRuns                                   runsFlag
}

func newClaimFlags() *claimFlags {
	return &claimFlags{
		direction:  flags.NewDirection(),
		total:      figureFlag{param: "total bandwidth", unit: "MHz"},
		count:      figureFlag{param: "number of carriers", unit: "N"},
		rate:       figureFlag{param: "rate", unit: "Mbit/s"},
		seconds:    figureFlag{param: "time", unit: "SECONDS"},
		idle:       figureFlag{param: "idle latency", unit: "MS"},
		loaded:     figureFlag{param: "latency under load", unit: "MS"},
		roundTrips: figureFlag{param: "round trips a minute", unit: "N"},
		share:      figureFlag{param: "share of the peak", unit: "PERCENT"},
		runs:       runsFlag{param: "measured rate", unit: "Mbit/s,…"},
		idleRuns:   runsFlag{param: "measured latency", unit: "MS,…"},
		loadedRuns: runsFlag{param: "measured latency", unit: "MS,…"},
	}
}

func (f *claimFlags) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.carriers, "carriers", "", "the `CARRIERS` it is about, such as \"B3:20 + n78:80\"")
	flags.Var(&f.total, "total-mhz", "claimed: so much bandwidth in total")
	flags.Var(&f.count, "count", "claimed: so many carriers")
	flags.Var(&f.rate, "rate", "claimed: so high a peak rate; with --measured a measured one; with --transfer or --share the rate it is said of")
	flags.BoolVar(&f.measured, "measured", false, "the rate is said to have been measured")
	flags.Var(&f.transfer, "transfer", "claimed: so much was moved in the time of --in")
	flags.Var(&f.seconds, "in", "how long the transfer took")
	flags.Var(&f.idle, "idle-ms", "claimed: so short a round-trip time without load")
	flags.Var(&f.loaded, "loaded-ms", "claimed: so short a round-trip time under load")
	flags.Var(&f.roundTrips, "round-trips", "claimed: so many round trips a minute under load")
	flags.Var(&f.share, "share", "claimed: so much of the peak rate")
	flags.BoolVar(&f.sameSite, "same-site", false, "claimed: all carriers come from one site")
	flags.BoolVar(&f.about, "about", false, "the figures are rough ones")
	flags.StringVar(&f.text, "text", "", "the statement as it was published")
	flags.Var(&f.direction, "direction", "the direction of rates, transfers and shares; the downlink if not given")
	flags.Var(&f.runs, "runs", "rates that were measured in that direction")
	flags.Var(&f.idleRuns, "idle-runs", "round-trip times that were measured without load")
	flags.Var(&f.loadedRuns, "loaded-runs", "round-trip times that were measured under load")
}

func (f *claimFlags) answer(args []string) (*render.Answer, error) {
	evidence, unrated, err := f.evidence(args)
	if err != nil {
		return nil, err
	}
	c := claim.Claim{
		Text: f.text, About: f.about, Direction: f.direction.Direction(),
		TotalMHz: f.total.value, Carriers: f.count.value, Rate: f.rate.value, Measured: f.measured,
		Transfer: f.transfer.value, Seconds: f.seconds.value,
		IdleMs: f.idle.value, LoadedMs: f.loaded.value, RoundTrips: f.roundTrips.value,
		Share: f.share.value, SameSite: f.sameSite,
	}
	if f.measured && (!c.Rate.IsGiven() || c.Transfer.IsGiven() || c.Share.IsGiven()) {
		return nil, command.At("--measured", errors.New("it goes with a claim of --rate alone"))
	}
	j, err := claim.Judge(c, evidence)
	if err != nil {
		return nil, err
	}
	if unrated != nil {
		j.Cautions = append(j.Cautions, "What the carriers can yield cannot be worked out: "+unrated.Error())
	}
	return fieldreport.ClaimAnswer(j), nil
}

// evidence is what the carriers and the measurements say. If the carriers cannot be
// rated, unrated says why.
func (f *claimFlags) evidence(args []string) (e claim.Evidence, unrated, err error) {
	list, err := f.readCarriers(args)
	if err != nil {
		return e, nil, err
	}
	if len(list) > 0 {
		e, unrated = claim.NewEvidence(list)
	}
	if f.direction.Direction() == bands.Uplink {
		e.Up, e.LoadedUp = f.runs.values, f.loadedRuns.values
	} else {
		e.Down, e.LoadedDown = f.runs.values, f.loadedRuns.values
	}
	e.Idle = f.idleRuns.values
	return e, unrated, nil
}

// readCarriers reads the carriers from the arguments or the flag; none if there are
// none.
func (f *claimFlags) readCarriers(args []string) (ca.Combination, error) {
	text := strings.TrimSpace(strings.Join(args, " "))
	place := ""
	switch {
	case f.carriers == "":
	case text != "":
		return nil, command.At("--carriers", errors.New("not beside the argument CARRIERS: they say the same"))
	default:
		text, place = strings.TrimSpace(f.carriers), "--carriers"
	}
	if text == "" {
		return nil, nil
	}
	name, isName, err := ca.ReadName(text)
	if err == nil && isName {
		list, known := ca.Expand(name)
		if known {
			return list, nil
		}
		err = &bands.ValueError{Param: "name of a configuration", Got: text, Allowed: "a name that the standard lists, or carriers such as B3:20 + n78:80"}
	}
	var list ca.Combination
	if err == nil {
		list, err = ca.Parse(text)
		err = notationErrorOf(err)
	}
	if err != nil && place != "" {
		err = command.At(place, err)
	}
	return list, err
}

// notationErrorOf is notationError for an error that there may not be.
func notationErrorOf(err error) error {
	if err == nil {
		return nil
	}
	return notationError(err)
}
