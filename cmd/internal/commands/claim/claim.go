// Package claim is the command that judges one statement about carriers or measurements.
package claim

import (
	"errors"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/fieldreport"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/notation"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "claim",
		Usage: "[CARRIERS] --FIGURE …",
		Short: "judge statements about carriers or measurements",
		Long: "Holds a statement against what is known: total bandwidth, carriers, peak or measured rates, transfers, latency, shares, bit/s/Hz, comparisons, how far a rate reaches, or one site. " +
			"It holds if what was stated is enough, fails if nothing that the standard admits for the rest can make it true (exit status 1), and is undecided otherwise, with what it needs.\n\n" +
			"A figure counts with its digits: 200 stands for 199.5 to 200.5, a single digit for 5 % to either side, any with --about for 10 %; a bound such as --at-least is taken as it stands. Several figures are judged each and together. " +
			"--runs, --idle-runs and --loaded-runs are measurements. --log judges every claim of a field log, or the one that flags make about a network of it; with --earlier, also against an earlier log (--earlier then.toml --by measured --more-than: faster than before).",
		Examples: "spectally claim --carriers B3:20+n78:80 --total-mhz 100   # a total, under each of its meanings\n" +
			"spectally claim B3:20 + n78:80 --rate 2000   # a peak rate\n" +
			"spectally claim --transfer 1GB --in 13.3 --rate 600   # the time of a transfer against its speed\n" +
			"spectally claim --share 27 --rate 612 --carriers B3:20,qam=256,layers=4+n78:80   # a share of the peak\n" +
			"spectally claim B3:20 + n78:100 --than B3:20+n78:80 --percent-more 20   # a comparison\n" +
			"spectally claim --distance 5km --rate 10 --runs 12@5.2km   # how far a rate reaches\n" +
			"spectally claim --idle-ms 15 --idle-runs 14,15,16   # a latency",
		Answers: []any{claim.Judgement{}, fieldreport.Claims{}},
		New: func(set *pflag.FlagSet) command.Answer {
			f := newClaimFlags()
			f.add(set)
			l := logFlags{set: set}
			l.add(set)
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if l.log == "" {
					if name := l.without(); name != "" {
						return nil, command.At(name, errors.New("it goes with --log"))
					}
					return f.answer(env, args)
				}
				return l.answer(env, args, f)
			}
		},
		Offers: command.Bands,
	}
}

// technologies are what people call them besides.
var technologies = map[string]string{"5g": "nr", "4g": "lte"}

// claimFlags are the flags of the command.
type claimFlags struct {
	carriers                                               string
	text                                                   string
	about, alike                                           bool
	measured                                               bool
	sameSite                                               bool
	direction                                              flags.Choice
	transfer                                               sizeFlag
	as, by, of                                             flags.Choice
	atLeast, atMost, moreThan, lessThan                    bool
	than                                                   string
	times, percentMore, efficiency                         figureFlag
	total, count, seconds, idle, loaded, roundTrips, share figureFlag
	rate, distance                                         figureFlag
	plan                                                   string
	runs, idleRuns, loadedRuns                             runsFlag
}

func newClaimFlags() *claimFlags {
	figure := func(m quantity.Measure, param, unit string) figureFlag {
		return figureFlag{measure: m.Called(param), unit: unit}
	}
	runs := func(m quantity.Measure, param, unit string) runsFlag {
		return runsFlag{measure: m.Called(param), unit: unit + ",…"}
	}
	return &claimFlags{
		direction:   flags.NewDirection(),
		as:          flags.Choice{Param: "reading", Names: namesOf(claim.AllAs()), Index: -1, Others: map[string]string{"5g": "nr", "4g": "lte", "dl": "downlink", "ul": "uplink"}},
		by:          flags.Choice{Param: "comparison", Names: namesOf(claim.AllCompared()), Index: -1},
		of:          flags.Choice{Param: "technology", Names: []string{"lte", "nr"}, Index: -1, Others: technologies},
		total:       figure(quantity.Megahertz, "total bandwidth", "MHz"),
		count:       figure(quantity.Plain, "number of carriers", "N"),
		rate:        figure(quantity.Mbps, "rate", "RATE"),
		distance:    figure(quantity.Metres, "distance", "DISTANCE"),
		times:       figure(quantity.Plain, "times", "N"),
		percentMore: figure(quantity.Percent, "per cent more", "PERCENT"),
		efficiency:  figure(quantity.Efficiency, "bit/s/Hz", "BIT/S/HZ"),
		seconds:     figure(quantity.Seconds, "time", "SECONDS"),
		idle:        figure(quantity.Milliseconds, "idle latency", "MS"),
		loaded:      figure(quantity.Milliseconds, "latency under load", "MS"),
		roundTrips:  figure(quantity.Plain, "round trips a minute", "N"),
		share:       figure(quantity.Percent, "share of the peak", "PERCENT"),
		runs:        runs(quantity.Mbps, "measured rate", "RATE"),
		idleRuns:    runs(quantity.Milliseconds, "measured latency", "MS"),
		loadedRuns:  runs(quantity.Milliseconds, "measured latency", "MS"),
	}
}

