package channel

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// working shows how the answer was worked out.
func (c *channel) working() render.Working {
	var steps render.Working
	if c.block != 0 {
		steps = append(steps, formula(fmt.Sprintf("frequency of GSCN %d", c.block), "", c.block.Working(), c.centre[bands.Downlink], c.block.Source()))
	}
	if n, ok := c.number[c.asked]; ok {
		steps = append(steps, c.numberStep(n))
	}
	if c.block != 0 {
		return steps
	}
	if f, ok := c.centre[other(c.asked)]; ok && c.band.Duplex != bands.TDD {
		steps = append(steps, c.pairStep(f))
	}
	if step, ok := c.rasterStep(); ok {
		steps = append(steps, step)
	}
	if c.width != 0 {
		steps = append(steps, c.edgeStep())
		if w, ok := c.band.Width(c.scs, c.width); ok && w.GuardBand != 0 {
			steps = append(steps, c.guardStep(&w))
		}
	}
	return steps
}

// formula makes a step of a line of arithmetic that begins "F = ".
func formula(name, general, line string, result bands.Frequency, source bands.Source) render.Step {
	left, right, _ := strings.Cut(line, " = ")
	s := render.Step{Name: name, Formula: general, Numbers: words.Arithmetic(right), Result: result.MHz() + " MHz", Source: render.Source(source)}
	if general == "" {
		s.Formula, s.Numbers = left+" = "+s.Numbers, ""
	}
	return s
}

func (c *channel) numberStep(n int32) render.Step {
	f := c.centre[c.asked]
	if c.band.ID.RAT == bands.NR {
		a := bands.ARFCN(n)
		return formula(fmt.Sprintf("frequency of NR-ARFCN %d", n), "F_REF = F_REF-Offs + ΔF_Global × (N_REF − N_REF-Offs)", a.Working(), f, a.Source())
	}
	step := render.Step{Name: fmt.Sprintf("frequency of EARFCN %d", n), Result: f.MHz() + " MHz", Source: spectrum.RasterSource(c.band)}
	for _, r := range c.band.Rasters() {
		if r.Direction != c.asked || !r.Has(n) {
			continue
		}
		low, err := c.band.ChannelFrequency(r.First)
		if err != nil {
			continue
		}
		d := strings.ToUpper(r.Direction.Short())
		step.Formula = fmt.Sprintf("F_%s = F_%s,low + 0.1 MHz × (N_%s − N_Offs,%s)", d, d, d, d)
		step.Numbers = fmt.Sprintf("%s MHz + 0.1 MHz × (%d − %d)", low.MHz(), n, r.First)
	}
	return step
}

func (c *channel) pairStep(f bands.Frequency) render.Step {
	s := c.band.Separations()[0]
	step := render.Step{
		Name:    "carrier of the other direction",
		Formula: "F_UL = F_DL − separation",
		Numbers: c.centre[c.asked].MHz() + " MHz − " + s.Default.MHz() + " MHz",
		Result:  f.MHz() + " MHz",
		Source:  render.Source(s.Source),
	}
	if c.asked == bands.Uplink {
		step.Formula, step.Numbers = "F_DL = F_UL + separation", c.centre[c.asked].MHz()+" MHz + "+s.Default.MHz()+" MHz"
	}
	step.Numbers = strings.NewReplacer("− -", "+ ", "+ -", "− ").Replace(step.Numbers)
	return step
}

// rasterStep shows where the number lies on a raster that has it, or else on the
// first one.
func (c *channel) rasterStep() (render.Step, bool) {
	n, ok := c.number[c.asked]
	if !ok {
		return render.Step{}, false
	}
	var shown *bands.Raster
	rasters := c.band.Rasters()
	for i := range rasters {
		r := &rasters[i]
		if r.Direction == c.asked && r.Step > 0 && !r.Listed && (shown == nil || !shown.Has(n) && r.Has(n)) {
			shown = r
		}
	}
	if shown == nil {
		return render.Step{}, false
	}
	step := render.Step{
		Name:    "place on the " + shown.Spacing.String() + " channel raster",
		Formula: "k = (N − first) / step",
		Numbers: fmt.Sprintf("(%d − %d) / %d", n, shown.First, shown.Step),
		Source:  render.Source(shown.Source),
	}
	switch k, rest := (n-shown.First)/shown.Step, (n-shown.First)%shown.Step; {
	case shown.Has(n):
		step.Result = strconv.Itoa(int(k)) + ", whole: on the raster"
	case rest != 0:
		step.Result = fmt.Sprintf("%d and %d/%d, not whole: off the raster", k, rest, shown.Step)
	default:
		step.Result = fmt.Sprintf("%d, outside %d to %d: off the raster", k, shown.First, shown.Last)
	}
	return step, true
}

func (c *channel) edgeStep() render.Step {
	s := bands.Around(c.centre[c.asked], c.width)
	return render.Step{
		Name:    "edges of the " + c.asked.String() + " channel",
		Formula: "F ± width / 2",
		Numbers: c.centre[c.asked].MHz() + " MHz ± " + c.width.MHz() + " MHz / 2",
		Result:  s.Low.MHz() + " MHz and " + s.High.MHz() + " MHz",
		Source:  render.Source{Spec: c.band.WidthSource().Spec, Version: c.band.WidthSource().Version, Table: "clause 5.3"},
	}
}

func (c *channel) guardStep(w *bands.ChannelWidth) render.Step {
	return render.Step{
		Name:    "minimum guard band on each side",
		Formula: "guard = (width − 12 × N_RB × SCS) / 2 − SCS / 2",
		Numbers: fmt.Sprintf("(%s kHz − 12 × %d × %s kHz) / 2 − %s kHz / 2", w.Width.KHz(), w.ResourceBlocks, w.SCS.KHz(), w.SCS.KHz()),
		Result:  w.GuardBand.KHz() + " kHz",
		Source:  render.Source{Spec: c.band.WidthSource().Spec, Version: c.band.WidthSource().Version, Table: "clause 5.3.3"},
	}
}
