package tbs

import (
	"fmt"
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/clauses"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
)

func (b *lteBlock) working() render.Working {
	r := &b.result
	name := b.channel()
	var steps render.Working
	if b.table != 0 {
		step := render.Step{
			Name:    name + ": modulation and coding scheme",
			Formula: "I_MCS " + strconv.Itoa(b.mcs) + " of " + b.table.String(),
			Result:  "I_TBS " + b.grant.ITBS.String(),
			Source:  render.Source(b.table.Source()),
		}
		if b.qm != 0 {
			step.Result += ", Qm " + strconv.Itoa(b.qm)
		}
		steps = append(steps, step)
	}
	if r.Column != b.grant.PRB {
		steps = append(steps, b.columnStep(name))
	}
	for i := range r.Codewords {
		c := &r.Codewords[i]
		if c.Layers == 0 {
			continue
		}
		label := name
		if r.Codewords[1].Layers > 0 {
			label = fmt.Sprintf("%s, codeword %d", name, i)
		}
		steps = append(steps, b.sizeSteps(label, c)...)
		steps = append(steps, segmentStep(label, c))
		if b.hasRate() {
			steps = append(steps, b.rateSteps(label, c)...)
		}
	}
	return steps
}

// columnStep shows how DwPTS or a scaled row changes the column.
func (b *lteBlock) columnStep(name string) render.Step {
	sub := b.result.Cell.Frame.Subframe(b.grant.Subframe)
	step := render.Step{
		Name:    name + ": column of the size table",
		Formula: "n_prb = max(floor(N'_PRB × factor), 1)",
		Result:  strconv.Itoa(b.result.Column),
		Source:  clauses.LTEMCS,
	}
	var factors []string
	if sub.Kind == lte.SpecialSubframe {
		factor := "0.75"
		if sub.Column(8) == 3 {
			factor = "0.375"
		}
		factors = append(factors, factor+" (special subframe)")
	}
	if b.grant.Scaling != 0 {
		factors = append(factors, string(figures.Decimals(exact.Of(int64(b.grant.Scaling), 8), 1, 3))+" (altMCS-Table-scaling)")
	}
	step.Numbers = fmt.Sprintf("max(floor(%d", b.grant.PRB)
	for _, f := range factors {
		step.Numbers += " × " + f
	}
	step.Numbers += "), 1)"
	return step
}

// sizeSteps shows how the size of a codeword is read from the tables.
func (b *lteBlock) sizeSteps(name string, c *lte.Codeword) render.Working {
	n, source := b.result.Column, clauses.LTEPDSCH
	if b.grant.Direction == bands.Uplink {
		source = clauses.LTEPUSCH
	}
	step := render.Step{Name: name + ": transport block size", Result: strconv.Itoa(c.Bits) + " bits", Source: source}
	one, err := lte.CodewordSize(b.grant.ITBS, n, 1)
	switch {
	case c.Layers == 1:
		step.Formula = fmt.Sprintf("TBS(I_TBS %s, n_prb %d) of the size table", b.grant.ITBS, n)
	case n*c.Layers <= lte.MaxPRB:
		step.Formula = fmt.Sprintf("TBS(I_TBS %s, %d × n_prb) of the size table, since %d × n_prb ≤ 110", b.grant.ITBS, c.Layers, c.Layers)
		step.Numbers = fmt.Sprintf("TBS(%s, %d × %d)", b.grant.ITBS, c.Layers, n)
	case err == nil:
		step.Formula = fmt.Sprintf("TBS(I_TBS %s, n_prb %d) of the size table, translated to %d layers", b.grant.ITBS, n, c.Layers)
		step.Numbers = fmt.Sprintf("translation of %d bits", one)
	}
	return render.Working{step}
}

// segmentStep shows the code blocks of a codeword.
func segmentStep(name string, c *lte.Codeword) render.Step {
	total := c.Bits + lte.CRCBits
	step := render.Step{
		Name:    name + ": code blocks",
		Formula: "C = 1 (TBS + CRC ≤ 6144)",
		Numbers: fmt.Sprintf("%d + %d ≤ 6144", c.Bits, lte.CRCBits),
		Result:  words.Arithmetic(c.Segmentation.String()) + " bits",
		Source:  render.Source{Spec: "TS 36.212", Version: "19.3.0", Table: "clause 5.1.2"},
	}
	if total > 6144 {
		step.Formula = "C = ceil((TBS + CRC) / (6144 − 24))"
		step.Numbers = fmt.Sprintf("ceil((%d + %d) / 6120)", c.Bits, lte.CRCBits)
		step.Result = strconv.Itoa(c.Segmentation.C) + " code blocks, " + step.Result
	}
	if f := c.Segmentation.F; f > 0 {
		step.Result += ", " + words.Counted(f, "filler bit")
	}
	return step
}

// rateSteps shows channel bits and code rate.
func (b *lteBlock) rateSteps(name string, c *lte.Codeword) render.Working {
	return render.Working{{
		Name:    name + ": channel bits",
		Formula: "resource elements left for data × Qm × layers",
		Numbers: fmt.Sprintf("%d × %d × %d in subframe %d", b.result.Elements, b.qm, c.Layers, b.grant.Subframe),
		Result:  strconv.Itoa(c.ChannelBits),
		Source:  render.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "clause 6.3"},
	}, {
		Name:    name + ": code rate",
		Formula: "(TBS + CRC) / channel bits",
		Numbers: fmt.Sprintf("(%d + %d) / %d", c.Bits, lte.CRCBits, c.ChannelBits),
		Result:  string(lteRate(c.Bits+lte.CRCBits, c.ChannelBits)),
		Source:  clauses.LTEMCS,
	}}
}
