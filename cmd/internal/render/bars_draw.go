package render

import "math"

// Sizes of a bar chart.
const (
	barHeight   = 14
	barPitch    = 22 // from one bar to the next
	lineHeight  = 17 // of a name that has a line of its own
	groupGap    = 10
	axisHeight  = 20
	barNameRoom = 190 // where names stand beside the bars
	besideFrom  = 500 // the width from which they do
	afterBar    = 6   // between a bar and its value
)

func (w *htmlWriter) bars(b *Bars) {
	w.figure(b.Title, b.describe(), b.legend(), b.figures(), b.draw)
}

// legend explains the fills and marks that are there.
func (b *Bars) legend() []string {
	var has [3]bool
	spread := false
	for _, g := range b.Groups {
		for _, bar := range g.Bars {
			has[bar.Fill] = true
			spread = spread || bar.Low != ""
		}
	}
	var list []string
	if b.Legend != "" {
		list = append(list, b.Legend)
	}
	for fill, says := range [...]string{Solid: "Solid: measured.", Hatched: "Hatched: worked out.", Hollow: "Hollow: a ceiling."} {
		if has[fill] && b.Legend == "" {
			list = append(list, says)
		}
	}
	if spread {
		list = append(list, "The line with two ends reaches from the lowest to the highest value.")
	}
	return append(list, "All bars begin at zero and have one scale.")
}

// barChart is a bar chart while it is drawn.
type barChart struct {
	tags
	*Bars
	width, left float64
	scale       float64 // pixels for one unit
	beside      bool    // names stand beside the bars, else above them
	hatch       string
}

func (b *Bars) draw(t tags, width float64, id string) float64 {
	c := &barChart{tags: t, Bars: b, width: width, beside: width >= besideFrom, hatch: id + "-hatch"}
	if c.beside {
		c.left = barNameRoom
	}
	c.scale = c.fittingScale()
	t.hatching(c.hatch, "hatch-possible")
	height := c.rows(nil)
	c.axis(height)
	c.rows(c.bar)
	return height + axisHeight
}

// fittingScale is the largest scale at which every bar has room for its value.
func (c *barChart) fittingScale() float64 {
	scale := math.Inf(1)
	for _, g := range c.Groups {
		for i := range g.Bars {
			if extent := g.Bars[i].extent(); extent > 0 {
				scale = min(scale, (c.width-c.left-afterBar-boldWidth(c.valueText(&g.Bars[i]))-2)/extent)
			}
		}
	}
	if math.IsInf(scale, 0) {
		return 1
	}
	return max(scale, 0)
}

// extent is how far a bar or its spread reaches.
func (bar *Bar) extent() float64 { return max(number(bar.Value), number(bar.High)) }

// valueText is what stands behind a bar.
func (c *barChart) valueText(bar *Bar) string {
	text := bar.Value + unitSuffix(c.Unit)
	if bar.Remark == "" {
		return text
	}
	if long := text + ", " + bar.Remark; c.beside || boldWidth(long) < c.width/2 {
		return long
	}
	return text
}

// rows goes through the groups and bars from the top, and returns the height of all.
func (c *barChart) rows(draw func(bar *Bar, y float64)) float64 {
	y := 2.0
	for i := range c.Groups {
		g := &c.Groups[i]
		if g.Name != "" {
			if draw != nil {
				c.element("text", fitText(g.Name, 0.85*c.width), "x", "0", "y", px(y+12), "class", "lane")
			}
			y += lineHeight
		}
		for j := range g.Bars {
			if !c.beside {
				if draw != nil {
					c.element("text", fitText(g.Bars[j].Name, c.width), "x", "0", "y", px(y+12))
				}
				y += lineHeight
			}
			if draw != nil {
				draw(&g.Bars[j], y)
			}
			y += barPitch
		}
		y += groupGap
	}
	return y - groupGap
}

var fillClasses = [...]string{Solid: "solid", Hatched: "hatched", Hollow: "hollow"}

func (c *barChart) bar(bar *Bar, y float64) {
	middle := y + barHeight/2
	if c.beside {
		c.element("text", fitText(bar.Name, barNameRoom-8), "x", px(c.left-8), "y", px(middle+4), "class", "end")
	}
	fill := ""
	if bar.Fill == Hatched {
		fill = "url(#" + c.hatch + ")"
	}
	c.shape("rect", "x", px(c.left), "y", px(y), "width", px(max(number(bar.Value)*c.scale, 0.5)), "height", px(barHeight), "class", "bar "+fillClasses[bar.Fill], "fill", fill)
	if bar.Low != "" {
		low, high := c.left+number(bar.Low)*c.scale, c.left+number(bar.High)*c.scale
		path := "M" + px(low) + " " + px(middle) + "H" + px(high)
		for _, x := range [...]float64{low, high} {
			path += "M" + px(x) + " " + px(middle-4) + "V" + px(middle+4)
		}
		c.shape("path", "d", path, "class", "spread-edge")
		c.shape("path", "d", path, "class", "spread")
	}
	c.element("text", c.valueText(bar), "x", px(c.left+bar.extent()*c.scale+afterBar), "y", px(middle+4), "class", "value")
	c.line()
}

// axis draws the scale behind the bars.
func (c *barChart) axis(height float64) {
	step := niceStep(c.most() / 4)
	if !c.beside {
		step = niceStep(c.most() / 3)
	}
	for i := 0; ; i++ {
		value := float64(i) * step
		x := c.left + value*c.scale
		if i > 0 && (value > c.most() || x > c.width-12) {
			break
		}
		class := "grid"
		if i == 0 {
			class = "axis"
		}
		c.shape("path", "d", "M"+px(x)+" 0V"+px(height+2), "class", class)
		anchor := "middle"
		if i == 0 && !c.beside {
			anchor = "start"
		}
		c.element("text", trimmed(value), "x", px(x), "y", px(height+15), "text-anchor", anchor, "class", "tick")
	}
	c.line()
}
