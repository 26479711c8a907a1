package render

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"spectally/cmd/internal/htmlcheck"
)

// fieldwork is an answer with the drawings of a walk, short in text.
func fieldwork() *Answer {
	figures := &Table{Columns: []Column{{Header: "distance", Unit: "m", Align: Number}, {Header: "fit", Unit: "dBm", Align: Number}}, Rows: [][]string{{"10", "-60"}, {"1000", "-130"}}}
	whole := []Block{
		Title{"A walk", "invented"},
		&Plot{Title: "Level against distance", X: Axis{Name: "distance", Unit: "m", From: 10, To: 1000, Log: true}, Y: Axis{Name: "RSRP", Unit: "dBm", From: -140, To: -40},
			Description: "The level falls by 35 dB a decade.", Legend: "The axis of distance is logarithmic.", Figures: figures,
			Series: []Series{
				{Name: "samples", Style: Dots, At: []XY{{X: 12, Y: -61}, {X: 100, Y: -90, Weight: 20}, {X: 900, Y: -128, Weight: 900}}},
				{Name: "middle half", Style: Ranges, At: []XY{{X: 100, Y: -100, High: -80}}},
				{Name: "fit", At: []XY{{X: 10, Y: -60}, {X: 1000, Y: -130}}},
				{Name: "deviation", Style: Dashed, At: []XY{{X: 10, Y: -55}, {X: 1000, Y: -125}}},
				{Style: Dotted, At: []XY{{X: 10, Y: -65}, {X: 1000, Y: -135}}}, {Style: DashDot, At: []XY{{X: 10, Y: -70}}}}},
		&Trace{Title: "Level along the way", X: Axis{Name: "time", Unit: "s", To: 60}, Y: Axis{Name: "RSRP", Unit: "dBm", From: -120, To: -60}, Lane: "cell",
			Description: "From -70 to -110 dBm.", Legend: "Line: mean.", Figures: figures,
			Pieces: []Piece{{0, 10, -80, -75, -70, true, "n78 PCI 417"}, {10, 30, -90, -85, -80, true, "n78 PCI 417"}, {30, 40, -95, -90, -85, true, "n78 PCI 418"}, {40, 50, 0, 0, 0, false, ""}, {50, 60, -110, -110, -110, true, "n78 PCI 417"}}},
		&Plan{Title: "The way, to scale", Classes: []string{"good", "fair", "weak"}, Description: "600 m to the north-east.", Legend: "North is up.", Figures: figures,
			Places: []PlanPlace{{0, 0, 0, false}, {200, 100, 1, false}, {400, 250, 2, true}, {500, 350, -1, false}}, Marks: []PlanMark{{-50, -20, "site"}, {500, 400, "a place with a long name"}}},
	}
	return &Answer{Document: []Block{Title{"A walk", "in short"}, whole[1]}, Whole: whole}
}

