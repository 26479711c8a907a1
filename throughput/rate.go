package throughput

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// Rates are the figures of a link, in bit/s. A figure that was not worked out
// is not given (see Ratio.IsZero).
type Rates struct {
	// Max is the standard's maximum: NR by the formula of TS 38.306 clause 4.1.2,
	// LTE by the largest transport blocks in 1 ms (TS 36.213). Neither discounts
	// TDD.
	Max exact.Ratio
	// Schedulable is the most that any configuration of the standard lets a scheduler
	// send, averaged over the frame: exact transport blocks of every slot by the TDD
	// pattern, with the leanest reference and control signals ([nr.Schedule.Ceiling],
	// [lte.Cell.Leanest]).
	Schedulable exact.Ratio
	// Scheduled is what the scheduler of a usual network can send, averaged over the
	// frame: the same with the control and reference signals of the settings.
	Scheduled exact.Ratio
	// Expected is what the signal quality lets expect.
	Expected exact.Ratio
}

// String writes the figures that are given, with their unit: "150.752 Mbit/s maximum,
// 145.200 Mbit/s scheduled".
func (r Rates) String() string {
	var list []string
	for _, f := range [...]struct {
		rate exact.Ratio
		what string
	}{{r.Max, "maximum"}, {r.Schedulable, "schedulable"}, {r.Scheduled, "scheduled"}, {r.Expected, "expected"}} {
		if !f.rate.IsZero() {
			list = append(list, f.rate.Rate()+" "+f.what)
		}
	}
	if list == nil {
		return "none"
	}
	return strings.Join(list, ", ")
}

// Add returns the sums of the figures; one that is not given counts as zero.
func (r Rates) Add(s Rates) Rates {
	return Rates{r.Max.Add(s.Max), r.Schedulable.Add(s.Schedulable), r.Scheduled.Add(s.Scheduled), r.Expected.Add(s.Expected)}
}

// Link is one carrier in one direction. The zero Link is none: the carrier has no
// such direction, or the UE does not transmit on it.
type Link struct {
	Layers         int
	QAM            int // constellation size; 2 stands for pi/2-BPSK
	SCS            bands.Frequency
	ResourceBlocks int
	Width          bands.Frequency
	Scaling        exact.Ratio // NR alone
	// LayersAssumed and QAMAssumed tell that the carrier did not say.
	LayersAssumed, QAMAssumed bool
	// Counted tells whether the link adds to the sum. Of an uplink and the
	// supplementary uplink of its cell only the faster counts.
	Counted bool
	Rates
	// Peak is the peak data rate of Report ITU-R M.2410 in bit/s: every resource element
	// that the control and reference signals of the settings leave, at the highest code
	// rate. NR alone, and once scheduled.
	Peak exact.Ratio

	kind DeviceKind // of the UE
}

// IsZero tells whether there is no such link.
func (l *Link) IsZero() bool { return l.Layers == 0 }

// Qm is the modulation order: bits of a symbol of the constellation.
func (l *Link) Qm() int { return qmOf(l.QAM) }

func qmOf(qam int) int {
	qm := 0
	for ; qam > 1; qam >>= 1 {
		qm++
	}
	return qm
}

// CarrierRates are the two directions of a carrier.
type CarrierRates struct {
	Downlink, Uplink Link
	// Frame is how the carrier divides its time.
	Frame Frame
}

// Link is the link of the carrier in a direction.
func (c *CarrierRates) Link(d bands.Direction) *Link {
	if d == bands.Uplink {
		return &c.Uplink
	}
	return &c.Downlink
}

// Result is what the carriers of a combination can yield.
type Result struct {
	Carriers         []CarrierRates
	Downlink, Uplink Rates // sums over the links that count

	assessment *ca.Assessment
	kind       DeviceKind
	settings   Settings
	scheduled  bool    // the settings hold
	inTurn     Rates   // what the uplinks of InTurn send in turn
	within     *Format // what the links are held to; nil for nothing
}

// Sum is the sum of a direction.
func (r *Result) Sum(d bands.Direction) Rates {
	if d == bands.Uplink {
		return r.Uplink
	}
	return r.Downlink
}

// CarrierError says which carrier a fault is about.
type CarrierError struct {
	Carrier int // counted from 1
	Text    string
	Err     error
}

// Error writes the error on one line.
func (e *CarrierError) Error() string {
	return fmt.Sprintf("carrier %d %q: %v", e.Carrier, e.Text, e.Err)
}

// Unwrap returns the fault itself.
func (e *CarrierError) Unwrap() error { return e.Err }

// Rate works out the standard's maximum for every carrier of a combination and
// their sums: the maximum of E-UTRA with NR is the sum of both parts (TS 38.306
// clause 4.1.2). What a carrier does not say is taken from the standard where it has
// a default, see [Result.Assumptions]. [Result.Schedule] adds the other figures.
//
// It is an error if a carrier's band, width or subcarrier spacing does not exist,
// or if a pattern, a modulation or a number of layers does not fit; a *CarrierError
// names the carrier.
func Rate(a *ca.Assessment) (*Result, error) { return RateOn(a, 0) }

