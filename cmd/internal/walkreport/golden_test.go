package walkreport_test

import (
	"bytes"
	"strings"
	"testing"

	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/golden"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
	"spectally/cmd/internal/walkmodel"
	"spectally/cmd/internal/walkreport"
)

// read takes in samples of CSV.
func read(tb testing.TB, set walk.Settings, csv string) *walk.Report {
	tb.Helper()
	c := walk.New(set)
	f, err := new(samples.Reader).Open(strings.NewReader(csv), batch.CSV, 0)
	if err != nil {
		tb.Fatal(err)
	}
	for f.Next() {
		reason := f.Fault()
		if reason == "" {
			reason, _ = c.Add(f.Sample())
		}
		if reason != "" {
			c.LeaveOut("walk.csv", f.Line(), reason)
		}
	}
	if f.Err() != nil {
		tb.Fatal(f.Err())
	}
	return c.Report()
}

func demo(tb testing.TB) *walk.Report {
	tb.Helper()
	var b bytes.Buffer
	if err := walkmodel.Write(&b, walkmodel.DemoSeed); err != nil {
		tb.Fatal(err)
	}
	return read(tb, walk.Settings{Site: samples.Place{Kind: samples.Geographic, A: walkmodel.Site.Lat, B: walkmodel.Site.Lon}}, b.String())
}

func TestGolden(t *testing.T) {
	r := demo(t)
	for name, c := range map[string]struct {
		o    render.Options
		full bool
	}{
		"demo.txt":      {render.Options{Format: render.Text, Width: 80}, false},
		"demo-full.txt": {render.Options{Format: render.Text, Width: 100}, true},
		"demo.md":       {render.Options{Format: render.Markdown}, false},
		"demo.csv":      {render.Options{Format: render.CSV}, false},
		"demo.json":     {render.Options{Format: render.JSON}, false},
		"demo.html":     {render.Options{Format: render.HTML}, false},
	} {
		t.Run(name, func(t *testing.T) {
			a := walkreport.Answer(r)
			if c.full {
				a.Document = a.Whole
			}
			out, err := render.Render(a, c.o)
			if err != nil {
				t.Fatal(err)
			}
			if c.o.Format == render.HTML {
				for _, problem := range htmlcheck.Page(out) {
					t.Error(problem)
				}
				return
			}
			golden.Check(t, name, out)
			if name == "demo.txt" {
				if n := strings.Count(string(out), "\n"); n > 24 {
					t.Errorf("%d lines are more than a screen", n)
				}
			}
		})
	}
}
