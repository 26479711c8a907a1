package throughput

import (
	"slices"
	"strconv"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/cmd/internal/columns"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// rated are the rates of a link, or of the sum of a direction, and the width over which
// they are spread. What an application sees of them is nil where it is not asked for.
type rated struct {
	throughput.Rates
	width   bands.Frequency
	goodput *throughput.Goodput
}

// Fields are those of JSON.
func (*rated) Fields() []string { return rateColumns.Keys() }

// MarshalJSON implements json.Marshaler.
func (r rated) MarshalJSON() ([]byte, error) { return rateColumns.JSON(&r) }

// link is a row: a carrier in a direction, or the sum of a direction, which has neither a
// carrier nor a link.
type link struct {
	rated
	direction bands.Direction
	carrier   *carrier
	place     *combination.Link
	rates     *throughput.CarrierRates
	*throughput.Link
}

// Fields are those of JSON.
func (*link) Fields() []string { return linkColumns().Keys() }

// MarshalJSON implements json.Marshaler.
func (l *link) MarshalJSON() ([]byte, error) { return linkColumns().JSON(l) }

// carrier has the rates of a carrier. A direction that it does not have, or in which the
// UE does not send, is null.
type carrier struct {
	combination.Carrier
	Downlink *link    `json:"dl"`
	Uplink   *link    `json:"ul"`
	Quality  *quality `json:"quality"` // null where no SINR or RSRP is known
	bare     string   // without its place and keys
}

// quality is what the signal of a carrier lets expect.
type quality struct {
	throughput.Quality
	carrier *carrier
}

// Fields are those of JSON.
func (*quality) Fields() []string { return qualityColumns.Keys() }

// MarshalJSON implements json.Marshaler.
func (q *quality) MarshalJSON() ([]byte, error) { return qualityColumns.JSON(q) }

// rateColumns are the figures of a link or a sum, and what follows from them.
var rateColumns = columns.Set[*rated]{
	{Key: "max_rate_mbps", Header: "maximum", Unit: "Mbit/s", Align: render.Number, Value: func(r *rated) any { return figures.Mbps(r.Max) }, Text: func(r *rated) string { return figures.MbpsText(r.Max) }},
	{Key: "schedulable_mbps", Value: func(r *rated) any { return figures.Mbps(r.Schedulable) }},
	{Key: "scheduled_mbps", Header: "scheduled", Unit: "Mbit/s", Align: render.Number, Deciding: true, Value: func(r *rated) any { return figures.Mbps(r.Scheduled) }, Text: func(r *rated) string { return figures.MbpsText(r.Scheduled) }},
	{Key: "expected_mbps", Header: "expected", Unit: "Mbit/s", Align: render.Number, Value: func(r *rated) any { return figures.OptionalMbps(r.Expected) }, Text: func(r *rated) string { return known(r.Expected) }},
	{Key: "max_bps_hz", Value: func(r *rated) any { return figures.PerHertz(r.Max, r.width) }},
	{Key: "scheduled_bps_hz", Header: "scheduled", Unit: "bit/s/Hz", Align: render.Number, Minor: true, Value: func(r *rated) any { return figures.PerHertz(r.Scheduled, r.width) }, Text: func(r *rated) string { return figures.PerHertzText(r.Scheduled, r.width) }},
	{Key: "expected_bps_hz", Value: func(r *rated) any { return figures.PerHertz(r.Expected, r.width) }},
	{Key: "ip_mbps", Value: func(r *rated) any { return r.left(func(g *throughput.Goodput) exact.Ratio { return g.IP }) }},
	{Key: "tcp_mbps", Value: func(r *rated) any { return r.left(func(g *throughput.Goodput) exact.Ratio { return g.TCP }) }},
}

// left is what an application sees; nil where it is not asked for.
func (r *rated) left(of func(*throughput.Goodput) exact.Ratio) any {
	if r.goodput == nil {
		return nil
	}
	return figures.Mbps(of(r.goodput))
}

// known is a rate for people; empty where it is not known.
func known(r exact.Ratio) string {
	if r.IsZero() {
		return ""
	}
	return figures.MbpsText(r)
}

// linkColumns are those of the table of carriers. A sum has but a few of them.
var linkColumns = sync.OnceValue(func() columns.Set[*link] {
	return slices.Concat(columns.Set[*link]{
		{Key: "carrier", Header: "no.", Align: render.Number, Apart: true, Value: func(l *link) any {
			if l.carrier == nil {
				return "all"
			}
			return l.carrier.Number
		}},
		{Header: "carrier", Text: func(l *link) string { return l.carrier.bare }},
		{Key: "band", Apart: true, Value: ofCarrier(func(l *link) any { return l.carrier.Band })},
		{Key: "direction", Header: "link", Apart: true, Value: func(l *link) any { return l.direction.Short() }, Text: func(l *link) string { return downOrUp(l.direction) }},
		{Key: "pattern", Apart: true, Value: ofCarrier(func(l *link) any { return l.carrier.Pattern })},
		{Key: "share", Apart: true, Value: ofCarrier(func(l *link) any { return l.share() })},
		{Key: "width_mhz", Value: func(l *link) any { return figures.MHz(l.width) }},
		{Key: "channel", Object: true, Value: ofCarrier(func(l *link) any { return l.place.Channel })},
		{Key: "centre_mhz", Object: true, Value: ofCarrier(func(l *link) any { return l.place.Centre })},
		{Key: "low_mhz", Object: true, Value: ofCarrier(func(l *link) any { return l.place.Low })},
		{Key: "high_mhz", Object: true, Value: ofCarrier(func(l *link) any { return l.place.High })},
		{Key: "centre_low_mhz", Object: true, Value: ofCarrier(func(l *link) any { return l.place.CentreLow })},
		{Key: "centre_high_mhz", Object: true, Value: ofCarrier(func(l *link) any { return l.place.CentreHigh })},
		{Key: "n_rb", Header: "N_RB", Align: render.Number, Minor: true, Value: ofCarrier(func(l *link) any { return l.ResourceBlocks })},
		{Key: "scs_khz", Header: "SCS", Unit: "kHz", Align: render.Number, Minor: true, Value: ofCarrier(func(l *link) any { return figures.KHz(l.SCS) })},
		{Key: "layers", Header: "layers", Align: render.Number, Value: ofCarrier(func(l *link) any { return l.Layers })},
		{Key: "layers_assumed", Object: true, Value: ofCarrier(func(l *link) any { return l.LayersAssumed })},
		{Key: "qam", Header: "QAM", Align: render.Number, Value: ofCarrier(func(l *link) any { return l.QAM }), Text: func(l *link) string { return constellation(l.QAM) }},
		{Key: "qam_assumed", Object: true, Value: ofCarrier(func(l *link) any { return l.QAMAssumed })},
		{Key: "qm", Object: true, Value: ofCarrier(func(l *link) any { return l.Qm() })},
		{Key: "scaling", Object: true, Value: ofCarrier(func(l *link) any { return l.scaling() })},
		{Key: "peak_mbps", Object: true, Value: ofCarrier(func(l *link) any { return figures.OptionalMbps(l.Peak) })},
		{Key: "peak_bps_hz", Object: true, Value: ofCarrier(func(l *link) any { return l.peakEfficiency() })},
	}, columns.Of(rateColumns, func(l *link) *rated { return &l.rated }), columns.Set[*link]{
		{Key: "counted", Value: ofCarrier(func(l *link) any { return l.Counted })}, // false for the slower of an uplink and its supplementary uplink
		{Header: "note", Text: func(l *link) string {
			if l.Counted {
				return ""
			}
			return "not added"
		}},
		{Key: "sinr_db", Apart: true, Value: ofQuality(func(q *quality) any { return figures.Decibels(q.SINR) })},
		{Key: "cqi", Apart: true, Value: ofQuality(func(q *quality) any { return index(q.CQI) })},
		{Key: "mcs", Apart: true, Value: ofQuality(func(q *quality) any { return index(q.MCS) })},
	})
})

// ofCarrier is a value that a sum does not have.
func ofCarrier(value func(*link) any) func(*link) any {
	return func(l *link) any {
		if l.carrier == nil {
			return nil
		}
		return value(l)
	}
}

// ofQuality is a value of the downlink whose signal is known.
func ofQuality(value func(*quality) any) func(*link) any {
	return func(l *link) any {
		if l.carrier == nil || l.carrier.Quality == nil || l.direction != bands.Downlink {
			return nil
		}
		return value(l.carrier.Quality)
	}
}

// share is the share of time of the direction.
func (l *link) share() *figures.Figure {
	if l.direction == bands.Uplink {
		return l.carrier.ULShare
	}
	return l.carrier.DLShare
}

// scaling is the scaling factor of a link of NR; nil in LTE.
func (l *link) scaling() any {
	if l.carrier.RAT != bands.NR.String() {
		return nil
	}
	return combination.Scaling(l.Link)
}

// peakColumns are those of the peak data rates.
var peakColumns = columns.Set[*link]{
	{Header: "no.", Align: render.Number, Text: func(l *link) string { return strconv.Itoa(l.carrier.Number) }},
	{Header: "carrier", Text: func(l *link) string { return l.carrier.bare }},
	{Header: "link", Text: func(l *link) string { return downOrUp(l.direction) }},
	{Header: "peak", Unit: "Mbit/s", Align: render.Number, Text: func(l *link) string { return known(l.Peak) }},
	{Header: "peak", Unit: "bit/s/Hz", Align: render.Number, Text: func(l *link) string {
		if e := l.peakEfficiency(); e != nil {
			return string(*e)
		}
		return ""
	}},
}

// peakEfficiency is the peak rate over width and time; nil where there is none.
func (l *link) peakEfficiency() *figures.Figure {
	e := l.rates.PeakEfficiency(l.direction)
	if e.IsZero() {
		return nil
	}
	return new(figures.Figure(strconv.FormatFloat(e.Float(), 'f', 4, 64)))
}

// index is an index of a table; nil where there is none.
func index(n int) any {
	if n < 0 {
		return nil
	}
	return n
}

// qualityColumns are those of what the signal lets expect.
var qualityColumns = columns.Set[*quality]{
	{Header: "no.", Align: render.Number, Text: func(q *quality) string { return strconv.Itoa(q.carrier.Number) }},
	{Header: "carrier", Text: func(q *quality) string { return q.carrier.bare }},
	{Key: "sinr_db", Header: "SINR", Unit: "dB", Align: render.Number, Value: func(q *quality) any { return figures.Decibels(q.SINR) }},
	{Key: "from_rsrp", Value: func(q *quality) any { return q.FromRSRP }},
	{Key: "snr_ceiling_db", Header: "ceiling by RSRP", Unit: "dB", Align: render.Number, Value: func(q *quality) any {
		if !q.HasCeiling {
			return nil
		}
		return figures.Decibels(q.Ceiling)
	}},
	{Key: "bps_hz_layer", Header: "per layer", Unit: "bit/s/Hz", Align: render.Number, Value: func(q *quality) any {
		return figures.Figure(strconv.FormatFloat(q.Efficiency, 'f', 4, 64))
	}, Text: func(q *quality) string { return strconv.FormatFloat(q.Efficiency, 'f', 3, 64) }},
	{Key: "cqi", Header: "CQI", Align: render.Number, Value: func(q *quality) any { return index(q.CQI) }}, // null where even the lowest is above the efficiency
	{Key: "mcs", Header: "MCS", Align: render.Number, Value: func(q *quality) any { return index(q.MCS) }},
	{Key: "capped", Value: func(q *quality) any { return q.Capped }}, // the scheduled rate is lower
	{Header: "expected", Unit: "Mbit/s", Align: render.Number, Text: func(q *quality) string { return figures.MbpsText(q.Rate) }},
	{Header: "note", Text: func(q *quality) string {
		var notes []string
		if q.FromRSRP {
			notes = append(notes, "SINR not known: its ceiling is taken")
		}
		if q.Capped {
			notes = append(notes, "the scheduled rate limits")
		}
		if q.HasCeiling && q.SINR > q.Ceiling {
			notes = append(notes, "SINR above the ceiling: the receiver is better than its noise figure says")
		}
		return strings.Join(notes, "; ")
	}},
}

// rows are those of the tables.
type rows struct {
	carriers  []carrier
	links     []*link
	sums      []*link // downlink, uplink
	qualities []*quality
}

// rows gathers what the tables show.
func (k *peak) rows() (*rows, error) {
	r := &rows{carriers: make([]carrier, k.count())}
	for i := range r.carriers {
		c := &r.carriers[i]
		p, rates := &k.carriers.Carriers[i], &k.taken.Carriers[i]
		*c = carrier{Carrier: k.carriers.Carrier(i), bare: combination.Bare(p)}
		c.Number = k.number(i)
		for _, d := range directions {
			l := rates.Link(d)
			if l.IsZero() {
				continue
			}
			row := &link{rated: rated{Rates: l.Rates, width: l.Width}, direction: d, carrier: c, place: c.Carrier.Link(d), rates: rates, Link: l}
			if k.flag.goodput {
				g, err := k.taken.Goodput(i, d, &throughput.DefaultPacketHeaders, &throughput.LTEPacketHeaders)
				if err != nil {
					return nil, err
				}
				row.goodput = &g
			}
			if d == bands.Uplink {
				c.Uplink = row
			} else {
				c.Downlink = row
			}
			r.links = append(r.links, row)
		}
		if q, ok := k.taken.Quality(i); ok {
			c.Quality = &quality{q, c}
			r.qualities = append(r.qualities, c.Quality)
		}
	}
	for _, d := range directions {
		sum := &link{direction: d}
		sum.rated.Rates, sum.width = k.sums(d)
		if k.flag.goodput {
			g, err := k.goodput(d)
			if err != nil {
				return nil, err
			}
			sum.goodput = &g
		}
		r.sums = append(r.sums, sum)
	}
	return r, nil
}
