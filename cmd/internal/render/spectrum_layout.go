package render

import (
	"cmp"
	"slices"

	"spectally/bands"
)

// Sizes of a strip of spectrum.
const (
	scaleMost    = 4.0  // pixels for one megahertz at most
	scaleUsual   = 1.5  // and at least, unless one window alone is wider
	scaleSteps   = 20   // tried between the two
	windowGap    = 18.0 // where the axis is broken
	joinedWithin = 10 * bands.MHz
	gutterWide   = 62.0 // beside the tracks, for their names
	gutterNarrow = 24.0
)

// strip is a strip of spectrum while it is laid out.
type strip struct {
	*Spectrum
	width, gutter, scale float64 // pixels for one megahertz
	windows              []window
	units                [][]int // windows that stay in one row
	rows                 [][]int // windows of each row, from the left
}

// window is a piece of the axis without a break, or the room for blocks of one band
// whose place is not known.
type window struct {
	edges  bands.Span // of the axis; none where the place is not known
	order  bands.Frequency
	use    Use // where the place is not known
	band   string
	widest bands.Frequency
	blocks []blockAt
	// x is where the window begins in its row, width how much room it takes, axis how
	// far from x its lowest frequency is: labels may be wider than what they label.
	x, width, axis float64
}

// blockAt is a block by its lane and place.
type blockAt struct{ lane, block int }

func (s *Spectrum) layout(width float64) *strip {
	l := &strip{Spectrum: s, width: width, gutter: gutterWide}
	if width < besideFrom {
		l.gutter = gutterNarrow
	}
	l.windows = s.findWindows()
	l.units = l.findUnits()
	l.fit()
	return l
}

func (s *Spectrum) at(b blockAt) *SpectrumBlock { return &s.Lanes[b.lane].Blocks[b.block] }

// findWindows puts blocks that overlap or are near each other into one window.
func (s *Spectrum) findWindows() []window {
	var placed []blockAt
	var list []window
	for i := range s.Lanes {
		for j := range s.Lanes[i].Blocks {
			at := blockAt{i, j}
			b := s.at(at)
			if b.placed() {
				placed = append(placed, at)
				continue
			}
			n := slices.IndexFunc(list, func(w window) bool {
				return w.band == b.Band && w.use == b.Use && !slices.ContainsFunc(w.blocks, func(o blockAt) bool { return o.lane == i })
			})
			if n < 0 {
				n, list = len(list), append(list, window{order: b.Within.Low, use: b.Use, band: b.Band})
			}
			list[n].widest = max(list[n].widest, b.total())
			list[n].blocks = append(list[n].blocks, at)
		}
	}
	slices.SortStableFunc(placed, func(x, y blockAt) int { return cmp.Compare(s.at(x).Edges.Low, s.at(y).Edges.Low) })
	open := -1
	for _, at := range placed {
		e := s.at(at).Edges
		if open < 0 || e.Low > list[open].edges.High+joinedWithin {
			open, list = len(list), append(list, window{edges: e, order: e.Low})
		}
		w := &list[open]
		w.edges.High = max(w.edges.High, e.High)
		w.widest = w.edges.Width()
		w.blocks = append(w.blocks, at)
	}
	slices.SortStableFunc(list, func(x, y window) int { return cmp.Compare(x.order, y.order) })
	return list
}

// fit finds the largest scale at which the windows take the fewest rows.
func (l *strip) fit() {
	widest := bands.Frequency(1)
	for i := range l.windows {
		widest = max(widest, l.windows[i].widest)
	}
	most := min(scaleMost, (l.width-l.gutter)/widest.InMHz())
	for l.scale = most; l.overfull(); l.scale = most {
		most *= 0.95
	}
	least := min(scaleUsual, most)
	for rows := 1; ; rows++ {
		for step := range scaleSteps + 1 {
			l.scale = most - (most-least)*float64(step)/scaleSteps
			if l.pack() <= rows {
				return
			}
		}
	}
}

// overfull tells whether a window with its labels is wider than a row. Labels alone are
// not.
func (l *strip) overfull() bool {
	return slices.ContainsFunc(l.windows, func(w window) bool {
		l.measure(&w)
		return w.width > l.width-l.gutter && w.widest.InMHz()*l.scale > 1
	})
}

