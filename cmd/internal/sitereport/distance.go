package sitereport

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/throughput/exact"
	"spectally/throughput/propagation"
)

// distances are the rungs that are shown, in metres.
var distances = []float64{50, 100, 200, 300, 500, 700, 1000, 1500, 2000, 3000, 5000, 7000, 10000, 20000}

// nothing is a rate in bit/s that is none worth a row.
const nothing = 50_000

// byDistance is what a sector lets expect by distance.
type byDistance struct {
	sector   string
	carriers ca.Combination
	ceiling  propagation.LinkRates
	rungs    []propagation.Rung // those of which the model knows
	targets  []target
}

// target is how far a rate goes.
type target struct {
	direction bands.Direction
	rate      exact.Ratio
	distance  float64
	atEnd     bool // and farther, where the model ends
}

// climb works out the rates of every sector by distance.
func (s *study) climb() error {
	if s.Coverage == nil {
		return nil
	}
	for i := range s.Site.Sectors {
		carriers, l, err := s.Ladder(i, s.Coverage)
		if err != nil {
			return err
		}
		x := byDistance{sector: s.SectorName(i), carriers: carriers, ceiling: l.Ceiling()}
		for _, d := range distances {
			r := l.At(d)
			if r.Err != nil || r.Sum.Downlink < nothing && r.Sum.Uplink < nothing {
				continue
			}
			x.rungs = append(x.rungs, r)
		}
		for _, d := range directions {
			rate := s.Target
			if d == bands.Uplink {
				rate = s.UplinkTarget
			}
			if !rate.IsZero() {
				t := target{direction: d, rate: rate}
				t.distance, t.atEnd = l.Reach(d, rate.Float())
				x.targets = append(x.targets, t)
			}
		}
		s.ladders = append(s.ladders, x)
	}
	return nil
}

// distanceBlocks are the tables and pictures of rates by distance.
func (s *study) distanceBlocks() []render.Block {
	var blocks []render.Block
	reach := &render.Table{Title: "Reach of a rate", Columns: []render.Column{
		{Header: "sector", Typed: true}, {Header: "direction"}, {Header: "rate", Unit: "Mbit/s", Align: render.Number}, {Header: "to", Unit: "m", Align: render.Number}, {Header: "note"},
	}}
	for i := range s.ladders {
		x := &s.ladders[i]
		blocks = append(blocks, x.table(), x.chart())
		for _, t := range x.targets {
			note := ""
			switch {
			case t.distance == 0:
				note = "nowhere"
			case t.atEnd:
				note = "and farther: the model ends"
			}
			reach.Rows = append(reach.Rows, []string{x.sector, directionWord(t.direction), mbpsText(t.rate), metresText(t.distance), note})
		}
	}
	if len(reach.Rows) > 0 {
		reach.DropEmpty()
		blocks = append(blocks, reach)
	}
	return append(blocks, render.Points{"Rates by distance: the noise of the receivers alone, no interference from other cells, which a loaded network has; " +
		"the power spread over as many layers, and in the uplink over as many resource blocks, as yield most."})
}

// table has the rates of a sector by distance: of all carriers together, and of each.
func (x *byDistance) table() *render.Table {
	t := &render.Table{Title: "Expected rate by distance, " + x.sector, Columns: []render.Column{
		{Header: "distance", Unit: "m", Align: render.Number},
		{Header: "down", Unit: "Mbit/s", Align: render.Number, Deciding: true},
		{Header: "up", Unit: "Mbit/s", Align: render.Number},
	}}
	for i := range x.carriers {
		name := carrierName(&x.carriers[i])
		t.Columns = append(t.Columns, render.Column{Header: name + " down", Unit: "Mbit/s", Align: render.Number}, render.Column{Header: "up", Unit: "Mbit/s", Align: render.Number})
	}
	for i := range x.rungs {
		r := &x.rungs[i]
		row := []string{metresText(r.Distance), bitsText(r.Sum.Downlink), bitsText(r.Sum.Uplink)}
		for _, c := range r.Carriers {
			row = append(row, bitsText(c.Downlink), bitsText(c.Uplink))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// bitsText writes a rate in bit/s as Mbit/s.
func bitsText(v float64) string { return mbpsText(exact.Whole(int64(v + 0.5))) }

func (x *byDistance) chart() *render.Bars {
	b := &render.Bars{Title: "Rate by distance, " + x.sector, Unit: "Mbit/s", Of: "distance",
		Legend: "Solid: downlink. Hatched: uplink. At most " + bitsText(x.ceiling.Downlink) + " and " + bitsText(x.ceiling.Uplink) + " Mbit/s can be scheduled."}
	for i := range x.rungs {
		r := &x.rungs[i]
		b.Groups = append(b.Groups, render.BarGroup{Name: metresText(r.Distance) + " m", Bars: []render.Bar{
			{Name: "downlink", Value: bitsText(r.Sum.Downlink)}, {Name: "uplink", Value: bitsText(r.Sum.Uplink), Fill: render.Hatched},
		}})
	}
	return b
}

type distanceValue struct {
	Sector    string         `json:"sector"`
	Carriers  []string       `json:"carriers"`
	Scheduled figures.Figure `json:"dl_scheduled_mbps"`
	Uplink    figures.Figure `json:"ul_scheduled_mbps"`
	Rungs     []rungValue    `json:"rungs"`
	Targets   []targetValue  `json:"targets"`
}

type rungValue struct {
	Distance     figures.Figure `json:"distance_m"`
	Downlink     figures.Figure `json:"dl_expected_mbps"`
	Uplink       figures.Figure `json:"ul_expected_mbps"`
	Carriers     []rungValue    `json:"carriers,omitempty"`
	Extrapolated bool           `json:"extrapolated"`
}

type targetValue struct {
	Direction string          `json:"direction"`
	Rate      figures.Figure  `json:"rate_mbps"`
	Distance  *figures.Figure `json:"distance_m"` // null for nowhere
	AtEnd     bool            `json:"model_ends"`
}

func (s *study) distanceValues() []distanceValue {
	list := []distanceValue{}
	for i := range s.ladders {
		x := &s.ladders[i]
		v := distanceValue{Sector: x.sector, Scheduled: bits(x.ceiling.Downlink), Uplink: bits(x.ceiling.Uplink), Rungs: []rungValue{}, Targets: []targetValue{}}
		for k := range x.carriers {
			v.Carriers = append(v.Carriers, x.carriers[k].String())
		}
		for k := range x.rungs {
			r := &x.rungs[k]
			w := rungValue{Distance: trimmed(r.Distance, 1), Downlink: bits(r.Sum.Downlink), Uplink: bits(r.Sum.Uplink), Extrapolated: r.Extrapolated}
			for _, c := range r.Carriers {
				w.Carriers = append(w.Carriers, rungValue{Distance: w.Distance, Downlink: bits(c.Downlink), Uplink: bits(c.Uplink), Extrapolated: r.Extrapolated})
			}
			v.Rungs = append(v.Rungs, w)
		}
		for _, t := range x.targets {
			v.Targets = append(v.Targets, targetValue{shortNames[t.direction], mbps(t.rate), metres(t.distance), t.atEnd})
		}
		list = append(list, v)
	}
	return list
}

func bits(v float64) figures.Figure { return mbps(exact.Whole(int64(v + 0.5))) }
