package siterows

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/cmd/internal/batch"
	"spectally/throughput/site"
)

// TestAgreesWithPlanSite draws sites, writes them as rows, and holds what becomes of the
// rows against each site planned alone, with one worker and with several.
func TestAgreesWithPlanSite(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 5))
	var list []drawn
	var rows []map[string]string
	for i := range 400 {
		d := drawSite(t, r, fmt.Sprintf("site %d", i))
		list, rows = append(list, d), append(rows, d.rows...)
	}
	alone := make([]*site.SiteCapacity, len(list))
	for i := range list {
		for k := range list[i].site.Sectors {
			for j := range list[i].site.Sectors[k].Radios {
				c := &list[i].site.Sectors[k].Radios[j].Carriers[0]
				*c = plainCarrier(*c)
			}
		}
		var err error
		if alone[i], err = site.Plan(list[i].site); err != nil {
			t.Fatal(err)
		}
	}
	text := writeRows(rows)
	for _, workers := range []int{1, 3, 0} {
		got := planText(t, text, workers)
		if len(got.faults) > 0 || got.counts != (Counts{Rows: int64(len(rows)), Sites: 400}) {
			t.Fatalf("%+v, %q", got.counts, got.faults)
		}
		line := int64(2)
		for i, s := range got.sites {
			if !reflect.DeepEqual(list[i].site, s.Plan) {
				t.Fatalf("site %d was read as another (-want +got):\n%s", i, cmp.Diff(list[i].site, s.Plan, allFields))
			}
			if !reflect.DeepEqual(alone[i], s.Capacity) {
				t.Fatalf("site %d (-alone +among many):\n%s", i, cmp.Diff(alone[i], s.Capacity, allFields))
			}
			if s.Line != line || s.Rows != len(list[i].rows) {
				t.Fatalf("site %d stands on line %d with %d rows, want %d with %d", i, s.Line, s.Rows, line, len(list[i].rows))
			}
			line += int64(s.Rows)
		}
	}
}

// allFields compares unexported fields too.
var allFields = cmp.Exporter(func(reflect.Type) bool { return true })

// TestMany takes 100,000 carriers of sectors, and then twice as many, through in
// one pass. What is alive meanwhile is bounded: 200,000 rows that were
// kept would be some 60 MB.
func TestMany(t *testing.T) {
	alive := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	most := map[int]uint64{}
	for _, rows := range []int{100_000, 200_000} {
		before := alive()
		next, sum := 0, 0
		p := &batch.Progress{}
		f, err := Open(&manyRows{rows: rows, carriers: 5})
		if err != nil {
			t.Fatal(err)
		}
		counts, err := f.Run(context.Background(), Settings{
			Site: func(s *Site) error {
				if want := fmt.Sprintf("site %d", next); s.Plan.Name != want {
					return fmt.Errorf("%s where %s comes", s.Plan.Name, want)
				}
				if next++; next%2000 == 0 {
					if now := alive(); now > before && now-before > most[rows] {
						most[rows] = now - before
					}
				}
				sum += s.Rows
				return nil
			},
			Fault: func(f *Fault) { t.Error(f) },
		}, p)
		sites := (rows + 14) / 15
		if err != nil || counts != (Counts{Rows: int64(rows), Sites: int64(sites)}) || sum != rows || p.Rows.Load() != int64(rows) {
			t.Fatalf("%v, %+v, %d rows of sites", err, counts, sum)
		}
	}
	t.Logf("alive at most: %d kB over 100,000 rows, %d kB over 200,000", most[100_000]/1000, most[200_000]/1000)
	const bound = 28 << 20
	if most[100_000] > bound || most[200_000] > bound {
		t.Errorf("alive: %v bytes, want at most %d", most, bound)
	}
}

