package throughput

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/throughput"
)

// peakValue is the answer of the command as JSON shows it.
type peakValue struct {
	combination.Value                   // of the carriers that are rated, with their numbers among those that were asked for
	Carriers          []carrier         `json:"carriers"`
	UpperBound        bool              `json:"upper_bound"` // the widths are the widest of the name
	Downlink          rated             `json:"dl"`
	Uplink            rated             `json:"ul"`
	Device            *deviceValue      `json:"device"` // null where none was given
	Assumptions       []assumptionValue `json:"assumptions"`
	Notes             []string          `json:"notes"`
	Cautions          []string          `json:"cautions"`
	Working           []render.Step     `json:"working"`
}

type assumptionValue struct {
	Text      string         `json:"text"`
	Carriers  []int          `json:"carriers"`  // counted from 1; none for the whole
	Direction string         `json:"direction"` // empty for both
	Quantity  string         `json:"quantity"`
	Value     string         `json:"value"` // what was taken
	Why       string         `json:"why"`
	Source    *render.Source `json:"source"` // null where it is the program's own
}

// deviceValue compares what a site offers with what a device takes of it.
type deviceValue struct {
	Name     string        `json:"name"`
	Takes    string        `json:"takes"` // in the notation
	Downlink siteValue     `json:"dl"`
	Uplink   siteValue     `json:"ul"`
	Limits   []deviceLimit `json:"limits"`
	Complete bool          `json:"complete"` // false: there may be a better choice of carriers
}

// siteValue are rates of the site, to be compared with those of the answer.
type siteValue struct {
	Max         figures.Figure  `json:"site_max_rate_mbps"`
	Schedulable figures.Figure  `json:"site_schedulable_mbps"`
	Scheduled   figures.Figure  `json:"site_scheduled_mbps"`
	Expected    *figures.Figure `json:"site_expected_mbps"`
}

type deviceLimit struct {
	Carrier *int   `json:"carrier"` // counted from 1; null for the whole
	Item    string `json:"item"`
	Site    string `json:"site"`
	Device  string `json:"device"`
	Text    string `json:"text"`
}

func (k *peak) value(rows *rows) peakValue {
	v := peakValue{
		Value:       k.combination(),
		UpperBound:  !k.site.Name.IsZero(),
		Carriers:    figures.Present(rows.carriers),
		Downlink:    rows.sums[0].rated,
		Uplink:      rows.sums[1].rated,
		Assumptions: []assumptionValue{},
		Notes:       figures.Present(k.notes()),
		Cautions:    k.cautions(),
		Working:     figures.Present([]render.Step(k.working())),
	}
	list := k.assumptions()
	for i := range list {
		a := &list[i]
		w := assumptionValue{Text: assumed.Text(a), Carriers: figures.Present(a.Carriers), Quantity: string(a.Quantity), Value: a.Value, Why: string(a.Why)}
		if a.Direction != 0 {
			w.Direction = a.Direction.Short()
		}
		if a.Source != (bands.Source{}) {
			w.Source = new(render.Source(a.Source))
		}
		v.Assumptions = append(v.Assumptions, w)
	}
	for _, s := range k.statements()[len(assumed.Statements(list)):] { // of packets
		v.Assumptions = append(v.Assumptions, assumptionValue{Text: s.Text, Carriers: []int{}, Quantity: "packet-headers"})
	}
	if k.served != nil {
		v.Device = k.deviceValue()
	}
	return v
}

// combination is the answer about the carriers that are taken.
func (k *peak) combination() combination.Value {
	x := k.carriers
	if x == nil {
		x = &combination.Answer{Assessment: &ca.Assessment{}}
	}
	v := x.Value()
	v.Name, v.Kind, v.Valid = k.site.Name.String(), k.site.Kind.String(), !k.refuted()
	v.Findings = combination.Findings(k.site, k.findings).Values()
	for _, b := range v.Blocks {
		for i, n := range b.Carriers {
			b.Carriers[i] = k.number(n - 1)
		}
		for i := range b.Spacings {
			s := &b.Spacings[i]
			s.Below, s.Above = k.number(s.Below-1), k.number(s.Above-1)
		}
	}
	return v
}

func (k *peak) deviceValue() *deviceValue {
	site := func(r *throughput.Rates) siteValue {
		v := siteValue{Max: figures.Mbps(r.Max), Schedulable: "0", Scheduled: "0", Expected: figures.OptionalMbps(r.Expected)}
		if !r.Scheduled.IsZero() { // there are links in the direction
			v.Schedulable, v.Scheduled = figures.Mbps(r.Schedulable), figures.Mbps(r.Scheduled)
		}
		return v
	}
	v := &deviceValue{
		Name: k.device.Name, Takes: k.served.Carriers.String(), Limits: []deviceLimit{}, Complete: k.served.Complete,
		Downlink: site(&k.offered.Downlink), Uplink: site(&k.offered.Uplink),
	}
	for _, l := range k.served.Limits {
		w := deviceLimit{Item: l.Item, Site: l.Site, Device: l.Device, Text: l.Text}
		if l.Carrier > 0 {
			w.Carrier = new(l.Carrier)
		}
		v.Limits = append(v.Limits, w)
	}
	return v
}
