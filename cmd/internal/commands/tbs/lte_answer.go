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

// lteBlockValue is the answer of the command as JSON shows it. Size and code blocks
// are sums over the codewords. What LTE does not have, and what was not counted, is
// null.
type lteBlockValue struct {
	TBS        int                `json:"tbs_bits"`
	RE         *int               `json:"n_re"` // of one layer
	Info       *float64           `json:"n_info"`
	CodeRate   *figures.Figure    `json:"code_rate"` // effective: (TBS + CRC) / channel bits
	Qm         *int               `json:"qm"`
	CodeBlocks int                `json:"code_blocks"`
	BaseGraph  *int               `json:"base_graph"`
	CRCBits    int                `json:"crc_bits"` // of the block of each codeword
	Direction  string             `json:"direction"`
	PRB        int                `json:"prb"`
	Column     int                `json:"n_prb_column"` // of the size table
	Layers     int                `json:"layers"`
	ITBS       string             `json:"itbs"`
	MCSTable   *string            `json:"mcs_table"`
	MCS        *int               `json:"mcs"`
	Frame      *string            `json:"frame"`
	Subframe   *int               `json:"subframe"`
	Codewords  []lteCodewordValue `json:"codewords"`

	Assumptions []string      `json:"assumptions"`
	Working     []render.Step `json:"working"`
}

type lteCodewordValue struct {
	Layers      int             `json:"layers"`
	TBS         int             `json:"tbs_bits"`
	CodeBlocks  int             `json:"code_blocks"`
	Segments    string          `json:"code_block_bits"` // "5 x 6144 + 2 x 6080"
	CRCBits     int             `json:"crc_bits"`
	ChannelBits *int            `json:"channel_bits"`
	CodeRate    *figures.Figure `json:"code_rate"`
}

// hasRate tells whether there is a code rate.
func (b *lteBlock) hasRate() bool { return b.counted && b.qm != 0 }

func (b *lteBlock) value() lteBlockValue {
	r := &b.result
	v := lteBlockValue{
		TBS: r.Bits, CodeBlocks: r.CodeBlocks(), CRCBits: lte.CRCBits, Direction: b.grant.Direction.Short(), PRB: b.grant.PRB, Column: r.Column,
		Layers: b.grant.Layers, ITBS: b.grant.ITBS.String(), Assumptions: figures.Present(b.assumptions()), Working: b.working(),
	}
	if b.qm != 0 {
		v.Qm = &b.qm
	}
	if b.table != 0 {
		v.MCSTable, v.MCS = new(b.tableName()), &b.mcs
	}
	if b.counted {
		v.RE, v.Frame, v.Subframe = &r.Elements, new(r.Cell.Frame.String()), &b.grant.Subframe
	}
	channel, bits := 0, 0
	for i := range r.Codewords {
		c := &r.Codewords[i]
		if c.Layers == 0 {
			continue
		}
		w := lteCodewordValue{Layers: c.Layers, TBS: c.Bits, CodeBlocks: c.Segmentation.C, Segments: c.Segmentation.String(), CRCBits: lte.CRCBits}
		if b.hasRate() {
			w.ChannelBits, w.CodeRate = &c.ChannelBits, new(lteRate(c.Bits+lte.CRCBits, c.ChannelBits))
			channel, bits = channel+c.ChannelBits, bits+c.Bits+lte.CRCBits
		}
		v.Codewords = append(v.Codewords, w)
	}
	if b.hasRate() {
		v.CodeRate = new(lteRate(bits, channel))
	}
	return v
}

func lteRate(bits, channel int) figures.Figure {
	return figures.Decimals(exact.Of(int64(bits), int64(channel)), 1, 6)
}

// tableName is the name of the MCS table as the flag has it.
func (b *lteBlock) tableName() string {
	for _, name := range lteTables {
		if t, err := lte.ParseMCSTable(b.grant.Direction, name); err == nil && t == b.table {
			return name
		}
	}
	return b.table.String()
}

// assumptions lists what was taken to count resource elements.
func (b *lteBlock) assumptions() []string {
	list := b.assumed
	if !b.counted {
		return list
	}
	c := &b.result.Cell
	if b.grant.Direction == bands.Uplink {
		return append(list, fmt.Sprintf("frame structure %s, two symbols of DM-RS in each subframe", c.Frame))
	}
	return append(list, fmt.Sprintf("frame structure %s, a carrier of %d resource blocks, %s, CRS of %s", c.Frame, c.RB, words.Counted(c.ControlSymbols, "control symbol"), words.Counted(c.CRSPorts, "port")))
}

