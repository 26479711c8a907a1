// Package claim judges statements about networks and measurements: whether a total
// of bandwidth, a rate, a number of carriers, the time of a transfer, a latency, a
// share of the peak, or "one site" holds against what is known.
package claim

import (
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
)

// Claim is one statement. Figures that are not given are not claimed. The figures
// given decide its kind, see [Claim.Kind]. A field log and a command line fill it in
// alike, and [Judge] holds it against [Evidence].
type Claim struct {
	// Text is the statement as it was published; may be empty.
	Text string
	// About tells that the figures were given as rough ones.
	About bool
	// Direction is that of a rate, a transfer or a share; zero is the downlink.
	Direction bands.Direction
	// Relation is how the value must stand to the figure; zero is the usual one of its
	// kind: equal for a total, at least for a rate.
	Relation Relation
	// As is the reading that the statement means; zero leaves it open.
	As As

	TotalMHz quantity.Decimal // total bandwidth in MHz
	Carriers quantity.Decimal // number of carriers

	// Rate in Mbit/s is the peak that is claimed; the rate said to have been
	// measured if Measured is set; beside a transfer, the speed it is said to have
	// run at; beside a share, the measured rate it is said of.
	Rate     quantity.Decimal
	Measured bool

	Transfer quantity.Size    // size of a transfer
	Seconds  quantity.Decimal // time it is said to have taken

	IdleMs, LoadedMs quantity.Decimal // round-trip times in ms, without and with load
	RoundTrips       quantity.Decimal // round trips a minute under load

	Share      quantity.Decimal // per cent of the peak rate, or of the total if Of is given
	Of         bands.RAT        // the technology that has the share
	Efficiency quantity.Decimal // bit/s/Hz
	SameSite   bool             // all carriers come from one site
	Distance   quantity.Decimal // metres at which Rate is said to be had

	// Than is the other side of a comparison By bandwidth, rate or runs: so many Times
	// as much, PercentMore, or by Relation alone.
	Than               *Other
	By                 Compared
	Times, PercentMore quantity.Decimal
	// Alike states that both sides of a comparison by rate have the same layers, modulation
	// and TDD pattern on like carriers.
	Alike bool
}

// Kind says what a claim is about.
type Kind uint8

// The kinds of claims.
const (
	TotalBandwidth Kind = iota + 1
	NumberOfCarriers
	PeakRate
	MeasuredRate
	TransferTime
	Latency
	ShareOfPeak
	SameSite
	Efficiency
	ShareOfTotal
	Comparison
	Coverage
	Superlative
	Several
)

var kindNames = [...]string{
	TotalBandwidth: "total-bandwidth", NumberOfCarriers: "number-of-carriers", PeakRate: "peak-rate", MeasuredRate: "measured-rate",
	TransferTime: "transfer-time", Latency: "latency", ShareOfPeak: "share-of-peak", SameSite: "same-site",
	Efficiency: "spectral-efficiency", ShareOfTotal: "share-of-bandwidth", Comparison: "comparison", Coverage: "coverage", Superlative: "rank", Several: "several",
}

// String names the kind in kebab case: "total-bandwidth".
func (k Kind) String() string {
	if int(k) >= len(kindNames) {
		return ""
	}
	return kindNames[k]
}

// MarshalText implements encoding.TextMarshaler.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

const kindsAllowed = "one statement: a total in MHz, a number of carriers, a rate, a transfer with its seconds, a latency, a share, bit/s/Hz, a comparison, a distance, or one site"

// kinds lists the kinds of what is claimed.
func (c *Claim) kinds() []Kind {
	var kinds []Kind
	add := func(given bool, k Kind) {
		if given {
			kinds = append(kinds, k)
		}
	}
	add(c.TotalMHz.IsGiven(), TotalBandwidth)
	add(c.Carriers.IsGiven(), NumberOfCarriers)
	add(c.Transfer.IsGiven() || c.Seconds.IsGiven(), TransferTime)
	add(c.IdleMs.IsGiven() || c.LoadedMs.IsGiven() || c.RoundTrips.IsGiven(), Latency)
	add(c.Share.IsGiven() && c.Of == 0, ShareOfPeak)
	add(c.Share.IsGiven() && c.Of != 0, ShareOfTotal)
	add(c.Efficiency.IsGiven(), Efficiency)
	add(c.Than != nil, Comparison)
	add(c.SameSite, SameSite)
	add(c.Distance.IsGiven(), Coverage)
	if c.Rate.IsGiven() && !c.Transfer.IsGiven() && !c.Share.IsGiven() && !c.Efficiency.IsGiven() && !c.Distance.IsGiven() {
		add(!c.Measured, PeakRate)
		add(c.Measured, MeasuredRate)
	}
	if len(kinds) == 0 && superlativeIn(c.Text) != "" {
		kinds = append(kinds, Superlative)
	}
	return kinds
}

