package throughput

import (
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/lte"
)

// Assumption is something an answer rests on that its user did not say: of which carriers
// or technology, which quantity, what was taken for it, and why. Sentences are for those who
// show it.
type Assumption struct {
	// Carriers are the carriers it is about, counted from 1, and Band theirs; none where it
	// holds for all carriers, of the technology and in the direction that are given.
	Carriers  []int
	Band      bands.ID
	RAT       bands.RAT
	Direction bands.Direction
	Quantity  Quantity
	// Value is what was taken, a number or as the carrier notation, [ParseSignals] and their
	// like write it; empty where the quantity says all.
	Value string
	// Of is the other value that this one follows from: the pattern of a share of time.
	Of  string
	Why Why
	// Origin is where a figure is from: the user's own in the user's words, a published one
	// by its environment.
	Origin string
	// Source is what the assumption follows; zero where it is the program's own.
	Source bands.Source
}

// Quantity is what an assumption is about, in kebab case.
type Quantity string

// The quantities that [Result.Assumptions] and [Device.FillIn] list.
const (
	QuantityMaxRate        Quantity = "max-rate" // the formula counts every symbol for the direction
	QuantitySpacing        Quantity = "scs"
	QuantityPattern        Quantity = "pattern"
	QuantityShare          Quantity = "share"   // of time, of the direction by the pattern
	QuantityAirtime        Quantity = "airtime" // of an unlicensed band, both directions together
	QuantityLayers         Quantity = "layers"
	QuantityQAM            Quantity = "qam"
	QuantityUplinkChoice   Quantity = "uplink-choice"   // of an uplink and its supplementary uplink the faster counts
	QuantityBlockSize      Quantity = "block-size"      // the standard has no size for the largest block
	QuantitySignals        Quantity = "signals"         // as they are set up
	QuantityLTECell        Quantity = "lte-cell"        // what is not as usual
	QuantityMCS            Quantity = "mcs"             // the highest
	QuantityControlSymbols Quantity = "control-symbols" // empty: 2, in FR2 1; in LTE the fewest
	QuantityBroadcast      Quantity = "broadcast"       // slots of 20 ms without data; in LTE whether synchronisation and broadcast are left room
	QuantityXOverhead      Quantity = "xoverhead"
	QuantityPUCCH          Quantity = "pucch" // resource blocks
	QuantitySRS            Quantity = "srs"
	QuantitySpecialSlots   Quantity = "special-slots" // without uplink data
	QuantityDMRS           Quantity = "dmrs"          // empty: by the layers
	QuantityDataRate       Quantity = "data-rate"     // no slot above the maximum data rate of its carrier
	QuantityCodeRate       Quantity = "code-rate"     // the highest of LTE blocks
	QuantityLinkCurve      Quantity = "link-curve"
	QuantityNoiseFigure    Quantity = "noise-figure" // in dB, where the RSRP stands for a SINR
)

// Why is the reason of an assumption, in kebab case; empty where the quantity says all.
type Why string

// The reasons.
const (
	WhyCommonPractice   Why = "common-practice" // no source
	WhyTestPatterns     Why = "test-patterns"   // as the TDD patterns of TS 38.101-4
	WhyOneAntenna       Why = "one-transmit-antenna"
	WhyTwoPorts         Why = "two-receive-ports"
	WhyFourPorts        Why = "four-receive-ports"
	WhyTwoPolarisations Why = "two-polarisations"
	WhyNoOtherSignalled Why = "no-other-signalled" // where the UE signals no other
	WhyUplinkCategory   Why = "uplink-category"    // 16QAM for UE categories without 64QAM in the uplink
	WhyEveryUE          Why = "every-ue"           // others are optional
	WhyDevice           Why = "device"             // the device's most
	WhyFirst            Why = "faster-counts"
)

// sourceAirtime is what sharing a channel follows.
var sourceAirtime = bands.Source{Spec: "TS 37.213", Table: "clause 4"}

// Assumptions lists what the rates rest on and the carriers did not say, those that
// hold for all first, then carrier by carrier.
func (r *Result) Assumptions() []Assumption {
	list := []Assumption{{Quantity: QuantityMaxRate, Source: sourceModulation}}
	if r.scheduled {
		list = append(list, r.scheduleAssumptions()...)
	}
	for i := range r.Carriers {
		for _, a := range r.carrierAssumptions(i) {
			list = mergeAssumption(list, a)
		}
	}
	return list
}

