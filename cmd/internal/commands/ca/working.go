package ca

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
)

// working shows how spacings, edges, classes and totals were worked out.
func (c *found) working() render.Working {
	var steps render.Working
	for i := range c.Blocks {
		b := &c.Blocks[i]
		for j := range b.Neighbours {
			steps = append(steps, c.spacingStep(b.Band, &b.Neighbours[j]))
		}
		if len(b.Carriers) > 1 && b.Known {
			if !b.Edges.IsZero() {
				steps = append(steps, c.edgeSteps(b)...)
			}
			steps = append(steps, c.classSteps(b)...)
		}
	}
	return append(steps, c.totalSteps()...)
}

// spacingStep shows the nominal spacing of two neighbours and the one they have.
func (c *found) spacingStep(b *bands.Band, g *ca.Neighbours) render.Step {
	d := leading(b)
	w1, w2 := c.Carriers[g.Below].Width(d), c.Carriers[g.Above].Width(d)
	s := &g.Spacing
	step := render.Step{
		Name:   "nominal spacing of carriers " + carrierNumbers([]int{g.Below, g.Above}) + ", which are " + g.Apart.MHz() + " MHz apart",
		Source: render.Source(s.Source),
	}
	switch {
	case b.ID.RAT == bands.LTE:
		step.Formula = "spacing = floor((BW1 + BW2 − 0.1 × |BW1 − BW2|) / 0.6) × 0.3 MHz"
		step.Numbers = fmt.Sprintf("floor((%s + %s − 0.1 × %s) / 0.6) × 0.3 MHz", w1.MHz(), w2.MHz(), max(w1-w2, w2-w1).MHz())
	case s.SCS == 0:
		step.Formula = "spacing = ceil((BW1 + BW2) / 100.8) × 50.4 MHz"
		step.Numbers = fmt.Sprintf("ceil((%s + %s) / 100.8) × 50.4 MHz", w1.MHz(), w2.MHz())
	default:
		gb1, gb2 := guardAt(b, s.SCS, w1), guardAt(b, s.SCS, w2)
		step.Formula = "spacing = floor((BW1 + BW2 − 2 × |GB1 − GB2|) / (2 × step)) × step"
		step.Numbers = fmt.Sprintf("floor((%s + %s − 2 × |%s − %s|) / (2 × %s)) × %s MHz", w1.MHz(), w2.MHz(), gb1.MHz(), gb2.MHz(), s.Grid.MHz(), s.Grid.MHz())
		step.Name += fmt.Sprintf("; guard bands at %s, step %s", s.SCS, stepOrigin(s))
	}
	step.Result = s.Nominal.MHz() + " MHz: "
	switch {
	case !g.Contiguous():
		step.Result += "further apart, so not contiguous"
	case s.Tolerance != 0:
		step.Result += "within " + s.Tolerance.String() + " of it, so contiguous"
	default:
		step.Result += "no further apart, so contiguous"
	}
	return step
}

func stepOrigin(s *ca.Spacing) string {
	if s.Grid == s.SCS {
		return s.Grid.String() + ", the same spacing"
	}
	return s.Grid.String() + ", the least common multiple of the 100 kHz raster and 15 kHz"
}

// guardAt is the minimum guard band of a width at a subcarrier spacing.
func guardAt(b *bands.Band, scs, width bands.Frequency) bands.Frequency {
	if w, ok := b.Width(scs, width); ok {
		return w.GuardBand
	}
	guard, err := bands.GuardBand(b.Range, scs, width)
	if err != nil {
		return 0 // the spacing would not have been found without it
	}
	return guard
}

// edgeSteps show the edges of the aggregated channel.
func (c *found) edgeSteps(b *ca.SubBlock) render.Working {
	d := leading(b.Band)
	first, last := &c.Carriers[b.Carriers[0]], &c.Carriers[b.Carriers[len(b.Carriers)-1]]
	clause := render.Source(b.Band.WidthSource())
	clause.Table = "clause 5.3A"
	low := render.Step{Name: "lower edge of the aggregated channel of carriers " + carrierNumbers(b.Carriers), Result: b.Edges.Low.MHz() + " MHz", Source: clause}
	high := render.Step{Name: "upper edge", Result: b.Edges.High.MHz() + " MHz", Source: clause}
	if b.Band.ID.RAT == bands.LTE {
		low.Source.Table, high.Source.Table = "clause 5.6A", "clause 5.6A"
		var widest bands.Frequency
		for _, i := range b.Carriers {
			widest = max(widest, c.Carriers[i].Width(d))
		}
		low.Formula = "F_edge,low = F_C,low − (0.18 × N_RB + 0.015) / 2 − (0.05 × BW_max − 0.0075)"
		high.Formula = "F_edge,high = F_C,high + (0.18 × N_RB + 0.015) / 2 + (0.05 × BW_max − 0.0075)"
		numbers := func(p *ca.Placed, sign string) string {
			return fmt.Sprintf("%s %s (0.18 × %d + 0.015) / 2 %s (0.05 × %s − 0.0075)", p.CentreIn(d).MHz(), sign, p.Blocks(d), sign, widest.MHz())
		}
		low.Numbers, high.Numbers = numbers(first, "−"), numbers(last, "+")
		return render.Working{low, high}
	}
	w1, w2, ok := b.Band.WidestSpacing(first.Width(d), last.Width(d))
	if !ok {
		return nil
	}
	guard := max(w1.GuardBand, w2.GuardBand)
	low.Formula = "F_edge,low = F_C,low − (12 × N_RB + 1) × SCS / 2 − GB"
	high.Formula = "F_edge,high = F_C,high + (12 × N_RB − 1) × SCS / 2 + GB"
	low.Numbers = fmt.Sprintf("%s − (12 × %d + 1) × %s / 2 − %s", first.CentreIn(d).MHz(), w1.ResourceBlocks, w1.SCS.MHz(), guard.MHz())
	high.Numbers = fmt.Sprintf("%s + (12 × %d − 1) × %s / 2 + %s", last.CentreIn(d).MHz(), w2.ResourceBlocks, w2.SCS.MHz(), guard.MHz())
	return render.Working{low, high}
}

