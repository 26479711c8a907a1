package ca

import (
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/listed"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

func (c *found) answer() *render.Answer {
	a := &render.Answer{
		Value:   func() any { return c.value() },
		Data:    c.data(),
		Refuted: !c.Valid(),
	}
	title := render.Title{Text: c.Combination().String(), Detail: listed.Kinds[c.Kind]}
	if !c.Name.IsZero() {
		title = render.Title{Text: c.Name.String(), Detail: words.List(listed.Kinds[c.Kind], c.Combination().String())}
	}
	found := combination.SeverestFirst(combination.Findings(c.Assessment, c.Findings()))
	a.Document = []render.Block{title, c.verdict(found), c.totalFacts(), c.carrierTable()}
	if !c.Valid() {
		found = found[1:] // the verdict is the first
	}
	rest := "Findings"
	worse := slices.IndexFunc(found, func(f render.Finding) bool { return f.Severity == render.Note })
	if worse < 0 {
		worse = len(found)
	}
	if !c.Valid() {
		worse = min(worse, mostBroken)
	}
	if worse > 0 {
		a.Document = append(a.Document, render.Section("Findings"), found[:worse])
		found, rest = found[worse:], "Further findings"
	}
	if c.Valid() {
		a.Document = append(a.Document, c.briefFacts())
	}
	a.Document = append(a.Document, render.Details(func() []render.Block { return c.details(rest, found) }),
		c.AssumedList(),
		render.List{Kind: render.Cautions, Items: c.cautions()},
		c.sources())
	return a
}

// briefFacts are the uplinks, and what they do to the downlinks.
func (c *found) briefFacts() render.Facts {
	var f render.Facts
	if l, _ := c.Decisive(); l != nil && len(carriedBy(l)) > 0 {
		f = uplinkFact(carriedBy(l), most)
		f[0].Name = "uplinks listed"
	}
	i := combination.InterferenceOf(c.Assessment)
	return append(f, i.Fact()...)
}

// mostBroken is how many findings a short answer has beside its verdict where that refuses.
const mostBroken = 1

// details are what the short answer leaves out, with the findings that it lacks.
func (c *found) details(heading string, rest render.Findings) []render.Block {
	var doc []render.Block
	if len(rest) > 0 {
		doc = append(doc, render.Section(heading), rest)
	}
	return append(doc, c.partTable(), c.placeTable(), c.cellTable(), c.blockTable(), c.spacingTable(),
		c.configurationTable(), c.unlistedFacts(), c.uplinkFacts(), render.Explained(c.working),
		render.List{Kind: render.Assumptions, Items: c.assumptions()},
		render.List{Kind: render.Notes, Items: c.notes()})
}

// worst is the severest word that the findings have for a carrier; "ok" if they have
// none.
func (c *found) worst(carrier int) string {
	most := ca.Severity(0)
	for _, f := range c.Findings() {
		if f.Carrier == carrier+1 {
			most = max(most, f.Severity)
		}
	}
	if most == 0 {
		return "ok"
	}
	return most.String()
}

func (c *found) carrierTable() *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "band"},
		{Header: "duplex"},
		{Header: "downlink", Unit: "MHz", Align: render.Number},
		{Header: "uplink", Unit: "MHz", Align: render.Number},
		{Header: "centre", Unit: "MHz"},
		{Header: "transmits"},
		{Header: "SCS", Unit: "kHz", Align: render.Number, Minor: true},
		{Header: "N_RB", Align: render.Number, Minor: true},
		{Header: "check", Deciding: true},
	}}
	for i := range c.Carriers {
		p := &c.Carriers[i]
		row := []string{strconv.Itoa(i + 1), p.Band.String(), "", figures.OptionalMHz(p.DownlinkWidth), figures.OptionalMHz(p.UplinkWidth), centre(p), "", "", "", c.worst(i)}
		if p.Info == nil {
			row[3], row[4] = figures.OptionalMHz(p.Downlink), figures.OptionalMHz(p.Uplink)
		} else {
			row[2] = p.Info.Duplex.String()
		}
		if p.Transmits {
			row[6] = "yes"
		}
		if p.Spacing != 0 {
			row[7] = p.Spacing.KHz()
		}
		if n := max(p.DownlinkBlocks, p.UplinkBlocks); n > 0 {
			row[8] = strconv.Itoa(n)
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	t.MergeAlike()
	return t
}

// centre is where a carrier lies: the centre of its downlink, or of the uplink that it has
// alone; a range where only its SS/PBCH block is known.
func centre(p *ca.Placed) string {
	switch {
	case !p.Centres.IsZero():
		return p.Centres.Low.MHz() + "–" + p.Centres.High.MHz()
	case p.DownlinkCentre != 0:
		return p.DownlinkCentre.MHz()
	}
	return figures.OptionalMHz(p.UplinkCentre)
}

// cellTable has the carriers of which the cell is known: what the user said of it.
func (c *found) cellTable() *render.Table {
	t := &render.Table{Title: "Cells", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "role"},
		{Header: "PCI", Align: render.Number},
		{Header: "RSRP", Unit: "dBm", Align: render.Number},
		{Header: "SINR", Unit: "dB", Align: render.Number},
	}}
	for i := range c.Carriers {
		p := &c.Carriers[i]
		row := []string{strconv.Itoa(i + 1), p.Role.String(), "", p.RSRP.String(), p.SINR.String()}
		if p.HasPCI {
			row[2] = strconv.Itoa(int(p.PCI))
		}
		if slices.ContainsFunc(row[1:], func(cell string) bool { return cell != "" }) {
			t.Rows = append(t.Rows, row)
		}
	}
	t.DropEmpty()
	return t
}

