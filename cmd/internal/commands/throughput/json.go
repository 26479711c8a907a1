package throughput

import (
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// peakValue is the answer of the command as JSON shows it.
type peakValue struct {
	Kind        string                `json:"kind"`
	Name        string                `json:"name"`        // what was typed in place of carriers; else empty
	UpperBound  bool                  `json:"upper_bound"` // the widths are the widest of the name
	Carriers    []carrierRates        `json:"carriers"`
	Downlink    sumValue              `json:"dl"`
	Uplink      sumValue              `json:"ul"`
	Totals      combination.Totals    `json:"totals"`
	Device      *deviceValue          `json:"device"` // null where none was given
	Assumptions []assumptionValue     `json:"assumptions"`
	Findings    []render.FindingValue `json:"findings"`
	Notes       []string              `json:"notes"`
	Cautions    []string              `json:"cautions"`
	Working     []render.Step         `json:"working"`
}

// rateValue are the three figures of a link or a sum. A figure that is not known is
// null.
type rateValue struct {
	Max                 figures.Figure  `json:"max_rate_mbps"`
	Scheduled           figures.Figure  `json:"scheduled_mbps"`
	Expected            *figures.Figure `json:"expected_mbps"`
	MaxEfficiency       *figures.Figure `json:"max_bps_hz"`
	ScheduledEfficiency *figures.Figure `json:"scheduled_bps_hz"`
	ExpectedEfficiency  *figures.Figure `json:"expected_bps_hz"`
	IP                  *figures.Figure `json:"ip_mbps"` // null without --goodput, as is the next
	TCP                 *figures.Figure `json:"tcp_mbps"`
}

type sumValue struct{ rateValue }

// carrierRates are the rates of a carrier. A direction that it does not have, or in
// which the UE does not send, is null.
type carrierRates struct {
	Number   int            `json:"carrier"` // in the combination, counted from 1
	Text     string         `json:"text"`    // in the notation
	Band     string         `json:"band"`
	RAT      string         `json:"rat"`
	Duplex   string         `json:"duplex"`
	Frame    string         `json:"frame"`
	DLShare  figures.Figure `json:"dl_share"`
	ULShare  figures.Figure `json:"ul_share"`
	Downlink *linkValue     `json:"dl"`
	Uplink   *linkValue     `json:"ul"`
	Quality  *qualityValue  `json:"quality"` // null where no SINR or RSRP is known
}

type linkValue struct {
	rateValue
	Layers        int             `json:"layers"`
	QAM           int             `json:"qam"`
	Qm            int             `json:"qm"`
	SCS           figures.Figure  `json:"scs_khz"`
	Blocks        int             `json:"n_rb"`
	Width         figures.Figure  `json:"width_mhz"`
	Scaling       *figures.Figure `json:"scaling"` // null in LTE
	LayersAssumed bool            `json:"layers_assumed"`
	QAMAssumed    bool            `json:"qam_assumed"`
	Counted       bool            `json:"counted"` // false for the slower of an uplink and its supplementary uplink
}

type qualityValue struct {
	SINR       figures.Figure  `json:"sinr_db"`
	FromRSRP   bool            `json:"from_rsrp"`
	Ceiling    *figures.Figure `json:"snr_ceiling_db"`
	Efficiency figures.Figure  `json:"bps_hz_layer"`
	CQI        *int            `json:"cqi"` // null where even the lowest is above the efficiency
	MCS        *int            `json:"mcs"`
	Capped     bool            `json:"capped"` // the scheduled rate is lower
}

type assumptionValue struct {
	Text     string         `json:"text"`
	Carriers []int          `json:"carriers"` // counted from 1; none for the whole
	Source   *render.Source `json:"source"`   // null where it is the program's own
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
	Max       figures.Figure  `json:"site_max_rate_mbps"`
	Scheduled figures.Figure  `json:"site_scheduled_mbps"`
	Expected  *figures.Figure `json:"site_expected_mbps"`
}

type deviceLimit struct {
	Carrier *int   `json:"carrier"` // counted from 1; null for the whole
	Item    string `json:"item"`
	Site    string `json:"site"`
	Device  string `json:"device"`
	Text    string `json:"text"`
}

func ratesValue(r *throughput.Rates, width bands.Frequency, g *throughput.Goodput) rateValue {
	v := rateValue{
		Max: figures.Mbps(r.Max), Scheduled: figures.Mbps(r.Scheduled), Expected: figures.OptionalMbps(r.Expected),
		MaxEfficiency: figures.PerHertz(r.Max, width), ScheduledEfficiency: figures.PerHertz(r.Scheduled, width), ExpectedEfficiency: figures.PerHertz(r.Expected, width),
	}
	if g != nil {
		v.IP, v.TCP = new(figures.Mbps(g.IP)), new(figures.Mbps(g.TCP))
	}
	return v
}

func (k *peak) value(working render.Working) (peakValue, error) {
	v := peakValue{
		Kind:        k.site.Kind.String(),
		Name:        k.site.Name.String(),
		UpperBound:  !k.site.Name.IsZero(),
		Carriers:    []carrierRates{},
		Assumptions: []assumptionValue{},
		Findings:    combination.Findings(k.site, k.findings).Values(),
		Notes:       figures.Present(k.notes()),
		Cautions:    k.cautions(),
		Working:     figures.Present([]render.Step(working)),
	}
	t := k.total()
	v.Totals = combination.TotalsOf(&t)
	for _, d := range directions {
		r, sum := k.sums(d), &v.Downlink
		if d == bands.Uplink {
			sum = &v.Uplink
		}
		var g *throughput.Goodput
		if k.flag.goodput {
			all, err := k.goodput(d)
			if err != nil {
				return v, err
			}
			g = &all
		}
		*sum = sumValue{ratesValue(&r, k.width(d), g)}
	}
	for i := range k.count() {
		c, err := k.carrierValue(i)
		if err != nil {
			return v, err
		}
		v.Carriers = append(v.Carriers, c)
	}
	for _, a := range k.assumptions() {
		w := assumptionValue{Text: a.Text, Carriers: figures.Present(a.Carriers)}
		if a.Source != (bands.Source{}) {
			w.Source = new(render.Source(a.Source))
		}
		v.Assumptions = append(v.Assumptions, w)
	}
	if k.served != nil {
		v.Device = k.deviceValue()
	}
	return v, nil
}

func (k *peak) carrierValue(i int) (carrierRates, error) {
	p, r := &k.carriers.Carriers[i], &k.taken.Carriers[i]
	v := carrierRates{
		Number: k.number(i), Text: p.Carrier.String(), Band: p.Band.String(), RAT: p.Band.RAT.String(), Duplex: p.Info.Duplex.String(),
		Frame: r.Frame.String(), DLShare: figures.Decimals(r.Frame.Share(bands.Downlink), 1, 6), ULShare: figures.Decimals(r.Frame.Share(bands.Uplink), 1, 6),
	}
	for _, d := range directions {
		l := r.Link(d)
		if l.IsZero() {
			continue
		}
		var g *throughput.Goodput
		if k.flag.goodput {
			one, err := k.taken.Goodput(i, d, &throughput.DefaultPacketHeaders, &throughput.LTEPacketHeaders)
			if err != nil {
				return v, err
			}
			g = &one
		}
		w := &linkValue{
			rateValue: ratesValue(&l.Rates, l.Width, g),
			Layers:    l.Layers, QAM: l.QAM, Qm: l.Qm(), SCS: figures.KHz(l.SCS), Blocks: l.ResourceBlocks, Width: figures.MHz(l.Width),
			LayersAssumed: l.LayersAssumed, QAMAssumed: l.QAMAssumed, Counted: l.Counted,
		}
		if p.Band.RAT == bands.NR {
			w.Scaling = new(figures.Decimals(scaling(l), 1, 2))
		}
		if d == bands.Uplink {
			v.Uplink = w
		} else {
			v.Downlink = w
		}
	}
	if q, ok := k.taken.Quality(i); ok {
		v.Quality = valueOfQuality(&q)
	}
	return v, nil
}

// scaling is the scaling factor of a link of NR.
func scaling(l *throughput.Link) exact.Ratio {
	if l.Scaling.IsZero() {
		return exact.Whole(1)
	}
	return l.Scaling
}

func valueOfQuality(q *throughput.Quality) *qualityValue {
	v := &qualityValue{SINR: figures.Decibels(q.SINR), FromRSRP: q.FromRSRP, Efficiency: figures.Figure(strconv.FormatFloat(q.Efficiency, 'f', 4, 64)), Capped: q.Capped}
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

func (k *peak) deviceValue() *deviceValue {
	site := func(r *throughput.Rates) siteValue {
		v := siteValue{Max: figures.Mbps(r.Max), Scheduled: "0", Expected: figures.OptionalMbps(r.Expected)}
		if !r.Scheduled.IsZero() { // there are links in the direction
			v.Scheduled = figures.Mbps(r.Scheduled)
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
