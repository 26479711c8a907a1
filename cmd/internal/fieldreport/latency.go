package fieldreport

import (
	"strconv"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// latencyBlocks shows the round-trip times, without and with load, and what was measured
// place by place.
func latencyBlocks(n *fieldlog.NetworkReport) []render.Block {
	return []render.Block{latencyTable(&n.Latency), latencyRuns(n), placeTable(n)}
}

func latencyTable(l *fieldlog.LatencyReport) *render.Table {
	t := &render.Table{Title: "Latency under load", Columns: []render.Column{
		{Header: "load"},
		{Header: "runs", Align: render.Number},
		{Header: "median", Unit: "ms", Align: render.Number},
		{Header: "lowest", Unit: "ms", Align: render.Number},
		{Header: "highest", Unit: "ms", Align: render.Number},
		{Header: "added by load", Unit: "ms", Align: render.Number},
		{Header: "round trips", Unit: "a minute", Align: render.Number},
	}}
	for _, r := range [...]struct {
		name              string
		spread            *fieldlog.Spread
		added, roundTrips *float64
	}{
		{"none", l.Idle, nil, l.IdleRoundTrips},
		{"download", l.LoadedDown, l.Added.Down, l.RoundTrips.Down},
		{"upload", l.LoadedUp, l.Added.Up, l.RoundTrips.Up},
	} {
		if s := r.spread; s != nil {
			t.Rows = append(t.Rows, []string{r.name, strconv.Itoa(s.Count), rounded(&s.Median, msPlaces), exact(s.Min), exact(s.Max), rounded(r.added, msPlaces), rounded(r.roundTrips, 0)})
		}
	}
	t.DropEmpty()
	return t
}

// latencyRuns has the times of each run.
func latencyRuns(n *fieldlog.NetworkReport) *render.Table {
	t := &render.Table{Title: "Latency of each run", Detail: true, Columns: []render.Column{
		{Header: "run", Align: render.Number},
		{Header: "idle", Unit: "ms", Align: render.Number},
		{Header: "download", Unit: "ms", Align: render.Number},
		{Header: "added", Unit: "ms", Align: render.Number},
		{Header: "round trips", Unit: "a minute", Align: render.Number},
		{Header: "upload", Unit: "ms", Align: render.Number},
		{Header: "added", Unit: "ms", Align: render.Number},
		{Header: "round trips", Unit: "a minute", Align: render.Number},
	}}
	for i := range n.Runs {
		r := &n.Runs[i]
		if r.Idle.IsGiven() || r.LoadedDown.IsGiven() || r.LoadedUp.IsGiven() {
			t.Rows = append(t.Rows, []string{strconv.Itoa(r.Number), r.Idle.String(),
				r.LoadedDown.String(), rounded(r.Added.Down, msPlaces), rounded(r.RoundTrips.Down, 0),
				r.LoadedUp.String(), rounded(r.Added.Up, msPlaces), rounded(r.RoundTrips.Up, 0)})
		}
	}
	t.DropEmpty()
	return t
}

// transferBlocks shows the files that were moved.
func transferBlocks(n *fieldlog.NetworkReport) []render.Block {
	t := &render.Table{Title: "Transfers", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "size"},
		{Header: "direction"},
		{Header: "where", Typed: true},
		{Header: "when", Typed: true},
		{Header: "took", Unit: "s", Align: render.Number},
		{Header: "mean rate", Unit: "Mbit/s", Align: render.Number},
		{Header: "at the median", Unit: "s", Align: render.Number},
		{Header: "of the median", Unit: "%", Align: render.Number},
	}}
	var points render.Points
	for i := range n.Transfers {
		f := &n.Transfers[i]
		t.Rows = append(t.Rows, []string{strconv.Itoa(f.Number), f.Size.String(), f.Direction, f.Where, f.When, f.Seconds.String(),
			mbps(&f.Mean), rounded(f.Expected, 1), percent(f.OfMedian)})
		points = append(points, f.Statement)
		points = append(points, f.Notes...)
	}
	t.DropEmpty()
	return []render.Block{t, points}
}
