package render

import (
	"slices"
	"strconv"
)

// Heights of the parts of a lane.
const (
	trackHeight = 20.0
	pairStep    = 5.0 // between the lines that pair an uplink and a downlink
	pairRoom    = 6.0 // where there is none
	laneGap     = 12.0
	rowGap      = 14.0 // more, between rows of several lanes
	labelHeight = 15.0
)

func (w *htmlWriter) spectrum(s *Spectrum) {
	w.figure(s.Title, s.describe(), s.legend(), s.figures(), s.draw)
}

// legend says how to read the drawing.
func (s *Spectrum) legend() []string {
	if s.Legend != "" {
		return []string{s.Legend}
	}
	list := []string{"MHz, all on one scale. Upper track: downlink, solid. Lower track: uplink, hatched where the device transmits, hollow where it does not."}
	paired, both, joined, lost, loose := false, false, false, false, false
	for i := range s.Lanes {
		for j := range s.Lanes[i].Blocks {
			b := &s.Lanes[i].Blocks[j]
			paired = paired || b.Use == UplinkUse
			both = both || b.Use == BothUse
			joined = joined || len(b.Channels) > 1 && b.placed()
			lost = lost || !b.placed()
			loose = loose || b.Loose
		}
	}
	for _, x := range [...]struct {
		is   bool
		says string
	}{
		{both, "A block over both tracks is TDD."},
		{paired, "A line joins the two directions of a carrier."},
		{joined, "Channels that touch are contiguous."},
		{loose, "A hollow block is where a channel lies somewhere, its solid part what it fills anyway."},
		{lost, "A block whose place is not known stands in the order of its band."},
	} {
		if x.is {
			list = append(list, x.says)
		}
	}
	return append(list, "The axis is broken where nothing lies. Figures in blocks are numbers of carriers.")
}

// spectrumDrawing is a strip while it is drawn.
type spectrumDrawing struct {
	tags
	*strip
	hatch string
}

func (s *Spectrum) draw(t tags, width float64, id string) float64 {
	d := &spectrumDrawing{tags: t, strip: s.layout(width), hatch: id + "-hatch"}
	t.hatching(d.hatch, "hatch-up")
	y := 2.0
	for i, row := range d.rows {
		if i > 0 && len(d.Lanes) > 1 {
			y += rowGap
		}
		for lane := range d.Lanes {
			blocks, levels := d.inRow(row, lane)
			if len(blocks) == 0 {
				continue
			}
			y = d.lane(lane, row, blocks, float64(levels), y)
		}
	}
	d.scaleBar(y)
	return y + 18
}

// lane draws one lane of a row from y on, and returns where it ends.
func (d *spectrumDrawing) lane(lane int, row []int, blocks []drawn, levels, y float64) float64 {
	if name := d.Lanes[lane].Name; name != "" {
		d.element("text", fitText(name, 0.85*d.width), "x", "0", "y", px(y+12), "class", "lane")
		y += lineHeight
	}
	pairs := findPairs(blocks)
	room := pairRoom
	if len(pairs) > 0 {
		room += pairStep * float64(1+slices.MaxFunc(pairs, func(a, b pair) int { return a.level - b.level }).level)
	}
	top := y + levels*labelHeight
	up := top + trackHeight + room // of the track of the uplink
	axis := up + trackHeight + 4
	d.trackNames(top, up, axis)
	for _, i := range row {
		d.axisPiece(&d.windows[i], axis, i != row[len(row)-1])
	}
	for _, p := range pairs {
		line := px(top + trackHeight + pairRoom/2 + pairStep*(float64(p.level)+0.5))
		d.shape("path", "d", "M"+px(p.down)+" "+px(top+trackHeight)+"V"+line+"H"+px(p.up)+"V"+px(up), "class", "pair")
	}
	for i := range blocks {
		b := &blocks[i]
		d.block(b, top, up)
		middle := px(b.middle())
		named := b.Use == UplinkUse && slices.ContainsFunc(blocks, func(o drawn) bool { return o.pairs(b.SpectrumBlock) })
		d.element("text", b.label(named), "x", middle, "y", px(y+labelHeight*float64(b.level)+11), "class", "middle name")
		d.element("text", b.place(), "x", middle, "y", px(axis+labelHeight*float64(b.level)+14), "class", "middle tick")
		d.line()
	}
	return axis + levels*labelHeight + laneGap
}

func (d *spectrumDrawing) trackNames(top, up, axis float64) {
	names := [...]string{"downlink", "uplink", "MHz"}
	if d.gutter == gutterNarrow {
		names = [...]string{"DL", "UL", ""}
	}
	for i, y := range [...]float64{top + trackHeight/2 + 4, up + trackHeight/2 + 4, axis + 14} {
		if names[i] != "" {
			d.element("text", names[i], "x", "0", "y", px(y), "class", "tick")
		}
	}
	d.line()
}

