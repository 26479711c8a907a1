package configs

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// table shows several configurations, each on a line, or with the widths of their
// sets.
func (f *foundConfigs) table() []render.Block {
	shown := f.list[:min(f.limit, len(f.list))]
	title := render.Title{Text: words.Counted(len(f.list), "configuration"), Detail: "widest downlink first"}
	if len(f.named) > 0 {
		title.Detail = ""
	}
	blocks := []render.Block{title}
	if f.widths {
		blocks = append(blocks, setTable(shown))
	} else {
		blocks = append(blocks, configTable(shown))
	}
	if rest := len(f.list) - len(shown); rest > 0 {
		blocks = append(blocks, render.Paragraph(words.Counted(rest, "more configuration")+": --limit lists more, JSON and CSV all."))
	}
	var sources render.Sources
	for _, c := range shown {
		if s := render.Source(c.Source()); !slices.Contains(sources, s) {
			sources = append(sources, s)
		}
	}
	return append(blocks, sources)
}

func configTable(list []ca.Configuration) *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Header: "name"},
		{Header: "kind", Minor: true},
		{Header: "carriers", Align: render.Number},
		{Header: "widest", Unit: "MHz", Align: render.Number},
		{Header: "sets"},
		{Header: "uplinks", Minor: true},
		{Header: "remark", Minor: true},
		{Header: "source", Detail: true},
	}}
	for _, c := range list {
		remark := c.Note()
		if c.Doubt() != "" {
			remark = strings.TrimPrefix(remark+"; doubt: "+c.Doubt(), "; ")
		}
		t.Rows = append(t.Rows, []string{c.Name().String(), c.Kind().String(), strconv.Itoa(c.Carriers()), figures.OptionalMHz(c.MaxDL()),
			figures.List(setNumbersOf(c), " "), fewUplinks(c), remark, c.Source().Short()})
	}
	t.DropEmpty()
	return t
}

// setNumbersOf lists the numbers of the sets of a configuration, each once.
func setNumbersOf(c ca.Configuration) []int {
	var list []int
	for _, s := range c.Sets() {
		if !slices.Contains(list, s.BCS) {
			list = append(list, s.BCS)
		}
	}
	slices.Sort(list)
	return list
}

// fewUplinks names the first uplinks of a configuration.
func fewUplinks(c ca.Configuration) string {
	const most = 1
	var words []string
	for _, u := range c.Uplinks() {
		words = append(words, u.Text)
	}
	if len(words) > most {
		return strings.Join(words[:most], " ") + " +" + strconv.Itoa(len(words)-most)
	}
	return strings.Join(words, " ")
}

// setTable has a row for every set, alternative and band of configurations.
func setTable(list []ca.Configuration) *render.Table {
	t := &render.Table{Columns: setColumns(true)}
	for _, c := range list {
		rows := setRows(c)
		if len(rows) == 0 {
			rows = [][]string{{"", "", "", "", "sets of its parts: " + partNames(c)}}
			if len(c.Members()) == 0 {
				rows[0][4] = "unknown"
			}
		}
		for i, row := range rows {
			name := ""
			if i == 0 {
				name = c.Name().String()
			}
			t.Rows = append(t.Rows, append([]string{name}, row...))
		}
	}
	t.DropEmpty()
	return t
}

func partNames(c ca.Configuration) string {
	var names []string
	for _, m := range c.Members() {
		names = append(names, m.Name.String())
	}
	return strings.Join(names, ", ")
}

func setColumns(named bool) []render.Column {
	columns := []render.Column{
		{Header: "BCS", Align: render.Number},
		{Header: "at most", Unit: "MHz", Align: render.Number},
		{Header: "row", Align: render.Number},
		{Header: "band"},
		{Header: "channel bandwidths of each carrier", Unit: "MHz"},
	}
	if named {
		return append([]render.Column{{Header: "name"}}, columns...)
	}
	return columns
}

