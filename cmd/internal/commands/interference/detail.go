package interference

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/interference"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// facts are what stands beside the products: single uplink, channel numbers that avoid hits,
// and what else is lost.
func (s *study) facts() render.Facts {
	var facts render.Facts
	if single := s.single(); !single.Configuration.IsZero() {
		f := render.Fact{Name: "single uplink", Value: "not allowed: both uplinks transmit at once", Source: render.Source(single.Source), Remark: single.Configuration.String()}
		switch allowed, known := single.Holds(); {
		case !known:
			f.Value = "not stated in the table"
		case allowed:
			f.Value = "one uplink at a time is allowed"
		}
		facts = append(facts, f)
	}
	facts = append(facts, s.clearFacts()...)
	for _, effect := range [...]interference.Effect{interference.Sensitivity, interference.OutputPower} {
		if text := s.allowanceText(effect); text != "" {
			facts = append(facts, render.Fact{Name: effect.String(), Value: text})
		}
	}
	return facts
}

// isolated says how much the worst leak of an uplink into a downlink may cost; empty if no
// table lists one.
func (s *study) isolated() string {
	if len(s.Isolation) == 0 {
		return ""
	}
	worst := slices.MaxFunc(s.Isolation, func(a, b interference.Isolation) int { return int(a.MSD - b.MSD) })
	return " Cross-band isolation: up to " + worst.MSD.String() + " dB on " + worst.Downlink.Band.String() + " from the uplink in " + worst.Uplinks[0].Band.String() + "."
}