// mergeAssumption adds an assumption, or its carriers to one that is the same of others.
func mergeAssumption(list []Assumption, a Assumption) []Assumption {
	i := slices.IndexFunc(list, a.same)
	if i < 0 {
		return append(list, a)
	}
	list[i].Carriers = append(list[i].Carriers, a.Carriers...)
	return list
}

// same tells whether both are the same but for their carriers.
func (a Assumption) same(b Assumption) bool {
	return a.Band == b.Band && a.RAT == b.RAT && a.Direction == b.Direction && a.Quantity == b.Quantity && a.Value == b.Value && a.Of == b.Of && a.Why == b.Why
}

// Assume is what is assumed of a carrier that does not say: its subcarrier spacing, pattern,
// share of time, airtime, layers or constellation, with the reason.
func Assume(p *ca.Placed, d bands.Direction, q Quantity, value string) Assumption {
	a := Assumption{Band: p.Band, RAT: p.Band.RAT, Direction: d, Quantity: q, Value: value}
	switch q {
	case QuantitySpacing:
		a.Why = WhyCommonPractice
	case QuantityAirtime:
		a.Why, a.Source = WhyCommonPractice, sourceAirtime
	case QuantityPattern:
		a.Why = WhyCommonPractice
		if p.Band.RAT == bands.NR {
			a.Why, a.Source = WhyTestPatterns, bands.Source{Spec: "TS 38.101-4", Version: "19.2.2", Table: "Annex A"}
		}
	case QuantityLayers:
		a.Why, a.Source = whyLayers(p, d)
	case QuantityQAM:
		a.Why, a.Source = whyQAM(p, d)
	}
	return a
}

func (r *Result) carrierAssumptions(i int) []Assumption {
	var list []Assumption
	p, c := &r.assessment.Carriers[i], &r.Carriers[i]
	say := func(a Assumption) {
		a.Carriers = []int{i + 1}
		list = append(list, a)
	}
	if p.SCS == 0 && p.Band.RAT == bands.NR {
		say(Assume(p, 0, QuantitySpacing, p.Spacing.String()))
	}
	if c.Frame.Assumed {
		say(Assume(p, 0, QuantityPattern, c.Frame.String()))
		share := Assume(p, bands.Downlink, QuantityShare, c.Frame.Share(bands.Downlink).Percent())
		share.Of = c.Frame.String()
		say(share)
	}
	if r.AirtimeAssumed(i) {
		say(Assume(p, 0, QuantityAirtime, DefaultAirtime().Percent()))
	}
	for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
		l := c.Link(d)
		if l.IsZero() {
			continue
		}
		if l.LayersAssumed {
			say(Assume(p, d, QuantityLayers, strconv.Itoa(l.Layers)))
		}
		if l.QAMAssumed {
			say(Assume(p, d, QuantityQAM, strconv.Itoa(l.QAM)))
		}
		if !l.Counted {
			a := Assume(p, d, QuantityUplinkChoice, "")
			a.Why, a.Source = WhyFirst, sourceModulation
			say(a)
		}
		if gap := l.gap(p, d); gap != nil {
			a := Assume(p, d, QuantityBlockSize, gap.Error())
			a.Source = gap.Source
			say(a)
		}
	}
	return list
}

// gap is the larger block that the standard has no size for; nil where there is none.
func (l *Link) gap(p *ca.Placed, d bands.Direction) *lte.GapError {
	if p.Band.RAT != bands.LTE {
		return nil
	}
	block, err := lte.LargestBlock(d, l.Qm(), l.Layers, l.ResourceBlocks)
	if err != nil {
		return nil // Rate has reported it
	}
	return block.Gap
}

func whyLayers(p *ca.Placed, d bands.Direction) (Why, bands.Source) {
	switch {
	case d == bands.Uplink:
		return WhyOneAntenna, bands.Source{}
	case p.Band.RAT == bands.LTE:
		return WhyTwoPorts, sourceLTEPorts
	case DefaultLayers(p.Info, d) == 4:
		return WhyFourPorts, sourceReceivePorts
	case p.Info.Range.IsFR2():
		return WhyTwoPolarisations, bands.Source{}
	}
	return WhyTwoPorts, sourceReceivePorts
}

