package fieldreport

import (
	"strconv"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// earlierPart shows what has changed since an earlier log; nothing without one.
func earlierPart(r *fieldlog.EarlierReport) []render.Block {
	if r == nil {
		return nil
	}
	t := &render.Table{Title: "Changes", Columns: []render.Column{
		{Header: "network", Typed: true},
		{Header: "place", Typed: true},
		{Header: "figure"},
		{Header: "then", Align: render.Number},
		{Header: "now", Align: render.Number},
		{Header: "unit"},
		{Header: "change", Unit: "%", Align: render.Number},
	}}
	same := 0
	for i := range r.Changes {
		c := &r.Changes[i]
		if c.Then == c.Now {
			same++
			continue
		}
		change := ""
		if c.Percent != nil {
			change = strconv.FormatFloat(*c.Percent, 'f', 1, 64)
			if *c.Percent > 0 {
				change = "+" + change
			}
		}
		t.Rows = append(t.Rows, []string{c.Network, c.Place, c.Figure, rounded(&c.Then, 1), rounded(&c.Now, 1), c.Unit, change})
	}
	t.DropEmpty()
	points := render.Points(r.Absent)
	if same > 0 {
		points = append(points, counted(same, "figure")+" as before.")
	}
	if len(t.Rows) > 0 {
		points = append(points, "Measurements are medians at a place that both logs have; hour, phone and server can differ.")
	}
	return []render.Block{render.Part{Text: "Since the earlier log", Detail: sentence(r.Title, r.Date)}, t, points}
}
