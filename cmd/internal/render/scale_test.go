package render

import (
	"math"
	"strings"
	"testing"
)

func TestNiceStep(t *testing.T) {
	for x, want := range map[float64]float64{0: 1, -3: 1, math.Inf(1): 1, 1: 1, 1.01: 2, 2: 2, 3: 5, 7: 10, 0.03: 0.05, 0.2: 0.2, 93.7: 100, 4e9: 5e9} {
		if got := niceStep(x); math.Abs(got-want) > want*1e-12 {
			t.Errorf("niceStep(%v) = %v, want %v", x, got, want)
		}
	}
	if got := niceStep(math.NaN()); got != 1 {
		t.Errorf("niceStep(NaN) = %v", got)
	}
}

func TestCellBar(t *testing.T) {
	for _, test := range []struct {
		length float64
		fill   Fill
		want   string
	}{
		{0, Solid, ""}, {0.01, Solid, "▏"}, {0.5, Solid, "▌"}, {1, Solid, "█"}, {2.25, Solid, "██▎"}, {2.99, Solid, "███"},
		{0, Hatched, ""}, {0.01, Hatched, "▒"}, {2.4, Hatched, "▒▒"}, {2.6, Hollow, "░░░"},
	} {
		if got := cellBar(test.length, test.fill); got != test.want {
			t.Errorf("cellBar(%v, %v) = %q, want %q", test.length, test.fill, got, test.want)
		}
	}
}

func TestFitText(t *testing.T) {
	for _, s := range []string{"short", strings.Repeat("wide ", 40), strings.Repeat("東", 90), "\x1b[31m", ""} {
		for _, room := range []float64{1, 50, 200, 1e6} {
			got := fitText(s, room)
			if textWidth(got) > room && got != "…" {
				t.Errorf("fitText(%q, %v) = %q, which is %v wide", s, room, got, textWidth(got))
			}
			if room == 1e6 && got != s {
				t.Errorf("fitText(%q) = %q where there is room", s, got)
			}
		}
	}
}