// TestEnds: a site function that fails, an input that fails, a context that is done, and
// an input that never returns each end a run, with what was done before.
func TestEnds(t *testing.T) {
	broken := errors.New("broken")
	run := func(ctx context.Context, in io.Reader, site func(*Site) error) (Counts, error) {
		f, err := Open(in)
		if err != nil {
			t.Fatal(err)
		}
		return f.Run(ctx, Settings{Site: site, Fault: func(f *Fault) { t.Error(f) }}, &batch.Progress{})
	}
	good := func(*Site) error { return nil }
	n := 0
	_, err := run(context.Background(), &manyRows{rows: 30_000, carriers: 1}, func(*Site) error {
		if n++; n == 100 {
			return broken
		}
		return nil
	})
	if !errors.Is(err, broken) || n != 100 {
		t.Errorf("a function that fails: %v after %d sites", err, n)
	}
	counts, err := run(context.Background(), io.MultiReader(&manyRows{rows: 30, carriers: 1}, &faulty{broken}), good)
	if !errors.Is(err, broken) || counts.Rows != 30 {
		t.Errorf("an input that fails: %v, %+v", err, counts)
	}
	ctx, cancel := context.WithCancelCause(context.Background())
	n = 0
	counts, err = run(ctx, &manyRows{rows: 300_000, carriers: 1}, func(*Site) error {
		if n++; n == 100 {
			cancel(broken)
		}
		return nil
	})
	if !errors.Is(err, broken) || counts.Sites < 100 || counts.Sites > 50_000 {
		t.Errorf("a context that is done: %v, %+v", err, counts)
	}
	ctx, cancel = context.WithCancelCause(context.Background())
	r, w := io.Pipe()
	defer w.Close()
	go func() {
		_, _ = io.WriteString(w, manyHeader+strings.Repeat("\n", 1<<17))
		cancel(broken)
	}()
	if _, err := run(ctx, r, good); !errors.Is(err, broken) {
		t.Errorf("an input that does not return: %v", err)
	}
}

type faulty struct{ err error }

func (f *faulty) Read([]byte) (int, error) { return 0, f.err }

// TestLimits: more sites than a file may have end the run, more rows, sectors and
// carriers than a site may have are told, and so are very many rows that name no site.
func TestLimits(t *testing.T) {
	const header = "site,sector,environment,carrier,ports\n"
	f, err := Open(strings.NewReader(header + "A,a,rural,B3:20,4T4R\nB,a,rural,B3:20,4T4R\n"))
	if err != nil {
		t.Fatal(err)
	}
	for i := range maxSites - 1 {
		f.groups.seen[nameKey{byte(i), byte(i >> 8), byte(i >> 16), 1}] = 1
	}
	counts, err := f.Run(context.Background(), Settings{Site: func(*Site) error { return nil }, Fault: func(*Fault) {}}, &batch.Progress{})
	if err == nil || err.Error() != "line 3: a site more than the 1000000 that a file may have" || counts.Sites != 1 {
		t.Errorf("a site too many: %v, %+v", err, counts)
	}
	rows := func(n, perSector int) string {
		var b strings.Builder
		b.WriteString(header)
		for i := range n {
			fmt.Fprintf(&b, "A,s%d,rural,B3:20,4T4R\n", i/perSector)
		}
		b.WriteString("B,a,rural,B3:20,4T4R\n")
		return b.String()
	}
	for _, c := range []struct {
		name, text string
		want       Counts
		faults     string
	}{
		{"a carrier too many", rows(33, 33), Counts{34, 1, 1, 32, 1}, `line 34: sector "s0": must be at most 32 carriers of a sector`},
		{"a sector too many", rows(101, 1), Counts{102, 1, 1, 100, 1}, `line 102: sector "s100": must be at most 100 sectors of a site`},
		{"as many as there may be", rows(3200, 32), Counts{3201, 2, 0, 0, 0}, ""},
		{"rows too many", rows(3300, 33), Counts{3301, 1, 97, 3203, 1}, `must be a site of at most 3200 rows: this one has 3300`},
		{"no site in many rows", header + strings.Repeat(",a,rural,B3:20,4T4R\n", 10_000) + "B,a,rural,B3:20,4T4R\n", Counts{10_001, 1, 10_000, 0, 0}, `line 2: site ""`},
		{"a site and a sector that rows repeat", header + "A,a,rural,B3:20,4T4R\n,,,B7:20,4T4R\n,b,rural,B3:20,4T4R\nB,,rural,B3:20,4T4R\n", Counts{4, 1, 1, 0, 1}, `line 5: sector ""`},
		{"very many rows that repeat the site", header + "A,a,rural,B3:20,4T4R\n" + strings.Repeat(",a,rural,B3:20,4T4R\n", 4000) + "A,b,rural,B3:20,4T4R\n", Counts{4002, 0, 3169, 833, 1}, `must be a site of at most 3200 rows: this one has 4002`},
	} {
		got := planText(t, c.text, 2)
		if got.counts != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got.counts, c.want)
		}
		if all := strings.Join(got.faults, "\n"); c.faults == "" && all != "" || !strings.Contains(all, c.faults) {
			t.Errorf("%s: %.300s", c.name, all)
		}
	}
}

