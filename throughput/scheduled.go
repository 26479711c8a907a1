package throughput

import (
	"spectally/bands"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// Schedule adds to each link what a scheduler can send in a frame, at most and in a
// usual network, and what the signal quality lets expect where a carrier or the settings give one.
func (r *Result) Schedule(s Settings) error {
	r.settings, r.scheduled = s, true
	for i := range r.Carriers {
		c := &r.Carriers[i]
		for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
			l := c.Link(d)
			if l.IsZero() {
				continue
			}
			if err := r.scheduleLink(i, d); err != nil {
				return &CarrierError{Carrier: i + 1, Text: r.assessment.Carriers[i].Carrier.String(), Err: err}
			}
		}
		if q, ok := r.Quality(i); ok {
			c.Downlink.Expected = q.Rate
		}
	}
	if list := r.InTurn(); list != nil {
		if err := r.scheduleInTurn(list); err != nil {
			return err
		}
	}
	r.sum()
	for i := range r.Carriers { // a sum is expected only if every part is
		if l := &r.Carriers[i].Downlink; l.Counted && l.Expected.IsZero() {
			r.Downlink.Expected = exact.Ratio{}
		}
	}
	return nil
}

// scheduleLink works out what is scheduled on a carrier and what could be.
func (r *Result) scheduleLink(i int, d bands.Direction) error {
	l := r.Carriers[i].Link(d)
	if r.assessment.Carriers[i].Band.RAT == bands.LTE {
		s, err := r.LTESchedule(i, d)
		if err != nil {
			return err
		}
		lean := lte.Cell{RB: l.ResourceBlocks, Frame: r.Carriers[i].Frame.LTE, CodeRate2048: r.within.codeRate(l)}
		most, err := lean.Leanest(l.Layers).Schedule(d, l.Qm(), l.Layers)
		if err != nil {
			return err
		}
		l.Scheduled, l.Schedulable = s.Rate().Mul(r.airtime(i)), most.Rate()
		return nil
	}
	plan, err := r.NRPlan(i, d)
	if err != nil {
		return err
	}
	s, err := plan.Schedule()
	if err != nil {
		return err
	}
	l.Scheduled, l.Peak = s.Rate().Mul(r.airtime(i)), plan.PeakRate(&s).Mul(r.airtime(i))
	l.Schedulable, err = plan.Ceiling()
	return err
}

// airtime is the share of time in which the network has the channel of a carrier.
func (r *Result) airtime(i int) exact.Ratio { return r.settings.airtime(r.assessment.Carriers[i].Info) }

// AirtimeAssumed tells whether carrier i, counted from 0, is in a band whose channel others
// may have too, and nobody has said for how much of the time.
func (r *Result) AirtimeAssumed(i int) bool {
	info := r.assessment.Carriers[i].Info
	return r.scheduled && info != nil && info.IsUnlicensed() && r.settings.Airtime.IsZero()
}

// NRPlan is the schedule of an NR carrier, counted from 0, in a direction: the
// assumptions of [nr.NewSchedule] with the settings applied.
func (r *Result) NRPlan(i int, d bands.Direction) (nr.Schedule, error) {
	l := r.Carriers[i].Link(d)
	carrier := l.nr(&r.assessment.Carriers[i], d)
	s, err := nr.NewSchedule(carrier, r.Carriers[i].Frame.Pattern)
	if err != nil {
		return s, err
	}
	set := &r.settings
	if err := set.Signals.Apply(&carrier, set.DMRS, &s); err != nil {
		return s, err
	}
	// Control outside the blocks that the carrier is limited to takes none of them.
	s.ControlBlocks = max(0, s.ControlBlocks-(r.assessment.Carriers[i].Blocks(d)-l.ResourceBlocks))
	if r.within != nil {
		r.within.hold(l, &s)
	}
	s.XOverhead = set.XOverhead
	if d == bands.Downlink {
		switch set.ControlSymbols {
		case 0:
		case NoControl:
			s.ControlSymbols = 0
		default:
			s.ControlSymbols = set.ControlSymbols
		}
		if set.NoBroadcast {
			s.LeftOut = nr.SlotSet{}
		}
	}
	return s, nil
}

// Schedule is the schedule of an LTE carrier, counted from 0, in a direction: the
// defaults of [lte.Cell] with the settings applied.
func (r *Result) LTESchedule(i int, d bands.Direction) (*lte.Schedule, error) {
	l := r.Carriers[i].Link(d)
	cell := r.lteCell(i, l)
	if c := r.settings.ControlSymbols; c > 0 {
		cell.ControlSymbols = c
	}
	return cell.Schedule(d, l.Qm(), l.Layers)
}

