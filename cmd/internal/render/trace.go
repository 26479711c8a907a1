package render

import (
	"errors"
	"fmt"
)

// Trace draws a level along a way or a time, and below it what was in use: a lane of
// named stretches. HTML draws it; the other formats have its figures with the working.
type Trace struct {
	Title string
	X, Y  Axis
	// Pieces are in order of X and do not overlap; where there is none, nothing is known.
	Pieces []Piece
	// Lane says what the names of the pieces are.
	Lane                string
	Description, Legend string
	Figures             *Table
}

// Piece is a stretch of a trace.
type Piece struct {
	From, To float64
	// Low to High bound the level and Mean is its mean, if Known.
	Low, Mean, High float64
	Known           bool
	Name            string // of what was in use; empty for nothing
}

// Sizes of a trace.
const (
	traceHeight = 170.0
	laneTop     = 40.0 // from the axis to the lane
	laneHeight  = 20.0
	traceBottom = 8.0
	leastNamed  = 36.0 // the width of a stretch that has its name in it
)

// check finds numbers that cannot be drawn.
func (r *Trace) check() error {
	if err := errors.Join(r.X.check(), r.Y.check()); err != nil {
		return fmt.Errorf("render: trace %q: %w", r.Title, err)
	}
	for i := range r.Pieces {
		if p := &r.Pieces[i]; !finite(p.From, p.To, p.Low, p.Mean, p.High) || p.To < p.From {
			return fmt.Errorf("render: trace %q has the piece %+v", r.Title, *p)
		}
	}
	return nil
}

func (w *htmlWriter) trace(t *Trace) {
	w.figure(t.Title, t.Description, []string{t.Legend}, t.Figures, t.draw)
}

func (r *Trace) draw(t tags, width float64, _ string) float64 {
	f := &frame{tags: t, x: r.X, y: r.Y, left: plotLeft, right: width - plotRight, top: plotTop, bottom: plotTop + traceHeight}
	f.axes()
	for start := 0; start < len(r.Pieces); {
		end := start // of pieces that join and have a level
		for end < len(r.Pieces) && r.Pieces[end].Known && (end == start || r.Pieces[end].From <= r.Pieces[end-1].To) {
			end++
		}
		if end > start {
			f.stretch(r.Pieces[start:end])
		}
		start = max(end, start+1)
	}
	y := f.bottom + laneTop
	f.element("text", r.Lane, "x", "0", "y", px(y+laneHeight/2+4), "class", "tick")
	odd := false
	for start := 0; start < len(r.Pieces); {
		end := start + 1
		for end < len(r.Pieces) && r.Pieces[end].Name == r.Pieces[start].Name && r.Pieces[end].From <= r.Pieces[end-1].To {
			end++
		}
		f.named(&r.Pieces[start], r.Pieces[end-1].To, y, odd)
		odd = !odd
		start = end
	}
	return y + laneHeight + traceBottom
}

// stretch draws the level of pieces that join: the area between the bounds, and the mean.
func (f *frame) stretch(list []Piece) {
	area, mean := "", ""
	for i := range list {
		p := &list[i]
		x := px(f.atX((p.From + p.To) / 2))
		command := "L"
		if i == 0 {
			command = "M"
			area = "M" + px(f.atX(p.From)) + " " + px(f.atY(p.High)) // a piece alone has a width
		}
		area += "L" + x + " " + px(f.atY(p.High))
		mean += command + x + " " + px(f.atY(p.Mean))
	}
	last := &list[len(list)-1]
	area += "L" + px(f.atX(last.To)) + " " + px(f.atY(last.High)) + "L" + px(f.atX(last.To)) + " " + px(f.atY(last.Low))
	for i := len(list) - 1; i >= 0; i-- {
		area += "L" + px(f.atX((list[i].From+list[i].To)/2)) + " " + px(f.atY(list[i].Low))
	}
	area += "L" + px(f.atX(list[0].From)) + " " + px(f.atY(list[0].Low)) + "Z"
	f.shape("path", "d", area, "class", "between")
	f.shape("path", "d", mean, "class", strokeClasses[Line])
	f.line()
}

// named draws a stretch of the lane. Neighbours differ by their fill.
func (f *frame) named(p *Piece, to, y float64, odd bool) {
	x, width := f.atX(p.From), f.atX(to)-f.atX(p.From)
	if p.Name == "" {
		f.shape("path", "d", "M"+px(x)+" "+px(y+laneHeight/2)+"H"+px(x+width), "class", "lost")
		return
	}
	class := "stretch"
	if odd {
		class = "stretch shade"
	}
	f.shape("rect", "x", px(x), "y", px(y), "width", px(max(width, 0.5)), "height", px(laneHeight), "class", class)
	if width >= leastNamed {
		f.element("text", fitText(p.Name, width-6), "x", px(x+width/2), "y", px(y+laneHeight/2+4), "class", "middle")
	}
	f.line()
}