// pack puts the windows into rows at the scale, and returns how many it takes. Windows
// that hold the two directions of a carrier stay in one row, so that their line does.
func (l *strip) pack() int {
	l.rows = l.rows[:0]
	room := 0.0
	for _, unit := range l.units {
		width := -windowGap
		for _, i := range unit {
			l.measure(&l.windows[i])
			width += windowGap + l.windows[i].width
		}
		parts := [][]int{unit}
		if width > l.width-l.gutter { // too wide for any row
			parts = slices.Collect(slices.Chunk(unit, 1))
		}
		for _, part := range parts {
			if len(parts) > 1 {
				width = l.windows[part[0]].width
			}
			if len(l.rows) == 0 || width > room {
				l.rows = append(l.rows, nil)
				room = l.width - l.gutter
			}
			room -= width + windowGap
			last := len(l.rows) - 1
			l.rows[last] = append(l.rows[last], part...)
		}
	}
	for _, row := range l.rows {
		slices.Sort(row)
		x := l.gutter
		for _, i := range row {
			l.windows[i].x = x
			x += l.windows[i].width + windowGap
		}
	}
	return len(l.rows)
}

// findUnits puts windows together that a carrier in both directions joins, in the order of
// their first ones.
func (l *strip) findUnits() [][]int {
	var units [][]int
	for i := range l.windows {
		unit := []int{i}
		for n := len(units) - 1; n >= 0; n-- {
			if slices.ContainsFunc(units[n], func(j int) bool { return l.joins(&l.windows[i], &l.windows[j]) }) {
				unit = append(slices.Clone(units[n]), unit...)
				units = slices.Delete(units, n, n+1)
			}
		}
		slices.Sort(unit)
		units = append(units, unit)
	}
	slices.SortFunc(units, func(x, y []int) int { return cmp.Compare(x[0], y[0]) })
	return units
}

// joins tells whether two windows hold the two directions of a carrier.
func (l *strip) joins(a, b *window) bool {
	return slices.ContainsFunc(a.blocks, func(x blockAt) bool {
		return slices.ContainsFunc(b.blocks, func(y blockAt) bool { return x.lane == y.lane && l.at(x).pairs(l.at(y)) })
	})
}

// pairs tells whether two blocks are the two directions of a carrier.
func (b *SpectrumBlock) pairs(other *SpectrumBlock) bool {
	uses := [...]Use{b.Use, other.Use}
	return b.Band == other.Band && (uses == [...]Use{DownlinkUse, UplinkUse} || uses == [...]Use{UplinkUse, DownlinkUse}) && b.shares(other)
}

// measure finds how much room a window takes: what lies in it, and the labels of its
// blocks, which stand in their middle.
func (l *strip) measure(w *window) {
	left, right := 0.0, w.widest.InMHz()*l.scale
	for _, at := range w.blocks {
		b := l.at(at)
		low, high := l.extent(w, b)
		half := b.labelWidth() / 2
		middle := (low + high) / 2
		left, right = min(left, middle-half), max(right, middle+half)
	}
	w.axis, w.width = -left, right-left
}

// extent is where a block begins and ends in its window, from the window's lowest
// frequency.
func (l *strip) extent(w *window, b *SpectrumBlock) (low, high float64) {
	if !b.placed() {
		return 0, b.total().InMHz() * l.scale
	}
	return (b.Edges.Low - w.edges.Low).InMHz() * l.scale, (b.Edges.High - w.edges.Low).InMHz() * l.scale
}

// label names a block and its channel bandwidths. The uplink of a carrier that has its name
// at its downlink is named as that alone.
func (b *SpectrumBlock) label(named bool) string {
	if named {
		return "uplink"
	}
	widths := b.widths()
	if len(widths) > 16 {
		widths = b.total().MHz()
	}
	return b.Band + " " + widths + " MHz"
}

func (b *SpectrumBlock) labelWidth() float64 {
	return max(boldWidth(b.label(false)), textWidth(b.place()))
}

// drawn is a block with its place in the drawing.
type drawn struct {
	*SpectrumBlock
	window    *window
	low, high float64 // edges
	level     int     // of its labels: those that would touch stand below each other
}

func (d *drawn) middle() float64 { return (d.low + d.high) / 2 }

// inRow lists the blocks of a lane in a row, in rising frequency, and how many levels
// their labels need.
func (l *strip) inRow(row []int, lane int) (list []drawn, levels int) {
	for _, i := range row {
		w := &l.windows[i]
		for _, at := range w.blocks {
			if at.lane != lane {
				continue
			}
			b := l.at(at)
			low, high := l.extent(w, b)
			list = append(list, drawn{SpectrumBlock: b, window: w, low: w.x + w.axis + low, high: w.x + w.axis + high})
		}
	}
	slices.SortStableFunc(list, func(x, y drawn) int { return cmp.Compare(x.middle(), y.middle()) })
	var ends []float64 // of the last label of each level
	for i := range list {
		d := &list[i]
		half := d.labelWidth() / 2
		for d.level = 0; d.level < len(ends) && ends[d.level] > d.middle()-half; d.level++ {
		}
		if d.level == len(ends) {
			ends = append(ends, 0)
		}
		ends[d.level] = d.middle() + half + 4
	}
	return list, len(ends)
}
