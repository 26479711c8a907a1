//go:build browser

package web_test

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"spectally/cmd/internal/offline"
)

// BenchmarkBrowserStart opens the pages as one file and, in turn with it, an empty Go
// program in the same page: from the click until the first answer stands there, on the
// machine as it is and four times slower. Then it asks the program that has started.
func BenchmarkBrowserStart(b *testing.B) {
	ours, err := program()
	if err != nil {
		b.Fatal(err)
	}
	empty, err := offline.Build(context.Background(), sources, offline.Package+"/empty")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(len(ours.Packed)), "B-packed")
	b.ReportMetric(float64(len(empty.Packed)), "B-empty-packed")
	folder := b.TempDir()
	address := func(name string, p *offline.Program) string {
		if err := os.WriteFile(filepath.Join(folder, name), offline.NewEdition(name, p).Single(), 0o644); err != nil {
			b.Fatal(err)
		}
		return "/" + name
	}
	ourPage, emptyPage := address("ours.html", ours), address("empty.html", empty)
	v := newTabOf(b, &testSite{t: b, address: "file://" + folder})
	start := func(page string) float64 {
		v.open(page + "#/ca?carriers=B3:20+%2B+n78:80")
		v.run(chromedp.WaitVisible(css("footer #version")))
		return eval[float64](v, `performance.getEntriesByName("spectally:page")[0].startTime`)
	}
	ask := func(path string) float64 {
		return eval[float64](v, fmt.Sprintf(`(async () => {
			await spectally.fetch(%[1]s);
			const begin = performance.now();
			await spectally.fetch(%[1]s);
			return performance.now() - begin;
		})()`, quoteJS(path)))
	}
	for _, slow := range []float64{1, 4} {
		send(v, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slow})
		times := map[string][]float64{}
		for range max(3, b.N) {
			times["empty-start"] = append(times["empty-start"], start(emptyPage))
			times["start"] = append(times["start"], start(ourPage))
			for name, path := range map[string]string{"ca": "/ca?carriers=B3:20+%2B+n78:80", "field": "/field?demo=yes"} {
				times[name] = append(times[name], ask(path))
			}
		}
		unit := func(name string) string { return fmt.Sprintf("ms/%s-at-1/%g", name, slow) }
		for name, list := range times {
			b.ReportMetric(middle(list), unit(name))
		}
		b.ReportMetric(middle(times["start"])/middle(times["empty-start"]), fmt.Sprintf("times-empty-at-1/%g", slow))
	}
	b.ReportMetric(0, "ns/op")
}

func middle[T cmp.Ordered](list []T) T {
	slices.Sort(list)
	return list[len(list)/2]
}
