package walkreport

import (
	"math"
	"strconv"
	"strings"
	"time"

	"spectally/cmd/internal/geodesic"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
	"spectally/cmd/internal/words"
)

// bounds are the least and the greatest of some numbers, widened to whole steps.
type bounds struct{ low, high float64 }

func nothing() bounds { return bounds{math.Inf(1), math.Inf(-1)} }

func (b *bounds) take(x ...float64) {
	for _, v := range x {
		b.low, b.high = min(b.low, v), max(b.high, v)
	}
}

func (b *bounds) widened(step float64) (low, high float64) {
	low, high = math.Floor(b.low/step)*step, math.Ceil(b.high/step)*step
	if low == high {
		high += step
	}
	return low, high
}

// curves draws the distributions of level of all networks, as they compare.
func curves(r *walk.Report) render.Block {
	p := &render.Plot{
		Title: "Distribution of RSRP", Legend: "Levels of all cells that were heard, of every band.",
		Y:       render.Axis{Name: "samples up to this level", Unit: "%", To: 100},
		Figures: &render.Table{Columns: []render.Column{{Header: "network"}, {Header: "10 %", Unit: "dBm", Align: render.Number}, {Header: "30 %", Unit: "dBm", Align: render.Number}, {Header: "50 %", Unit: "dBm", Align: render.Number}, {Header: "70 %", Unit: "dBm", Align: render.Number}, {Header: "90 %", Unit: "dBm", Align: render.Number}}},
	}
	x := nothing()
	var said []string
	for i := range r.Networks {
		n := &r.Networks[i]
		if len(n.Curve) == 0 {
			continue
		}
		s := render.Series{Name: named(n.Name, ""), Style: render.Strokes[len(p.Series)%len(render.Strokes)]}
		for j, v := range n.Curve {
			x.take(v)
			s.At = append(s.At, render.XY{X: v, Y: float64(j)})
		}
		p.Series = append(p.Series, s)
		row := []string{s.Name}
		for _, j := range [...]int{10, 30, 50, 70, 90} {
			row = append(row, number(n.Curve[j], 1))
		}
		p.Figures.Rows = append(p.Figures.Rows, row)
		said = append(said, s.Name+": half of the samples are no stronger than "+number(n.RSRP.P50, 1)+" dBm.")
	}
	if len(p.Series) > 0 {
		p.X = render.Axis{Name: "RSRP", Unit: "dBm"}
		p.X.From, p.X.To = x.widened(10)
	}
	p.Description = strings.Join(said, " ")
	return p
}

// levelPlot draws level against distance with the fit and its spread.
func levelPlot(n *walk.Network, b *walk.Band) render.Block {
	f := b.Fit
	p := &render.Plot{
		Title: "RSRP of " + bandName(b) + " against distance", Legend: "The larger a dot, the more samples. The axis of distance is logarithmic.",
		X: render.Axis{Name: "distance", Unit: "m", Log: true}, Y: render.Axis{Name: "RSRP", Unit: "dBm"},
		Description: reachSentence(n, b) + ".",
		Figures:     &render.Table{Columns: []render.Column{{Header: "distance", Unit: "m", Align: render.Number}, {Header: "fit", Unit: "dBm", Align: render.Number}, {Header: "lower", Unit: "dBm", Align: render.Number}, {Header: "upper", Unit: "dBm", Align: render.Number}}},
	}
	x, y := nothing(), nothing()
	dots := render.Series{Name: "samples", Style: render.Dots}
	for _, d := range b.Scatter {
		x.take(d.Distance)
		y.take(d.Level)
		dots.At = append(dots.At, render.XY{X: d.Distance, Y: d.Level, Weight: float64(d.N)})
	}
	x.take(f.Least, f.Most)
	at := func(d float64) float64 { return f.Intercept + f.Slope*math.Log10(d/f.Reference) }
	fit, upper, lower := render.Series{Name: "fit", Style: render.Line}, render.Series{Style: render.Dashed}, render.Series{Name: "one standard deviation", Style: render.Dashed}
	const pieces = 8
	for i := range pieces + 1 {
		d := f.Least * math.Pow(f.Most/f.Least, float64(i)/pieces)
		v := at(d)
		y.take(v-f.Sigma, v+f.Sigma)
		fit.At = append(fit.At, render.XY{X: d, Y: v})
		upper.At = append(upper.At, render.XY{X: d, Y: v + f.Sigma})
		lower.At = append(lower.At, render.XY{X: d, Y: v - f.Sigma})
		if i%2 == 0 {
			p.Figures.Rows = append(p.Figures.Rows, []string{number(d, 0), number(v, 1), number(v-f.Sigma, 1), number(v+f.Sigma, 1)})
		}
	}
	p.X.From, p.X.To = x.low, x.high
	p.Y.From, p.Y.To = y.widened(10)
	p.Series = []render.Series{dots, lower, upper, fit}
	return p
}

