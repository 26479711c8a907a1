package bands

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// widthTable has a row for each subcarrier spacing.
func widthTable(b *bands.Band) *render.Table {
	t := &render.Table{
		Title:  "Channel bandwidths",
		Source: render.Source(b.WidthSource()),
		Columns: []render.Column{
			{Header: "SCS", Unit: "kHz", Align: render.Number},
			{Header: "widths", Unit: "MHz"},
			{Header: "limits", Unit: "MHz"},
		},
	}
	for _, scs := range b.Spacings(0) {
		var widths []string
		limits := newLimits()
		for _, w := range b.Widths() {
			if w.SCS == scs {
				widths = append(widths, w.Width.MHz())
				limits.add(&w)
			}
		}
		t.Rows = append(t.Rows, []string{scs.KHz(), strings.Join(widths, " "), limits.String()})
	}
	t.DropEmpty()
	return t
}

func newLimits() *limits { return &limits{widths: map[string][]string{}} }

var markWords = []struct {
	mark bands.Mark
	word string
}{
	{bands.DownlinkOnly, "downlink only"},
	{bands.UplinkOnly, "uplink only"},
	{bands.Optional, "optional for the UE"},
	{bands.UplinkOptional, "optional in the uplink"},
	{bands.SCellOnly, "only as SCell"},
}

func (l *limits) add(w *bands.ChannelWidth) {
	for _, m := range markWords {
		if w.Marks&m.mark != 0 {
			l.put(m.word, w.Width.MHz())
		}
	}
	if w.Note != "" {
		l.put(w.Note, w.Width.MHz())
	}
}

func (l *limits) put(limit, width string) {
	if l.widths[limit] == nil {
		l.order = append(l.order, limit)
	}
	l.widths[limit] = append(l.widths[limit], width)
}

// String writes "70, 90: optional for the UE; 100: downlink only".
func (l *limits) String() string {
	parts := make([]string, len(l.order))
	for i, limit := range l.order {
		parts[i] = strings.Join(l.widths[limit], ", ") + ": " + limit
	}
	return strings.Join(parts, "; ")
}

// blockTable has the resource blocks and guard bands of every width.
func blockTable(b *bands.Band) *render.Table {
	t := &render.Table{
		Title:  "Resource blocks",
		Detail: true,
		Columns: []render.Column{
			{Header: "SCS", Unit: "kHz", Align: render.Number},
			{Header: "width", Unit: "MHz", Align: render.Number},
			{Header: "N_RB", Align: render.Number},
			{Header: "min guard", Unit: "kHz", Align: render.Number},
		},
	}
	for _, w := range b.Widths() {
		guard := ""
		if w.GuardBand != 0 {
			guard = w.GuardBand.KHz()
		}
		t.Rows = append(t.Rows, []string{w.SCS.KHz(), w.Width.MHz(), strconv.Itoa(w.ResourceBlocks), guard})
	}
	t.DropEmpty()
	return t
}

// pairTable has a row for each set and uplink width.
func pairTable(b *bands.Band) *render.Table {
	t := &render.Table{Title: "Different widths in uplink and downlink", Columns: []render.Column{
		{Header: "set", Align: render.Number},
		{Header: "uplink", Unit: "MHz", Align: render.Number},
		{Header: "downlink", Unit: "MHz"},
		{Header: "note"},
	}}
	for _, p := range b.WidthPairs() {
		t.Source = render.Source(p.Source)
		row := []string{strconv.Itoa(p.Set), p.Uplink.MHz(), p.Downlink.MHz(), p.Note}
		if n := len(t.Rows); n > 0 {
			if last := t.Rows[n-1]; last[0] == row[0] && last[1] == row[1] && last[3] == row[3] {
				last[2] += " " + row[2]
				continue
			}
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}

// limits gathers the widths under each limit on their use.
type limits struct {
	order  []string
	widths map[string][]string
}