// lteCell is the cell of the settings on a link of carrier i.
func (r *Result) lteCell(i int, l *Link) lte.Cell {
	cell := r.settings.LTE
	cell.RB, cell.NoBroadcast, cell.CodeRate2048 = l.ResourceBlocks, r.settings.NoBroadcast, r.within.codeRate(l)
	frame := r.Carriers[i].Frame.LTE
	if frame != lte.NewFDD(false) { // the cyclic prefix of TDD stands in its pattern
		cell.Frame = frame
	}
	if !frame.TDD() { // neither has what the others of the combination may have
		cell.UpPTS = 0
	}
	if frame.Type3() {
		cell.MBSFN, cell.PRS = 0, 0
	}
	return cell
}

// Quality is what the signal quality of a downlink carrier lets expect.
type Quality struct {
	// SINR in dB: measured, or the ceiling that the RSRP leaves if FromRSRP.
	SINR     float64
	FromRSRP bool
	// Ceiling is the signal-to-noise ratio in dB that the RSRP leaves when there is
	// no interference, if HasCeiling.
	Ceiling    float64
	HasCeiling bool
	// Efficiency in bit/s/Hz for each layer, by Curve.
	Efficiency float64
	Curve      LinkCurve
	// CQI and MCS are the highest whose efficiency is not above it; -1 where even
	// the lowest is.
	CQI, MCS int
	// Rate is efficiency times layers times channel bandwidth times the downlink
	// share of time, in bit/s, but no more than the scheduled rate.
	Rate exact.Ratio
	// Capped tells that the scheduled rate is what limits.
	Capped bool
}

// Quality works out what the signal quality of carrier i, counted from 0, lets
// expect; false where neither the carrier nor the settings give any. A SINR goes
// before an RSRP.
func (r *Result) Quality(i int) (Quality, bool) {
	p, l := &r.assessment.Carriers[i], &r.Carriers[i].Downlink
	if l.IsZero() || !r.scheduled {
		return Quality{}, false
	}
	var q Quality
	if p.RSRP.IsGiven() {
		q.Ceiling, q.HasCeiling = SNRCeiling(p.RSRP.DB(), l.SCS, r.settings.noiseFigure()), true
	}
	sinr := p.SINR
	if !sinr.IsGiven() {
		sinr = r.settings.SINR
	}
	switch {
	case sinr.IsGiven():
		q.SINR = sinr.DB()
	case q.HasCeiling:
		q.SINR, q.FromRSRP = q.Ceiling, true
	default:
		return Quality{}, false
	}
	q.Curve = r.linkCurve(i)
	q.Efficiency = q.Curve.Efficiency(q.SINR)
	q.CQI, q.MCS = r.steps(i, q.Efficiency)
	q.Rate, q.Capped = r.expected(i, q.Efficiency)
	return q, true
}

// ExpectedAt is what a SINR in dB lets the downlink of carrier i, counted from 0, expect,
// in bit/s, as [Quality.Rate] has it; not given where there is no downlink.
func (r *Result) ExpectedAt(i int, sinr float64) exact.Ratio {
	if r.Carriers[i].Downlink.IsZero() {
		return exact.Ratio{}
	}
	curve := r.linkCurve(i)
	rate, _ := r.expected(i, curve.Efficiency(sinr))
	return rate
}

// linkCurve is the mapping from SINR to efficiency in the downlink of a carrier.
func (r *Result) linkCurve(i int) LinkCurve {
	if r.assessment.Carriers[i].Band.RAT == bands.LTE {
		return LinkCurveTR36942(bands.Downlink)
	}
	return LinkCurveTR38803(bands.Downlink)
}

// expected is the rate of an efficiency, and whether the scheduled rate limits it.
func (r *Result) expected(i int, efficiency float64) (rate exact.Ratio, capped bool) {
	l := &r.Carriers[i].Downlink
	bits := ExpectedRate(efficiency, l.Layers, l.Width, r.Carriers[i].Frame.Share(bands.Downlink).Mul(r.airtime(i)))
	rate = exact.Whole(int64(bits + 0.5))
	if !l.Scheduled.IsZero() && rate.Cmp(l.Scheduled) > 0 {
		return l.Scheduled, true
	}
	return rate, false
}

// steps are the highest CQI and MCS whose efficiency is not above the one given.
func (r *Result) steps(i int, efficiency float64) (cqi, mcs int) {
	cqi, mcs = -1, -1
	qm := r.Carriers[i].Downlink.Qm()
	if r.assessment.Carriers[i].Band.RAT == bands.LTE {
		if t, err := lte.CQITableFor(qm); err == nil {
			if row, ok := t.Highest(efficiency); ok {
				cqi = row.Index
			}
		}
		return cqi, mcs
	}
	if t, err := nr.MCSTableFor(bands.Downlink, qm); err == nil {
		if c := t.CQIWithin(efficiency); c.Index > 0 {
			cqi = c.Index
		}
		if row, ok := t.Within(efficiency); ok {
			mcs = row.Index
		}
	}
	return cqi, mcs
}