// IsEmpty tells whether nothing is claimed.
func (c *Claim) IsEmpty() bool { return len(c.kinds()) == 0 }

var errOneSide = &bands.ValueError{Param: "comparison", Got: "one side", Allowed: "both sides: carriers, and with --than other carriers or a figure"}

// Kind is the kind of the claim. A claim that says nothing, or that says several
// things of different kinds, is a *bands.ValueError.
func (c *Claim) Kind() (Kind, error) {
	kinds := c.kinds()
	switch {
	case len(kinds) == 0 && (c.Times.IsGiven() || c.PercentMore.IsGiven()):
		return 0, errOneSide
	case len(kinds) == 0:
		return 0, &bands.ValueError{Param: "claim", Got: "nothing claimed", Allowed: kindsAllowed}
	case len(kinds) > 1:
		names := make([]string, len(kinds))
		for i, k := range kinds {
			names[i] = k.String()
		}
		return 0, &bands.ValueError{Param: "claim", Got: strings.Join(names, " and "), Allowed: kindsAllowed}
	}
	return kinds[0], c.check(kinds[0])
}

// Parts are the claims of one kind each that a statement makes at once: "100 MHz and 2
// Gbit/s" makes two.
func (c *Claim) Parts() []Claim {
	kinds := c.kinds()
	if len(kinds) < 2 {
		return []Claim{*c}
	}
	var parts []Claim
	for _, k := range kinds {
		p := Claim{Text: c.Text, About: c.About, Direction: c.Direction, Relation: c.Relation}
		switch k {
		case TotalBandwidth:
			p.TotalMHz, p.As = c.TotalMHz, c.As
		case NumberOfCarriers:
			p.Carriers, p.As = c.Carriers, c.As
		case PeakRate, MeasuredRate:
			p.Rate, p.Measured = c.Rate, c.Measured
		case TransferTime:
			p.Transfer, p.Seconds, p.Rate = c.Transfer, c.Seconds, c.Rate
		case Latency:
			p.IdleMs, p.LoadedMs, p.RoundTrips = c.IdleMs, c.LoadedMs, c.RoundTrips
		case ShareOfPeak, ShareOfTotal:
			p.Share, p.Of, p.Rate = c.Share, c.Of, c.Rate
		case Efficiency:
			p.Efficiency, p.Rate = c.Efficiency, c.Rate
		case Comparison:
			p.Than, p.By, p.Times, p.PercentMore, p.As, p.Alike = c.Than, c.By, c.Times, c.PercentMore, c.As, c.Alike
		case Coverage:
			p.Distance, p.Rate = c.Distance, c.Rate
		case SameSite:
			p.SameSite = true
		}
		parts = append(parts, p)
	}
	return parts
}

// check refuses figures that mean nothing.
func (c *Claim) check(k Kind) error {
	if k == TransferTime {
		switch {
		case !c.Transfer.IsGiven():
			return &bands.ValueError{Param: "transfer", Got: "seconds without a size", Allowed: "both a size, such as 1 GB, and the seconds it took"}
		case !c.Seconds.IsGiven():
			return &bands.ValueError{Param: "transfer", Got: c.Transfer.String() + " without a time", Allowed: "both a size, such as 1 GB, and the seconds it took"}
		}
	}
	switch {
	case c.Of != 0 && !c.Share.IsGiven():
		return &bands.ValueError{Param: "share", Got: "none of " + c.Of.String(), Allowed: "a share in per cent"}
	case (c.Times.IsGiven() || c.PercentMore.IsGiven()) && c.Than == nil:
		return errOneSide
	case c.Alike && (c.Than == nil || c.By != ByRate || c.Than.Figure.IsGiven()):
		return &bands.ValueError{Param: "both sides alike", Got: "no rates of carriers on both sides", Allowed: "a comparison by rate with other carriers"}
	case c.Times.IsGiven() && c.PercentMore.IsGiven():
		return &bands.ValueError{Param: "comparison", Got: "times and per cent more", Allowed: "one of the two"}
	}
	for _, f := range [...]struct {
		name  string
		value quantity.Decimal
	}{
		{"total bandwidth in MHz", c.TotalMHz}, {"number of carriers", c.Carriers}, {"rate in Mbit/s", c.Rate}, {"seconds", c.Seconds},
		{"idle latency in ms", c.IdleMs}, {"loaded latency in ms", c.LoadedMs}, {"round trips a minute", c.RoundTrips}, {"share in per cent", c.Share},
		{"bit/s/Hz", c.Efficiency}, {"distance in metres", c.Distance}, {"times", c.Times}, {"per cent more", c.PercentMore},
	} {
		if f.value.IsGiven() && f.value.Sign() <= 0 {
			return &bands.ValueError{Param: f.name, Got: f.value.String(), Allowed: "a number above zero"}
		}
	}
	return nil
}

