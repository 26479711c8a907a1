//go:build unix

package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// million is the number of rows of the benchmark.
const million = 1_000_000

// benchCombinations draws combinations of LTE, NR, and both: allowed, not listed, of a
// width or a band that does not exist.
func benchCombinations(r *rand.Rand, n int) []string {
	type band struct {
		name   string
		widths []string
	}
	lte := []band{{"B1", []string{"5", "10", "15", "20"}}, {"B3", []string{"5", "10", "15", "20"}}, {"B7", []string{"10", "15", "20"}}, {"B20", []string{"5", "10", "15", "20"}},
		{"B28", []string{"5", "10", "15", "20"}}, {"B8", []string{"5", "10"}}, {"B38", []string{"10", "20"}}, {"B5", []string{"5", "10"}}}
	nr := []band{{"n78", []string{"20", "40", "60", "80", "90", "100"}}, {"n28", []string{"5", "10", "20"}}, {"n1", []string{"10", "20"}}, {"n3", []string{"20", "25", "30"}},
		{"n41", []string{"40", "60", "80", "100"}}, {"n77", []string{"40", "100"}}, {"n7", []string{"20"}}, {"n258", []string{"100"}}, {"n999", []string{"10"}}, {"n78", []string{"35"}}}
	pick := func(from []band, n int) []string {
		var list []string
		for _, i := range r.Perm(len(from))[:n] {
			text := from[i].name + ":" + from[i].widths[r.IntN(len(from[i].widths))]
			if r.IntN(7) == 0 {
				text += ",layers=" + []string{"2", "4"}[r.IntN(2)]
			}
			list = append(list, text)
		}
		return list
	}
	list := make([]string, n)
	for i := range list {
		var parts []string
		switch x := r.IntN(20); {
		case x < 7:
			parts = pick(lte, 1+r.IntN(4))
		case x < 13:
			parts = pick(nr[:8], 1+r.IntN(3))
		default:
			parts = append(pick(lte, 1+r.IntN(3)), pick(nr, 1+r.IntN(2))...)
		}
		list[i] = strings.Join(parts, " + ")
	}
	return list
}

// benchRows writes rows of measurements, about 75 bytes each: one in ten without a
// measurement, one in a thousand that cannot be used. change makes what a row has of
// its combination.
func benchRows(b *testing.B, path string, n int, change func(r *rand.Rand, carriers string) string) {
	b.Helper()
	f, err := os.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	w := bufio.NewWriter(f)
	fmt.Fprintln(w, "time,place,carriers,down,up,latency,remark")
	r := rand.New(rand.NewPCG(8, 30))
	combinations := benchCombinations(r, 4000)
	remarks := []string{"", "street level", `"indoors, 2nd floor"`, "roof"}
	for i := range n {
		carriers := combinations[r.IntN(len(combinations))]
		if change != nil {
			carriers = change(r, carriers)
		}
		if r.IntN(1000) == 0 {
			carriers = "n78-80"
		}
		if strings.Contains(carriers, ",") {
			carriers = `"` + carriers + `"`
		}
		measured := ",,"
		if r.IntN(10) > 0 {
			measured = fmt.Sprintf("%.1f,%.2f,%d", 5+1495*r.Float64(), 1+149*r.Float64(), 8+r.IntN(82))
		}
		fmt.Fprintf(w, "2031-05-%02dT10:%02d:00Z,P%03d,%s,%s,%s\n", 1+i%28, i%60, i%997, carriers, measured, remarks[r.IntN(len(remarks))])
	}
	if err := errors.Join(w.Flush(), f.Close()); err != nil {
		b.Fatal(err)
	}
}

// usage is what a process took.
type usage struct {
	wall, cpu time.Duration
	memory    int64 // most bytes resident at once
}

// measure runs a command from a file to a file. A row that cannot be used is no fault.
func measure(b *testing.B, in, out string, cores int, name string, args ...string) usage {
	b.Helper()
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), "GOMAXPROCS="+strconv.Itoa(cores))
	input, err := os.Open(in)
	if err != nil {
		b.Fatal(err)
	}
	defer input.Close()
	output, err := os.Create(out)
	if err != nil {
		b.Fatal(err)
	}
	defer output.Close()
	cmd.Stdin, cmd.Stdout = input, output
	began := time.Now()
	err = cmd.Run()
	wall := time.Since(began)
	if err != nil && cmd.ProcessState.ExitCode() != 1 {
		b.Fatalf("%s %v: %v", name, args, err)
	}
	spent, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		b.Fatal("no usage of the process")
	}
	most := int64(spent.Maxrss)
	if runtime.GOOS == "linux" {
		most *= 1024 // kilobytes there, bytes elsewhere
	}
	return usage{wall, cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime(), most}
}