func (b *lteBlock) index() string {
	if b.table == 0 {
		return "I_TBS " + b.grant.ITBS.String()
	}
	return "MCS " + strconv.Itoa(b.mcs) + " of " + b.tableName()
}

func (b *lteBlock) channel() string {
	if b.grant.Direction == bands.Uplink {
		return "PUSCH"
	}
	return "PDSCH"
}

func (b *lteBlock) answer() *render.Answer {
	v := b.value()
	a := &render.Answer{Value: func() any { return v }, Data: b.data(&v)}
	size := "transport block"
	if len(v.Codewords) > 1 {
		size = "transport blocks, both codewords"
	}
	source := clauses.OfLTE(b.grant.Direction)
	facts := render.Facts{
		{Name: size, Value: strconv.Itoa(v.TBS), Unit: "bits", Source: source},
		{Name: "every millisecond", Value: string(figures.Decimals(exact.Whole(int64(v.TBS)), 1000, 3)), Unit: "Mbit/s"},
		{Name: "I_TBS", Value: v.ITBS},
		{Name: "code blocks", Value: strconv.Itoa(v.CodeBlocks)},
	}
	if v.Column != v.PRB {
		facts = append(facts, render.Fact{Name: "column of the size table", Value: strconv.Itoa(v.Column), Remark: "n_prb, for " + strconv.Itoa(v.PRB) + " allocated resource blocks"})
	}
	if b.counted {
		facts = append(facts, render.Fact{Name: "resource elements", Value: strconv.Itoa(*v.RE), Remark: "of one layer, left for data"})
	}
	if v.CodeRate != nil {
		facts = append(facts, render.Fact{Name: "code rate", Value: string(*v.CodeRate), Remark: "effective: transport block and CRC over channel bits"})
	}
	a.Document = []render.Block{
		render.Title{
			Text:   fmt.Sprintf("Transport block of LTE: %s, %s, %s", words.Counted(b.grant.PRB, "resource block"), words.Counted(b.grant.Layers, "layer"), b.index()),
			Detail: b.channel(),
		},
		facts, b.codewordTable(&v),
	}
	if b.hasRate() && !b.decodable() {
		a.Document = append(a.Document, render.Section("Findings"), render.Findings{{
			Severity: render.Note, Rule: "effective-code-rate", Message: "The code rate is above 0.932: a UE may skip decoding, and a scheduler would choose a lower index.", Source: clauses.LTEMCS,
		}})
	}
	sources := render.Sources{source, {Spec: "TS 36.212", Version: "19.3.0", Table: "clause 5.1.2"}}
	if b.table != 0 {
		sources = append(sources, render.Source(b.table.Source()))
	}
	a.Document = append(a.Document, render.Working(v.Working), render.List{Kind: render.Assumptions, Items: b.assumptions()}, sources)
	return a
}

func (b *lteBlock) decodable() bool {
	for i := range b.result.Codewords {
		if c := &b.result.Codewords[i]; c.Layers > 0 && !c.Decodable() {
			return false
		}
	}
	return true
}

func (b *lteBlock) codewordTable(v *lteBlockValue) *render.Table {
	t := &render.Table{Title: "Codewords", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "layers", Align: render.Number},
		{Header: "TBS", Unit: "bits", Align: render.Number},
		{Header: "CRC", Unit: "bits", Align: render.Number},
		{Header: "code blocks"},
		{Header: "channel", Unit: "bits", Align: render.Number},
		{Header: "code rate", Align: render.Number},
	}}
	for i := range v.Codewords {
		c := &v.Codewords[i]
		t.Rows = append(t.Rows, []string{strconv.Itoa(i), strconv.Itoa(c.Layers), strconv.Itoa(c.TBS), strconv.Itoa(c.CRCBits), words.Arithmetic(c.Segments), figures.Optional(c.ChannelBits), figures.Optional(c.CodeRate)})
	}
	t.DropEmpty()
	return t
}

// data has a row for each codeword.
func (b *lteBlock) data(v *lteBlockValue) *render.Table {
	t := &render.Table{}
	for _, key := range []string{"codeword", "layers", "tbs_bits", "itbs", "n_prb_column", "qm", "code_blocks", "code_block_bits", "crc_bits", "channel_bits", "code_rate"} {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
	}
	for i := range v.Codewords {
		c := &v.Codewords[i]
		t.Rows = append(t.Rows, []string{strconv.Itoa(i), strconv.Itoa(c.Layers), strconv.Itoa(c.TBS), v.ITBS, strconv.Itoa(v.Column), figures.Optional(v.Qm), strconv.Itoa(c.CodeBlocks), c.Segments, strconv.Itoa(c.CRCBits), figures.Optional(c.ChannelBits), figures.Optional(c.CodeRate)})
	}
	return t
}
