package fieldlog

import (
	"math/big"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// Cautions of every report.
var cautions = []string{
	"A peak rate is a ceiling for one phone under ideal reception, not a promise of what it gets.",
	"A speed test holds for its place, time, phone and server; it says nothing of the network elsewhere.",
	"Identities and levels are hints of where a cell stands, no proof.",
	"A figure that is worked out is no licence to transmit and no assessment of safety: national rules and licensed practice decide.",
	"Keep clear of antennas, respect barriers and private ground, and never read a phone while driving; local rules go first.",
}

// Analyse works out what a log means. It does no input or output, and gives an answer
// for every log that Read returns.
//
// What an efficiency implies (Implied): a resource element takes one subcarrier for
// longer than the inverse of the subcarrier spacing, so a hertz of channel bandwidth
// carries less than one resource element a second. A rate of so many bit/s/Hz, over
// the bandwidth and the time that the direction has, therefore needs layers *
// modulation order * code rate of at least as much on average, and more in truth,
// since guard bands, cyclic prefixes, control and reference signals take their part.
// For each number of layers the lowest row of the MCS table (NR) or the CQI table
// (LTE, whose MCS tables have no code rates) that reaches it is given; the carriers
// are taken alike.
func Analyse(l *Log) *Report {
	r := &Report{
		Title: l.Title, Date: l.Date, Place: l.Place, Author: l.Author, Notes: present(l.Notes),
		Networks: []NetworkReport{}, Comparison: []Compared{}, Claims: []ClaimReport{}, Cautions: cautions,
	}
	evidence := make([]claim.Evidence, len(l.Networks))
	var sources sourceList
	for i := range l.Networks {
		n := analyseNetwork(&l.Networks[i])
		evidence[i] = n.evidence()
		r.Networks = append(r.Networks, n.report)
		r.Comparison = append(r.Comparison, compared(&n.report))
		sources.network(n)
	}
	r.Shared = sharedCells(l)
	for i := range l.Claims {
		c := &l.Claims[i]
		var e claim.Evidence
		name := ""
		if 0 <= c.Network && c.Network < len(evidence) {
			e, name = evidence[c.Network], l.Networks[c.Network].Name
		}
		if o := c.OtherNetwork; c.Than != nil && 0 <= o && o < len(evidence) {
			c.Than = &claim.Other{Evidence: &evidence[o]}
		}
		j, err := claim.JudgeAll(c.Claim, e)
		if err != nil {
			continue // Read lets no such claim through
		}
		r.Claims = append(r.Claims, ClaimReport{i + 1, name, j})
		sources.working(j.Working)
	}
	r.Sources = present(sources.list)
	return r
}

// network is a network while it is analysed.
type network struct {
	log        *Network
	assessment *ca.Assessment
	effective  ca.Combination     // the carriers with what the device and the radios say
	rates      *throughput.Result // nil where they can't be worked out
	report     NetworkReport
	tables     []render.Source // that carriers and configurations were read from
}

func analyseNetwork(l *Network) *network {
	n := &network{log: l}
	r := &n.report
	r.Name, r.Notes = l.Name, present(l.Notes)
	r.Device = DeviceReport{l.Device.Name, l.Device.ReceiveAntennas, l.Device.TransmitAntennas, l.Device.QAM, l.Device.UplinkQAM}
	r.Notation = l.Carriers.String()
	r.Assumptions = []AssumptionReport{}
	n.assessment = ca.Assess(l.Carriers)
	r.Kind = n.assessment.Kind.String()
	n.rate()
	r.Carriers, r.Blocks = n.carriers(), n.blocks()
	n.judge()
	r.Totals = n.totals()
	n.measure()
	r.Latency = latencyOf(l)
	r.Transfers = n.transfers()
	r.Cells = n.cells()
	r.Radios = n.radios()
	return n
}

// rate works out what the carriers can yield with the device of the log.
func (n *network) rate() {
	effective, assumed := withDevice(n.log)
	n.effective = effective
	rates, err := throughput.Rate(ca.Assess(effective))
	if err == nil {
		err = rates.Schedule(throughput.Settings{})
	}
	if err != nil {
		n.report.PeakError = err.Error()
		return
	}
	n.rates = rates
	n.report.Peak = &Peak{ratesOf(&rates.Downlink), ratesOf(&rates.Uplink)}
	for _, a := range append(rates.Assumptions(), assumed...) {
		n.report.Assumptions = append(n.report.Assumptions, AssumptionReport{present(a.Carriers), a.Text, render.Source(a.Source)})
	}
}

// downlinkShare is the share of time of a carrier; the whole where it is not known.
func (n *network) downlinkShare(i int) ca.Share {
	if n.rates == nil {
		return ca.Share{Part: 1, Whole: 1}
	}
	return n.rates.DownlinkShare(i)
}

// evidence is what claims about the network are held against.
func (n *network) evidence() claim.Evidence {
	e := claim.Evidence{
		Name: n.log.Name, Assessment: n.assessment, Stated: n.effective, Rates: n.rates,
		Down: n.values(func(r *Run) quantity.Decimal { return r.Down }),
		Up:   n.values(func(r *Run) quantity.Decimal { return r.Up }),
		Idle: n.values(func(r *Run) quantity.Decimal { return r.Idle }),

		LoadedDown: n.values(func(r *Run) quantity.Decimal { return r.LoadedDown }),
		LoadedUp:   n.values(func(r *Run) quantity.Decimal { return r.LoadedUp }),
	}
	if len(n.assessment.Carriers) == 0 {
		e.Assessment = nil
	}
	for _, a := range n.report.Assumptions {
		e.Assumptions = append(e.Assumptions, a.Text)
	}
	return e
}

// values lists a figure of the runs that have it.
func (n *network) values(of func(*Run) quantity.Decimal) []quantity.Decimal {
	return valuesOf(n.log, of)
}

func valuesOf(l *Network, of func(*Run) quantity.Decimal) []quantity.Decimal {
	var list []quantity.Decimal
	for i := range l.Runs {
		if d := of(&l.Runs[i]); d.IsGiven() {
			list = append(list, d)
		}
	}
	return list
}

// judge looks up the configurations and gathers the findings.
func (n *network) judge() {
	r := &n.report
	r.Configurations, r.Findings = []ConfigurationReport{}, []render.Finding{}
	listings, complete := n.assessment.Listings()
	r.Complete, r.Valid = complete, n.assessment.Valid()
	for i := range n.assessment.Carriers {
		if b := n.assessment.Carriers[i].Info; b != nil {
			n.tables = append(n.tables, render.Source(b.Source), render.Source(b.WidthSource()))
		}
	}
	for i := range listings {
		l := &listings[i]
		c := ConfigurationReport{
			ID: l.Name.String(), Listed: l.Alone || len(l.Listed) > 0, Holds: l.Holds(),
			FallbackOf: []string{}, BandwidthSets: present(l.Sets),
		}
		n.tables = append(n.tables, render.Source(l.Admission.Source))
		for _, f := range l.FallbackOf {
			c.FallbackOf = append(c.FallbackOf, f.Name().String())
		}
		r.Configurations = append(r.Configurations, c)
	}
	for _, f := range n.assessment.Findings() {
		n.find(render.Severity(f.Severity.String()), string(f.Rule), f.Carrier, f.Message, render.Source(f.Source))
	}
	n.checkDevice()
}

// find adds a finding about a carrier, counted from 1, or about all for 0.
func (n *network) find(s render.Severity, rule string, carrier int, message string, source render.Source) {
	name := ""
	if carrier > 0 {
		name = carrierName(n.log.Carriers, carrier-1)
	}
	n.report.Findings = append(n.report.Findings, render.Finding{Severity: s, Rule: rule, Carrier: name, Message: message, Source: source})
}

// carrierName names a carrier by number and band: "carrier 2 (n78)".
func carrierName(c ca.Combination, i int) string {
	return "carrier " + strconv.Itoa(i+1) + " (" + c[i].Band.String() + ")"
}

func (n *network) totals() Totals {
	t := n.assessment.Totals(n.downlinkShare)
	parts := func(list []ca.Part) map[string]Total {
		m := make(map[string]Total, len(list))
		for i := range list {
			m[list[i].Key] = totalOf(&list[i].Total)
		}
		return m
	}
	return Totals{totalOf(&t.Total), parts(t.ByRAT), parts(t.ByBand), parts(t.ByRange), parts(t.ByDuplex), parts(t.BySite)}
}

func totalOf(t *ca.Total) Total {
	return Total{t.Downlink.InMHz(), t.Uplink.InMHz(), t.Occupied.InMHz(), t.DownlinkEquivalent.InMHz()}
}

// ratesOf is the rates in Mbit/s.
func ratesOf(r *throughput.Rates) Rates {
	return Rates{mbpsOf(r.Max), mbpsOf(r.Scheduled), mbpsOf(r.Expected)}
}

func mbpsOf(r exact.Ratio) *float64 {
	if r.IsZero() {
		return nil
	}
	f := r.Mbps()
	return &f
}

// float is the number nearest to a rational; nil for nil.
func float(r *big.Rat) *float64 {
	if r == nil {
		return nil
	}
	f, _ := r.Float64()
	return &f
}

// present makes an empty list of nothing, so that JSON shows [] and not null.
func present[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// mhz is a frequency in MHz; nil for zero, which stands for not known.
func mhz(f bands.Frequency) *float64 {
	if f == 0 {
		return nil
	}
	m := f.InMHz()
	return &m
}