// TestPacked: a packed file is read through the same door as that of batch.
func TestPacked(t *testing.T) {
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	if _, err := io.Copy(w, &manyRows{rows: 30, carriers: 5}); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	in, release, err := batch.Unpack(&packed, batch.Gzip)
	if err != nil {
		t.Fatal(err)
	}
	defer release()
	text, err := io.ReadAll(in)
	if err != nil {
		t.Fatal(err)
	}
	if got := planText(t, string(text), 0); got.counts != (Counts{Rows: 30, Sites: 2}) {
		t.Errorf("%+v", got.counts)
	}
}

// FuzzRows: whatever the text, every row is accounted for, faults are in order of lines
// within a site and stand on lines of the text, and a site that is worked out is what
// PlanSite says of it.
func FuzzRows(f *testing.F) {
	_, cases := readFaults(f)
	for _, c := range cases {
		f.Add(c.text)
	}
	r := rand.New(rand.NewPCG(6, 6))
	f.Add(writeRows(drawSite(f, r, "a").rows))
	f.Add(manyHeader + "a;b\n\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		file, err := Open(strings.NewReader(text))
		if err != nil {
			return
		}
		lines := int64(strings.Count(text, "\n") + 1)
		used, faults := int64(0), int64(0)
		counts, err := file.Run(context.Background(), Settings{
			Workers: 2,
			Site: func(s *Site) error {
				n := 0
				for i := range s.Plan.Sectors {
					n += len(s.Plan.Sectors[i].Radios)
				}
				if n > s.Rows || n == 0 {
					t.Errorf("%d carriers of %d rows", n, s.Rows)
				}
				used += int64(n)
				want, err := site.Plan(s.Plan)
				if err != nil {
					t.Fatal(err)
				}
				for _, d := range bothDirections {
					if *want.In(d) != *s.Capacity.In(d) {
						t.Errorf("%v: %+v, want %+v", d, s.Capacity.In(d), want.In(d))
					}
				}
				return nil
			},
			Fault: func(f *Fault) {
				faults++
				if f.Line < 1 || f.Line > lines || strings.ContainsAny(f.String(), "\n\r") {
					t.Errorf("%q of %d lines", f.String(), lines)
				}
			},
		}, &batch.Progress{})
		if err != nil {
			t.Fatal(err)
		}
		if used+counts.Refused+counts.Left != counts.Rows || faults > counts.Refused || faults == 0 && counts.Refused > 0 {
			t.Errorf("%+v, %d rows used, %d faults", counts, used, faults)
		}
	})
}

// BenchmarkRun works 15,000 carriers of 1000 sites out.
func BenchmarkRun(b *testing.B) {
	text, err := io.ReadAll(&manyRows{rows: 15_000, carriers: 5})
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		f, err := Open(bytes.NewReader(text))
		if err != nil {
			b.Fatal(err)
		}
		counts, err := f.Run(context.Background(), Settings{Site: func(*Site) error { return nil }, Fault: func(f *Fault) { b.Error(f) }}, &batch.Progress{})
		if err != nil || counts.Sites != 1000 {
			b.Fatal(err, counts)
		}
	}
	b.ReportMetric(float64(15_000*b.N)/b.Elapsed().Seconds(), "rows/s")
}
