package fieldlog

import (
	"math"
	"time"

	"spectally/ca"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
)

// fewestSamples is how many runs make a walk: distributions of fewer say nothing.
const fewestSamples = 3

// walk takes the runs that say where they were made, or how strong the signal was, as
// the samples of a walk; nil if there are too few.
func (n *network) walk(l *Log) *walk.Report {
	set := walk.Settings{Pause: math.MaxInt64} // between two tests as much time may pass as it likes
	if l.Site != nil {
		set.Site = samples.Place{Kind: samples.Geographic, A: l.Site.Lat, B: l.Site.Lon}
	}
	c := walk.New(set)
	used := 0
	for i := range n.log.Runs {
		run := &n.log.Runs[i]
		if !run.Spot.given() {
			continue
		}
		used++
		if reason, ok := c.Add(n.sample(run, l.Date)); !ok {
			c.LeaveOut("run", int64(i+1), reason)
		}
	}
	if used < fewestSamples {
		return nil
	}
	return c.Report()
}

// sample is a run as a sample.
func (n *network) sample(run *Run, date string) *samples.Sample {
	s := samples.Empty()
	s.Network = n.log.Name
	s.Distance, s.HasDistance = run.Spot.Distance, run.Spot.HasDistance
	if p := run.Spot.Place; p != nil {
		s.Place = samples.Place{Kind: samples.Geographic, A: p.Lat, B: p.Lon}
	}
	if at, ok := momentOf(run.When, date); ok {
		s.At, s.Timed = at.UnixNano(), true
	}
	if serving, err := samples.NewServing(n.active(run)); err == nil {
		first := &serving.Carriers[0]
		s.Serving, s.PCI, s.RSRP, s.SINR = serving, first.PCI, first.RSRP, first.SINR
	}
	if run.Spot.RSRP.IsGiven() {
		s.RSRP = int16(run.Spot.RSRP.Hundredths())
	}
	if run.Spot.SINR.IsGiven() {
		s.SINR = int16(run.Spot.SINR.Hundredths())
	}
	s.Down, s.Up, s.Latency = thousandths(run.Down), thousandths(run.Up), thousandths(run.Idle)
	return &s
}

// active are the carriers of a run as the device takes them, without levels that were read elsewhere where the run
// has its own.
func (n *network) active(run *Run) ca.Combination {
	list := n.effective
	if len(run.Spot.Active) > 0 {
		list = nil
		for _, number := range run.Spot.Active {
			list = append(list, n.effective[number-1])
		}
	}
	out := make(ca.Combination, len(list))
	for i, c := range list {
		c.RSRP, c.SINR = ca.Level{}, ca.Level{}
		out[i] = c
	}
	return out
}

// thousandths is a number in thousandths; samples.Missing for none.
func thousandths(d quantity.Decimal) int32 {
	if !d.IsGiven() {
		return samples.Missing
	}
	return int32(min(math.Round(d.Float()*1000), math.MaxInt32))
}

// momentOf is the point in time of a run; false if it is not known to the day.
func momentOf(when, date string) (time.Time, bool) {
	if len(when) == len("15:04") {
		when = date + " " + when
	}
	for _, form := range [...]string{"2006-01-02 15:04", "2006-01-02 15:04 -07:00"} {
		if at, err := time.Parse(form, when); err == nil {
			return at, true
		}
	}
	return time.Time{}, false
}

// spotReport is what a run says of its spot.
func spotReport(s *Spot) SpotReport {
	r := SpotReport{Carriers: present(s.Active)}
	if s.HasDistance {
		r.Distance = &s.Distance
	}
	if s.Place != nil {
		r.Lat, r.Lon = &s.Place.Lat, &s.Place.Lon
	}
	r.RSRP, r.SINR = decibels(s.RSRP), decibels(s.SINR)
	return r
}