// axisPiece draws the axis of a window, and behind it the mark of a break.
func (d *spectrumDrawing) axisPiece(w *window, y float64, more bool) {
	class := "axis"
	if w.edges.IsZero() {
		class = "axis lost"
	}
	d.shape("path", "d", "M"+px(w.x)+" "+px(y)+"H"+px(w.x+w.width), "class", class)
	if more {
		x := w.x + w.width + windowGap/2
		d.shape("path", "d", "M"+px(x-5)+" "+px(y+4)+"L"+px(x-1)+" "+px(y-4)+"M"+px(x+1)+" "+px(y+4)+"L"+px(x+5)+" "+px(y-4), "class", "break")
	}
	d.line()
}

// block draws the channels of a block on their tracks, joined by a common edge.
func (d *spectrumDrawing) block(b *drawn, top, up float64) {
	x := b.low
	if b.Loose {
		d.loose(b, top, up)
		return
	}
	for i := range b.Channels {
		c := &b.Channels[i]
		width := c.Width.InMHz() * d.scale
		if b.placed() {
			x = b.low + (c.Edges.Low-b.Edges.Low).InMHz()*d.scale
			width = c.Edges.Width().InMHz() * d.scale
		}
		d.channel(b.Use, c, x, width, top, up)
		x += width
	}
	if b.Use == UplinkUse && b.silent() {
		return // its broken line is edge enough
	}
	y, bottom := top, up+trackHeight
	switch b.Use {
	case DownlinkUse, ProductUse:
		bottom = top + trackHeight
	case UplinkUse:
		y = up
	}
	d.shape("rect", "x", px(b.low), "y", px(y), "width", px(b.high-b.low), "height", px(bottom-y), "class", "edge")
}

// loose draws a channel whose place is not exactly known: where it can lie, and what it
// fills in any case.
func (d *spectrumDrawing) loose(b *drawn, top, up float64) {
	height := trackHeight
	if b.Use == BothUse {
		height = up + trackHeight - top
	}
	d.shape("rect", "x", px(b.low), "y", px(top), "width", px(b.high-b.low), "height", px(height), "class", "channel silent")
	if !b.Certain.IsZero() {
		x := b.low + (b.Certain.Low-b.Edges.Low).InMHz()*d.scale
		d.channel(b.Use, &b.Channels[0], x, b.Certain.Width().InMHz()*d.scale, top, up)
	}
}

func (d *spectrumDrawing) channel(use Use, c *Channel, x, width, top, up float64) {
	number := strconv.Itoa(c.Carrier)
	middle := px(x + width/2)
	fits := c.Carrier > 0 && textWidth(number)+2 <= width
	if use != UplinkUse {
		height := trackHeight
		if use == BothUse {
			height = (up - top + trackHeight) / 2
		}
		d.shape("rect", "x", px(x), "y", px(top), "width", px(width), "height", px(height), "class", "channel down")
		if fits {
			d.element("text", number, "x", middle, "y", px(top+height/2+4), "class", "middle inside")
		}
	}
	if use == DownlinkUse || use == ProductUse {
		return
	}
	y := up
	if use == BothUse {
		y = (top + up + trackHeight) / 2
	}
	class, fill := "channel up", "url(#"+d.hatch+")"
	if c.Silent {
		class, fill = "channel silent", ""
	}
	d.shape("rect", "x", px(x), "y", px(y), "width", px(width), "height", px(up+trackHeight-y), "class", class, "fill", fill)
}

// pair joins the downlink and the uplink of a carrier, at their middles.
type pair struct {
	down, up float64
	level    int
}

// findPairs lists the carriers of which both directions are among the blocks. Pairs
// whose lines would touch have different levels.
func findPairs(blocks []drawn) []pair {
	var pairs []pair
	for i := range blocks {
		if blocks[i].Use != DownlinkUse {
			continue
		}
		for j := range blocks {
			if blocks[j].pairs(blocks[i].SpectrumBlock) {
				pairs = append(pairs, pair{down: blocks[i].middle(), up: blocks[j].middle()})
			}
		}
	}
	for i := range pairs {
		for slices.ContainsFunc(pairs[:i], func(p pair) bool { return p.level == pairs[i].level && p.touches(pairs[i]) }) {
			pairs[i].level++
		}
	}
	return pairs
}

func (p pair) touches(q pair) bool {
	return min(p.down, p.up) <= max(q.down, q.up) && min(q.down, q.up) <= max(p.down, p.up)
}

// shares tells whether a carrier is in both blocks.
func (b *SpectrumBlock) shares(other *SpectrumBlock) bool {
	return slices.ContainsFunc(b.Channels, func(c Channel) bool {
		return slices.ContainsFunc(other.Channels, func(o Channel) bool { return o.Carrier == c.Carrier })
	})
}

// scaleBar shows how long some megahertz are.
func (d *spectrumDrawing) scaleBar(y float64) {
	mhz := niceStep(30 / d.scale)
	x, end := d.gutter, d.gutter+mhz*d.scale
	d.shape("path", "d", "M"+px(x)+" "+px(y+4)+"V"+px(y+12)+"M"+px(x)+" "+px(y+8)+"H"+px(end)+"M"+px(end)+" "+px(y+4)+"V"+px(y+12), "class", "axis")
	d.element("text", trimmed(mhz)+" MHz", "x", px(end+6), "y", px(y+12), "class", "tick")
	d.line()
}