func (f *claimFlags) add(set *pflag.FlagSet) {
	set.StringVar(&f.carriers, "carriers", "", "the `CARRIERS` it is about, such as \"B3:20 + n78:80\"")
	set.Var(&f.total, "total-mhz", "claimed total bandwidth")
	set.Var(&f.as, "as", "the reading that the statement means; if not given, the usual one must hold")
	set.Var(&f.count, "count", "claimed number of carriers")
	set.Var(&f.rate, "rate", "claimed peak rate; with --measured, a measured one; with --transfer, --share, --bps-hz or --distance, the rate it is said of")
	set.BoolVar(&f.measured, "measured", false, "the rate is said to have been measured")
	set.Var(&f.transfer, "transfer", "claimed transfer size; give its duration with --in")
	set.Var(&f.seconds, "in", "duration of the transfer")
	set.Var(&f.idle, "idle-ms", "claimed latency without load")
	set.Var(&f.loaded, "loaded-ms", "claimed latency under load")
	set.Var(&f.roundTrips, "round-trips", "claimed round trips a minute under load")
	set.Var(&f.share, "share", "claimed share of the peak rate; with --of, of the total bandwidth")
	set.Var(&f.of, "of", "the technology whose share of the bandwidth is claimed")
	set.Var(&f.distance, "distance", "claimed: --rate at a `DISTANCE` such as 5km; against --runs RATE@DISTANCE or --plan")
	set.StringVar(&f.plan, "plan", "", "a site plan with [coverage], a `FILE`, whose model a --distance is judged by")
	set.Var(&f.efficiency, "bps-hz", "claimed spectral efficiency")
	set.BoolVar(&f.sameSite, "same-site", false, "claimed: all carriers come from one site")
	set.StringVar(&f.than, "than", "", "compare with other `CARRIERS`, or with a figure such as 100MHz or 500Mbit/s")
	set.Var(&f.by, "by", "what is compared; bandwidth if not given")
	set.Var(&f.times, "times", "claimed ratio to the other side")
	set.Var(&f.percentMore, "percent-more", "claimed excess over the other side")
	set.BoolVar(&f.alike, "alike", false, "with --by rate: both sides have the same layers, modulation and TDD pattern")
	set.BoolVar(&f.moreThan, "more-than", false, "the figure, or the other side, is exceeded")
	set.BoolVar(&f.atLeast, "at-least", false, "the figure, or the other side, is reached")
	set.BoolVar(&f.lessThan, "less-than", false, "it stays below the figure, or the other side")
	set.BoolVar(&f.atMost, "at-most", false, "it does not exceed the figure, or the other side")
	set.BoolVar(&f.about, "about", false, "the figures are rough ones")
	set.StringVar(&f.text, "text", "", "the statement as published")
	set.Var(&f.direction, "direction", "direction of rates, transfers and shares; downlink if not given")
	set.Var(&f.runs, "runs", "measured rates in that direction, such as 612,588; 12@5.2km adds the distance")
	set.Var(&f.idleRuns, "idle-runs", "measured latencies without load")
	set.Var(&f.loadedRuns, "loaded-runs", "measured latencies under load")
}

