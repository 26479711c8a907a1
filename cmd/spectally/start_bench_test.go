package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// BenchmarkColdStart asks short questions and, in turn with each, runs the emptiest
// cobra program. It reports how many times the wall time of the empty program ours takes;
// the aim is at most 2.5.
func BenchmarkColdStart(b *testing.B) {
	ours := build(b, ".")
	empty := build(b, "../internal/coldstart")
	start := func(program string, args ...string) time.Duration {
		began := time.Now()
		if out, err := exec.Command(program, args...).CombinedOutput(); err != nil {
			b.Fatalf("%s: %v\n%s", program, err, out)
		}
		return time.Since(began)
	}
	for _, question := range [][]string{{"--version"}, {"n78"}, {"B3:20", "+", "n78:80"}, {"bands", "n78"}, {"ca", "B3:20", "+", "n78:80"}, {"ca", "CA_n1A-n78A"}} {
		b.Run(strings.Join(question, " "), func(b *testing.B) {
			var ourTimes, emptyTimes []time.Duration
			for b.Loop() {
				emptyTimes = append(emptyTimes, start(empty, "bands", "n78"))
				ourTimes = append(ourTimes, start(ours, question...))
			}
			our, other := median(ourTimes), median(emptyTimes)
			b.ReportMetric(float64(our)/float64(other), "times-empty")
			// What else the machine does makes both slower, and unlike: the fastest start
			// of each has the least of that.
			b.ReportMetric(float64(slices.Min(ourTimes))/float64(slices.Min(emptyTimes)), "times-empty-fastest")
			b.ReportMetric(float64(our.Microseconds()), "µs/start")
			b.ReportMetric(float64(other.Microseconds()), "µs/empty-start")
		})
	}
}

// build builds a program as it is released: static.
func build(b *testing.B, dir string) string {
	b.Helper()
	program := filepath.Join(b.TempDir(), "program")
	cmd := exec.Command("go", "build", "-trimpath", "-o", program, dir)
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := cmd.CombinedOutput(); err != nil {
		b.Fatalf("go build %s: %v\n%s", dir, err, out)
	}
	return program
}

func median(times []time.Duration) time.Duration {
	slices.Sort(times)
	return times[len(times)/2]
}