// ratePlot draws the rate against SINR, with what was to be expected.
func ratePlot(_ *walk.Network, b *walk.Band) render.Block {
	p := &render.Plot{
		Title: bandName(b) + ": rate against SINR", Legend: "Expected: what the SINR supports by the link mapping.",
		X: render.Axis{Name: "SINR", Unit: "dB"}, Y: render.Axis{Name: "downlink rate", Unit: "Mbit/s"},
		Figures: binTable("", "SINR", "dB", b.BySINR),
	}
	if len(b.BySINR) < 2 {
		return p
	}
	x, y := nothing(), nothing()
	y.take(0)
	ranges, middle, expected := render.Series{Name: "middle half", Style: render.Ranges}, render.Series{Name: "median", Style: render.Line}, render.Series{Name: "expected", Style: render.Dashed}
	for _, bin := range b.BySINR {
		at := (bin.Low + bin.High) / 2
		x.take(bin.Low, bin.High)
		y.take(bin.P75)
		ranges.At = append(ranges.At, render.XY{X: at, Y: bin.P25, High: bin.P75})
		middle.At = append(middle.At, render.XY{X: at, Y: bin.P50})
		if bin.Expected != nil {
			y.take(*bin.Expected)
			expected.At = append(expected.At, render.XY{X: at, Y: *bin.Expected})
		}
	}
	p.X.From, p.X.To = x.widened(2)
	p.Y.To = y.high * 1.05
	if p.Y.To == 0 {
		p.Y.To = 1
	}
	first, last := b.BySINR[0], b.BySINR[len(b.BySINR)-1]
	p.Description = "From " + number(first.P50, 1) + " Mbit/s in the median at " + number(first.Low, 0) + " dB to " + number(last.P50, 1) + " Mbit/s at " + number(last.Low, 0) + " dB."
	p.Series = []render.Series{ranges, middle, expected}
	return p
}

// trace draws the level along the way with the serving cells.
func trace(n *walk.Network) render.Block {
	s := &n.Strip
	t := &render.Trace{
		Title: "Level and serving cell along the way", Lane: "cell",
		Legend:  "Line: mean RSRP. Shaded: from the weakest to the strongest sample. Below: the serving cell; a broken line where there is none.",
		Y:       render.Axis{Name: "RSRP", Unit: "dBm"},
		Figures: &render.Table{Columns: []render.Column{{Header: "from", Align: render.Number}, {Header: "to", Align: render.Number}, {Header: "cell"}, {Header: "weakest", Unit: "dBm", Align: render.Number}, {Header: "mean", Unit: "dBm", Align: render.Number}, {Header: "strongest", Unit: "dBm", Align: render.Number}}},
	}
	unit := 1.0
	switch s.Axis {
	case walk.AlongTime:
		t.X = render.Axis{Name: "time since " + s.Began.Format(time.RFC3339), Unit: "s"}
		if len(s.Columns) > 0 && s.Columns[len(s.Columns)-1].To > 600 {
			unit = 60
			t.X.Unit = "min"
		}
	case walk.AlongWay:
		t.X = render.Axis{Name: "way", Unit: "m"}
	default:
		t.X = render.Axis{Name: "samples"}
	}
	y := nothing()
	levels := false
	for _, c := range wider(s.Columns) {
		t.Pieces = append(t.Pieces, render.Piece{From: c.From / unit, To: c.To / unit, Low: c.Low, Mean: c.Mean, High: c.High, Known: c.N > 0, Name: c.Cell})
		if c.N > 0 {
			levels = true
			y.take(c.Low, c.High)
		}
	}
	if !levels || len(t.Pieces) < 2 {
		t.Pieces = nil
		return t
	}
	t.X.From, t.X.To = t.Pieces[0].From, t.Pieces[len(t.Pieces)-1].To
	t.Y.From, t.Y.To = y.widened(10)
	t.Figures.Rows = stretches(s.Columns, unit)
	t.Description = "RSRP from " + number(y.low, 1) + " to " + number(y.high, 1) + " dBm, " + words.Counted(int(n.ChangeCount), "cell change") + ", " + words.Counted(int(n.GapCount), "gap") + "."
	return t
}

// mostPieces bounds the pieces of a strip that is drawn.
const mostPieces = 200