// direction is the direction that rates of the claim are of.
func (c *Claim) direction() bands.Direction {
	if c.Direction == bands.Uplink {
		return bands.Uplink
	}
	return bands.Downlink
}

// statement says in the program's words what is claimed.
func (c *Claim) statement(k Kind) string {
	about := ""
	switch {
	case c.Relation != "" && c.Relation != Equal:
		about = string(c.Relation) + " "
	case c.About:
		about = "about "
	}
	as := ""
	if c.As != "" {
		as = " (" + string(c.As) + ")"
	}
	switch k {
	case TotalBandwidth:
		return about + c.TotalMHz.String() + " MHz in total" + as
	case NumberOfCarriers:
		return about + strings.TrimSuffix(c.Carriers.String()+" carriers", map[bool]string{true: "s"}[c.Carriers.String() == "1"]) + as
	case PeakRate:
		return c.direction().String() + " peak of " + about + c.Rate.String() + " Mbit/s"
	case MeasuredRate:
		return about + c.Rate.String() + " Mbit/s measured in the " + c.direction().String()
	case TransferTime:
		s := c.Transfer.String() + " in " + about + c.Seconds.String() + " s"
		if c.Rate.IsGiven() {
			s += " at " + c.Rate.String() + " Mbit/s"
		}
		return s
	case Latency:
		var parts []string
		if c.IdleMs.IsGiven() {
			parts = append(parts, "idle latency "+about+c.IdleMs.String()+" ms")
		}
		if c.LoadedMs.IsGiven() {
			parts = append(parts, "latency under load "+about+c.LoadedMs.String()+" ms")
		}
		if c.RoundTrips.IsGiven() {
			parts = append(parts, about+c.RoundTrips.String()+" round trips a minute under load")
		}
		return strings.Join(parts, ", ")
	case ShareOfPeak:
		s := about + c.Share.String() + " % of the " + c.direction().String() + " peak"
		if c.Rate.IsGiven() {
			s += " with " + c.Rate.String() + " Mbit/s"
		}
		return s
	case ShareOfTotal:
		return about + c.Share.String() + " % of the bandwidth is " + c.Of.String()
	case Efficiency:
		return about + c.Efficiency.String() + " bit/s/Hz in the " + c.direction().String()
	case Comparison:
		return c.comparison(about) + as + map[bool]string{true: bothAlike}[c.Alike]
	case Coverage:
		return c.reach(about)
	case Superlative:
		return superlativeIn(c.Text)
	}
	return "all carriers come from one site"
}

// reach says in the program's words how far a rate is to be had.
func (c *Claim) reach(about string) string {
	what := "reaches " + about + c.Distance.String() + " m"
	if c.Rate.IsGiven() {
		what += " with " + c.Rate.String() + " Mbit/s"
	}
	return what + " in the " + c.direction().String()
}

// comparison says in the program's words what is compared.
func (c *Claim) comparison(about string) string {
	what := map[Compared]string{ByRate: "peak rate", ByRuns: "measured rate"}[c.By]
	if what == "" {
		what = "bandwidth"
	}
	switch {
	case c.Times.IsGiven():
		return about + c.Times.String() + " times the " + what + " of " + c.Than.name()
	case c.PercentMore.IsGiven():
		return about + c.PercentMore.String() + " % more " + what + " than " + c.Than.name()
	case c.Relation == AtLeast:
		return "at least the " + what + " of " + c.Than.name()
	case c.Relation == MoreThan:
		return "more " + what + " than " + c.Than.name()
	case c.Relation == LessThan:
		return "less " + what + " than " + c.Than.name()
	case c.Relation == AtMost:
		return "no more " + what + " than " + c.Than.name()
	}
	return "the same " + what + " as " + c.Than.name()
}