func whyQAM(p *ca.Placed, d bands.Direction) (Why, bands.Source) {
	switch {
	case p.Band.RAT == bands.NR:
		return WhyNoOtherSignalled, sourceModulation
	case d == bands.Uplink:
		return WhyUplinkCategory, sourceLTECategory
	}
	return WhyEveryUE, bands.Source{Spec: "TS 36.306", Version: "19.2.0", Table: "4.1A-1"}
}

// scheduleAssumptions lists what a schedule rests on.
func (r *Result) scheduleAssumptions() []Assumption {
	var list []Assumption
	var lte, nr, up, quality, ceiling bool
	for i := range r.Carriers {
		nr = nr || r.assessment.Carriers[i].Band.RAT == bands.NR
		lte = lte || r.assessment.Carriers[i].Band.RAT == bands.LTE
		up = up || r.assessment.Carriers[i].Band.RAT == bands.NR && !r.Carriers[i].Uplink.IsZero()
		if q, ok := r.Quality(i); ok {
			quality, ceiling = true, ceiling || q.FromRSRP
		}
	}
	s := &r.settings
	signalsOf := map[Quantity]string{QuantityControlSymbols: "pdcch", QuantityBroadcast: "ssb", QuantityPUCCH: "pucch", QuantitySRS: "srs", QuantitySpecialSlots: "special"}
	of := func(rat bands.RAT, d bands.Direction, source bands.Source, quantities ...Assumption) {
		for _, a := range quantities {
			if rat == bands.NR && signalsOf[a.Quantity] != "" && s.Signals.Gives(signalsOf[a.Quantity]) {
				continue // the user has said it
			}
			a.RAT, a.Direction, a.Source = rat, d, source
			list = append(list, a)
		}
	}
	if nr {
		if !s.Signals.IsZero() {
			of(bands.NR, 0, bands.Source{}, Assumption{Quantity: QuantitySignals, Value: s.Signals.String()})
		}
		overhead := Assumption{Quantity: QuantityXOverhead, Value: strconv.Itoa(s.XOverhead)}
		broadcast := Assumption{Quantity: QuantityBroadcast, Value: "0"}
		if s.NoBroadcast {
			broadcast.Value = ""
		}
		of(bands.NR, bands.Downlink, bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3.2"},
			Assumption{Quantity: QuantityMCS}, Assumption{Quantity: QuantityControlSymbols, Value: s.controlValue()}, broadcast, overhead)
		if up {
			of(bands.NR, bands.Uplink, bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 6.1.4.2"},
				Assumption{Quantity: QuantityMCS}, Assumption{Quantity: QuantityPUCCH, Value: "1"}, Assumption{Quantity: QuantitySRS}, Assumption{Quantity: QuantitySpecialSlots}, overhead)
		}
		dmrs := Assumption{Quantity: QuantityDMRS}
		if s.DMRS != nil {
			dmrs.Value = s.DMRS.String()
		}
		common := []Assumption{dmrs, {Quantity: QuantityDataRate}}
		if s.Signals.Set != 0 && s.DMRS == nil {
			common = common[1:] // the set has its own
		}
		of(bands.NR, 0, bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3"}, common...)
	}
	if lte {
		if text := s.LTE.Text(); text != "" {
			of(bands.LTE, 0, bands.Source{}, Assumption{Quantity: QuantityLTECell, Value: text})
		}
		broadcast := Assumption{Quantity: QuantityBroadcast, Value: "0"}
		if s.NoBroadcast {
			broadcast.Value = ""
		}
		of(bands.LTE, 0, bands.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 7.1.7"},
			Assumption{Quantity: QuantityCodeRate, Value: "0.932"}, Assumption{Quantity: QuantityControlSymbols, Value: s.controlValue()}, broadcast, Assumption{Quantity: QuantityPUCCH, Value: "2"})
	}
	if quality {
		list = append(list, Assumption{Quantity: QuantityLinkCurve})
	}
	if ceiling {
		list = append(list, Assumption{Quantity: QuantityNoiseFigure, Value: strconv.FormatFloat(s.noiseFigure(), 'g', -1, 64)})
	}
	return list
}

// controlValue is the number of control symbols; empty for the usual.
func (s *Settings) controlValue() string {
	switch s.ControlSymbols {
	case 0:
		return ""
	case NoControl:
		return "0"
	}
	return strconv.Itoa(s.ControlSymbols)
}
