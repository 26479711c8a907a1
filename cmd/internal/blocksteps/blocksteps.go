// Package blocksteps shows how the size of a transport block of NR came about, step by
// step as TS 38.214 has it.
package blocksteps

import (
	"fmt"
	"math"
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/clauses"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/throughput/nr"
)

// Of shows how the size of a transport block of NR came about, step by step
// as the clause has it. The layers of the allocation are those of the codeword.
func Of(name string, a *nr.Allocation, b *nr.TransportBlock, d bands.Direction) render.Working {
	source := clauses.OfNR(d)
	steps := render.Working{{
		Name:    name + ": resource elements of a resource block, step 1",
		Formula: "N'_RE = 12 × N_symb − N_DMRS − N_oh",
		Numbers: fmt.Sprintf("12 × %d − %d − %d", a.Symbols, a.DMRSRE, a.XOverhead),
		Result:  strconv.Itoa(b.REPerPRB),
		Source:  source,
	}, {
		Name:    name + ": resource elements, step 1",
		Formula: "N_RE = min(156, N'_RE) × n_PRB",
		Numbers: fmt.Sprintf("min(156, %d) × %d", b.REPerPRB, a.PRB),
		Result:  strconv.Itoa(b.RE),
		Source:  source,
	}, {
		Name:    name + ": information bits, step 2",
		Formula: "N_info = N_RE × R × Qm × v",
		Numbers: fmt.Sprintf("%d × %s × %d × %d", b.RE, Rate(a.Rate2048), b.Qm, b.Layers),
		Result:  figures.Exact(b.Info),
		Source:  source,
	}}
	if a.Slots > 1 {
		steps[1].Formula, steps[1].Numbers = "N_RE = min(156, N'_RE) × n_PRB × slots", steps[1].Numbers+fmt.Sprintf(" × %d", a.Slots)
	}
	if a.ScalingField > 0 {
		steps[2].Formula, steps[2].Numbers = "N_info = S × "+steps[2].Formula[len("N_info = "):], fmt.Sprintf("1/%d × ", 1<<a.ScalingField)+steps[2].Numbers
	}
	if b.Large {
		steps = append(steps, largeSteps(name, a, b)...)
	} else {
		steps = append(steps, smallSteps(name, b)...)
	}
	for i := range steps {
		if steps[i].Source == (render.Source{}) {
			steps[i].Source = source
		}
	}
	return append(steps, segmentSteps(name, b)...)
}

// Codeword is a codeword whose working is shown, for both where they are alike.
type Codeword struct {
	Index, Times int
	Label        string
}

func Codewords(blocks [2]nr.TransportBlock, n int) []Codeword {
	switch {
	case n == 1:
		return []Codeword{{0, 1, ""}}
	case blocks[0] == blocks[1]:
		return []Codeword{{0, 2, ", each of the two codewords"}}
	}
	return []Codeword{{0, 1, ", codeword 0"}, {1, 1, ", codeword 1"}}
}

// Rate writes a code rate as the tables do, in 1/1024.
func Rate(rate2048 int) string {
	s := strconv.Itoa(rate2048 / 2)
	if rate2048%2 == 1 {
		s += ".5"
	}
	return s + "/1024"
}

// smallSteps is step 3, for N_info up to 3824.
func smallSteps(name string, b *nr.TransportBlock) render.Working {
	floor := int(math.Floor(b.Info / float64(int(1)<<b.N)))
	return render.Working{{
		Name:    name + ": quantised, step 3 (N_info ≤ 3824)",
		Formula: "N'_info = max(24, 2^n × floor(N_info / 2^n)), n = max(3, floor(log2 N_info) − 6)",
		Numbers: fmt.Sprintf("max(24, 2^%d × %d)", b.N, floor),
		Result:  strconv.Itoa(b.Quantised),
	}, {
		Name:    name + ": transport block size",
		Formula: "TBS = the smallest size of the table that is not below N'_info",
		Numbers: "the smallest not below " + strconv.Itoa(b.Quantised),
		Result:  strconv.Itoa(b.TBS) + " bits",
		Source:  render.Source{Spec: clauses.PDSCH.Spec, Version: clauses.PDSCH.Version, Table: "5.1.3.2-1"},
	}}
}

// largeSteps is step 4, for N_info above 3824.
func largeSteps(name string, a *nr.Allocation, b *nr.TransportBlock) render.Working {
	blocks, why := 1, "C = 1 (R > 1/4 and N'_info ≤ 8424)"
	switch {
	case 4*a.Rate2048 <= 2048:
		blocks, why = (b.Quantised+24+3815)/3816, "C = ceil((N'_info + 24) / 3816) (R ≤ 1/4)"
	case b.Quantised > 8424:
		blocks, why = (b.Quantised+24+8423)/8424, "C = ceil((N'_info + 24) / 8424) (R > 1/4)"
	}
	return render.Working{{
		Name:    name + ": quantised, step 4 (N_info > 3824)",
		Formula: "N'_info = max(3840, 2^n × round((N_info − 24) / 2^n)), n = floor(log2(N_info − 24)) − 5",
		Numbers: fmt.Sprintf("max(3840, 2^%d × round(%s / 2^%d))", b.N, figures.Exact(b.Info-24), b.N),
		Result:  strconv.Itoa(b.Quantised),
	}, {
		Name:    name + ": transport block size",
		Formula: "TBS = 8 × C × ceil((N'_info + 24) / (8 × C)) − 24, " + why,
		Numbers: fmt.Sprintf("8 × %d × ceil(%d / %d) − 24", blocks, b.Quantised+24, 8*blocks),
		Result:  strconv.Itoa(b.TBS) + " bits",
	}}
}

// segmentSteps shows CRC, base graph and code blocks.
func segmentSteps(name string, b *nr.TransportBlock) render.Working {
	k := 8448
	if b.BaseGraph == 2 {
		k = 3840
	}
	total := b.TBS + b.CRCBits
	step := render.Step{
		Name:    name + ": code blocks",
		Formula: "C = 1 (TBS + CRC ≤ K_cb)",
		Numbers: fmt.Sprintf("%d + %d ≤ %d, LDPC base graph %d", b.TBS, b.CRCBits, k, b.BaseGraph),
		Result:  fmt.Sprintf("1 code block of %d bits", b.CodeBlockBits),
		Source:  clauses.LDPC,
	}
	if total > k {
		step.Formula = "C = ceil((TBS + CRC) / (K_cb − 24)), K_cb by the LDPC base graph"
		step.Numbers = fmt.Sprintf("ceil((%d + %d) / (%d − 24)), base graph %d", b.TBS, b.CRCBits, k, b.BaseGraph)
		step.Result = fmt.Sprintf("%d code blocks of %d bits", b.CodeBlocks, b.CodeBlockBits)
	}
	return render.Working{step}
}
