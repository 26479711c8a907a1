package holdingreport

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
	"spectally/cmd/internal/render"
)

// blockTable has a row for each block: its layout with the most resource blocks, of LTE
// and of NR, and what that of NR leaves.
func (s *study) blockTable() *render.Table {
	t := &render.Table{Title: "Blocks", Columns: []render.Column{
		{Header: "block", Unit: "MHz"}, {Header: "note", Typed: true}, {Header: "LTE", Unit: "MHz"}, {Header: "NR", Unit: "MHz"},
		{Header: "N_RB", Align: render.Number}, {Header: "left", Unit: "MHz", Align: render.Number}, {Header: "why left"},
	}}
	n := &s.networks[0]
	for k := range n.held {
		b := &n.held[k]
		lte, nr := n.pick(k, bands.LTE), n.pick(k, bands.NR)
		row := []string{b.String(), b.Remark(), layoutText(lte), layoutText(nr), "", b.Downlink.Width().MHz(), "no channel fits"}
		shown := nr
		if shown == nil {
			shown = lte
		}
		if shown != nil {
			l := &shown.layouts[0]
			row[4], row[5], row[6] = strconv.Itoa(l.ResourceBlocks), l.Unused.MHz(), leftText(l.Left, shown.band)
			if pair := missingUplink(b.Block, shown.band); pair != "" && row[6] == "" {
				row[6] = "no uplink given; with it: " + pair
			}
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}

// missingUplink is a block of a paired band with its uplink, where it was given without;
// empty if there is none to add.
func missingUplink(b deploy.Block, band *bands.Band) string {
	if !b.Uplink.IsZero() || band.Duplex != bands.FDD {
		return ""
	}
	apart := band.Downlink.Low - band.Uplink.Low
	b.Uplink = bands.Span{Low: b.Downlink.Low - apart, High: b.Downlink.High - apart}
	return b.String()
}

// layoutText writes the first layout of a room: "n78: 2 × 40 + 10".
func layoutText(r *room) string {
	if r == nil {
		return ""
	}
	var parts []string
	list := r.layouts[0].Carriers
	for i := 0; i < len(list); {
		n := 1
		for i+n < len(list) && list[i+n].Downlink == list[i].Downlink && list[i+n].Uplink == list[i].Uplink {
			n++
		}
		c := ca.Carrier{Band: r.band.ID, Downlink: list[i].Downlink, Uplink: list[i].Uplink}
		_, text, _ := strings.Cut(c.String(), ":")
		if n > 1 {
			text = strconv.Itoa(n) + " × " + text
		}
		parts = append(parts, text)
		i += n
	}
	return r.band.ID.String() + ": " + strings.Join(parts, " + ")
}

// layoutTable has the layouts of every block in every band.
func (s *study) layoutTable() *render.Table {
	t := &render.Table{Title: "Blocks", Columns: []render.Column{
		{Key: "network", Header: "network", Typed: true},
		{Key: "block", Header: "block", Unit: "MHz"},
		{Key: "note", Header: "note", Typed: true},
		{Key: "band", Header: "band"},
		{Key: "carriers", Header: "carriers"},
		{Key: "n_rb", Header: "N_RB", Align: render.Number},
		{Key: "ul_n_rb", Header: "N_RB up", Align: render.Number, Detail: true},
		{Key: "unused_mhz", Header: "left", Unit: "MHz", Align: render.Number},
		{Key: "best_at", Header: "best at", Detail: true},
		{Key: "reason", Header: "why left"},
	}}
	for i := range s.networks {
		n := &s.networks[i]
		for k := range n.held {
			b := &n.held[k]
			head := []string{n.name, b.String(), b.Remark()}
			if len(n.rooms[k]) == 0 {
				t.Rows = append(t.Rows, append(head, "", "none fits", "", "", b.Downlink.Width().MHz(), "", ""))
			}
			for j := range n.rooms[k] {
				t.Rows = append(t.Rows, layoutRows(head, &n.rooms[k][j])...)
			}
		}
	}
	return t
}

func layoutRows(head []string, r *room) [][]string {
	id := r.band.ID.String()
	if len(r.layouts) == 0 {
		return [][]string{append(clip(head), id, "none fits", "0", "", leftWidth(r.left).MHz(), "", leftText(r.left, r.band))}
	}
	var rows [][]string
	for i := range r.layouts {
		l := &r.layouts[i]
		var traits, carriers []string
		for _, t := range l.Traits {
			traits = append(traits, t.String())
		}
		for j := range l.Carriers {
			carriers = append(carriers, l.Carriers[j].String())
		}
		rows = append(rows, append(clip(head), id, strings.Join(carriers, " + "), strconv.Itoa(l.ResourceBlocks), strconv.Itoa(l.UplinkResourceBlocks),
			l.Unused.MHz(), strings.Join(traits, ", "), leftText(l.Left, r.band)))
	}
	return rows
}

func clip(head []string) []string { return head[:len(head):len(head)] }

func leftWidth(list []deploy.Left) bands.Frequency {
	var sum bands.Frequency
	for _, l := range list {
		sum += l.Width
	}
	return sum
}

// leftText says why spectrum is left over.
func leftText(list []deploy.Left, b *bands.Band) string {
	var parts []string
	for _, l := range list {
		switch l.Reason {
		case deploy.OutsideBand:
			parts = append(parts, l.Width.MHz()+" MHz outside "+b.ID.String())
		case deploy.OffRaster:
			parts = append(parts, widthsText(l.Instead)+" is "+l.Over.String()+" over")
		case deploy.NoEntry:
			parts = append(parts, widthsText(l.Instead)+" would have no place for its SS/PBCH block")
		case deploy.NoPlace:
			parts = append(parts, widthsText(l.Instead)+" may not stand there")
		case deploy.TooNarrow:
			parts = append(parts, "less than "+l.Narrowest.MHz()+" MHz")
		case deploy.NoWidth:
			parts = append(parts, "no widths add up to more")
		}
	}
	return strings.Join(parts, "; ")
}

func widthsText(list []bands.Frequency) string {
	words := make([]string, len(list))
	for i, w := range list {
		words[i] = w.MHz()
	}
	return strings.Join(words, " + ") + " MHz"
}

// picture draws who holds what along the frequency axis.
func (s *study) picture() *render.Spectrum {
	p := &render.Spectrum{Title: "Who holds what", Legend: "Each bar is a block that the network holds, as wide as its spectrum."}
	for i := range s.networks {
		n := &s.networks[i]
		lane := render.Lane{Name: n.name}
		for k := range n.held {
			b := &n.held[k]
			r := n.pick(k, bands.NR)
			if r == nil {
				r = n.pick(k, bands.LTE)
			}
			if r == nil {
				continue
			}
			use := render.DownlinkUse
			if r.band.Duplex == bands.TDD {
				use = render.BothUse
			}
			lane.Blocks = append(lane.Blocks, bar(r.band, use, b.Downlink, k+1))
			if !b.Uplink.IsZero() {
				lane.Blocks = append(lane.Blocks, bar(r.band, render.UplinkUse, b.Uplink, k+1))
			}
		}
		p.Lanes = append(p.Lanes, lane)
	}
	return p
}

func bar(b *bands.Band, use render.Use, s bands.Span, number int) render.SpectrumBlock {
	within := b.Downlink
	if use == render.UplinkUse {
		within = b.Uplink
	}
	return render.SpectrumBlock{Band: b.ID.String(), Use: use, Edges: s, Within: within,
		Channels: []render.Channel{{Carrier: number, Width: s.Width(), Edges: s}}}
}