// RateOn is [Rate] for a kind of UE whose rates the standard limits apart.
func RateOn(a *ca.Assessment, kind DeviceKind) (*Result, error) {
	r := &Result{Carriers: make([]CarrierRates, len(a.Carriers)), assessment: a, kind: kind}
	for i := range a.Carriers {
		if err := r.rateCarrier(i); err != nil {
			return nil, &CarrierError{Carrier: i + 1, Text: a.Carriers[i].Carrier.String(), Err: err}
		}
	}
	r.chooseUplink()
	r.sum()
	return r, nil
}

// Together puts carriers that were rated and scheduled one by one together as those that
// one UE uses at once: it says which links count and adds them up. Each stands at the place
// of its carrier in the assessment.
func Together(a *ca.Assessment, carriers []CarrierRates) (*Result, error) {
	r := &Result{Carriers: carriers, assessment: a}
	if list := r.InTurn(); list != nil {
		for _, i := range list {
			c := &r.Carriers[i]
			one := c.Uplink
			c.Uplink.setUp(&a.Carriers[i], bands.Uplink)
			c.Uplink.Layers, c.Uplink.QAM, c.Uplink.Rates = one.Layers, one.QAM, one.Rates
			var err error
			if c.Frame, err = frameOf(&a.Carriers[i]); err != nil {
				return nil, err
			}
		}
		if err := r.scheduleInTurn(list); err != nil {
			return nil, err
		}
	}
	r.chooseUplink()
	r.sum()
	return r, nil
}

func (r *Result) rateCarrier(i int) error {
	p, c := &r.assessment.Carriers[i], &r.Carriers[i]
	if err := Usable(r.assessment, i); err != nil {
		return err
	}
	var err error
	if c.Frame, err = frameOf(p); err != nil {
		return err
	}
	for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
		if p.Width(d) == 0 || d == bands.Uplink && !transmits(p) {
			continue
		}
		l := c.Link(d)
		l.setUp(p, d)
		if !hasQAM(p.Band.RAT, d, l.QAM) {
			return qamError(p, d, l.QAM)
		}
		l.kind = r.kind
		if l.QAM == 2 && l.Layers > 1 {
			return &bands.ValueError{Param: "uplink layers", Got: strconv.Itoa(l.Layers), Allowed: "1 with pi/2-BPSK, which needs transform precoding",
				Source: bands.Source{Spec: "TS 38.211", Version: "19.3.0", Table: "clause 6.3.1.4"}}
		}
		if err := l.rate(p, d); err != nil {
			return err
		}
	}
	return nil
}

// hasQAM tells whether a technology has a constellation in a direction: the MCS
// tables of TS 38.214 clauses 5.1.3.1 and 6.1.4.1, TS 36.213 clauses 7.1.7.1 and
// 8.6.1.
func hasQAM(rat bands.RAT, d bands.Direction, qam int) bool {
	switch qam {
	case 4, 16, 64, 256:
		return true
	case 2:
		return rat == bands.NR && d == bands.Uplink
	case 1024:
		return d == bands.Downlink
	}
	return false
}

func qamError(p *ca.Placed, d bands.Direction, qam int) error {
	var sizes []string
	for _, size := range [...]int{2, 4, 16, 64, 256, 1024} {
		if hasQAM(p.Band.RAT, d, size) {
			sizes = append(sizes, strconv.Itoa(size))
		}
	}
	last := len(sizes) - 1
	e := &bands.ValueError{
		Param: p.Band.RAT.String() + " " + d.String() + " constellation size", Got: strconv.Itoa(qam),
		Allowed: strings.Join(sizes[:last], ", ") + " or " + sizes[last],
		Source:  bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clauses 5.1.3.1 and 6.1.4.1"},
	}
	if p.Band.RAT == bands.LTE {
		e.Source = bands.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clauses 7.1.7.1 and 8.6.1"}
	}
	return e
}

// rate works out the standard's maximum.
func (l *Link) rate(p *ca.Placed, d bands.Direction) (err error) {
	if p.Band.RAT == bands.NR {
		carrier := l.nr(p, d)
		l.Max, err = carrier.MaxRate()
	} else {
		l.Max, err = l.lteMax(d)
	}
	return err
}

// transmits tells whether the carrier has an uplink that the UE uses. A supplementary
// uplink does not come up in the choice that package ca makes among the others.
func transmits(p *ca.Placed) bool {
	return p.Transmits || p.Info.Duplex == bands.SUL && p.UplinkWidth != 0 && p.Transmit != ca.No
}

