package combination

import (
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/throughput"
)

// Carrier is a component carrier.
type Carrier struct {
	Number         int             `json:"carrier"` // counted from 1
	Text           string          `json:"text"`    // in the notation
	Band           string          `json:"band"`
	RAT            string          `json:"rat"`
	Duplex         string          `json:"duplex"`
	Range          string          `json:"range"`
	Role           *string         `json:"role"`
	PCI            *uint16         `json:"pci"`
	RSRP           *figures.Figure `json:"rsrp_dbm"`
	SINR           *figures.Figure `json:"sinr_db"`
	Transmits      bool            `json:"transmits"`
	Pattern        *string         `json:"pattern"` // null outside TDD
	PatternAssumed bool            `json:"pattern_assumed"`
	DLShare        *figures.Figure `json:"dl_share"` // of time; null in a band that is not known
	ULShare        *figures.Figure `json:"ul_share"`
	Downlink       *Link           `json:"dl"` // null where there is no such direction
	Uplink         *Link           `json:"ul"`
	Quality        *Quality        `json:"quality,omitempty"` // where rates are asked for and a SINR or RSRP is known
}

// Link is a carrier in one direction.
type Link struct {
	Width   figures.Figure  `json:"width_mhz"`
	Channel *int32          `json:"channel"`
	Centre  *figures.Figure `json:"centre_mhz"`
	Low     *figures.Figure `json:"low_mhz"`
	High    *figures.Figure `json:"high_mhz"`
	// CentreLow and CentreHigh are between what the centre lies if only the SS/PBCH block
	// of the carrier is known; null else.
	CentreLow  *figures.Figure `json:"centre_low_mhz"`
	CentreHigh *figures.Figure `json:"centre_high_mhz"`
	SCS        *figures.Figure `json:"scs_khz"`
	Blocks     *int            `json:"n_rb"`
	*Rated                     // left out where no rates are asked for, or the UE does not use the link
}

// Rated is what a link can yield and what that rests on.
type Rated struct {
	Layers        int             `json:"layers"`
	QAM           int             `json:"qam"`
	Qm            int             `json:"qm"`
	Scaling       *figures.Figure `json:"scaling"` // null in LTE
	LayersAssumed bool            `json:"layers_assumed"`
	QAMAssumed    bool            `json:"qam_assumed"`
	Counted       bool            `json:"counted"` // false for the slower of an uplink and its supplementary uplink
	Rates
}

// Rates are the figures of a link or a sum. A figure that is not known is null.
type Rates struct {
	Max                 *figures.Figure `json:"max_rate_mbps"`
	Schedulable         *figures.Figure `json:"schedulable_mbps"`
	Scheduled           *figures.Figure `json:"scheduled_mbps"`
	Expected            *figures.Figure `json:"expected_mbps"`
	MaxEfficiency       *figures.Figure `json:"max_bps_hz"`
	ScheduledEfficiency *figures.Figure `json:"scheduled_bps_hz"`
	ExpectedEfficiency  *figures.Figure `json:"expected_bps_hz"`
	*Goodput
}

// Goodput is what is left of the scheduled rate above the transport blocks.
type Goodput struct {
	IP  figures.Figure `json:"ip_mbps"`
	TCP figures.Figure `json:"tcp_mbps"`
}

// Quality is what the signal quality lets expect.
type Quality struct {
	SINR       figures.Figure  `json:"sinr_db"`
	FromRSRP   bool            `json:"from_rsrp"`
	Ceiling    *figures.Figure `json:"snr_ceiling_db"`
	Efficiency figures.Figure  `json:"bps_hz_layer"`
	CQI        *int            `json:"cqi"` // null where even the lowest is above the efficiency
	MCS        *int            `json:"mcs"`
	Capped     bool            `json:"capped"` // the scheduled rate is lower
}

// Link is the carrier in a direction; nil where it has no such direction.
func (c *Carrier) Link(d bands.Direction) *Link {
	if d == bands.Uplink {
		return c.Uplink
	}
	return c.Downlink
}