func (f *claimFlags) answer(env *command.Env, args []string) (*render.Answer, error) {
	evidence, unrated, err := f.evidence(env, args)
	if err != nil {
		return nil, err
	}
	c, err := f.claim()
	if err != nil {
		return nil, err
	}
	if c.Than, err = f.other(); err != nil {
		return nil, err
	}
	if err := f.compared(&c, evidence.Assessment != nil, len(f.runs.values) > 0); err != nil {
		return nil, err
	}
	if c.IsEmpty() && !c.Times.IsGiven() && !c.PercentMore.IsGiven() {
		return nil, command.Absent("claim", "one figure at least: --total-mhz, --count, --rate, --transfer with --in, --idle-ms, --loaded-ms, --round-trips, --share, --bps-hz, --distance, --than, or --same-site")
	}
	j, err := claim.JudgeAll(c, evidence)
	if err != nil {
		return nil, err
	}
	if unrated != nil {
		j.Cautions = append(j.Cautions, "What the carriers can yield cannot be worked out: "+unrated.Error())
	}
	return fieldreport.ClaimAnswer(j), nil
}

// claim is what the flags claim, without the other side of a comparison.
func (f *claimFlags) claim() (c claim.Claim, err error) {
	c = claim.Claim{
		Text: f.text, About: f.about, Direction: f.direction.Direction(),
		TotalMHz: f.total.value, Carriers: f.count.value, Rate: f.rate.value, Measured: f.measured,
		Transfer: f.transfer.value, Seconds: f.seconds.value,
		IdleMs: f.idle.value, LoadedMs: f.loaded.value, RoundTrips: f.roundTrips.value,
		Share: f.share.value, SameSite: f.sameSite, Efficiency: f.efficiency.value,
		Distance: f.distance.value, Times: f.times.value, PercentMore: f.percentMore.value, Alike: f.alike,
	}
	if f.as.Given() {
		c.As = claim.AllAs()[f.as.Index]
	}
	if f.of.Given() {
		c.Of = [...]bands.RAT{bands.LTE, bands.NR}[f.of.Index]
	}
	if f.by.Given() {
		c.By = claim.AllCompared()[f.by.Index]
	}
	if c.Relation, err = f.relation(); err != nil {
		return c, err
	}
	if f.measured && (!c.Rate.IsGiven() || c.Transfer.IsGiven() || c.Share.IsGiven() || c.Distance.IsGiven()) {
		return c, command.At("--measured", errors.New("it goes with a claim of --rate alone"))
	}
	return c, nil
}

// relation is that of the flags; at most one of them may be given.
func (f *claimFlags) relation() (r claim.Relation, err error) {
	for _, flag := range [...]struct {
		given    bool
		relation claim.Relation
	}{{f.moreThan, claim.MoreThan}, {f.atLeast, claim.AtLeast}, {f.lessThan, claim.LessThan}, {f.atMost, claim.AtMost}} {
		switch {
		case !flag.given:
		case r != "":
			return "", command.At("--"+strings.ReplaceAll(string(flag.relation), " ", "-"), errors.New("not with --"+strings.ReplaceAll(string(r), " ", "-")))
		default:
			r = flag.relation
		}
	}
	return r, nil
}

// other is the other side of a comparison: a figure with its unit, or carriers; nil if
// there is none.
func (f *claimFlags) other() (*claim.Other, error) {
	text := strings.TrimSpace(f.than)
	if text == "" {
		return nil, nil
	}
	if strings.Trim(text, "0123456789.") == "" {
		return nil, command.At("--than", &bands.ValueError{Param: "figure", Got: text, Allowed: "with its unit, such as " + text + "MHz or " + text + "Mbit/s, or carriers"})
	}
	if d, err := quantity.Megahertz.ParseUnit(text); err == nil {
		return &claim.Other{Figure: d, Unit: "MHz"}, nil
	}
	if d, err := quantity.Mbps.ParseUnit(text); err == nil {
		return &claim.Other{Figure: d, Unit: "Mbit/s"}, nil
	}
	a, err := readCarriersAt("--than", text)
	if err != nil {
		return nil, err
	}
	e, err := claim.NewEvidence(a)
	if err != nil {
		return nil, command.At("--than", err)
	}
	return &claim.Other{Evidence: &e}, nil
}

