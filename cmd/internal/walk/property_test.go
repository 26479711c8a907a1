package walk_test

import (
	"bytes"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
)

// possible are the rows of an invented walk, without the sample that is off the way:
// what gives that away is the sample before it.
func possible(tb testing.TB, seed uint64) (header string, rows []string) {
	tb.Helper()
	lines := strings.Split(strings.TrimSpace(string(modelled(tb, seed))), "\n")
	r := read(tb, atSite, strings.NewReader(strings.Join(lines, "\n")))
	for _, l := range r.LeftOut {
		if strings.Contains(l.Reason, "faster than") {
			lines = slices.Delete(lines, int(l.Line)-1, int(l.Line))
			return lines[0], lines[1:]
		}
	}
	tb.Fatal("no sample is off the way")
	return "", nil
}

func file(header string, rows []string) io.Reader {
	return strings.NewReader(header + "\n" + strings.Join(rows, "\n"))
}

// wayless takes out what follows the way, and the lines of rows.
func wayless(r *walk.Report) *walk.Report {
	for i := range r.LeftOut {
		r.LeftOut[i].Line = 0
	}
	slices.SortFunc(r.LeftOut, func(a, b walk.LeftOut) int { return strings.Compare(a.Reason, b.Reason) })
	for i := range r.Networks {
		n := &r.Networks[i]
		n.Changes, n.ChangeCount, n.PingPongs = nil, 0, 0
		n.Gaps, n.GapCount, n.Backwards = nil, 0, 0
		n.Way, n.Seconds = nil, nil
		n.Strip, n.Points, n.Thinned = walk.Strip{}, nil, 0
		for j := range n.Carriers {
			n.Carriers[j].Came, n.Carriers[j].Went = 0, 0
		}
	}
	return r
}

// TestOrder: the order of rows matters to nothing but what follows the way.
func TestOrder(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 7))
	for seed := range uint64(5) {
		header, rows := possible(t, seed)
		want := wayless(read(t, atSite, file(header, rows)))
		random.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		if diff := cmp.Diff(want, wayless(read(t, atSite, file(header, rows)))); diff != "" {
			t.Fatalf("seed %d, in another order:\n%s", seed, diff)
		}
	}
}

// TestSplit: files that follow each other are as good as one.
func TestSplit(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 8))
	for seed := range uint64(5) {
		header, rows := possible(t, seed)
		want := read(t, atSite, file(header, rows))
		var parts []io.Reader
		for rest := rows; len(rest) > 0; {
			n := min(len(rest), 1+random.IntN(1200))
			parts = append(parts, file(header, rest[:n]))
			rest = rest[n:]
		}
		got := read(t, atSite, parts...)
		for i := range got.LeftOut {
			got.LeftOut[i].Line, want.LeftOut[i].Line = 0, 0
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("seed %d, in %d files:\n%s", seed, len(parts), diff)
		}
	}
}

// TestOffset: what is added to every level moves intercepts and percentiles by as much,
// and nothing else of a fit.
func TestOffset(t *testing.T) {
	header, rows := possible(t, 3)
	const add = 2.5
	var b bytes.Buffer
	b.WriteString("time,lat,lon,network,band,rsrp\n")
	var plain, moved strings.Builder
	plain.WriteString(b.String())
	moved.WriteString(b.String())
	reader := &samples.Reader{}
	f, err := reader.Open(file(header, rows), 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	for f.Next() {
		if s := f.Sample(); f.Fault() == "" && s.RSRP != samples.None {
			row := s.Time().Format("2006-01-02T15:04:05Z") + "," + text(s.Place.A) + "," + text(s.Place.B) + "," + s.Network + "," + s.Serving.Carriers[0].Band.String() + ","
			plain.WriteString(row + text(float64(s.RSRP)/100) + "\n")
			moved.WriteString(row + text(float64(s.RSRP)/100+add) + "\n")
		}
	}
	before, after := read(t, atSite, strings.NewReader(plain.String())), read(t, atSite, strings.NewReader(moved.String()))
	for i := range before.Networks {
		a, b := fitOf(t, before, before.Networks[i].Name, before.Networks[i].Bands[0].Band), fitOf(t, after, before.Networks[i].Name, before.Networks[i].Bands[0].Band)
		if math.Abs(b.Intercept-a.Intercept-add) > 1e-3 || math.Abs(b.InterceptLow-a.InterceptLow-add) > 1e-3 {
			t.Errorf("intercepts %v and %v", a.Intercept, b.Intercept)
		}
		want := *a
		want.Intercept, want.InterceptLow, want.InterceptHigh = b.Intercept, b.InterceptLow, b.InterceptHigh
		if *b != want {
			t.Errorf("fits %+v and %+v", a, b)
		}
		if p, q := before.Networks[i].RSRP, after.Networks[i].RSRP; q.P5 != p.P5+add || q.P95 != p.P95+add {
			t.Errorf("percentiles %+v and %+v", p, q)
		}
	}
}
