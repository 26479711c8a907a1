package fieldlog

import (
	"math/big"
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/geodesic"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
	"spectally/throughput"
)

// Cautions of every report.
var cautions = []string{
	"A peak rate is a ceiling under ideal reception, not a promise of what it gets.",
	"A speed test holds for its place, time, phone and server; it says nothing of the network elsewhere.",
	"Identities and levels are hints of where a cell stands, no proof.",
	"A figure that is worked out is no licence to transmit and no assessment of safety: national rules and licensed practice decide.",
	"Keep clear of antennas, respect barriers and private ground, and never read a phone while driving; local rules go first.",
}

// Analyse works out what a log means. It does no input or output, and gives an answer
// for every log that Read returns.
//
// What a rate implies (Implied): for each number of layers the smallest constellation and
// its lowest code rate with which these carriers schedule the rate, by the transport
// blocks of their frames: once with the control and reference signals of a usual network,
// once with the leanest. No carrier is given more layers or a larger constellation than it
// has. The rows are those of the MCS table (NR) or the CQI table (LTE alone, whose MCS
// tables have no code rates).
func Analyse(l *Log) *Report { return AnalyseBeside(l, nil) }

// AnalyseBeside is [Analyse] beside an earlier log of the same place, for what has changed
// and for claims that speak of it; nil for none.
func AnalyseBeside(l, earlier *Log) *Report {
	r := &Report{
		Title: l.Title, Date: l.Date, Place: l.Place, Author: l.Author, Notes: present(l.Notes),
		Networks: []NetworkReport{}, Comparison: []Compared{}, Claims: []ClaimReport{}, Cautions: cautions,
	}
	var sources sourceList
	networks, evidence := analyseNetworks(l)
	for _, n := range networks {
		r.Networks = append(r.Networks, n.report)
		r.Comparison = append(r.Comparison, compared(&n.report))
		sources.network(n)
	}
	r.Shared, r.Overlaps = sharedCells(l), overlaps(l)
	var before *beside
	if earlier != nil {
		old, known := analyseNetworks(earlier)
		var then []NetworkReport
		for _, n := range old {
			then = append(then, n.report)
		}
		before = &beside{earlier, known}
		r.Earlier = earlierReport(earlier, r.Networks, then)
	}
	for i, c := range l.Claims {
		var e claim.Evidence
		name := ""
		if 0 <= c.Network && c.Network < len(evidence) {
			e, name = evidence[c.Network], l.Networks[c.Network].Name
		}
		if o := c.OtherNetwork; c.Than != nil && 0 <= o && o < len(evidence) {
			c.Than = &claim.Other{Evidence: &evidence[o]}
		}
		judge := claim.JudgeAll
		if c.Earlier {
			judge = func(_ claim.Claim, e claim.Evidence) (*claim.Judgement, error) { return before.judge(&c, l, e) }
		}
		j, err := judge(c.Claim, e)
		if err != nil {
			continue // Read lets no such claim through
		}
		r.Claims = append(r.Claims, ClaimReport{i + 1, name, j})
		sources.working(j.Working)
	}
	r.Sources = present(sources.list)
	return r
}

// analyseNetworks works out what a log means of each network, and what that is as evidence.
func analyseNetworks(l *Log) (list []*network, evidence []claim.Evidence) {
	for i := range l.Networks {
		n := analyseNetwork(&l.Networks[i], l.Date)
		n.report.Walk = n.walk(l)
		e := n.evidence()
		e.Spots = spots(&l.Networks[i], l.Site)
		e.Keep()
		list, evidence = append(list, n), append(evidence, e)
	}
	return list, evidence
}

// network is a network while it is analysed.
type network struct {
	log        *Network
	date       string // of the log; empty if it is not known
	assessment *ca.Assessment
	findings   []ca.Finding
	effective  ca.Combination     // the carriers with what the device and the radios say
	rates      *throughput.Result // nil where they can't be worked out
	report     NetworkReport
	tables     []render.Source                          // that carriers and configurations were read from
	met        map[string]*network                      // as runs met it, by their carriers
	formats    map[throughput.Format]*throughput.Result // what they yield in a format
}

// analyseNetwork works out what a log of a date means of a network.
func analyseNetwork(l *Network, date string) *network {
	n := &network{log: l, date: date}
	r := &n.report
	r.Name, r.Notes = l.Name, present(l.Notes)
	r.Device = DeviceReport{l.Device.Name, l.Device.ReceiveAntennas, l.Device.TransmitAntennas, l.Device.QAM, l.Device.UplinkQAM}
	r.Notation = l.Carriers.String()
	r.Assumptions = []AssumptionReport{}
	n.assessment = ca.Assess(l.Carriers)
	n.rate()
	n.judge()
	n.measure()
	r.Found = combination.Findings(n.assessment, n.findings)
	r.Findings = r.Found.Values()
	r.Places, r.Latency = n.places(), latencyOf(l)
	r.Transfers = n.transfers()
	r.Cells = n.cells()
	r.Radios = n.radios()
	return n
}

// rate works out what the carriers can yield with the device of the log.
func (n *network) rate() {
	effective, ofDevice := withDevice(n.log)
	n.effective = effective
	rates, err := throughput.RateOn(ca.Assess(effective), n.log.Device.Kind)
	if err == nil {
		err = rates.Schedule(throughput.Settings{})
	}
	if err != nil {
		n.report.PeakError = err.Error()
		return
	}
	n.rates = rates
	for _, a := range append(assumed.Statements(rates.Assumptions()), ofDevice...) {
		n.report.Assumptions = append(n.report.Assumptions, AssumptionReport{present(a.Carriers), a.String(), render.Source(a.Source), a})
	}
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

// spots are the rates of runs that say how far from the site they were made.
func spots(n *Network, site *geodesic.Point) []claim.Spot {
	var list []claim.Spot
	for i := range n.Runs {
		r := &n.Runs[i]
		if metres, ok := r.Spot.metres(site); ok {
			list = append(list, claim.Spot{Metres: new(big.Rat).SetInt64(int64(metres + 0.5)), Down: r.Down, Up: r.Up})
		}
	}
	return list
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

// judge takes the answer about the carriers, and what the log says against it.
func (n *network) judge() {
	x, err := combination.Of(n.assessment)
	if err != nil { // Read lets no such pattern through
		x = &combination.Answer{Assessment: n.assessment, Frames: make([]throughput.Frame, len(n.assessment.Carriers))}
	}
	x.Rates = n.rates
	n.report.Value, n.report.Downlink, n.report.Uplink = x.Value(), x.SumValue(bands.Downlink), x.SumValue(bands.Uplink)
	n.findings = slices.Clone(n.assessment.Findings())
	if n.rates != nil {
		n.findings = append(n.findings, n.rates.Findings()...)
	}
	for i := range n.assessment.Carriers {
		if b := n.assessment.Carriers[i].Info; b != nil {
			n.tables = append(n.tables, render.Source(b.Source), render.Source(b.WidthSource()))
		}
	}
	listings, _ := n.assessment.Listings()
	for i := range listings {
		n.tables = append(n.tables, render.Source(listings[i].Admission.Source))
	}
	n.checkDevice()
}

// warn adds a warning about a carrier, counted from 1, or about all for 0.
func (n *network) warn(rule ca.Rule, carrier int, message string) {
	n.findings = append(n.findings, ca.Finding{Severity: ca.Warning, Rule: rule, Carrier: carrier, Message: message})
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
