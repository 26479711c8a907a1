package throughput

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/internal/words"
	"spectally/throughput/lte"
)

// Assumption is something an answer rests on that its user did not say.
type Assumption struct {
	// Carriers are the carriers it is about, counted from 1; none where it holds for
	// the whole answer.
	Carriers []int
	// Text says what was assumed and why, in one sentence.
	Text string
	// Source is what the assumption follows; zero where it is the program's own.
	Source bands.Source
}

const (
	textFormula  = "The maximum data rate is the standard's ceiling: it counts every symbol for the direction and does not discount TDD."
	TextNoSource = "common practice, no source"
)

var sourceAirtime = bands.Source{Spec: "TS 37.213", Table: "clause 4"}

// Assumptions lists what the rates rest on and the carriers did not say, those that
// hold for all first, then carrier by carrier.
func (r *Result) Assumptions() []Assumption {
	list := []Assumption{{Text: textFormula, Source: sourceModulation}}
	if r.scheduled {
		list = append(list, r.scheduleAssumptions()...)
	}
	for i := range r.Carriers {
		for _, a := range r.carrierAssumptions(i) {
			list = MergeAssumption(list, a)
		}
	}
	return list
}

// merge adds an assumption, or its carrier to one that says the same.
func MergeAssumption(list []Assumption, a Assumption) []Assumption {
	for i := range list {
		if list[i].Text == a.Text {
			list[i].Carriers = append(list[i].Carriers, a.Carriers...)
			return list
		}
	}
	return append(list, a)
}

func (r *Result) carrierAssumptions(i int) []Assumption {
	var list []Assumption
	p, c := &r.assessment.Carriers[i], &r.Carriers[i]
	say := func(source bands.Source, text ...string) {
		list = append(list, Assumption{Carriers: []int{i + 1}, Text: strings.Join(text, ""), Source: source})
	}
	name := p.Band.String() + " "
	if p.SCS == 0 && p.Band.RAT == bands.NR {
		say(bands.Source{}, name, "subcarrier spacing ", p.Spacing.String(), " (", TextNoSource, ")")
	}
	if c.Frame.Assumed {
		why := "as in the TDD patterns of TS 38.101-4 Annex A"
		source := bands.Source{Spec: "TS 38.101-4", Version: "19.2.2", Table: "Annex A"}
		if p.Band.RAT == bands.LTE {
			why, source = TextNoSource, bands.Source{}
		}
		say(source, name, "TDD pattern ", c.Frame.String(), ", downlink ", c.Frame.Share(bands.Downlink).Percent(), " of the time (", why, ")")
	}
	if p.Info.IsUnlicensed() && r.scheduled && r.settings.Airtime.IsZero() {
		say(sourceAirtime, name, "the network has the channel all of the time, both directions together: nobody else uses it, and listening before talking costs nothing (", TextNoSource, ")")
	}
	for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
		l := c.Link(d)
		if l.IsZero() {
			continue
		}
		if l.LayersAssumed {
			text, source := LayersReason(p, d)
			say(source, name, d.String(), " ", words.Plural(l.Layers, "layer"), " (", text, ")")
		}
		if l.QAMAssumed {
			text, source := ModulationReason(p, d)
			say(source, name, d.String(), " ", words.QAM(l.QAM), " (", text, ")")
		}
		if !l.Counted {
			say(sourceModulation, name, "uplink not added: of an uplink and its supplementary uplink only the faster counts")
		}
		if gap := l.gap(p, d); gap != nil {
			say(gap.Source, name, d.String(), ": ", gap.Error(), "; the largest block that has a size is taken")
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

func LayersReason(p *ca.Placed, d bands.Direction) (string, bands.Source) {
	switch {
	case d == bands.Uplink:
		return "one transmit antenna; " + TextNoSource, bands.Source{}
	case p.Band.RAT == bands.LTE:
		return "two receive antenna ports", sourceLTEPorts
	case DefaultLayers(p.Info, d) == 4:
		return "four receive antenna ports in this band", sourceReceivePorts
	case p.Info.Range.IsFR2():
		return "two polarisations; " + TextNoSource, bands.Source{}
	}
	return "two receive antenna ports", sourceReceivePorts
}

func ModulationReason(p *ca.Placed, d bands.Direction) (string, bands.Source) {
	switch {
	case p.Band.RAT == bands.NR:
		return "where the UE signals no other", sourceModulation
	case d == bands.Uplink:
		return "16QAM for UE categories without 64QAM in the uplink; " + TextNoSource, sourceLTECategory
	}
	return "every UE has it; 256QAM and 1024QAM are optional", bands.Source{Spec: "TS 36.306", Version: "19.2.0", Table: "4.1A-1"}
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
	add := func(text string, source bands.Source) {
		list = append(list, Assumption{Text: text, Source: source})
	}
	if nr {
		if !s.Signals.IsZero() {
			add("Scheduled, NR: signals set up as "+s.Signals.String()+"; what they do not say is as follows.", bands.Source{})
		}
		add("Scheduled, NR downlink: highest MCS of the table in every slot, "+s.controlText()+", "+s.broadcastText()+", xOverhead "+strconv.Itoa(s.XOverhead)+".",
			bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3.2"})
		if up {
			add("Scheduled, NR uplink: highest MCS, one resource block of PUCCH, SRS, no data in special slots, xOverhead "+strconv.Itoa(s.XOverhead)+".",
				bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 6.1.4.2"})
		}
		add("Scheduled, NR: "+s.dmrsText()+"; no slot carries more than the maximum data rate of its carrier, DataRate.",
			bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3"})
	}
	if lte {
		if text := s.LTE.Text(); text != "" {
			add("Scheduled, LTE: cells with "+text+"; what they do not say is as follows.", bands.Source{})
		}
		control := "the shortest control region"
		if s.ControlSymbols > 0 {
			control = "a control region of " + words.Plural(s.ControlSymbols, "symbol")
		}
		signals := ", reference, synchronisation and broadcast signals leave"
		if s.NoBroadcast {
			signals = " and reference signals leave"
		}
		add("Scheduled, LTE: largest blocks up to code rate 0.932 in what "+control+signals+"; 2 resource blocks of PUCCH.",
			bands.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 7.1.7"})
	}
	if quality {
		add("Expected: truncated Shannon curve (TR 36.942 for LTE, TR 38.803 for NR, parts of both from memory), no more than scheduled. On several layers it is an upper bound: each is given the SINR of one, though they share the power.", bands.Source{})
	}
	if ceiling {
		add("Without a SINR the signal-to-noise ratio that RSRP leaves over thermal noise with noise figure "+strconv.FormatFloat(s.noiseFigure(), 'g', -1, 64)+" dB is taken: an upper bound, without interference.", bands.Source{})
	}
	return list
}

func (s *Settings) controlText() string {
	switch s.ControlSymbols {
	case 0:
		return "PDCCH takes 2 symbols of a slot (1 in FR2)"
	case NoControl:
		return "PDCCH takes no symbol"
	}
	return "PDCCH takes " + words.Plural(s.ControlSymbols, "symbol") + " of a slot"
}

func (s *Settings) broadcastText() string {
	if s.NoBroadcast {
		return "no slot is left to broadcast"
	}
	return "slot 0 of every 20 ms is left to SS/PBCH block and broadcast"
}

func (s *Settings) dmrsText() string {
	if s.DMRS == nil {
		return "DM-RS of type 1 with one additional position, single-symbol up to 4 layers, double-symbol above; without data, as few CDM groups as hold the layers in the downlink and both in the uplink"
	}
	return "DM-RS " + s.DMRS.String()
}
