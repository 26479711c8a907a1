package holdingreport

import (
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/holdings"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput/exact"
	"spectally/throughput/holding"
)

// Options say how much the answer has.
type Options struct {
	// Full shows every band, layout and aim, and works out what changes would bring.
	Full bool
	// Table names the table that CSV shows: one of [Tables].
	Table string
}

// Tables lists the tables that CSV can show, the usual one first.
func Tables() []string { return []string{"layouts", "best", "networks", "changes"} }

// Answer works out what networks hold.
func Answer(h *holdings.Holdings, l holding.Limits, o Options) (*render.Answer, error) {
	s, err := work(h, l, o.Full || o.Table == "changes")
	if err != nil {
		return nil, err
	}
	data := map[string]func() *render.Table{
		"layouts": s.layoutTable, "best": s.bestTable,
		"networks": s.networkTable, "changes": s.changeTable,
	}[o.Table]()
	return &render.Answer{Value: func() any { return s.value(h, l) }, Document: s.document(o.Full), Data: data}, nil
}

func (s *study) document(full bool) []render.Block {
	title := s.title
	if title == "" {
		title = "Holdings"
	}
	count := 0
	for i := range s.networks {
		count += len(s.networks[i].held)
	}
	doc := []render.Block{render.Title{Text: title, Detail: words.Counted(len(s.networks), "network") + ", " + words.Counted(count, "block")}}
	if len(s.networks) > 1 {
		doc = append(doc, s.networkTable())
	}
	if full {
		doc = append(doc, s.picture())
	}
	switch {
	case full:
		doc = append(doc, s.layoutTable())
	case len(s.networks) == 1:
		doc = append(doc, s.blockTable())
	}
	if full {
		doc = append(doc, s.bestTable())
	} else {
		doc = append(doc, s.topTable())
	}
	if full || len(s.networks) == 1 {
		doc = append(doc, s.nextTable(full))
	}
	doc = append(doc, render.List{Kind: render.Assumptions, Items: s.assumptions(full)})
	if full {
		doc = append(doc, s.changeTable(), render.List{Kind: render.Cautions, Items: []string{
			"A holding is not a licence: national rules decide what may be transmitted where, with which guard to neighbours.",
			"Listed by the standard does not mean supported: a UE tells the network which configurations it has.",
		}}, s.sources())
	}
	return doc
}