// What is drawn stays inside the drawing, however its numbers lie, and a dot stands
// where its numbers say.
func TestPlotsAreToScale(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 47))
	for range 60 {
		from := math.Pow(10, 6*r.Float64()-2)
		p := &Plot{Title: "random", Description: "D.", X: Axis{Name: "distance", Unit: "m", From: from, To: from * (1.1 + 1000*r.Float64()), Log: true}, Y: Axis{Name: "RSRP", Unit: "dBm", From: -100 * r.Float64(), To: 1 + 50*r.Float64()}, Figures: small("x")}
		s := Series{Name: "samples", Style: Dots}
		line := Series{Name: strings.Repeat("long name ", 1+r.IntN(20))}
		for i := range 11 {
			part := float64(i) / 10
			x := p.X.From * math.Pow(p.X.To/p.X.From, part)
			y := p.Y.From + (p.Y.To-p.Y.From)*r.Float64()
			s.At = append(s.At, XY{X: x, Y: y, Weight: 1 + 1000*r.Float64()})
			line.At = append(line.At, XY{X: x, Y: y})
		}
		p.Series = []Series{s, line}
		for i, svg := range htmlcheck.Find(page(t, &Answer{Document: []Block{Title{Text: "T"}, p}}, Options{}), "svg") {
			width, height := attributeNumber(t, svg, "width"), attributeNumber(t, svg, "height")
			circles := htmlcheck.Find(svg, "circle")
			if len(circles) != len(s.At)+1 { // one is in the key
				t.Fatalf("%d circles", len(circles))
			}
			for j, c := range circles[:len(s.At)] {
				x, y := attributeNumber(t, c, "cx"), attributeNumber(t, c, "cy")
				left, right := plotLeft, []float64{wideDrawing, narrowDrawing}[i]-plotRight
				wantX := left + (right-left)*float64(j)/10
				wantY := plotTop + plotHeight*(p.Y.To-s.At[j].Y)/(p.Y.To-p.Y.From)
				if math.Abs(x-wantX) > 0.1 || math.Abs(y-wantY) > 0.1 || x > width || y > height {
					t.Fatalf("%+v is drawn at %v, %v; want %v, %v", s.At[j], x, y, wantX, wantY)
				}
			}
			for _, text := range htmlcheck.Find(svg, "text") {
				if y := attributeNumber(t, text, "y"); y > height {
					t.Fatalf("%q is below the drawing", htmlcheck.Text(text))
				}
			}
		}
	}
}

// A plan has one scale for both directions, and its bar is as long as it says.
func TestPlanIsToScale(t *testing.T) {
	p := &Plan{Title: "T", Description: "D.", Classes: []string{"all"}, Figures: small("x"), Places: []PlanPlace{{0, 0, 0, false}, {3000, 0, 0, false}, {0, 4000, 0, false}}}
	for _, svg := range htmlcheck.Find(page(t, &Answer{Document: []Block{Title{Text: "T"}, p}}, Options{}), "svg") {
		c := htmlcheck.Find(svg, "circle")
		x := func(i int) float64 { return attributeNumber(t, c[i], "cx") }
		y := func(i int) float64 { return attributeNumber(t, c[i], "cy") }
		scale := (x(1) - x(0)) / 3000
		if math.Abs((y(0)-y(2))/4000-scale) > 1e-4 || scale <= 0 {
			t.Errorf("%v pixels a metre to the east, %v to the north", scale, (y(0)-y(2))/4000)
		}
	}
}

func TestFieldworkThatCannotBe(t *testing.T) {
	axis := Axis{Name: "x", To: 1}
	for _, b := range []Block{
		&Plot{X: axis, Y: Axis{Name: "y"}, Series: []Series{{At: []XY{{}}}}},
		&Plot{X: Axis{Name: "x", To: 1, Log: true}, Y: axis, Series: []Series{{At: []XY{{X: 1}}}}},
		&Plot{X: Axis{Name: "x", From: 1, To: 2, Log: true}, Y: axis, Series: []Series{{At: []XY{{X: 0}}}}},
		&Plot{X: axis, Y: axis, Series: []Series{{At: []XY{{X: math.NaN()}}}}},
		&Trace{X: axis, Y: axis, Pieces: []Piece{{From: 1}}},
		&Trace{X: axis, Y: Axis{Name: "y", From: math.Inf(-1)}, Pieces: []Piece{{To: 1}}},
		&Plan{Places: []PlanPlace{{}}},
		&Plan{Classes: []string{"a"}, Places: []PlanPlace{{East: math.NaN()}}},
		&Plan{Classes: []string{"a"}, Places: []PlanPlace{{}}, Marks: []PlanMark{{East: math.Inf(1)}}},
	} {
		if _, err := Render(&Answer{Document: []Block{b}}, Options{Format: HTML}); err == nil {
			t.Errorf("%+v is drawn", b)
		}
	}
}

func attributeNumber(t *testing.T, n *html.Node, name string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(htmlcheck.Attribute(n, name), 64)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return x
}