// setRows has the sets of a configuration, band by band. Numbers that repeat stand
// once.
func setRows(c ca.Configuration) [][]string {
	var rows [][]string
	last := -1
	sets := c.Sets()
	for i := range sets {
		s := &sets[i]
		for j := range s.Components {
			k := &s.Components[j]
			row := []string{"", "", "", k.Band.String(), componentWidths(k)}
			if s.BCS != last {
				row[0], row[1] = strconv.Itoa(s.BCS), figures.OptionalMHz(s.MaxAggregated)
				last = s.BCS
			}
			if j == 0 && alternatesIn(sets, s.BCS) {
				row[2] = strconv.Itoa(s.Alternative)
			}
			if j == 0 && s.Lower != 0 {
				row[4] += " (" + s.Lower.String() + " lower in frequency)"
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// alternatesIn tells whether a set has several rows.
func alternatesIn(sets []ca.Set, bcs int) bool {
	n := 0
	for i := range sets {
		if sets[i].BCS == bcs {
			n++
		}
	}
	return n > 1
}

// componentWidths writes the widths that a set has for the carriers of a band:
// "10 15 20 | 20", with the set that it refers to in front.
func componentWidths(k *ca.SetComponent) string {
	carriers := make([]string, len(k.Carriers))
	for i, widths := range k.Carriers {
		carriers[i] = spaced(widths)
	}
	text := strings.Join(carriers, " | ")
	if k.Contiguous {
		text = strings.Join(carriers, "+") + " side by side"
	}
	switch {
	case k.Ref != "":
		text = k.Ref + ": " + text
	case k.All:
		text = "all of the band: " + text
	}
	for _, l := range k.Limits {
		text += ", " + l.Width.MHz() + " " + l.Limit.String()
	}
	return text
}

func spaced(list []bands.Frequency) string {
	words := make([]string, len(list))
	for i, f := range list {
		words[i] = f.MHz()
	}
	return strings.Join(words, " ")
}

// data is the table for CSV: a row for every configuration, or with the widths one
// for every set, row and band.
func (f *foundConfigs) data() *render.Table {
	t := &render.Table{}
	keys := []string{"id", "kind", "carriers", "max_dl_mhz", "uplink", "bcs", "parts", "single_ul_allowed", "note", "doubts", "spec", "version", "table"}
	if f.widths {
		keys = []string{"id", "kind", "bcs", "alternative", "max_aggregated_mhz", "lower", "band", "ref", "carriers_mhz", "limits", "spec", "version", "table"}
	}
	for _, key := range keys {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
	}
	for _, c := range f.cutTo() {
		if f.widths {
			t.Rows = append(t.Rows, setData(c)...)
			continue
		}
		var uplinks []string
		for _, u := range c.Uplinks() {
			uplinks = append(uplinks, u.Text)
		}
		s := c.Source()
		t.Rows = append(t.Rows, []string{c.Name().String(), c.Kind().String(), strconv.Itoa(c.Carriers()), figures.OptionalMHz(c.MaxDL()), strings.Join(uplinks, " "),
			figures.List(setNumbersOf(c), " "), strings.ReplaceAll(partNames(c), ", ", " "), c.SingleUplink(), c.Note(), c.Doubt(), s.Spec, s.Version, s.Table})
	}
	return t
}

func setData(c ca.Configuration) [][]string {
	var rows [][]string
	sets := c.Sets()
	for i := range sets {
		s := &sets[i]
		lower := ""
		if s.Lower != 0 {
			lower = s.Lower.String()
		}
		for j := range s.Components {
			k := &s.Components[j]
			carriers := make([]string, len(k.Carriers))
			for n, widths := range k.Carriers {
				carriers[n] = spaced(widths)
			}
			limits := make([]string, len(k.Limits))
			for n, l := range k.Limits {
				limits[n] = l.Width.MHz() + ":" + l.Limit.Code()
			}
			rows = append(rows, []string{c.Name().String(), c.Kind().String(), strconv.Itoa(s.BCS), strconv.Itoa(s.Alternative), figures.OptionalMHz(s.MaxAggregated), lower,
				k.Band.String(), k.Ref, strings.Join(carriers, " | "), strings.Join(limits, " "), s.Source.Spec, s.Source.Version, s.Source.Table})
		}
	}
	return rows
}
