package render

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"spectally/bands"
	"spectally/cmd/internal/htmlcheck"
)

// shape is a rectangle or a text of a drawing.
type shape struct {
	class, text         string
	x, y, width, height float64
}

// shapes lists the rectangles and texts of each drawing, with its size.
func shapes(t *testing.T, root *html.Node) (drawings [][]shape, sizes [][2]float64) {
	t.Helper()
	for _, svg := range htmlcheck.Find(root, "svg") {
		var list []shape
		box := strings.Fields(htmlcheck.Attribute(svg, "viewBox"))
		sizes = append(sizes, [2]float64{float(t, box[2]), float(t, box[3])})
		for n := range svg.Descendants() {
			if n.Type != html.ElementNode || n.Parent.Data == "pattern" {
				continue
			}
			s := shape{class: htmlcheck.Attribute(n, "class")}
			switch n.Data {
			case "rect":
				s.width, s.height = float(t, htmlcheck.Attribute(n, "width")), float(t, htmlcheck.Attribute(n, "height"))
			case "text":
				s.text = n.FirstChild.Data
			default:
				continue
			}
			s.x, s.y = float(t, htmlcheck.Attribute(n, "x")), float(t, htmlcheck.Attribute(n, "y"))
			list = append(list, s)
		}
		drawings = append(drawings, list)
	}
	return drawings, sizes
}

func float(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// randomSpectrum makes lanes of blocks; those of a lane do not overlap.
func randomSpectrum(r *rand.Rand) *Spectrum {
	s := &Spectrum{Title: "random"}
	for lane := range 1 + r.IntN(3) {
		l := Lane{Name: "lane " + strconv.Itoa(lane+1)}
		carrier := 0
		at := bands.Frequency(600+r.IntN(300)) * bands.MHz
		for range 1 + r.IntN(5) {
			b := SpectrumBlock{Band: "n" + strconv.Itoa(1+r.IntN(261)), Use: Use(r.IntN(3)), Within: bands.Span{Low: at, High: at + 100*bands.MHz}}
			placed := r.IntN(4) > 0
			low := at
			for range 1 + r.IntN(3) {
				carrier++
				width := []bands.Frequency{1400 * bands.KHz, 5 * bands.MHz, 20 * bands.MHz, 100 * bands.MHz, 400 * bands.MHz}[r.IntN(5)]
				c := Channel{Carrier: carrier, Width: width, Silent: r.IntN(2) == 0}
				if placed {
					c.Edges = bands.Span{Low: at, High: at + width}
				}
				at += width
				b.Channels = append(b.Channels, c)
			}
			if placed {
				b.Edges = bands.Span{Low: low, High: at}
			}
			at += bands.Frequency(r.IntN(900)+1) * bands.MHz
			l.Blocks = append(l.Blocks, b)
		}
		s.Lanes = append(s.Lanes, l)
	}
	return s
}

// Every channel is drawn once in each direction, all on one scale, inside the drawing,
// and no label lies on another.
func TestSpectrumIsToScale(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 31))
	for range 120 {
		s := randomSpectrum(r)
		drawings, sizes := shapes(t, page(t, &Answer{Document: []Block{Title{Text: "T"}, s}}, Options{}))
		if len(drawings) != 2 {
			t.Fatalf("%d drawings", len(drawings))
		}
		for i, list := range drawings {
			checkChannels(t, s, list)
			checkInside(t, list, sizes[i])
			checkLabels(t, s, list)
		}
	}
}

func checkChannels(t *testing.T, s *Spectrum, list []shape) {
	t.Helper()
	var want, got []float64
	for _, l := range s.Lanes {
		for _, b := range l.Blocks {
			for _, c := range b.Channels {
				want = append(want, c.Width.InMHz())
				if b.Use == BothUse {
					want = append(want, c.Width.InMHz())
				}
			}
		}
	}
	for _, x := range list {
		if strings.HasPrefix(x.class, "channel ") {
			got = append(got, x.width)
		}
	}
	slices.Sort(want)
	slices.Sort(got)
	if len(want) != len(got) {
		t.Fatalf("%d channels are drawn, want %d", len(got), len(want))
	}
	scale := got[len(got)-1] / want[len(want)-1]
	for i := range want {
		if math.Abs(got[i]-want[i]*scale) > 0.11 { // a tenth of a pixel, and the scale's own rounding
			t.Fatalf("%v MHz are %v pixels at %v pixels a MHz", want[i], got[i], scale)
		}
	}
}

func checkInside(t *testing.T, list []shape, size [2]float64) {
	t.Helper()
	for _, x := range list {
		if x.x < -0.1 || x.y < 0 || x.x+x.width > size[0]+0.6 || x.y+x.height > size[1] {
			t.Fatalf("%+v is outside of %v", x, size)
		}
	}
}

