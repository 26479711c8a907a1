package cli

import (
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// peakValue is the answer of the command as JSON shows it.
type peakValue struct {
	Kind        string            `json:"kind"`
	Name        string            `json:"name"`        // what was typed in place of carriers; else empty
	UpperBound  bool              `json:"upper_bound"` // the widths are the widest of the name
	Carriers    []carrierRates    `json:"carriers"`
	Downlink    sumValue          `json:"dl"`
	Uplink      sumValue          `json:"ul"`
	Totals      totalsValue       `json:"totals"`
	Device      *deviceValue      `json:"device"` // null where none was given
	Assumptions []assumptionValue `json:"assumptions"`
	Findings    []findingValue    `json:"findings"`
	Notes       []string          `json:"notes"`
	Cautions    []string          `json:"cautions"`
	Working     []render.Step     `json:"working"`
}

// rateValue are the three figures of a link or a sum. A figure that is not known is
// null.
type rateValue struct {
	Max                 figure  `json:"max_rate_mbps"`
	Scheduled           figure  `json:"scheduled_mbps"`
	Expected            *figure `json:"expected_mbps"`
	MaxEfficiency       *figure `json:"max_bps_hz"`
	ScheduledEfficiency *figure `json:"scheduled_bps_hz"`
	ExpectedEfficiency  *figure `json:"expected_bps_hz"`
	IP                  *figure `json:"ip_mbps"` // null without --goodput, as is the next
	TCP                 *figure `json:"tcp_mbps"`
}

type sumValue struct{ rateValue }

// carrierRates are the rates of a carrier. A direction that it does not have, or in
// which the UE does not send, is null.
type carrierRates struct {
	Number   int           `json:"carrier"` // in the combination, counted from 1
	Text     string        `json:"text"`    // in the notation
	Band     string        `json:"band"`
	RAT      string        `json:"rat"`
	Duplex   string        `json:"duplex"`
	Frame    string        `json:"frame"`
	DLShare  figure        `json:"dl_share"`
	ULShare  figure        `json:"ul_share"`
	Downlink *linkValue    `json:"dl"`
	Uplink   *linkValue    `json:"ul"`
	Quality  *qualityValue `json:"quality"` // null where no SINR or RSRP is known
}

type linkValue struct {
	rateValue
	Layers        int     `json:"layers"`
	QAM           int     `json:"qam"`
	Qm            int     `json:"qm"`
	SCS           figure  `json:"scs_khz"`
	Blocks        int     `json:"n_rb"`
	Width         figure  `json:"width_mhz"`
	Scaling       *figure `json:"scaling"` // null in LTE
	LayersAssumed bool    `json:"layers_assumed"`
	QAMAssumed    bool    `json:"qam_assumed"`
	Counted       bool    `json:"counted"` // false for the slower of an uplink and its supplementary uplink
}

type qualityValue struct {
	SINR       figure  `json:"sinr_db"`
	FromRSRP   bool    `json:"from_rsrp"`
	Ceiling    *figure `json:"snr_ceiling_db"`
	Efficiency figure  `json:"bps_hz_layer"`
	CQI        *int    `json:"cqi"` // null where even the lowest is above the efficiency
	MCS        *int    `json:"mcs"`
	Capped     bool    `json:"capped"` // the scheduled rate is lower
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
	Max       figure  `json:"site_max_rate_mbps"`
	Scheduled figure  `json:"site_scheduled_mbps"`
	Expected  *figure `json:"site_expected_mbps"`
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
		Max: mbps(r.Max), Scheduled: mbps(r.Scheduled), Expected: optionalMbps(r.Expected),
		MaxEfficiency: perHertz(r.Max, width), ScheduledEfficiency: perHertz(r.Scheduled, width), ExpectedEfficiency: perHertz(r.Expected, width),
	}
	if g != nil {
		v.IP, v.TCP = new(mbps(g.IP)), new(mbps(g.TCP))
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
		Findings:    []findingValue{},
		Notes:       present(k.notes()),
		Cautions:    k.cautions(),
		Working:     present([]render.Step(working)),
	}
	t := k.total()
	v.Totals = totalsValue{valueOfTotal(&t.Total), partTotals(t.ByRAT), partTotals(t.ByBand), partTotals(t.ByRange), partTotals(t.ByDuplex), partTotals(t.BySite)}
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
		w := assumptionValue{Text: a.Text, Carriers: present(a.Carriers)}
		if a.Source != (bands.Source{}) {
			w.Source = new(render.Source(a.Source))
		}
		v.Assumptions = append(v.Assumptions, w)
	}
	for _, f := range k.findings {
		v.Findings = append(v.Findings, valueOfFinding(&f))
	}
	if k.served != nil {
		v.Device = k.deviceValue()
	}
	return v, nil
}

func valueOfFinding(f *ca.Finding) findingValue {
	v := findingValue{Severity: f.Severity.String(), Rule: string(f.Rule), Message: f.Message, Source: render.Source(f.Source)}
	if f.Carrier > 0 {
		v.Carrier = new(f.Carrier)
	}
	return v
}

func (k *peak) carrierValue(i int) (carrierRates, error) {
	p, r := &k.carriers.Carriers[i], &k.taken.Carriers[i]
	v := carrierRates{
		Number: k.number(i), Text: p.Carrier.String(), Band: p.Band.String(), RAT: p.Band.RAT.String(), Duplex: p.Info.Duplex.String(),
		Frame: r.Frame.String(), DLShare: decimals(r.Frame.Share(bands.Downlink), 1, 6), ULShare: decimals(r.Frame.Share(bands.Uplink), 1, 6),
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
			Layers:    l.Layers, QAM: l.QAM, Qm: l.Qm(), SCS: kilohertz(l.SCS), Blocks: l.ResourceBlocks, Width: megahertz(l.Width),
			LayersAssumed: l.LayersAssumed, QAMAssumed: l.QAMAssumed, Counted: l.Counted,
		}
		if p.Band.RAT == bands.NR {
			w.Scaling = new(decimals(scaling(l), 1, 2))
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
	v := &qualityValue{SINR: decibels(q.SINR), FromRSRP: q.FromRSRP, Efficiency: figure(strconv.FormatFloat(q.Efficiency, 'f', 4, 64)), Capped: q.Capped}
	if q.HasCeiling {
		v.Ceiling = new(decibels(q.Ceiling))
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
		v := siteValue{Max: mbps(r.Max), Scheduled: "0", Expected: optionalMbps(r.Expected)}
		if !r.Scheduled.IsZero() { // there are links in the direction
			v.Scheduled = mbps(r.Scheduled)
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