// Carrier is carrier i, counted from 0, for JSON.
func (x *Answer) Carrier(i int) Carrier {
	p := &x.Carriers[i]
	v := Carrier{Number: i + 1, Text: p.Carrier.String(), Band: p.Band.String(), RAT: p.Band.RAT.String(), Transmits: p.Transmits, RSRP: level(p.RSRP), SINR: level(p.SINR)}
	if p.Role != 0 {
		v.Role = new(p.Role.String())
	}
	if p.HasPCI {
		v.PCI = &p.PCI
	}
	if p.Info == nil { // nothing is known but what was said
		v.Downlink, v.Uplink = &Link{Width: figures.MHz(p.Downlink)}, &Link{Width: figures.MHz(p.Uplink)}
		return v
	}
	v.Duplex, v.Range = p.Info.Duplex.String(), p.Info.Range.String()
	f := &x.Frames[i]
	if p.Info.Duplex == bands.TDD {
		v.Pattern, v.PatternAssumed = new(f.String()), f.Assumed
	}
	v.DLShare, v.ULShare = new(figures.Decimals(f.Share(bands.Downlink), 1, 6)), new(figures.Decimals(f.Share(bands.Uplink), 1, 6))
	v.Downlink, v.Uplink = x.link(i, bands.Downlink), x.link(i, bands.Uplink)
	if x.Rates != nil {
		if q, ok := x.Rates.Quality(i); ok {
			v.Quality = quality(&q)
		}
	}
	return v
}

func (x *Answer) link(i int, d bands.Direction) *Link {
	p := &x.Carriers[i]
	if p.Width(d) == 0 {
		return nil
	}
	v := &Link{Width: figures.MHz(p.Width(d))}
	v.Low, v.High = figures.Edges(p.Span(d))
	if centre := p.CentreIn(d); centre != 0 {
		v.Centre = new(figures.MHz(centre))
	}
	if n, ok := ChannelNumber(p, d); ok {
		v.Channel = &n
	}
	if d == bands.Downlink {
		v.CentreLow, v.CentreHigh = figures.Edges(p.Centres)
	}
	if p.Spacing != 0 {
		v.SCS = new(figures.KHz(p.Spacing))
	}
	if n := p.Blocks(d); n != 0 {
		v.Blocks = &n
	}
	if x.Rates == nil {
		return v
	}
	if l := x.Rates.Carriers[i].Link(d); !l.IsZero() {
		v.Rated = &Rated{Layers: l.Layers, QAM: l.QAM, Qm: l.Qm(), LayersAssumed: l.LayersAssumed, QAMAssumed: l.QAMAssumed, Counted: l.Counted, Rates: RatesOf(&l.Rates, l.Width)}
		if p.Band.RAT == bands.NR {
			v.Scaling = new(Scaling(l))
		}
	}
	return v
}

// Scaling is the scaling factor of a link of NR.
func Scaling(l *throughput.Link) figures.Figure {
	if l.Scaling.IsZero() {
		return "1"
	}
	return figures.Decimals(l.Scaling, 1, 2)
}

// ChannelNumber is the channel number of a carrier in a direction; false if its place is
// not known or between two numbers.
func ChannelNumber(p *ca.Placed, d bands.Direction) (int32, bool) {
	centre := p.CentreIn(d)
	if centre == 0 {
		return 0, false
	}
	n, exact, err := p.Info.ChannelNumber(d, centre)
	return n, exact && err == nil
}

// RatesOf writes rates over a width.
func RatesOf(r *throughput.Rates, width bands.Frequency) Rates {
	return Rates{
		Max: figures.OptionalMbps(r.Max), Schedulable: figures.OptionalMbps(r.Schedulable), Scheduled: figures.OptionalMbps(r.Scheduled), Expected: figures.OptionalMbps(r.Expected),
		MaxEfficiency: figures.PerHertz(r.Max, width), ScheduledEfficiency: figures.PerHertz(r.Scheduled, width), ExpectedEfficiency: figures.PerHertz(r.Expected, width),
	}
}

func level(l ca.Level) *figures.Figure {
	if !l.IsGiven() {
		return nil
	}
	return new(figures.Figure(l.String()))
}

func quality(q *throughput.Quality) *Quality {
	v := &Quality{SINR: figures.Decibels(q.SINR), FromRSRP: q.FromRSRP, Efficiency: figures.Figure(strconv.FormatFloat(q.Efficiency, 'f', 4, 64)), Capped: q.Capped}
	if q.HasCeiling {
		v.Ceiling = new(figures.Decibels(q.Ceiling))
	}
	if q.CQI >= 0 {
		v.CQI = &q.CQI
	}
	if q.MCS >= 0 {
		v.MCS = &q.MCS
	}
	return v
}
