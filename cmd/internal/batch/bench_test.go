package batch

import (
	"math/rand/v2"
	"strings"
	"testing"

	"spectally/ca"
)

// benchChunk makes a worker with a chunk of rows.
func benchChunk(b *testing.B, text string) (*worker, *chunk) {
	b.Helper()
	src := newSource(strings.NewReader(text), false)
	task, err := newTask(src, &Settings{})
	if err != nil {
		b.Fatal(err)
	}
	c := &chunk{}
	if !src.next(c) {
		b.Fatal("no rows")
	}
	return task.newWorker(keptTexts), c
}

// BenchmarkRows answers rows whose combinations were met before. Nothing is
// allocated.
func BenchmarkRows(b *testing.B) {
	for _, bench := range []struct{ name, text string }{
		{"csv", "time,carriers,down,up,latency\n" + strings.Repeat("2031-05-01T10:00:00Z,B3:20 + n78:80,412.5,38.12,24\n", 300)},
		{"quoted", "time,carriers,down,up,latency\n" + strings.Repeat("2031-05-01T10:00:00Z,\"n78:80,layers=4 + n28:10\",412.5,38.12,24\n", 300)},
		{"jsonl", strings.Repeat(`{"time":"2031-05-01T10:00:00Z","carriers":"B3:20 + n78:80","down":412.5,"up":38.12,"latency":24}`+"\n", 300)},
	} {
		b.Run(bench.name, func(b *testing.B) {
			w, c := benchChunk(b, bench.text)
			w.work(c)
			if c.counts.Rows < 200 || c.counts.Rejected > 0 {
				b.Fatalf("counts %+v", c.counts)
			}
			b.ReportAllocs()
			b.SetBytes(int64(len(c.in)))
			for b.Loop() {
				w.work(c)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(int64(b.N)*c.counts.Rows), "ns/row")
		})
	}
}

// BenchmarkCombination finds out about a combination that was not met before: one
// whose bands and widths were, as where only the places change, and one of which
// nothing was.
func BenchmarkCombination(b *testing.B) {
	const carriers = "B3:20@1300 + B7:20@2850 + n78:80@640000,scs=30"
	for _, bench := range []struct {
		name  string
		known bool
	}{{"new places", true}, {"all new", false}} {
		b.Run(bench.name, func(b *testing.B) {
			list, err := ca.Parse(carriers)
			if err != nil {
				b.Fatal(err)
			}
			book := newBook(newStyle(CSV, ',', ""))
			if a := book.findCarriers(list); !a.valid {
				b.Fatal("not allowed")
			}
			b.ReportAllocs()
			for b.Loop() {
				clear(book.answers.c.young)
				if !bench.known {
					clear(book.verdicts.c.young)
				}
				book.findCarriers(list)
			}
		})
	}
}

// BenchmarkRun answers mixed rows from beginning to end with one worker.
func BenchmarkRun(b *testing.B) {
	text := someRows(20_000, rand.New(rand.NewPCG(8, 30)))
	b.ReportAllocs()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, _, _, err := answerAll(b, strings.NewReader(text), Settings{Workers: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