// wider joins neighbours with one cell, so that few enough are left to be drawn.
func wider(list []walk.StripColumn) []walk.StripColumn {
	join := (len(list) + mostPieces - 1) / mostPieces
	if join < 2 {
		return list
	}
	var out []walk.StripColumn
	for i := range list {
		c := list[i]
		last := len(out) - 1
		if last < 0 || out[last].Cell != c.Cell || c.From > out[last].To || c.To-out[last].From > float64(join)*(c.To-c.From)*1.0001 {
			out = append(out, c)
			continue
		}
		to := &out[last]
		to.To = c.To
		if c.N == 0 {
			continue
		}
		if to.N == 0 {
			to.Low, to.High = c.Low, c.High
		}
		to.Mean = (to.Mean*float64(to.N) + c.Mean*float64(c.N)) / float64(to.N+c.N)
		to.N += c.N
		to.Low, to.High = min(to.Low, c.Low), max(to.High, c.High)
	}
	return out
}

// stretches has a row for each stretch with one cell.
func stretches(list []walk.StripColumn, unit float64) [][]string {
	var rows [][]string
	for start := 0; start < len(list) && len(rows) < shownRows; {
		end, low, high, sum, count := start, math.Inf(1), math.Inf(-1), 0.0, int64(0)
		for end < len(list) && list[end].Cell == list[start].Cell && (end == start || list[end].From <= list[end-1].To) {
			if c := &list[end]; c.N > 0 {
				low, high = min(low, c.Low), max(high, c.High)
				sum += c.Mean * float64(c.N)
				count += c.N
			}
			end++
		}
		row := []string{number(list[start].From/unit, 1), number(list[end-1].To/unit, 1), list[start].Cell, "", "", ""}
		if row[2] == "" {
			row[2] = "none"
		}
		if count > 0 {
			row[3], row[4], row[5] = number(low, 1), number(sum/float64(count), 1), number(high, 1)
		}
		rows = append(rows, row)
		start = end
	}
	return rows
}

// Classes of level for the plan: common practice, no source.
var classLimits = []float64{-85, -100, -110}

// mostPlaces bounds the places of a plan.
const mostPlaces = 600

// plan draws the way to scale.
func plan(n *walk.Network, site *walk.Site) render.Block {
	p := &render.Plan{
		Title:   "The way, to scale",
		Classes: []string{"-85 dBm or more", "-100 to -85 dBm", "-110 to -100 dBm", "below -110 dBm"},
		Figures: &render.Table{Columns: []render.Column{{Header: "RSRP"}, {Header: "places", Align: render.Number}}},
	}
	if len(n.Points) < 2 {
		return p
	}
	every := (len(n.Points) + mostPlaces - 1) / mostPlaces
	plane := geodesic.NewPlane(n.Points[0].Place.Point())
	counts := make([]int, len(p.Classes)+1)
	for i := 0; i < len(n.Points); i += every {
		q := &n.Points[i]
		place := render.PlanPlace{East: q.Place.A, North: q.Place.B, Class: classOf(q.RSRP)}
		if q.Place.Kind == samples.Geographic {
			place.East, place.North = plane.Project(q.Place.Point())
		}
		p.Places = append(p.Places, place)
		counts[place.Class+1]++
	}
	if m, ok := siteMark(site, plane, n.Points[0].Place.Kind); ok {
		p.Marks = append(p.Marks, m)
	}
	for i, c := range counts[1:] {
		p.Figures.Rows = append(p.Figures.Rows, []string{p.Classes[i], strconv.Itoa(c)})
	}
	if counts[0] > 0 {
		p.Figures.Rows = append(p.Figures.Rows, []string{"none", strconv.Itoa(counts[0])})
	}
	p.Legend = "North is up; there is no map behind. The larger a place, the stronger the level; every second class is hollow. Where samples are close to each other some stand for all."
	p.Description = strconv.Itoa(len(p.Places)) + " places, of which " + strconv.Itoa(counts[1]) + " are at -85 dBm or more and " + strconv.Itoa(counts[4]) + " below -110 dBm."
	return p
}

// siteMark is the site on the plan, if it is in the same kind of place and not so far off
// that it would shrink the way to a dot.
func siteMark(s *walk.Site, plane geodesic.Plane, kind samples.PlaceKind) (m render.PlanMark, ok bool) {
	const farthest = 50_000 // metres
	m.Name = "site"
	switch {
	case s == nil:
		return m, false
	case s.Lat != nil && kind == samples.Geographic:
		m.East, m.North = plane.Project(geodesic.Point{Lat: *s.Lat, Lon: *s.Lon})
	case s.X != nil && kind == samples.Planar:
		m.East, m.North = *s.X, *s.Y
	default:
		return m, false
	}
	return m, kind == samples.Planar || math.Hypot(m.East, m.North) < farthest
}

func classOf(rsrp int16) int {
	if rsrp == samples.None {
		return -1
	}
	for i, limit := range classLimits {
		if float64(rsrp)/100 >= limit {
			return i
		}
	}
	return len(classLimits)
}