// networkTable sets the networks side by side.
func (s *study) networkTable() *render.Table {
	t := &render.Table{Title: "Networks", Columns: []render.Column{
		{Key: "network", Header: "network", Typed: true},
		{Key: "blocks", Header: "blocks", Align: render.Number},
		{Key: "dl_mhz", Header: "downlink", Unit: "MHz", Align: render.Number},
		{Key: "ul_mhz", Header: "uplink", Unit: "MHz", Align: render.Number},
		{Key: "share_percent", Header: "share", Unit: "%", Align: render.Number},
		{Key: "lte_dl_scheduled_mbps", Header: "LTE", Unit: "Mbit/s", Align: render.Number},
		{Key: "nr_dl_scheduled_mbps", Header: "NR", Unit: "Mbit/s", Align: render.Number},
		{Key: "en_dc_dl_scheduled_mbps", Header: "EN-DC", Unit: "Mbit/s", Align: render.Number},
	}}
	var all bands.Frequency
	for i := range s.networks {
		all += s.networks[i].spectrumOf(bands.Downlink)
	}
	for i := range s.networks {
		n := &s.networks[i]
		down := n.spectrumOf(bands.Downlink)
		row := []string{n.name, strconv.Itoa(len(n.held)), down.MHz(), n.spectrumOf(bands.Uplink).MHz(), tenths(1000 * int64(down) / int64(all))}
		for _, tech := range holding.Technologies() {
			cell := ""
			if b := n.bestOf(tech, holding.DownlinkRate); b != nil {
				cell = rateText(b.Value)
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (n *network) bestOf(t holding.Technology, a holding.Aim) *holding.Best {
	for i := range n.best {
		if b := &n.best[i]; b.Technology == t && b.Aim == a {
			return b
		}
	}
	return nil
}

// tenths writes a number of tenths.
func tenths(n int64) string { return strconv.FormatInt(n/10, 10) + "." + strconv.FormatInt(n%10, 10) }

// rateText writes a rate in bit/s as Mbit/s with one place.
func rateText(v int64) string { return tenths((v + 50_000) / 100_000) }

func mbps(v int64) figures.Figure { return figures.Mbps(exact.Ratio{Num: v, Den: 1}) }

// topTable has the best of each network: of one network for each technology.
func (s *study) topTable() *render.Table {
	t := &render.Table{Title: "Best of one phone, by downlink rate", Columns: bestColumns(len(s.networks) > 1)}
	for i := range s.networks {
		n := &s.networks[i]
		for k := range n.best {
			b := &n.best[k]
			if b.Aim == holding.DownlinkRate && (len(s.networks) == 1 || b.Technology == n.top.Technology) {
				row := n.bestRow(b, len(s.networks) > 1)
				if len(s.networks) > 1 {
					row[len(row)-1] = "" // there is no room for them
				}
				t.Rows = append(t.Rows, row)
			}
		}
	}
	t.DropEmpty()
	return t
}

func bestColumns(many bool) []render.Column {
	columns := []render.Column{
		{Key: "technology", Header: "with"},
		{Key: "configuration", Header: "configuration"},
		{Key: "dl_mhz", Header: "down", Unit: "MHz", Align: render.Number},
		{Key: "dl_scheduled_mbps", Header: "down", Unit: "Mbit/s", Align: render.Number, Deciding: true},
		{Key: "ul_scheduled_mbps", Header: "up", Unit: "Mbit/s", Align: render.Number},
		{Key: "carriers", Header: "carriers"},
	}
	if many {
		columns = append([]render.Column{{Key: "network", Header: "network", Typed: true}}, columns...)
	}
	return columns
}

func (n *network) bestRow(b *holding.Best, many bool) []string {
	var down, up string
	if r, err := rates(b.Carriers); err == nil { // the finder has worked the same rates out
		down, up = rateText(r.Downlink.Scheduled.Round()), rateText(r.Uplink.Scheduled.Round())
	}
	row := []string{technologyText(b.Technology), b.Name.String(), b.Spectrum(bands.Downlink).MHz(),
		down, up, shortCarriers(b.Carriers)}
	if many {
		row = append([]string{n.name}, row...)
	}
	return row
}

func technologyText(t holding.Technology) string {
	return map[holding.Technology]string{holding.LTE: "LTE", holding.NR: "NR", holding.ENDC: "EN-DC"}[t]
}

// shortCarriers writes carriers by band and width alone.
func shortCarriers(c ca.Combination) string {
	short := make(ca.Combination, len(c))
	for i := range c {
		short[i] = ca.Carrier{Band: c[i].Band, Downlink: c[i].Downlink, Uplink: c[i].Uplink, Transmit: c[i].Transmit}
	}
	return short.String()
}

// bestTable has the best of every network, technology and aim.
func (s *study) bestTable() *render.Table {
	columns := append([]render.Column{{Key: "by", Header: "by"}}, bestColumns(true)...)
	columns = append(columns, render.Column{Key: "ul_mhz", Header: "up", Unit: "MHz", Align: render.Number},
		render.Column{Key: "bound_percent", Header: "of bound", Unit: "%", Align: render.Number})
	columns[len(columns)-3].Header = "carriers, with their channels"
	t := &render.Table{Title: "Best of one phone", Columns: columns}
	for i := range s.networks {
		n := &s.networks[i]
		for k := range n.best {
			b := &n.best[k]
			row := n.bestRow(b, true)
			row[len(row)-1] = b.Carriers.String()
			t.Rows = append(t.Rows, append(append([]string{aimText(b.Aim)}, row...),
				b.Spectrum(bands.Uplink).MHz(), tenths(1000*b.Value/max(1, b.Bound))))
		}
	}
	return t
}

func aimText(a holding.Aim) string {
	return [...]string{"downlink rate", "downlink MHz", "uplink rate", "uplink MHz"}[a]
}

// assumptions are what the answer rests on.
func (s *study) assumptions(full bool) []string {
	list := []string{
		"channels inside their blocks to the hertz" + toleranceText(s.limits.Tolerance) + "; usual layers, modulation and TDD pattern; listed configurations",
	}
	if full {
		list = []string{
			"a channel lies inside its block with its guard bands, at the nearest place of the raster" + toleranceText(s.limits.Tolerance),
			"scheduled rates of a usual network: layers, modulation and TDD pattern as throughput takes them where none are given (common practice)",
			"configurations that the standard lists itself; supplementary uplinks are left out",
		}
	}
	if s.limits.UplinkCarriers == 1 {
		list = append(list, "EN-DC is left out: it transmits on two carriers, and --uplink-carriers allows one")
	}
	for i := range s.networks {
		for k := range s.networks[i].best {
			if b := &s.networks[i].best[k]; !b.Proven() {
				list = append(list, "the search for "+s.networks[i].name+" by "+aimText(b.Aim)+" was cut: nothing exceeds "+strconv.FormatInt(b.Bound, 10)+", found "+strconv.FormatInt(b.Value, 10))
			}
		}
	}
	return list
}

func toleranceText(f bands.Frequency) string {
	if f == 0 {
		return ""
	}
	return ", up to " + f.String() + " beyond its edge (--tolerance)"
}

func (s *study) sources() render.Sources {
	var list render.Sources
	for i := range s.networks {
		for k := range s.networks[i].rooms {
			for _, r := range s.networks[i].rooms[k] {
				list = append(list, render.Source(r.band.Source), render.Source(r.band.WidthSource()))
			}
		}
		for k := range s.networks[i].best {
			if b := &s.networks[i].best[k]; len(b.Carriers) > 1 {
				list = append(list, render.Source(b.Configuration.Source()))
			}
		}
	}
	return list
}
