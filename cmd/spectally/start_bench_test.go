package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// BenchmarkColdStart runs "spectally bands n78" and, in turn with it, the emptiest
// cobra program. It reports the median wall time of each and how many times that
// of the empty program ours takes; the aim is at most 2.
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
	var ourTimes, emptyTimes []time.Duration
	for b.Loop() {
		emptyTimes = append(emptyTimes, start(empty, "bands", "n78"))
		ourTimes = append(ourTimes, start(ours, "bands", "n78"))
	}
	our, other := median(ourTimes), median(emptyTimes)
	b.ReportMetric(float64(our)/float64(other), "times-empty")
	// What else the machine does makes both slower, and unlike: the fastest start of each
	// has the least of that.
	b.ReportMetric(float64(slices.Min(ourTimes))/float64(slices.Min(emptyTimes)), "times-empty-fastest")
	b.ReportMetric(float64(our.Microseconds()), "µs/start")
	b.ReportMetric(float64(other.Microseconds()), "µs/empty-start")
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
