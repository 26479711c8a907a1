package render

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// Spectrum shows which spectrum is in use: channels along a frequency axis that is
// broken where nothing lies, each as wide as its bandwidth. HTML draws it; the other
// formats have a table of the same figures.
type Spectrum struct {
	Title string
	// Legend explains the drawing where blocks are not the channels of a device; empty
	// for the usual explanation.
	Legend string
	// Lanes stand below each other over one axis.
	Lanes []Lane
	// Detail keeps the figures for --explain; HTML draws them all the same.
	Detail bool
}

// Lane is one user of the spectrum, such as a network. It needs a name where there is
// more than one.
type Lane struct {
	Name   string
	Blocks []SpectrumBlock
}

// SpectrumBlock is channels of one band in one direction that follow each other
// without a gap. They are drawn joined.
type SpectrumBlock struct {
	Band string
	Use  Use
	// Edges are those of the whole block; none where its place is not known.
	Edges bands.Span
	// Within is where the band lies. A block whose place is not known stands in its
	// order by it.
	Within bands.Span
	// Loose tells that the one channel of the block lies somewhere within the edges.
	// Certain is the part of them that it fills wherever it lies; none if there is none.
	Loose    bool
	Certain  bands.Span
	Channels []Channel // in rising frequency
}

// Channel is a carrier in one direction, or in both.
type Channel struct {
	// Carrier is the number of the carrier in its lane; zero for what has none. The
	// channels of a paired carrier have the same.
	Carrier int
	Width   bands.Frequency
	// Edges are none where the place is not known.
	Edges bands.Span
	// Silent tells that the device does not transmit on the uplink of the channel.
	Silent bool
}

// Use tells in which directions a channel is used.
type Use uint8

// The uses.
const (
	DownlinkUse Use = iota
	UplinkUse
	BothUse    // both directions in turn (TDD)
	ProductUse // where a product of uplinks falls
)

var useNames = [...]string{DownlinkUse: "downlink", UplinkUse: "uplink", BothUse: "both, in turn", ProductUse: "product"}

func (s *Spectrum) count() int {
	n := 0
	for i := range s.Lanes {
		n += len(s.Lanes[i].Blocks)
	}
	return n
}

// check finds blocks that cannot be drawn.
func (s *Spectrum) check() error {
	for i := range s.Lanes {
		for j := range s.Lanes[i].Blocks {
			b := &s.Lanes[i].Blocks[j]
			bad := len(b.Channels) == 0 || b.Edges.High < b.Edges.Low || !b.placed() && !b.Edges.IsZero()
			for _, c := range b.Channels {
				bad = bad || c.Width <= 0 || c.Edges.IsZero() == b.placed()
			}
			if bad {
				return fmt.Errorf("render: block %d of lane %d of %q cannot be drawn: %+v", j+1, i+1, s.Title, *b)
			}
		}
	}
	return nil
}

// placed tells whether the place of the block is known.
func (b *SpectrumBlock) placed() bool { return b.Edges.High > b.Edges.Low }

// silent tells whether the block has an uplink on which the device does not transmit.
func (b *SpectrumBlock) silent() bool {
	return b.Use != DownlinkUse && !slices.ContainsFunc(b.Channels, func(c Channel) bool { return !c.Silent })
}

// total is the sum of the channel bandwidths.
func (b *SpectrumBlock) total() bands.Frequency {
	var sum bands.Frequency
	for _, c := range b.Channels {
		sum += c.Width
	}
	return sum
}

// widths writes the channel bandwidths in megahertz: "80", "2 × 20", "100 + 60".
func (b *SpectrumBlock) widths() string {
	first := b.Channels[0].Width
	same := !slices.ContainsFunc(b.Channels, func(c Channel) bool { return c.Width != first })
	switch n := len(b.Channels); {
	case n == 1:
		return first.MHz()
	case same:
		return strconv.Itoa(n) + " × " + first.MHz()
	}
	list := make([]string, len(b.Channels))
	for i, c := range b.Channels {
		list[i] = c.Width.MHz()
	}
	return strings.Join(list, " + ")
}

// place writes where the block lies.
func (b *SpectrumBlock) place() string {
	if !b.placed() {
		return "place not known"
	}
	edges := b.Edges.Low.MHz() + "–" + b.Edges.High.MHz()
	if b.Loose {
		return "within " + edges
	}
	return edges
}

func (b *SpectrumBlock) carriers() string {
	var list []string
	for _, c := range b.Channels {
		if c.Carrier > 0 {
			list = append(list, strconv.Itoa(c.Carrier))
		}
	}
	return strings.Join(list, ", ")
}

// use says in which direction the block is used, and whether the device sends.
func (b *SpectrumBlock) use() string {
	if b.silent() {
		return useNames[b.Use] + "; device silent"
	}
	return useNames[b.Use]
}

// scaleCells is how many cells of a terminal the widest thing drawn to scale takes.
const scaleCells = 24

// table has the figures of the drawing, and widths to scale in cells.
func (s *Spectrum) table() *Table {
	t := s.figures()
	widest := bands.Frequency(0)
	for i := range s.Lanes {
		for j := range s.Lanes[i].Blocks {
			widest = max(widest, s.Lanes[i].Blocks[j].total())
		}
	}
	step := niceStep(widest.InMHz() / scaleCells)
	t.Columns = append(t.Columns, Column{Header: "to scale", Unit: "one block = " + trimmed(step) + " MHz", Minor: true})
	row := 0
	for i := range s.Lanes {
		for j := range s.Lanes[i].Blocks {
			t.Rows[row] = append(t.Rows[row], cellBar(s.Lanes[i].Blocks[j].total().InMHz()/step, Solid))
			row++
		}
	}
	return t
}

// figures is the table of what is drawn, a block a row.
func (s *Spectrum) figures() *Table {
	t := &Table{Title: s.Title, Columns: []Column{
		{Header: "network"},
		{Header: "band"},
		{Header: "direction"},
		{Header: "carriers"},
		{Header: "from", Unit: "MHz", Align: Number},
		{Header: "to", Unit: "MHz", Align: Number},
		{Header: "widths", Unit: "MHz"},
		{Header: "sum", Unit: "MHz", Align: Number},
	}}
	for i := range s.Lanes {
		for j := range s.Lanes[i].Blocks {
			b := &s.Lanes[i].Blocks[j]
			from, to := "?", "?"
			if b.placed() {
				from, to = b.Edges.Low.MHz(), b.Edges.High.MHz()
			}
			widths := b.widths()
			if b.Loose {
				widths += ", within"
			}
			t.Rows = append(t.Rows, []string{s.Lanes[i].Name, b.Band, b.use(), b.carriers(), from, to, widths, b.total().MHz()})
		}
	}
	t.DropEmpty()
	return t
}

// describe says in sentences what the drawing shows.
func (s *Spectrum) describe() string {
	var d strings.Builder
	for i := range s.Lanes {
		if len(s.Lanes[i].Blocks) == 0 {
			continue
		}
		if name := s.Lanes[i].Name; name != "" {
			d.WriteString(name + ": ")
		}
		for j := range s.Lanes[i].Blocks {
			b := &s.Lanes[i].Blocks[j]
			if j > 0 {
				d.WriteString("; ")
			}
			d.WriteString(b.Band + " " + b.use() + ", " + b.place())
			if b.placed() {
				d.WriteString(" MHz")
			}
			d.WriteString(", " + b.widths() + " MHz wide")
		}
		d.WriteString(". ")
	}
	return strings.TrimSpace(d.String())
}