// BenchmarkBatch answers a million mixed rows, in turn with a bare copy of the same
// file by encoding/csv and with a plain script of the formula in Python on a part of
// it. It reports the time of a row, how many times that of the copy it is on one core
// and on all (the aims are at most 2, and below 1), how many times the script takes
// that of one core (the aim is at least 50), and memory (below 64 MB).
func BenchmarkBatch(b *testing.B) {
	spectally, csvcopy, dir := build(b, "."), build(b, "../internal/csvcopy"), b.TempDir()
	rows, part, answers, copied := filepath.Join(dir, "rows.csv"), filepath.Join(dir, "part.csv"), filepath.Join(dir, "answers.csv"), filepath.Join(dir, "copied.csv")
	const partRows = 20_000
	benchRows(b, rows, million, nil)
	benchRows(b, part, partRows, nil)
	python, err := exec.LookPath("python3")
	if err != nil {
		b.Log("there is no python3: the script is left out")
	}
	var copies, one, all, oneCPU, copyCPU, exact, float []time.Duration
	memory := int64(0)
	for b.Loop() {
		u := measure(b, rows, copied, 1, csvcopy)
		copies, copyCPU = append(copies, u.wall), append(copyCPU, u.cpu)
		u = measure(b, rows, answers, 1, spectally, "batch", "--quiet")
		one, oneCPU, memory = append(one, u.wall), append(oneCPU, u.cpu), max(memory, u.memory)
		u = measure(b, rows, answers, runtime.NumCPU(), spectally, "batch", "--quiet")
		all, memory = append(all, u.wall), max(memory, u.memory)
		if python != "" {
			script := filepath.Join("..", "..", "testdata", "batch", "formula.py")
			float = append(float, measure(b, part, filepath.Join(dir, "script.csv"), 1, python, script, "float").wall)
			exact = append(exact, measure(b, part, filepath.Join(dir, "script.csv"), 1, python, script).wall)
		}
	}
	perRow := func(d time.Duration, rows int) float64 { return float64(d.Nanoseconds()) / float64(rows) }
	b.ReportMetric(0, "ns/op") // means nothing here
	b.ReportMetric(perRow(median(copies), million), "ns/row-copy")
	b.ReportMetric(perRow(median(one), million), "ns/row-1-core")
	b.ReportMetric(perRow(median(all), million), "ns/row-all-cores")
	b.ReportMetric(float64(median(one))/float64(median(copies)), "times-copy-1-core")
	b.ReportMetric(float64(median(all))/float64(median(copies)), "times-copy-all-cores")
	b.ReportMetric(float64(slices.Min(one))/float64(slices.Min(copies)), "times-copy-1-core-fastest")
	b.ReportMetric(float64(slices.Min(all))/float64(slices.Min(copies)), "times-copy-all-cores-fastest")
	b.ReportMetric(float64(median(oneCPU))/float64(median(copyCPU)), "times-copy-cpu")
	b.ReportMetric(float64(memory)/1e6, "MB")
	if python != "" {
		b.ReportMetric(perRow(median(exact), partRows)/perRow(median(one), million), "python-exact-times")
		b.ReportMetric(perRow(median(float), partRows)/perRow(median(one), million), "python-float-times")
		measure(b, part, answers, 1, spectally, "batch", "--quiet")
		compareScript(b, answers, filepath.Join(dir, "script.csv"))
	}
}

// compareScript holds the answers against those of the script, where it has any.
func compareScript(b *testing.B, answers, script string) {
	b.Helper()
	open := func(path string) (*csv.Reader, map[string]int, *os.File) {
		f, err := os.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		r := csv.NewReader(f)
		names, err := r.Read()
		if err != nil {
			b.Fatal(err)
		}
		columns := map[string]int{}
		for i, name := range names {
			columns[name] = i
		}
		return r, columns, f
	}
	got, gotColumns, f := open(answers)
	defer f.Close()
	want, wantColumns, g := open(script)
	defer g.Close()
	compared := 0
	for {
		row, err := want.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			b.Fatal(err)
		}
		if row[wantColumns["carriers"]] == "n78-80" {
			continue // rejected
		}
		answer, err := got.Read()
		if err != nil {
			b.Fatal(err)
		}
		if row[wantColumns["dl_mhz"]] == "" || answer[gotColumns["dl_max_rate_mbps"]] == "" {
			continue // a band or a width that does not exist
		}
		for _, column := range []string{"carriers", "dl_mhz", "dl_max_rate_mbps", "dl_share_of_max", "dl_bps_hz"} {
			if a, w := answer[gotColumns[column]], row[wantColumns[column]]; a != w {
				b.Fatalf("%s: %s is %s, the script has %s", row[wantColumns["carriers"]], column, a, w)
			}
		}
		compared++
	}
	if compared < 10_000 {
		b.Fatalf("only %d rows are compared", compared)
	}
}

// BenchmarkBatchVaried answers rows none of which repeats the text of another: each
// has cell identities and levels of its own, or a place of its own as well.
func BenchmarkBatchVaried(b *testing.B) {
	spectally, dir := build(b, "."), b.TempDir()
	rows, answers := filepath.Join(dir, "rows.csv"), filepath.Join(dir, "answers.csv")
	levels := func(r *rand.Rand, carriers string) string {
		parts := strings.Split(carriers, " + ")
		for i := range parts {
			parts[i] += fmt.Sprintf(",pci=%d,rsrp=-%d.%d", r.IntN(500), 60+r.IntN(60), r.IntN(10))
		}
		return strings.Join(parts, " + ")
	}
	places := func(r *rand.Rand, carriers string) string {
		parts := strings.Split(carriers, " + ")
		for i := range parts {
			name, keys, more := strings.Cut(parts[i], ",")
			if strings.HasPrefix(name, "n78:") {
				name += "@" + strconv.Itoa(623334+r.IntN(26667)) // within 3350 to 3750 MHz
				if more {
					name += ","
				}
				parts[i] = name + keys
			}
		}
		return levels(r, strings.Join(parts, " + "))
	}
	for name, change := range map[string]func(*rand.Rand, string) string{"levels": levels, "places": places} {
		b.Run(name, func(b *testing.B) {
			const n = million / 5
			benchRows(b, rows, n, change)
			var times []time.Duration
			memory := int64(0)
			for b.Loop() {
				u := measure(b, rows, answers, 1, spectally, "batch", "--quiet")
				times, memory = append(times, u.wall), max(memory, u.memory)
			}
			b.ReportMetric(0, "ns/op") // means nothing here
			b.ReportMetric(float64(median(times).Nanoseconds())/n, "ns/row-1-core")
			b.ReportMetric(float64(memory)/1e6, "MB")
		})
	}
}
