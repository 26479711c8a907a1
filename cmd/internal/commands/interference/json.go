package interference

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/ca/interference"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

type value struct {
	Carriers     []carrierValue   `json:"carriers"`
	PowerClass   string           `json:"power_class"`
	Order        int              `json:"order"`
	Products     []productValue   `json:"products"`
	Direct       int              `json:"direct"`
	Near         int              `json:"near"`
	Isolation    []isolationValue `json:"isolation"`
	Allowances   []allowanceValue `json:"allowances"`
	SingleUplink *bool            `json:"single_uplink_allowed"` // null where the standard does not say
	Avoid        []avoidValue     `json:"avoid"`
	Proposals    []proposalValue  `json:"proposals"`
	Valid        bool             `json:"valid"`
	Assumptions  []string         `json:"assumptions"`
	Cautions     []string         `json:"cautions"`
	Working      []render.Step    `json:"working"`
}

type carrierValue struct {
	Carrier   string          `json:"carrier"`
	Band      string          `json:"band"`
	Transmits bool            `json:"transmits"`
	DLLow     *figures.Figure `json:"dl_low_mhz"` // over all places, where the carrier has none
	DLHigh    *figures.Figure `json:"dl_high_mhz"`
	ULLow     *figures.Figure `json:"ul_low_mhz"` // null if it does not transmit
	ULHigh    *figures.Figure `json:"ul_high_mhz"`
}

type sourceValue struct {
	Carrier     int `json:"carrier"` // counted from 1
	Coefficient int `json:"coefficient"`
}

type productValue struct {
	Kind          string          `json:"kind"`
	Order         int             `json:"order"`
	Sources       []sourceValue   `json:"sources"`
	Low           figures.Figure  `json:"low_mhz"`
	High          figures.Figure  `json:"high_mhz"`
	Victim        int             `json:"victim"` // counted from 1
	ReceiverOrder int             `json:"receiver_order"`
	Hit           string          `json:"hit"`
	Places        *string         `json:"places"` // some, all, no; null where the places are known
	Distance      figures.Figure  `json:"distance_mhz"`
	Offset        *figures.Figure `json:"offset_mhz"` // of the centres; null where the places are not known
	Listed        []listedValue   `json:"listed"`
}

type listedValue struct {
	render.Source
	Order          int               `json:"order"`
	ReceiverOrder  int               `json:"receiver_order"`
	MSD            *figures.Figure   `json:"msd_db"`
	MSD2Tx         *figures.Figure   `json:"msd_2tx_db"`
	PowerClass     string            `json:"power_class"`
	ULWidths       []*figures.Figure `json:"ul_mhz"`
	DLWidth        *figures.Figure   `json:"dl_mhz"`
	Configurations string            `json:"configurations"`
	Confirmed      bool              `json:"confirmed"`
	Rule           *render.Source    `json:"rule"` // what makes it of the value of class 3
}

type isolationValue struct {
	render.Source
	Uplinks    []string       `json:"uplinks"`
	Downlink   string         `json:"downlink"`
	MSD        figures.Figure `json:"msd_db"`
	PowerClass string         `json:"power_class"`
	Falls      string         `json:"falls"`
	Rule       *render.Source `json:"rule"`
}

type allowanceValue struct {
	render.Source
	Effect        string          `json:"effect"` // delta_rib, delta_tib
	Band          string          `json:"band"`
	Value         *figures.Figure `json:"value_db"` // null where the table says N/A
	Low           *figures.Figure `json:"low_mhz"`
	High          *figures.Figure `json:"high_mhz"`
	Configuration string          `json:"configurations"`
}

type avoidValue struct {
	Carrier int            `json:"carrier"` // counted from 1
	First   int32          `json:"first_channel"`
	Last    int32          `json:"last_channel"`
	Low     figures.Figure `json:"low_mhz"`
	High    figures.Figure `json:"high_mhz"`
}

type proposalValue struct {
	Remedy  string          `json:"remedy"`  // move, narrow-uplink, change-uplink
	Carrier *int            `json:"carrier"` // counted from 1
	Channel *int32          `json:"channel"`
	By      *figures.Figure `json:"by_mhz"`
	Width   *figures.Figure `json:"width_mhz"`
	Uplinks []int           `json:"uplinks"`
	Left    int             `json:"hits_left"`
	Text    string          `json:"text"`
}

func decibels(d bands.DB, ok bool) *figures.Figure {
	if !ok {
		return nil
	}
	return new(figures.Figure(d.String()))
}

func width(f bands.Frequency) *figures.Figure {
	if f == 0 {
		return nil
	}
	return new(figures.MHz(f))
}

func rule(s bands.Source) *render.Source {
	if s == (bands.Source{}) {
		return nil
	}
	return new(render.Source(s))
}

