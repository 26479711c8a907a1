package tbs

import (
	"fmt"
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/blocksteps"
	"spectally/cmd/internal/clauses"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput/exact"
)

// nrBlockValue is the answer of the command as JSON shows it. With two codewords
// the size, N_info and the code blocks are sums over both.
type nrBlockValue struct {
	TBS        int               `json:"tbs_bits"`
	RE         int               `json:"n_re"`
	Info       float64           `json:"n_info"`
	CodeRate   float64           `json:"code_rate"` // target code rate
	Qm         int               `json:"qm"`
	CodeBlocks int               `json:"code_blocks"`
	BaseGraph  *int              `json:"base_graph"` // null where the codewords differ, as is the next
	CRCBits    *int              `json:"crc_bits"`
	Direction  string            `json:"direction"`
	PRB        int               `json:"prb"`
	Symbols    int               `json:"symbols"`
	Layers     int               `json:"layers"`
	DMRSRE     int               `json:"dmrs_re"`
	XOverhead  int               `json:"xoverhead"`
	MCSTable   *string           `json:"mcs_table"` // null where the code rate was given, as is the next
	MCS        *int              `json:"mcs"`
	Slots      int               `json:"slots"`
	Scaling    figures.Figure    `json:"scaling"`
	Codewords  []nrCodewordValue `json:"codewords"`

	Assumptions []string      `json:"assumptions"`
	Working     []render.Step `json:"working"`
}

type nrCodewordValue struct {
	Layers        int            `json:"layers"`
	TBS           int            `json:"tbs_bits"`
	REPerPRB      int            `json:"n_re_prb"` // before the cap of 156
	RE            int            `json:"n_re"`
	Info          float64        `json:"n_info"`
	Quantised     int            `json:"n_info_prime"`
	CodeBlocks    int            `json:"code_blocks"`
	CodeBlockBits int            `json:"code_block_bits"` // of a code block with its CRC
	BaseGraph     int            `json:"base_graph"`
	CRCBits       int            `json:"crc_bits"`
	ChannelBits   int            `json:"channel_bits"`
	EffectiveRate figures.Figure `json:"effective_code_rate"`
}

func (b *nrBlock) value() nrBlockValue {
	v := nrBlockValue{
		RE: b.blocks[0].RE, CodeRate: b.blocks[0].CodeRate, Qm: b.blocks[0].Qm, BaseGraph: &b.blocks[0].BaseGraph, CRCBits: &b.blocks[0].CRCBits,
		Direction: b.direction.Short(), PRB: b.alloc.PRB, Symbols: b.alloc.Symbols, Layers: b.alloc.Layers, DMRSRE: b.alloc.DMRSRE, XOverhead: b.alloc.XOverhead,
		Slots: b.alloc.Slots, Scaling: figures.Decimals(exact.Of(1, 1<<b.alloc.ScalingField), 1, 2),
		Assumptions: figures.Present(b.assumed), Working: b.working(),
	}
	if b.table != 0 {
		v.MCSTable, v.MCS = new(b.table.String()), &b.mcs
	}
	for i := range b.codewords {
		c := &b.blocks[i]
		v.TBS, v.Info, v.CodeBlocks = v.TBS+c.TBS, v.Info+c.Info, v.CodeBlocks+c.CodeBlocks
		if c.BaseGraph != b.blocks[0].BaseGraph {
			v.BaseGraph = nil
		}
		if c.CRCBits != b.blocks[0].CRCBits {
			v.CRCBits = nil
		}
		v.Codewords = append(v.Codewords, nrCodewordValue{
			Layers: c.Layers, TBS: c.TBS, REPerPRB: c.REPerPRB, RE: c.RE, Info: c.Info, Quantised: c.Quantised, CodeBlocks: c.CodeBlocks, CodeBlockBits: c.CodeBlockBits,
			BaseGraph: c.BaseGraph, CRCBits: c.CRCBits, ChannelBits: c.ChannelBits(), EffectiveRate: figures.Decimals(c.EffectiveCodeRate(), 1, 6),
		})
	}
	return v
}

// scheme names the modulation and coding scheme.
func (b *nrBlock) scheme() string {
	if b.table == 0 {
		return "code rate " + blocksteps.Rate(b.alloc.Rate2048) + ", Qm " + strconv.Itoa(b.alloc.Qm)
	}
	return "MCS " + strconv.Itoa(b.mcs) + " of " + b.table.String()
}

func (b *nrBlock) channel() string {
	if b.direction == bands.Uplink {
		return "PUSCH"
	}
	return "PDSCH"
}