// classSteps show the bandwidth classes of a sub-block with their limits.
func (c *found) classSteps(b *ca.SubBlock) render.Working {
	d := leading(b.Band)
	var steps render.Working
	for _, row := range ca.ClassRows(b.Band) {
		fits := false
		for _, class := range b.Classes {
			fits = fits || class == row.Class
		}
		if !fits || row.Carriers != len(b.Carriers) {
			continue
		}
		var words []string
		sum, unit := b.Sum.MHz(), "MHz"
		blocks := 0
		for _, i := range b.Carriers {
			p := &c.Carriers[i]
			if b.Band.ID.RAT == bands.LTE {
				w, _ := b.Band.Width(15*bands.KHz, p.Width(d))
				blocks += w.ResourceBlocks
				words = append(words, strconv.Itoa(w.ResourceBlocks))
				sum, unit = strconv.Itoa(blocks), "resource blocks"
			} else {
				words = append(words, p.Width(d).MHz())
			}
		}
		steps = append(steps, render.Step{
			Name:    "bandwidth class of carriers " + carrierNumbers(b.Carriers),
			Numbers: strings.Join(words, " + ") + " " + unit,
			Result:  sum + " " + unit + ": class " + string(row.Class) + " has " + strconv.Itoa(row.Carriers) + " carriers and " + limitText(&row, b.Band),
			Source:  render.Source(row.Source),
		})
	}
	return steps
}

// limitText writes the limits of a class: "above 100 to 200 MHz".
func limitText(row *ca.ClassRow, b *bands.Band) string {
	write := func(n int64) string { return bands.Frequency(n).MHz() }
	unit := " MHz"
	if b.ID.RAT == bands.LTE {
		write, unit = func(n int64) string { return strconv.FormatInt(n, 10) }, " resource blocks"
	}
	if row.Inclusive {
		return "from " + write(row.Over) + " to " + write(row.Max) + unit
	}
	return "above " + write(row.Over) + " to " + write(row.Max) + unit
}

// totalSteps show the sums.
func (c *found) totalSteps() render.Working {
	var downlink, uplink, occupied, equivalent []string
	for i := range c.Carriers {
		p := &c.Carriers[i]
		if p.Info == nil {
			continue
		}
		if p.DownlinkWidth != 0 {
			downlink = append(downlink, p.DownlinkWidth.MHz())
			text := p.DownlinkWidth.MHz()
			if p.Info.Duplex == bands.TDD {
				s := c.Frames[i].Share(bands.Downlink).Reduced()
				text += fmt.Sprintf(" × %d/%d", s.Num, s.Den)
			}
			equivalent = append(equivalent, text)
		}
		if p.Transmits {
			uplink = append(uplink, p.UplinkWidth.MHz())
		}
		switch {
		case p.Info.Duplex == bands.TDD:
			occupied = append(occupied, max(p.DownlinkWidth, p.UplinkWidth).MHz())
		case p.DownlinkWidth == 0 || p.UplinkWidth == 0:
			occupied = append(occupied, max(p.DownlinkWidth, p.UplinkWidth).MHz())
		default:
			occupied = append(occupied, "("+p.DownlinkWidth.MHz()+" + "+p.UplinkWidth.MHz()+")")
		}
	}
	var steps render.Working
	add := func(name string, terms []string, total bands.Frequency) {
		if len(terms) > 0 {
			steps = append(steps, render.Step{Name: name, Numbers: strings.Join(terms, " + "), Result: total.MHz() + " MHz"})
		}
	}
	add("downlink total", downlink, c.Totals.Downlink)
	add("uplink total", uplink, c.Totals.Uplink)
	add("occupied spectrum", occupied, c.Totals.Occupied)
	add("downlink-equivalent total", equivalent, c.Totals.DownlinkEquivalent)
	return steps
}
