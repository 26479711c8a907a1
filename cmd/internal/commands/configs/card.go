package configs

import (
	"slices"
	"strconv"
	"strings"

	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/listed"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// configCard shows one configuration in full.
func configCard(c ca.Configuration) []render.Block {
	source := render.Source(c.Source())
	facts := render.Facts{
		{Name: "listed", Value: c.Table(), Source: source},
		{Name: "downlink carriers", Value: strconv.Itoa(c.Carriers())},
	}
	if most := c.MaxDL(); most != 0 {
		facts = append(facts, render.Fact{Name: "widest downlink", Value: most.MHz() + " MHz", Remark: "what the sets allow in all"})
	} else {
		facts = append(facts, render.Fact{Name: "widest downlink", Value: "not known: the sets are not certain in the table"})
	}
	if text := c.SingleUplink(); text != "" {
		facts = append(facts, render.Fact{Name: "UE with a single uplink", Value: text, Remark: "as the table has it", Source: source})
	}
	if printed := c.Printed(); printed != c.Name().String() {
		facts = append(facts, render.Fact{Name: "in the table", Value: printed})
	}
	blocks := []render.Block{render.Title{Text: c.Name().String(), Detail: listed.Kinds[c.Kind()]}, facts}
	blocks = append(blocks, setBlocks(c)...)
	blocks = append(blocks, uplinkTable(c), separationTable(c), listed.Notes(c))
	return append(blocks, configSources(c))
}

// setBlocks shows the sets of a configuration, or those of its parts.
func setBlocks(c ca.Configuration) []render.Block {
	if rows := setRows(c); len(rows) > 0 {
		return []render.Block{setCard("Bandwidth combination sets", c, rows)}
	}
	var blocks []render.Block
	var alone []string
	for _, m := range c.Members() {
		switch {
		case m.Listed:
			if rows := setRows(m.Configuration); len(rows) > 0 {
				blocks = append(blocks, setCard("Bandwidth combination sets of the part "+m.Name.String(), m.Configuration, rows))
			}
		case m.Name.Kind() == ca.KindLTE || m.Name.Kind() == ca.KindNR:
			alone = append(alone, m.Name.String())
		}
	}
	if len(alone) > 0 {
		blocks = append(blocks, render.Paragraph("The part "+words.And(alone)+" may have every channel bandwidth of its band."))
	}
	if len(alone) > 1 {
		blocks[len(blocks)-1] = render.Paragraph("The parts " + words.And(alone) + " may have every channel bandwidth of their bands.")
	}
	return blocks
}

func setCard(title string, c ca.Configuration, rows [][]string) *render.Table {
	t := &render.Table{Title: title, Columns: setColumns(false), Rows: rows}
	if sets := c.Sets(); len(sets) > 0 {
		t.Source = render.Source(sets[0].Source)
	}
	t.DropEmpty()
	return t
}

func uplinkTable(c ca.Configuration) *render.Table {
	t := &render.Table{Title: "Uplinks", Source: render.Source(c.Source()), Columns: []render.Column{
		{Header: "uplink"},
		{Header: "power class"},
		{Header: "beside set"},
		{Header: "remark"},
	}}
	if listed.AnySingleUplink(c) {
		t.Rows = append(t.Rows, []string{"one carrier", "", "", "in any band of the configuration that has an uplink"})
	}
	for _, u := range c.Uplinks() {
		var remark []string
		if u.Switched {
			remark = append(remark, "only switched, not at the same time")
		}
		if u.Must {
			remark = append(remark, "a UE with any uplink CA here has it")
		}
		text := u.Text
		switch text {
		case "*":
			if listed.AnySingleUplink(c) {
				continue // said above
			}
			text, remark = "one carrier", append(remark, "see the notes")
		case "N/A":
			text, remark = "none", append(remark, "only part of larger configurations")
		}
		t.Rows = append(t.Rows, []string{text, strings.Join(u.PowerClasses, ", "), figures.List(u.Sets, ", "), strings.Join(remark, "; ")})
	}
	t.DropEmpty()
	return t
}

func configSources(c ca.Configuration) render.Sources {
	s := render.Sources{render.Source(c.Source())}
	add := func(c ca.Configuration) {
		for _, set := range c.Sets() {
			if source := render.Source(set.Source); !slices.Contains(s, source) {
				s = append(s, source)
			}
		}
	}
	add(c)
	for _, m := range c.Members() {
		if m.Listed {
			add(m.Configuration)
		}
	}
	return s
}

// card says of a name that is not listed what the standard has instead.
func (m *namedConfig) card() []render.Block {
	blocks := []render.Block{render.Title{Text: m.Name.String(), Detail: listed.Kinds[m.Name.Kind()]}}
	switch {
	case m.Alone:
		blocks = append(blocks, render.Verdict{Tone: render.Doubtful, Word: "not listed", Text: "One carrier needs no configuration; \"spectally bands\" has what its band allows."})
	case len(m.FallbackOf) > 0:
		blocks = append(blocks, render.Verdict{Tone: render.Doubtful, Word: "not listed", Text: "But a listed configuration has it as a fallback."},
			configTableOf("It is a fallback of", m.FallbackOf, nil))
	default:
		blocks = append(blocks, render.Verdict{Tone: render.Bad, Word: "not listed", Text: "Nor is it a fallback of a listed configuration."})
		var list []ca.Configuration
		var why []string
		for _, near := range m.nearest {
			list = append(list, near.Configuration)
			why = append(why, near.Why())
		}
		blocks = append(blocks, configTableOf("Closest", list, why))
	}
	return blocks
}

// configTableOf lists configurations in short, with the reason for each if there is
// one.
func configTableOf(title string, list []ca.Configuration, why []string) *render.Table {
	t := &render.Table{Title: title, Columns: []render.Column{
		{Header: "name"},
		{Header: "differs"},
		{Header: "carriers", Align: render.Number},
		{Header: "widest downlink", Unit: "MHz", Align: render.Number},
		{Header: "source"},
	}}
	for i, c := range list {
		row := []string{c.Name().String(), "", strconv.Itoa(c.Carriers()), figures.OptionalMHz(c.MaxDL()), c.Source().Short()}
		if i < len(why) {
			row[1] = why[i]
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}