// placeTable has the carriers whose place is known, in each direction.
func (c *found) placeTable() *render.Table {
	t := &render.Table{Title: "Positions", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "direction"},
		{Header: "channel", Align: render.Number},
		{Header: "centre", Unit: "MHz", Align: render.Number},
		{Header: "from", Unit: "MHz", Align: render.Number},
		{Header: "to", Unit: "MHz", Align: render.Number},
	}}
	for i := range c.Carriers {
		p := &c.Carriers[i]
		if !p.Centres.IsZero() { // only its SS/PBCH block is known
			name := "downlink, within"
			if p.Info.Duplex == bands.TDD {
				name = "both, within"
			}
			all, _ := p.Possible()
			low, high := figures.EdgesText(all)
			t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), name, "", "", low, high})
		}
		for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
			if p.CentreIn(d) == 0 {
				continue
			}
			name := d.String()
			if p.Info.Duplex == bands.TDD {
				if name = "both"; d == bands.Uplink {
					continue
				}
			}
			number := ""
			if n, ok := combination.ChannelNumber(p, d); ok {
				number = strconv.Itoa(int(n))
			}
			low, high := figures.EdgesText(p.Span(d))
			t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), name, number, p.CentreIn(d).MHz(), low, high})
		}
	}
	return t
}

func (c *found) blockTable() *render.Table {
	t := &render.Table{Title: "Layout within each band", Columns: []render.Column{
		{Header: "band"},
		{Header: "carriers"},
		{Header: "sub-block"},
		{Header: "sum of widths", Unit: "MHz", Align: render.Number},
		{Header: "from", Unit: "MHz", Align: render.Number},
		{Header: "to", Unit: "MHz", Align: render.Number},
		{Header: "class"},
	}}
	for i := range c.Blocks {
		b := &c.Blocks[i]
		if c.alone(b) {
			continue
		}
		how := "contiguous"
		switch {
		case !b.Known && !b.Edges.IsZero():
			how = "neighbours unknown"
		case !b.Known:
			how = "unknown"
		case len(b.Carriers) == 1:
			how = "alone"
		}
		low, high := figures.EdgesText(b.Edges)
		t.Rows = append(t.Rows, []string{b.Band.ID.String(), carrierNumbers(b.Carriers), how, b.Sum.MHz(), low, high, classList(b.Classes)})
	}
	t.DropEmpty()
	return t
}

// alone tells whether a sub-block is one carrier and all that its band has.
func (c *found) alone(b *ca.SubBlock) bool {
	return len(b.Carriers) == 1 && !slices.ContainsFunc(c.Blocks, func(other ca.SubBlock) bool {
		return other.Band == b.Band && other.Carriers[0] != b.Carriers[0]
	})
}

func (c *found) spacingTable() *render.Table {
	t := &render.Table{Title: "Spacing", Columns: []render.Column{
		{Header: "carriers"},
		{Header: "apart", Unit: "MHz", Align: render.Number},
		{Header: "nominal", Unit: "MHz", Align: render.Number},
		{Header: "contiguous"},
	}}
	for i := range c.Blocks {
		for j := range c.Blocks[i].Neighbours {
			g := &c.Blocks[i].Neighbours[j]
			how := "no"
			if g.Contiguous() {
				how = "yes"
			}
			t.Rows = append(t.Rows, []string{carrierNumbers([]int{g.Below, g.Above}), g.Apart.MHz(), g.Spacing.Nominal.MHz(), how})
			t.Source = render.Source(g.Spacing.Source)
		}
	}
	return t
}

// cautions say where the answer can mislead.
func (c *found) cautions() []string {
	if !c.Valid() {
		return nil
	}
	return []string{"Allowed does not mean supported: UE capability and the network decide. " +
		"Nor is it a licence to transmit."}
}

// sources lists the tables that the answer is read from.
func (c *found) sources() render.Sources {
	var s render.Sources
	add := func(source bands.Source) {
		if source != (bands.Source{}) && !slices.Contains(s, render.Source(source)) {
			s = append(s, render.Source(source))
		}
	}
	for i := range c.Carriers {
		if b := c.Carriers[i].Info; b != nil {
			add(b.Source)
			add(b.WidthSource())
			if c.Carriers[i].IsPlaced() {
				if r := b.Rasters(); len(r) > 0 {
					add(r[0].Source)
				}
			}
		}
	}
	for i := range c.Blocks {
		b := &c.Blocks[i]
		if len(b.Carriers) > 1 {
			for _, r := range ca.ClassRows(b.Band) {
				add(r.Source)
			}
		}
		for _, g := range b.Neighbours {
			add(g.Spacing.Source)
		}
	}
	for _, l := range c.Holding() {
		add(l.Source())
		add(l.Admission.Source)
		for i := range l.Admission.Members {
			add(l.Admission.Members[i].Source)
		}
	}
	for _, f := range c.Findings() {
		add(f.Source)
	}
	return s
}
