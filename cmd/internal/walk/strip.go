package walk

import (
	"math"
	"time"

	"spectally/cmd/internal/samples"
)

// Strip is the level along the way, in columns of one width.
type Strip struct {
	Axis    StripAxis
	Began   time.Time // where the axis is time
	Columns []StripColumn
}

// StripAxis says what the strip runs along.
type StripAxis uint8

// The axes: seconds, metres along the way, or the number of the sample.
const (
	AlongTime StripAxis = iota
	AlongWay
	AlongSamples
)

// StripColumn is a piece of the strip.
type StripColumn struct {
	From, To        float64
	N               int64
	Low, Mean, High float64 // dBm; N is 0 where there is no level
	Cell            string  // that served first in the piece; empty for none
}

// strip is a strip while it is gathered. Where there are too many columns, two become
// one.
type strip struct {
	axis    StripAxis
	width   float64
	columns []column
}

type column struct {
	n         int64
	sum       int64
	low, high int16
	cell      *cell
	none      bool // samples without a cell
}

func (t *strip) add(w *way, now *stop, serving *cell, rsrp int16) {
	if t.width == 0 {
		t.width = 1
		switch {
		case now.timed:
			t.axis = AlongTime
		case now.place.Kind != samples.Nowhere:
			t.axis = AlongWay
		default:
			t.axis = AlongSamples
		}
	}
	x := 0.0
	switch t.axis {
	case AlongTime:
		if !now.timed {
			return
		}
		x = float64(now.at-w.first.at) / float64(time.Second)
	case AlongWay:
		x = now.way
	default:
		x = float64(w.count - 1)
	}
	at := int(math.Floor(x / t.width))
	if at < 0 {
		return
	}
	for at >= mostColumns {
		t.halve()
		at = int(math.Floor(x / t.width))
	}
	for len(t.columns) <= at {
		t.columns = append(t.columns, column{})
	}
	c := &t.columns[at]
	if c.cell == nil {
		c.cell, c.none = serving, c.none || serving == nil
	}
	if rsrp != samples.None {
		c.merge(&column{n: 1, sum: int64(rsrp), low: rsrp, high: rsrp})
	}
}

func (c *column) merge(o *column) {
	if o.n > 0 {
		if c.n == 0 {
			c.low, c.high = o.low, o.high
		}
		c.n += o.n
		c.sum += o.sum
		c.low, c.high = min(c.low, o.low), max(c.high, o.high)
	}
	if c.cell == nil {
		c.cell = o.cell
	}
	c.none = c.none || o.none
}

func (t *strip) halve() {
	t.width *= 2
	for i := range t.columns {
		if i%2 == 0 {
			t.columns[i/2] = t.columns[i]
		} else {
			t.columns[i/2].merge(&t.columns[i])
		}
	}
	t.columns = t.columns[:(len(t.columns)+1)/2]
}

func (t *strip) finished(w *way) Strip {
	s := Strip{Axis: t.axis}
	if t.axis == AlongTime {
		s.Began = time.Unix(0, w.first.at).UTC()
	}
	for i := range t.columns {
		c := &t.columns[i]
		if c.n == 0 && c.cell == nil && !c.none {
			continue
		}
		out := StripColumn{From: float64(i) * t.width, To: float64(i+1) * t.width, N: c.n}
		if c.n > 0 {
			out.Low, out.High = float64(c.low)/hundredth, float64(c.high)/hundredth
			out.Mean = float64(c.sum) / float64(c.n) / hundredth
		}
		if c.cell != nil {
			out.Cell = c.cell.name
		}
		s.Columns = append(s.Columns, out)
	}
	return s
}

// Point is a sample with its place, for drawings and maps.
type Point struct {
	At               int64 // nanoseconds since 1970, if Timed
	Timed            bool
	Place            samples.Place
	Distance         float64 // from the site, if HasDistance
	HasDistance      bool
	RSRP, RSRQ, SINR int16
	Down             int32
	Cell             string
}

// point keeps the sample, or one of so many.
func (w *way) point(now *stop, s *samples.Sample, serving *cell) {
	if now.place.Kind == samples.Nowhere {
		return
	}
	if w.every == 0 {
		w.every = 1
	}
	if w.untilNext > 0 {
		w.untilNext--
		return
	}
	w.untilNext = w.every - 1
	p := Point{now.at, now.timed, now.place, now.distance, now.hasDistance, s.RSRP, s.RSRQ, s.SINR, s.Down, ""}
	if serving != nil {
		p.Cell = serving.name
	}
	w.points = append(w.points, p)
	if len(w.points) == mostPoints {
		for i := range w.points[:mostPoints/2] {
			w.points[i] = w.points[2*i]
		}
		w.points = w.points[:mostPoints/2]
		w.every *= 2
		w.untilNext = w.every - 1
	}
}