func (s *study) value() value {
	v := value{
		Carriers: []carrierValue{}, PowerClass: string(s.query.powerClass()), Order: s.query.order.Value, Products: []productValue{},
		Direct: s.Count(interference.Direct), Near: s.Count(interference.Near), Isolation: []isolationValue{}, Allowances: []allowanceValue{},
		Avoid: []avoidValue{}, Proposals: []proposalValue{}, Valid: s.valid(),
		Assumptions: figures.Present(s.assumptions()), Cautions: figures.Present(s.cautions()), Working: figures.Present([]render.Step(s.working())),
	}
	single := s.single()
	if allowed, known := single.Holds(); known {
		v.SingleUplink = &allowed
	}
	for i := range s.Carriers {
		v.Carriers = append(v.Carriers, s.carrierValue(i))
	}
	for i := range s.Results {
		v.Products = append(v.Products, productOf(&s.Results[i]))
	}
	for i := range s.Isolation {
		e := &s.Isolation[i]
		w := isolationValue{Source: render.Source(e.Source), Downlink: e.Downlink.Band.String(), MSD: figures.Figure(e.MSD.String()), PowerClass: string(e.PowerClass), Falls: e.Falls, Rule: rule(e.Rule)}
		for _, u := range e.Uplinks {
			w.Uplinks = append(w.Uplinks, u.Band.String())
		}
		v.Isolation = append(v.Isolation, w)
	}
	effects := map[interference.Effect]string{interference.Sensitivity: "delta_rib", interference.OutputPower: "delta_tib"}
	for i := range s.Allowance {
		a := &s.Allowance[i]
		w := allowanceValue{Source: render.Source(a.Source), Effect: effects[a.Effect], Band: a.Band.String(), Value: decibels(a.Value, !a.NotApplicable), Configuration: a.Configurations}
		w.Low, w.High = figures.Edges(a.Applies)
		v.Allowances = append(v.Allowances, w)
	}
	for _, c := range s.clears() {
		v.Avoid = append(v.Avoid, avoidValue{c.carrier + 1, c.first, c.last, figures.MHz(c.span.Low), figures.MHz(c.span.High)})
	}
	for _, p := range s.found() {
		v.Proposals = append(v.Proposals, s.proposalValue(&p))
	}
	return v
}

func (s *study) carrierValue(i int) carrierValue {
	c := &s.Carriers[i]
	v := carrierValue{Carrier: s.carriers[i], Band: s.bands[i].String(), Transmits: !c.Uplink.IsZero()}
	if !c.Downlink.IsZero() {
		low, high := edges(&c.Downlink)
		v.DLLow, v.DLHigh = figures.Edges(bands.Span{Low: low, High: high})
	}
	if v.Transmits {
		low, high := edges(&c.Uplink)
		v.ULLow, v.ULHigh = figures.Edges(bands.Span{Low: low, High: high})
	}
	return v
}

func productOf(r *interference.Result) productValue {
	v := productValue{
		Kind: r.Kind.String(), Order: int(r.Order), Low: figures.MHz(r.Span.Low), High: figures.MHz(r.Span.High), Victim: r.Victim + 1,
		ReceiverOrder: int(r.ReceiverOrder), Hit: r.Hit.String(), Distance: figures.MHz(r.Distance), Listed: []listedValue{},
	}
	for _, src := range r.Sources() {
		v.Sources = append(v.Sources, sourceValue{int(src.Carrier) + 1, int(src.Coefficient)})
	}
	if r.Places == interference.Known {
		v.Offset = new(figures.MHz(r.Offset))
	} else {
		v.Places = new(r.Places.String())
	}
	for i := range r.Listed {
		e := &r.Listed[i]
		w := listedValue{
			Source: render.Source(e.Source), Order: e.Order, ReceiverOrder: e.ReceiverOrder, MSD: decibels(e.MSD, e.HasMSD), MSD2Tx: decibels(e.MSD2Tx, e.Has2Tx),
			PowerClass: string(e.PowerClass), DLWidth: width(e.Downlink.Width), Configurations: e.Configurations, Confirmed: e.Confirmed(), Rule: rule(e.Rule),
		}
		w.ReceiverOrder = max(1, w.ReceiverOrder)
		for _, u := range e.Uplinks {
			w.ULWidths = append(w.ULWidths, width(u.Width))
		}
		v.Listed = append(v.Listed, w)
	}
	return v
}

func (s *study) proposalValue(p *ca.Proposal) proposalValue {
	v := proposalValue{Uplinks: []int{}, Left: p.Left, Text: s.proposal(p)}
	switch p.Remedy {
	case ca.MoveCarrier:
		v.Remedy, v.Carrier, v.Channel, v.By = "move", new(p.Carrier+1), new(p.Channel), new(figures.MHz(p.By))
	case ca.NarrowUplink:
		v.Remedy, v.Carrier, v.Width = "narrow-uplink", new(p.Carrier+1), new(figures.MHz(p.Width))
	default:
		v.Remedy = "change-uplink"
		for _, i := range p.Uplinks {
			v.Uplinks = append(v.Uplinks, i+1)
		}
	}
	return v
}