// allowanceText is what each band loses at most: "n78 0.5 dB".
func (s *study) allowanceText(effect interference.Effect) string {
	var parts []string
	for i := range s.bands {
		most := bands.DB(0)
		for j := range s.Allowance {
			if a := &s.Allowance[j]; a.Effect == effect && a.Band == s.bands[i] {
				most = max(most, a.Value)
			}
		}
		if text := s.bands[i].String() + " " + most.String() + " dB"; most > 0 && !slices.Contains(parts, text) {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, ", ")
}

func (s *study) single() ca.SingleUplink {
	if s.assessment == nil {
		return ca.SingleUplink{}
	}
	return s.assessment.SingleUplink()
}

// clearFacts name the channel numbers at which a carrier without a place avoids every hit.
func (s *study) clearFacts() render.Facts {
	ranges := make([][]string, len(s.carriers))
	for _, c := range s.clears() {
		ranges[c.carrier] = append(ranges[c.carrier], strconv.Itoa(int(c.first))+"–"+strconv.Itoa(int(c.last)))
	}
	var facts render.Facts
	for i, list := range ranges {
		if len(list) > 0 {
			facts = append(facts, render.Fact{Name: "no hit", Value: s.names[i] + " at " + words.And(list), Remark: "channel numbers, wherever the others are"})
		}
	}
	return facts
}

// clear is where a carrier without a place is hit by no product.
type clear struct {
	carrier     int
	span        bands.Span
	first, last int32 // channel numbers
}

// clears lists the places of carriers that avoid every hit in which they take part.
func (s *study) clears() []clear {
	if s.assessment == nil || !slices.ContainsFunc(s.Results, func(r interference.Result) bool { return r.Places == interference.SomePlaces }) {
		return nil
	}
	products := make([]interference.Product, len(s.Results))
	for i := range s.Results {
		products[i] = s.Results[i].Product
	}
	var list []clear
	for i := range s.Carriers {
		p := &s.assessment.Carriers[i]
		if p.IsPlaced() || p.Info == nil || !slices.ContainsFunc(products, func(q interference.Product) bool { return q.Hit == interference.Direct && q.Concerns(i) }) {
			continue
		}
		lead := s.Carriers[i].Lead()
		for _, span := range interference.Avoid(s.Carriers, i, products) {
			if first, last, ok := p.Info.Within(lead, span, p.Width(lead)); ok {
				list = append(list, clear{i, span, first, last})
			}
		}
	}
	return list
}

func (s *study) avoidTable() *render.Table {
	t := &render.Table{Title: "Channel numbers that avoid every hit", Columns: []render.Column{
		{Header: "carrier"}, {Header: "from", Align: render.Number}, {Header: "to", Align: render.Number},
		{Header: "centre from", Unit: "MHz", Align: render.Number}, {Header: "to", Unit: "MHz", Align: render.Number},
	}}
	for _, c := range s.clears() {
		t.Rows = append(t.Rows, []string{s.carriers[c.carrier], strconv.Itoa(int(c.first)), strconv.Itoa(int(c.last)), c.span.Low.MHz(), c.span.High.MHz()})
	}
	return t
}

func (s *study) found() []ca.Proposal {
	if s.assessment == nil || !s.assessment.Name.IsZero() {
		return nil
	}
	return s.assessment.Proposals(s.query.options())
}

// shownProposals is how many proposals are shown; JSON has all.
const shownProposals = 3

// proposals say what avoids hits, the best first.
func (s *study) proposals() render.Points {
	var points render.Points
	for _, p := range s.found() {
		if len(points) == shownProposals {
			break
		}
		points = append(points, s.proposal(&p))
	}
	return points
}

func (s *study) proposal(p *ca.Proposal) string {
	left := "no direct hit left"
	if p.Left > 0 {
		left = words.Counted(p.Left, "hit") + " left"
	}
	switch p.Remedy {
	case ca.MoveCarrier:
		way := "up"
		if p.By < 0 {
			way = "down"
		}
		return s.carriers[p.Carrier] + " moved " + way + " by " + max(p.By, -p.By).MHz() + " MHz to channel " + strconv.Itoa(int(p.Channel)) + " (" + p.Centre.MHz() + " MHz): " + left + "."
	case ca.NarrowUplink:
		return "At most " + p.Width.MHz() + " MHz transmitted on " + s.carriers[p.Carrier] + ", around its centre: " + left + "."
	}
	var list []string
	for _, i := range p.Uplinks {
		list = append(list, s.carriers[i])
	}
	return "Uplink on " + words.And(list) + " alone: " + left + "."
}

// Clauses on the products, whose working cites them.
var (
	harmonicClause        = render.Source{Spec: "TS 38.101-1", Version: "19.5.0", Table: "clause 7.3A.4"}
	intermodulationClause = render.Source{Spec: "TS 38.101-1", Version: "19.5.0", Table: "clause 7.3A.5"}
	endcClause            = render.Source{Spec: "TS 38.101-3", Version: "19.5.0", Table: "clause 7.3B.2.3"}
)

func (s *study) clause(p *interference.Product) render.Source {
	for _, id := range s.bands {
		if id.RAT == bands.LTE {
			return endcClause
		}
	}
	if p.Kind == interference.Intermodulation {
		return intermodulationClause
	}
	return harmonicClause
}

// working has the arithmetic of each product.
func (s *study) working() render.Working {
	var w render.Working
	for i := range s.Results {
		w = append(w, s.step(&s.Results[i].Product))
	}
	return w
}

func (s *study) step(p *interference.Product) render.Step {
	var formula, lows, highs []string
	for _, src := range p.Sources() {
		c := &s.Carriers[src.Carrier]
		n := strconv.Itoa(int(src.Coefficient))
		formula = append(formula, n+" × "+s.names[src.Carrier])
		low, high := edges(&c.Uplink)
		if src.Coefficient < 0 {
			low, high = high, low
		}
		lows, highs = append(lows, n+" × "+low.MHz()), append(highs, n+" × "+high.MHz())
	}
	low, high := edges(&s.Carriers[p.Victim].Downlink)
	r := bands.Frequency(p.ReceiverOrder)
	result := p.Span.String() + " at " + s.names.Victim(p) + ", " + bands.Span{Low: r * low, High: r * high}.String() + ": "
	switch {
	case p.Hit == interference.Direct && p.Places == interference.SomePlaces:
		result += "hit in some places"
	case p.Hit == interference.Direct && p.Places == interference.AllPlaces:
		result += "hit in all places"
	case p.Hit == interference.Direct:
		result += "hit"
	default:
		result += p.Distance.MHz() + " MHz apart"
	}
	return render.Step{
		Name: p.Kind.String() + " of order " + strconv.Itoa(int(p.Order)), Formula: strings.Join(formula, " + "),
		Numbers: "from " + strings.Join(lows, " + ") + " to " + strings.Join(highs, " + ") + " MHz", Result: result, Source: s.clause(p),
	}
}

// edges are the lowest and the highest frequency that a channel may fill.
func edges(c *interference.Channel) (low, high bands.Frequency) {
	return c.Centre.Low - c.Width/2, c.Centre.High + (c.Width+1)/2
}

func (s *study) assumptions() []string {
	var list []string
	switch {
	case s.assessment == nil:
		list = append(list, "bands without widths: carriers of any width and place; every band with an uplink transmits")
	case !s.assessment.Name.IsZero():
		list = append(list, "widths: the widest listed for "+s.assessment.Name.String()+"; uplinks: each that its table lists")
	default:
		var senders []string
		for i := range s.assessment.Carriers {
			if p := &s.assessment.Carriers[i]; p.Transmits && p.Transmit == ca.Open && len(s.carriers) > 1 {
				senders = append(senders, s.carriers[i])
			}
		}
		if len(senders) > 0 {
			list = append(list, "uplink on "+words.And(senders)+" (first possible primary cell of each technology); change with ul=1 or ul=0")
		}
	}
	if s.assessment != nil && slices.ContainsFunc(s.assessment.Carriers, func(p ca.Placed) bool { return !p.IsPlaced() }) {
		list = append(list, "carriers without a channel number may lie anywhere in their band")
	}
	list = append(list, "near: within "+interference.DefaultMargin.MHz()+" MHz (common practice); no TDD carrier receives while its own band transmits")
	return list
}

func (s *study) notes() []string {
	var list []string
	if !slices.ContainsFunc(s.bands, func(id bands.ID) bool { return id.RAT == bands.NR }) {
		list = append(list, "The tables of LTE alone (TS 36.101) are not built in: what it allows is not covered here.")
	} else if s.Count(interference.Direct) > 0 {
		list = append(list, "A UE may declare a class of lower MSD (TS 38.101-1 Table 7.3A.7-1).")
	}
	return list
}

func (s *study) cautions() []string {
	if len(s.Results) == 0 {
		return nil
	}
	return []string{"A listed MSD is an allowance at a test point: many phones do better."}
}

func (s *study) sources() render.Sources {
	var list render.Sources
	for _, id := range s.bands {
		if b, err := bands.Lookup(id); err == nil {
			list = append(list, render.Source(b.Source))
		}
	}
	for i := range s.Results {
		for _, e := range s.Results[i].Listed {
			list = append(list, render.Source(e.Source), render.Source(e.Rule))
		}
	}
	for i := range s.Isolation {
		list = append(list, render.Source(s.Isolation[i].Source))
	}
	for i := range s.Allowance {
		list = append(list, render.Source(s.Allowance[i].Source))
	}
	return append(list, render.Source(s.single().Source))
}

// shownLanes is how many products are drawn.
const shownLanes = 8

// drawing shows the carriers and, below them, where products fall.
func (s *study) drawing() *render.Spectrum {
	d := &render.Spectrum{
		Title: "Where the products fall", Detail: true,
		Legend: "MHz, all on one scale: first what the UE receives (upper track) and transmits (lower track, hatched), then a lane for each product that comes near a downlink. " +
			"Without a channel number a carrier or product fills all places that it may take. The axis is broken where nothing lies.",
	}
	lane := render.Lane{Name: "UE"}
	for i := range s.Carriers {
		c := &s.Carriers[i]
		if !c.TDD.IsZero() && !c.Uplink.IsZero() {
			lane.Blocks = append(lane.Blocks, block(s.bands[i].String(), render.BothUse, &c.Downlink, i+1))
			continue
		}
		if !c.Downlink.IsZero() {
			lane.Blocks = append(lane.Blocks, block(s.bands[i].String(), render.DownlinkUse, &c.Downlink, i+1))
		}
		if !c.Uplink.IsZero() {
			lane.Blocks = append(lane.Blocks, block(s.bands[i].String(), render.UplinkUse, &c.Uplink, i+1))
		}
	}
	d.Lanes = append(d.Lanes, lane)
	for i := range s.Results {
		r := &s.Results[i]
		if r.Hit == interference.None || len(d.Lanes) > shownLanes {
			break
		}
		span := bands.Span{Low: r.Span.Low / bands.Frequency(r.ReceiverOrder), High: r.Span.High / bands.Frequency(r.ReceiverOrder)}
		name := s.names.Short(&r.Product)
		if r.ReceiverOrder > 1 {
			name += " (drawn divided by " + strconv.Itoa(int(r.ReceiverOrder)) + ")"
		}
		d.Lanes = append(d.Lanes, render.Lane{Name: name, Blocks: []render.SpectrumBlock{{
			Band: s.names.Formula(&r.Product), Use: render.ProductUse, Edges: span, Within: span, Channels: []render.Channel{{Width: span.Width(), Edges: span}},
		}}})
	}
	return d
}

func block(band string, use render.Use, c *interference.Channel, number int) render.SpectrumBlock {
	low, high := edges(c)
	span := bands.Span{Low: low, High: high}
	return render.SpectrumBlock{Band: band, Use: use, Edges: span, Within: span, Channels: []render.Channel{{Carrier: number, Width: span.Width(), Edges: span}}}
}