func checkLabels(t *testing.T, s *Spectrum, list []shape) {
	t.Helper()
	var labels []shape
	for _, x := range list {
		if strings.HasPrefix(x.class, "middle") && !strings.HasSuffix(x.class, "inside") {
			x.width = textWidth(x.text)
			x.x -= x.width / 2
			labels = append(labels, x)
		}
	}
	if len(labels) != 2*s.count() {
		t.Fatalf("%d labels for %d blocks", len(labels), s.count())
	}
	for i, a := range labels {
		for _, b := range labels[:i] {
			if a.y == b.y && a.x < b.x+b.width && b.x < a.x+a.width {
				t.Fatalf("labels %q and %q lie on each other", a.text, b.text)
			}
		}
	}
}

// The channels of a block touch.
func TestContiguousChannelsAreJoined(t *testing.T) {
	drawings, _ := shapes(t, page(t, pictures(), Options{}))
	var down []shape
	for _, x := range drawings[0] {
		if x.class == "channel down" && x.height != trackHeight { // of the TDD block
			down = append(down, x)
		}
	}
	if len(down) != 2 || math.Abs(down[0].x+down[0].width-down[1].x) > 0.11 || down[0].y != down[1].y {
		t.Errorf("the channels of the block are drawn as %+v", down)
	}
}

func TestBarsAreToScale(t *testing.T) {
	r := rand.New(rand.NewPCG(37, 41))
	for range 120 {
		b := &Bars{Title: "random", Unit: "Mbit/s", Of: "network"}
		var want []float64
		for g := range 1 + r.IntN(4) {
			group := BarGroup{Name: "network " + strconv.Itoa(g+1)}
			for range 1 + r.IntN(4) {
				value := math.Round(math.Pow(10, 5*r.Float64())*10) / 10
				bar := Bar{Name: "a figure", Value: trimmed(value), Fill: Fill(r.IntN(3)), Remark: []string{"", "12.5 % of the maximum"}[r.IntN(2)]}
				if r.IntN(2) == 0 {
					bar.Low, bar.High = trimmed(value/2), trimmed(value*1.5)
				}
				want = append(want, value)
				group.Bars = append(group.Bars, bar)
			}
			b.Groups = append(b.Groups, group)
		}
		drawings, sizes := shapes(t, page(t, &Answer{Document: []Block{Title{Text: "T"}, b}}, Options{}))
		for i, list := range drawings {
			checkInside(t, list, sizes[i])
			checkBars(t, list, want, sizes[i][0])
		}
	}
}

func checkBars(t *testing.T, list []shape, want []float64, width float64) {
	t.Helper()
	var got []float64
	for _, x := range list {
		if strings.HasPrefix(x.class, "bar ") {
			got = append(got, x.width)
		}
		if x.class == "value" && x.x+boldWidth(x.text) > width+0.1 {
			t.Errorf("%q ends behind the drawing", x.text)
		}
	}
	if len(got) != len(want) {
		t.Fatalf("%d bars, want %d", len(got), len(want))
	}
	most := slices.Index(want, slices.Max(want))
	for i := range want {
		length := max(want[i]*got[most]/want[most], 0.5)
		if math.Abs(got[i]-length) > 0.11 {
			t.Fatalf("%v is %v pixels long where %v is %v", want[i], got[i], want[most], got[most])
		}
	}
}

func TestDrawingsThatCannotBe(t *testing.T) {
	edges := mhz(3400, 3500)
	for _, block := range []Block{
		&Bars{Groups: []BarGroup{{Bars: []Bar{{Value: ""}}}}},
		&Bars{Groups: []BarGroup{{Bars: []Bar{{Value: "much"}}}}},
		&Bars{Groups: []BarGroup{{Bars: []Bar{{Value: "-1"}}}}},
		&Bars{Groups: []BarGroup{{Bars: []Bar{{Value: "1e5"}}}}},
		&Bars{Groups: []BarGroup{{Bars: []Bar{{Value: "1", Low: "0.5"}}}}},
		&Spectrum{Lanes: []Lane{{Blocks: []SpectrumBlock{{Band: "n78"}}}}},
		&Spectrum{Lanes: []Lane{{Blocks: []SpectrumBlock{{Band: "n78", Edges: edges, Channels: []Channel{{Width: 100 * bands.MHz}}}}}}},
		&Spectrum{Lanes: []Lane{{Blocks: []SpectrumBlock{{Band: "n78", Channels: []Channel{{Width: 100 * bands.MHz, Edges: edges}}}}}}},
		&Spectrum{Lanes: []Lane{{Blocks: []SpectrumBlock{{Band: "n78", Channels: []Channel{{Carrier: 1}}}}}}},
		&Spectrum{Lanes: []Lane{{Blocks: []SpectrumBlock{{Band: "n78", Edges: bands.Span{Low: edges.High, High: edges.Low}, Channels: []Channel{{Width: 100 * bands.MHz, Edges: edges}}}}}}},
	} {
		for _, f := range []Format{Text, Markdown, HTML} {
			if out, err := Render(&Answer{Document: []Block{block}}, Options{Format: f}); err == nil {
				t.Errorf("%+v is shown as %s", block, out)
			}
		}
	}
}

func BenchmarkPage(b *testing.B) {
	a := pictures()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Render(a, Options{Format: HTML}); err != nil {
			b.Fatal(err)
		}
	}
}
