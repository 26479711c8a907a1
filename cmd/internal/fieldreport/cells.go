package fieldreport

import (
	"slices"
	"strconv"
	"strings"

	"spectally/cmd/internal/cells"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// mostPairs is how many pairs of carriers are shown, those that hint most strongly first.
const mostPairs = 12

// cellBlocks says which carriers are likely from one site, and which cells clash.
func cellBlocks(n *fieldlog.NetworkReport) []render.Block {
	c := &n.Cells
	var points render.Points
	pairs, more := pairTable(n)
	if more > 0 {
		points = append(points, counted(more, "more pair")+" of carriers in JSON.")
	}
	if len(pairs.Rows) > 0 {
		points = append(points, "No hint is proof: identities are used again elsewhere, and a site has several cells.")
	}
	for _, x := range c.Clashes {
		points = append(points, sentenceCase(x.Statement))
	}
	if len(points) == 0 && len(c.Neighbours) == 0 {
		return nil
	}
	return []render.Block{groupTable(c), pairs, points, levelTable(c), neighbourTable(c)}
}

// pairTable has what pairs of carriers hint at; nothing where no pair has an identity or a
// level. More counts those that are not shown.
func pairTable(n *fieldlog.NetworkReport) (t *render.Table, more int) {
	t = &render.Table{Title: "Likely same site", Columns: []render.Column{
		{Header: "carriers"},
		{Header: "hint"},
		{Header: "reason"},
	}}
	if len(n.Cells.Groups) == 0 && len(n.Cells.Levels) == 0 {
		return t, 0
	}
	list := slices.Clone(n.Cells.Pairs)
	strength := []cells.Strength{cells.Strong, cells.Against, cells.Fair, cells.Weak, cells.NoHint}
	slices.SortStableFunc(list, func(a, b fieldlog.PairReport) int {
		return slices.Index(strength, a.Hint) - slices.Index(strength, b.Hint)
	})
	name := func(number int) string { return strconv.Itoa(number) + " " + n.Carriers[number-1].Band }
	for _, p := range list[:min(len(list), mostPairs)] {
		t.Rows = append(t.Rows, []string{name(p.Carriers[0]) + ", " + name(p.Carriers[1]), string(p.Hint), p.Reason})
	}
	return t, len(list) - len(t.Rows)
}

func groupTable(c *fieldlog.CellsReport) *render.Table {
	t := &render.Table{Title: "Cells", Columns: []render.Column{
		{Header: "technology"},
		{Header: "PCI", Align: render.Number},
		{Header: "carriers"},
	}}
	for _, g := range c.Groups {
		t.Rows = append(t.Rows, []string{g.RAT, strconv.Itoa(g.PCI), numbers(g.Carriers)})
	}
	if len(c.Without) > 0 && len(c.Groups) > 0 {
		t.Rows = append(t.Rows, []string{"not known", "", numbers(c.Without)})
	}
	return t
}

func levelTable(c *fieldlog.CellsReport) *render.Table {
	t := &render.Table{Title: "Levels and frequency", Detail: true, Columns: []render.Column{
		{Header: "carrier", Align: render.Number},
		{Header: "below carrier", Align: render.Number},
		{Header: "measured", Unit: "dB", Align: render.Number},
		{Header: "expected", Unit: "dB", Align: render.Number},
		{Header: "difference", Unit: "dB", Align: render.Number},
		{Header: "basis"},
	}}
	for _, l := range c.Levels {
		t.Rows = append(t.Rows, []string{strconv.Itoa(l.Carrier), strconv.Itoa(l.Reference), rounded(&l.Measured, 1), rounded(&l.Expected, 1), rounded(&l.Difference, 1), l.Basis})
	}
	return t
}

func neighbourTable(c *fieldlog.CellsReport) *render.Table {
	t := &render.Table{Title: "Neighbours heard", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "band"},
		{Header: "channel", Align: render.Number},
		{Header: "centre", Unit: "MHz", Align: render.Number},
		{Header: "PCI", Align: render.Number},
		{Header: "RSRP", Unit: "dBm", Align: render.Number},
	}}
	for _, x := range c.Neighbours {
		t.Rows = append(t.Rows, []string{strconv.Itoa(x.Number), x.Band, pointed(x.Channel), optional(x.Centre), strconv.Itoa(x.PCI), optional(x.RSRP)})
	}
	t.DropEmpty()
	return t
}

// radioBlocks holds the ports of the radios against the layers of one phone.
func radioBlocks(n *fieldlog.NetworkReport) []render.Block {
	t := &render.Table{Title: "Antennas and radios", Columns: []render.Column{
		{Header: "radio", Typed: true},
		{Header: "ports"},
		{Header: "antenna"},
		{Header: "connected", Align: render.Number},
		{Header: "bands"},
		{Header: "layers of one phone", Align: render.Number},
		{Header: "phones at once", Align: render.Number},
	}}
	var points render.Points
	for i := range n.Radios {
		r := &n.Radios[i]
		name := r.Name
		if name == "" {
			name = "radio " + strconv.Itoa(i+1)
		}
		t.Rows = append(t.Rows, []string{name, r.Ports, r.Antenna, pointed(r.Connected), strings.Join(r.Bands, ", "), strconv.Itoa(r.PhoneLayers), integer(r.Phones)})
		for _, s := range append(append([]string{}, r.Statements...), r.Notes...) {
			if len(n.Radios) > 1 {
				s = name + ": " + s
			}
			points = append(points, s)
		}
	}
	t.DropEmpty()
	return []render.Block{t, points}
}

// sentenceCase begins a sentence with a capital letter if it begins with a small one of
// ASCII.
func sentenceCase(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