// compared fits what is compared to the unit of the figure on the other side.
func (f *claimFlags) compared(c *claim.Claim, carriers, runs bool) error {
	if c.Than == nil || c.Than.Unit == "" {
		return nil
	}
	rates := c.Than.Unit == "Mbit/s"
	switch {
	case c.By == "" && rates && carriers && runs:
		return command.AbsentFlag("by", "rate or measured: what the carriers can yield, or the runs")
	case c.By == "" && rates && carriers:
		c.By = claim.ByRate
	case c.By == "" && rates:
		c.By = claim.ByRuns
	case c.By != "" && rates != (c.By != claim.ByBandwidth):
		return command.At("--than", &bands.ValueError{Param: "figure", Got: f.than, Allowed: map[bool]string{true: "in MHz", false: "in Mbit/s"}[rates] + ", as --by " + string(c.By) + " compares"})
	}
	return nil
}

// evidence is what the carriers and the measurements say. If the carriers cannot be
// rated, unrated says why.
func (f *claimFlags) evidence(env *command.Env, args []string) (e claim.Evidence, unrated, err error) {
	a, err := f.readCarriers(args)
	if err != nil {
		return e, nil, err
	}
	if a != nil {
		e, unrated = claim.NewEvidence(a)
	}
	f.spots(&e)
	switch {
	case f.plan == "":
	case !f.distance.value.IsGiven():
		return e, nil, command.At("--plan", errors.New("it goes with a claim of --distance"))
	case a != nil:
		return e, nil, command.At("--plan", errors.New("not with CARRIERS: the plan has its own"))
	default:
		if e.Name, e.Models, err = readModels(env, f.plan); err != nil {
			return e, nil, err
		}
	}
	if f.direction.Direction() == bands.Uplink {
		e.Up, e.LoadedUp = f.runs.values, f.loadedRuns.values
	} else {
		e.Down, e.LoadedDown = f.runs.values, f.loadedRuns.values
	}
	e.Idle = f.idleRuns.values
	return e, unrated, nil
}

// spots are the runs that say at which distance they were made.
func (f *claimFlags) spots(e *claim.Evidence) {
	for i, d := range f.runs.metres {
		if !d.IsGiven() {
			continue
		}
		s := claim.Spot{Metres: d.Rat(), Down: f.runs.values[i]}
		if f.direction.Direction() == bands.Uplink {
			s.Down, s.Up = s.Up, s.Down
		}
		e.Spots = append(e.Spots, s)
	}
}

// readCarriers reads the carriers from the arguments or the flag; nil if there are
// none.
func (f *claimFlags) readCarriers(args []string) (*ca.Assessment, error) {
	for i, arg := range args {
		for _, figure := range [...]struct {
			measure *quantity.Measure
			flag    string
		}{{&quantity.Megahertz, "--total-mhz"}, {&quantity.Mbps, "--rate"}, {&quantity.Metres, "--distance"}} {
			if _, err := figure.measure.ParseUnit(arg); err == nil {
				return nil, command.At(command.Argument(i), &bands.ValueError{Param: "figure", Got: arg, Allowed: "behind its flag: " + figure.flag + " " + arg})
			}
		}
	}
	text := strings.TrimSpace(strings.Join(args, " "))
	place := ""
	switch {
	case f.carriers == "":
	case text != "":
		return nil, command.At("--carriers", errors.New("not with the argument CARRIERS: they say the same"))
	default:
		text, place = strings.TrimSpace(f.carriers), "--carriers"
	}
	if text == "" {
		return nil, nil
	}
	return readCarriersAt(place, text)
}

// readCarriersAt reads carriers, or a name in their place; place is where they stand, for
// errors.
func readCarriersAt(place, text string) (*ca.Assessment, error) {
	a, err := ca.AssessText(text)
	switch {
	case err != nil:
		err = notation.Explain(err)
	case len(a.Carriers) == 0:
		err = &bands.ValueError{Param: "name of a configuration", Got: text, Allowed: "a name that the standard lists, or carriers such as B3:20 + n78:80"}
	}
	if err != nil && place != "" {
		err = command.At(place, err)
	}
	return a, err
}

// namesOf are words as texts.
func namesOf[T ~string](list []T) []string {
	names := make([]string, len(list))
	for i, word := range list {
		names[i] = string(word)
	}
	return names
}
