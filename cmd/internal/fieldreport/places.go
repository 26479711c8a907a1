package fieldreport

import (
	"strconv"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// placeTable has what was measured at each place; nothing for one place alone.
func placeTable(n *fieldlog.NetworkReport) *render.Table {
	t := &render.Table{Title: "By place, medians", Columns: []render.Column{
		{Header: "place", Typed: true},
		{Header: "runs", Align: render.Number},
		{Header: "down", Unit: "Mbit/s", Align: render.Number, Deciding: true},
		{Header: "of scheduled", Unit: "%", Align: render.Number},
		{Header: "up", Unit: "Mbit/s", Align: render.Number},
		{Header: "idle", Unit: "ms", Align: render.Number},
		{Header: "under download", Unit: "ms", Align: render.Number},
		{Header: "added", Unit: "ms", Align: render.Number},
	}}
	if len(n.Places) < 2 {
		return t
	}
	for i := range n.Places {
		p := &n.Places[i]
		name := p.Where
		if name == "" {
			name = "not stated"
		}
		row := []string{name, strconv.Itoa(len(p.Runs)), "", "", "", rounded(p.Idle, msPlaces), rounded(p.LoadedDown, msPlaces), rounded(p.Added.Down, msPlaces)}
		if p.Down != nil {
			row[2], row[3] = mbps(&p.Down.Rate), percent(p.Down.OfScheduled)
		}
		if p.Up != nil {
			row[4] = mbps(&p.Up.Rate)
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}