// usable returns the fault that keeps a rate of carrier i from being worked out.
func Usable(a *ca.Assessment, i int) error {
	p := &a.Carriers[i]
	if p.Info != nil && (p.DownlinkWidth == 0 || p.DownlinkBlocks > 0) && (p.UplinkWidth == 0 || p.UplinkBlocks > 0 || !p.Transmits) {
		return nil
	}
	for _, f := range a.RuleFindings() {
		if f.Carrier == i+1 && f.Severity == ca.Error {
			return f
		}
	}
	return &bands.ValueError{Param: "channel bandwidth", Got: p.Carrier.String(), Allowed: "a width that has resource blocks"}
}

func (l *Link) setUp(p *ca.Placed, d bands.Direction) {
	*l = Link{SCS: p.Spacing, ResourceBlocks: p.UsedBlocks(d), Width: p.Width(d), Counted: true}
	l.Layers, l.QAM = int(p.Layers), int(p.QAM)
	if d == bands.Uplink {
		l.Layers, l.QAM = int(p.UplinkLayers), int(p.UplinkQAM)
	}
	if l.Layers == 0 {
		l.Layers, l.LayersAssumed = DefaultLayers(p.Info, d), true
	}
	if l.QAM == 0 {
		l.QAM, l.QAMAssumed = DefaultQAM(p.Info, d), true
	}
	if p.Scale != 0 && p.Band.RAT == bands.NR {
		l.Scaling = exact.Of(int64(p.Scale), 100).Reduced()
	}
}

// nr is the link as the formula of TS 38.306 sees it.
func (l *Link) nr(p *ca.Placed, d bands.Direction) nr.Carrier {
	return nr.Carrier{
		Range:          p.Info.Range,
		Direction:      d,
		SCS:            l.SCS,
		ResourceBlocks: l.ResourceBlocks,
		Layers:         l.Layers,
		Qm:             l.Qm(),
		Scaling:        l.Scaling,
		Fixed:          l.kind.product(l.Layers),
	}
}

// lteMax is the largest transport block bits of 1 ms, as a rate.
func (l *Link) lteMax(d bands.Direction) (exact.Ratio, error) {
	block, err := lte.LargestBlock(d, l.Qm(), l.Layers, l.ResourceBlocks)
	return exact.Whole(int64(block.Bits) * 1000), err
}

// chooseUplink lets only the faster of an uplink and the supplementary uplinks of
// its cell count (TS 38.306 clause 4.1.2, note). The cell is the first NR carrier on
// which the UE transmits. A supplementary uplink that its user marks as
// transmitting counts beside it.
func (r *Result) chooseUplink() {
	cell := r.uplinkOf()
	for i := range r.Carriers {
		p := &r.assessment.Carriers[i]
		if p.Info.Duplex != bands.SUL || r.Carriers[i].Uplink.IsZero() {
			continue
		}
		switch {
		case cell < 0 || p.Transmit == ca.Yes:
		case r.Carriers[i].Uplink.Max.Cmp(r.Carriers[cell].Uplink.Max) > 0:
			r.Carriers[cell].Uplink.Counted = false
			cell = i
		default:
			r.Carriers[i].Uplink.Counted = false
		}
	}
}

func (r *Result) sum() {
	r.Downlink, r.Uplink = Rates{Max: exact.Whole(0)}, Rates{Max: exact.Whole(0)}
	for i := range r.Carriers {
		c := &r.Carriers[i]
		if c.Downlink.Counted {
			r.Downlink = r.Downlink.Add(c.Downlink.Rates)
		}
		if c.Uplink.Counted {
			r.Uplink = r.Uplink.Add(c.Uplink.Rates)
		}
	}
	r.Downlink, r.Uplink = r.Downlink.sub(r.SharedRates(bands.Downlink)), r.Uplink.sub(r.SharedRates(bands.Uplink))
	if r.inTurn.Scheduled.IsZero() {
		return
	}
	for _, i := range r.InTurn() { // the one that counts is among those that take turns
		if l := &r.Carriers[i].Uplink; l.Counted {
			r.Uplink.Scheduled = r.Uplink.Scheduled.Add(r.inTurn.Scheduled).Sub(l.Scheduled)
			r.Uplink.Schedulable = r.Uplink.Schedulable.Add(r.inTurn.Schedulable).Sub(l.Schedulable)
		}
	}
}

// PeakEfficiency is the peak rate over the width and the time of the direction in bit/s/Hz,
// guard time in halves, as TR 37.910 clause 5.1.1 has it.
func (c *CarrierRates) PeakEfficiency(d bands.Direction) exact.Ratio {
	l := c.Link(d)
	share := c.Frame.Pattern.Share(d).Add(c.Frame.Pattern.GuardShare().Mul(exact.Of(1, 2)))
	if l.Peak.IsZero() || l.Width == 0 || share.Num == 0 {
		return exact.Ratio{}
	}
	return l.Peak.Mul(exact.Of(share.Den, share.Num*int64(l.Width))).Reduced()
}
