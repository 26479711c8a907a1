package render

import (
	"fmt"
	"strconv"
	"strings"
)

// Bars compares numbers of one unit, such as what was measured with what is possible.
// HTML draws them; the other formats have a table of the same figures.
type Bars struct {
	Title, Unit string
	// Of says what the groups are: "network", "sector".
	Of     string
	Groups []BarGroup
	// Legend says what the fills stand for, in place of the usual meaning.
	Legend string
}

// BarGroup is the bars of one thing. It needs a name where there is more than one.
type BarGroup struct {
	Name string
	Bars []Bar
}

// Bar is one number, 0 or more.
type Bar struct {
	Name string
	// Value is the number as it is shown; Low and High bound its spread, or are both
	// empty.
	Value, Low, High string
	Fill             Fill
	// Remark qualifies the value in a few words.
	Remark string
}

// Fill tells bars of different kinds apart.
type Fill uint8

// The fills.
const (
	Solid   Fill = iota // what was measured, or is certain
	Hatched             // what was worked out
	Hollow              // a ceiling
)

func (b *Bars) count() int {
	n := 0
	for i := range b.Groups {
		n += len(b.Groups[i].Bars)
	}
	return n
}

// check finds values that are no numbers.
func (b *Bars) check() error {
	for _, g := range b.Groups {
		for _, bar := range g.Bars {
			for _, v := range [...]string{bar.Value, bar.Low, bar.High} {
				if v == "" && v != bar.Value {
					continue
				}
				if x, err := strconv.ParseFloat(v, 64); err != nil || !isNumber(v) || x < 0 {
					return fmt.Errorf("render: bar %q of %q has the value %q", bar.Name, b.Title, v)
				}
			}
			if (bar.Low == "") != (bar.High == "") {
				return fmt.Errorf("render: bar %q of %q has one end of a spread alone", bar.Name, b.Title)
			}
		}
	}
	return nil
}

// number is the value of a number that check has passed.
func number(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0
	}
	return x
}

// most is the largest number drawn.
func (b *Bars) most() float64 {
	most := 0.0
	for _, g := range b.Groups {
		for _, bar := range g.Bars {
			most = max(most, number(bar.Value))
			if bar.High != "" {
				most = max(most, number(bar.High))
			}
		}
	}
	return most
}

// table has the figures of the drawing, and the bars to scale in cells.
func (b *Bars) table() *Table {
	t := b.figures()
	step := niceStep(b.most() / scaleCells)
	t.Columns = append(t.Columns, Column{Header: "to scale", Unit: strings.TrimSpace("one block = " + trimmed(step) + " " + b.Unit), Minor: true})
	row := 0
	for _, g := range b.Groups {
		for _, bar := range g.Bars {
			t.Rows[row] = append(t.Rows[row], cellBar(number(bar.Value)/step, bar.Fill))
			row++
		}
	}
	return t
}

// figures is the table of what is drawn, a bar a row.
func (b *Bars) figures() *Table {
	of := b.Of
	if of == "" {
		of = "group"
	}
	t := &Table{Title: b.Title, Columns: []Column{
		{Header: of},
		{Header: "figure"},
		{Header: "value", Unit: b.Unit, Align: Number},
		{Header: "lowest", Unit: b.Unit, Align: Number},
		{Header: "highest", Unit: b.Unit, Align: Number},
		{Header: "remark"},
	}}
	for _, g := range b.Groups {
		for _, bar := range g.Bars {
			t.Rows = append(t.Rows, []string{g.Name, bar.Name, bar.Value, bar.Low, bar.High, bar.Remark})
		}
	}
	t.DropEmpty()
	return t
}

// describe says in sentences what the drawing shows.
func (b *Bars) describe() string {
	var d strings.Builder
	for _, g := range b.Groups {
		if g.Name != "" {
			d.WriteString(g.Name + ": ")
		}
		for i, bar := range g.Bars {
			if i > 0 {
				d.WriteString("; ")
			}
			d.WriteString(strings.TrimSpace(bar.Name+" "+bar.Value+" ") + unitSuffix(b.Unit))
			if bar.Low != "" {
				d.WriteString(", from " + bar.Low + " to " + bar.High)
			}
			if bar.Remark != "" {
				d.WriteString(", " + bar.Remark)
			}
		}
		d.WriteString(". ")
	}
	return strings.TrimSpace(d.String())
}

func unitSuffix(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}