func (b *nrBlock) answer() *render.Answer {
	v := b.value()
	a := &render.Answer{Value: func() any { return v }, Data: b.data(&v)}
	size := "transport block"
	if b.codewords > 1 {
		size = "transport blocks, both codewords"
	}
	facts := render.Facts{
		{Name: size, Value: strconv.Itoa(v.TBS), Unit: "bits", Source: clauses.OfNR(b.direction)},
		{Name: "code blocks", Value: strconv.Itoa(v.CodeBlocks)},
		{Name: "code rate", Value: blocksteps.Rate(b.alloc.Rate2048), Remark: "target; " + figures.Exact(v.CodeRate)},
		{Name: "modulation order", Value: strconv.Itoa(v.Qm)},
		{Name: "N_RE", Value: strconv.Itoa(v.RE)},
		{Name: "N_info", Value: figures.Exact(v.Info)},
	}
	a.Document = []render.Block{
		render.Title{
			Text:   fmt.Sprintf("Transport block of NR: %s, %s, %s, %s", words.Counted(b.alloc.PRB, "resource block"), words.Counted(b.alloc.Symbols, "symbol"), words.Counted(b.alloc.Layers, "layer"), b.scheme()),
			Detail: b.channel(),
		},
		facts, render.Detail(b.codewordTable(&v)),
	}
	if b.dearRate(&v) {
		a.Document = append(a.Document, render.Section("Findings"), render.Findings{{
			Severity: render.Note, Rule: "effective-code-rate", Message: "The effective code rate is above 0.95: a UE may skip the decoding of a first transmission.",
			Source: render.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3"},
		}})
	}
	sources := render.Sources{clauses.OfNR(b.direction), clauses.LDPC}
	if b.table != 0 {
		sources = append(sources, render.Source(b.table.Source()))
	}
	if b.dmrs != nil {
		sources = append(sources, render.Source(b.dmrs.Source(b.direction)))
	}
	a.Document = append(a.Document, render.Working(v.Working), render.List{Kind: render.Assumptions, Items: b.assumed}, sources)
	return a
}

// dearRate tells whether a UE may skip the decoding of a downlink block.
func (b *nrBlock) dearRate(v *nrBlockValue) bool {
	for i := range v.Codewords {
		if b.direction == bands.Downlink && b.blocks[i].EffectiveCodeRate().Cmp(exact.Of(95, 100)) > 0 {
			return true
		}
	}
	return false
}

func (b *nrBlock) codewordTable(v *nrBlockValue) *render.Table {
	t := &render.Table{Title: "Codewords", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "layers", Align: render.Number},
		{Header: "TBS", Unit: "bits", Align: render.Number},
		{Header: "N_info", Align: render.Number},
		{Header: "N'_info", Align: render.Number},
		{Header: "CRC", Unit: "bits", Align: render.Number},
		{Header: "graph", Align: render.Number},
		{Header: "code blocks"},
		{Header: "channel", Unit: "bits", Align: render.Number},
		{Header: "effective", Unit: "rate", Align: render.Number},
	}}
	for i := range v.Codewords {
		c := &v.Codewords[i]
		t.Rows = append(t.Rows, []string{strconv.Itoa(i), strconv.Itoa(c.Layers), strconv.Itoa(c.TBS), figures.Exact(c.Info), strconv.Itoa(c.Quantised), strconv.Itoa(c.CRCBits),
			strconv.Itoa(c.BaseGraph), fmt.Sprintf("%d × %d", c.CodeBlocks, c.CodeBlockBits), strconv.Itoa(c.ChannelBits), string(c.EffectiveRate)})
	}
	return t
}

func (b *nrBlock) working() render.Working {
	var steps render.Working
	name := b.channel()
	if b.dmrs != nil {
		each := b.dmrs.RE(1, 1)
		steps = append(steps, render.Step{
			Name:    name + ": DM-RS in a resource block",
			Formula: "N_DMRS = DM-RS symbols × CDM groups without data × elements of a group",
			Numbers: fmt.Sprintf("%d × %d × %d (%s)", b.dmrsSymbols, b.groups, each, b.dmrs),
			Result:  strconv.Itoa(b.alloc.DMRSRE),
			Source:  render.Source(b.dmrs.Source(b.direction)),
		})
	}
	if b.table != 0 {
		steps = append(steps, render.Step{
			Name:    name + ": modulation and coding scheme",
			Formula: "MCS " + strconv.Itoa(b.mcs) + " of table " + b.table.String(),
			Result:  "Qm " + strconv.Itoa(b.alloc.Qm) + ", R = " + blocksteps.Rate(b.alloc.Rate2048),
			Source:  render.Source(b.table.Source()),
		})
	}
	for _, c := range blocksteps.Codewords(b.blocks, b.codewords) {
		steps = append(steps, blocksteps.Of(name+c.Label, &b.alloc, &b.blocks[c.Index], b.direction)...)
	}
	return steps
}

// data has a row for each codeword.
func (b *nrBlock) data(v *nrBlockValue) *render.Table {
	t := &render.Table{}
	for _, key := range []string{"codeword", "layers", "tbs_bits", "n_re", "n_info", "n_info_prime", "code_rate", "qm", "code_blocks", "code_block_bits", "base_graph", "crc_bits", "channel_bits", "effective_code_rate"} {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
	}
	for i := range v.Codewords {
		c := &v.Codewords[i]
		t.Rows = append(t.Rows, []string{strconv.Itoa(i), strconv.Itoa(c.Layers), strconv.Itoa(c.TBS), strconv.Itoa(c.RE), figures.Exact(c.Info), strconv.Itoa(c.Quantised), figures.Exact(v.CodeRate), strconv.Itoa(v.Qm),
			strconv.Itoa(c.CodeBlocks), strconv.Itoa(c.CodeBlockBits), strconv.Itoa(c.BaseGraph), strconv.Itoa(c.CRCBits), strconv.Itoa(c.ChannelBits), string(c.EffectiveRate)})
	}
	return t
}
