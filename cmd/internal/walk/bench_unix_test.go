//go:build unix

package walk_test

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"syscall"
	"testing"
	"time"
)

// drive writes the rows of a drive of three networks over thousands of cells.
func drive(tb testing.TB, rows int) string {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "drive.csv")
	file, err := os.Create(path)
	if err != nil {
		tb.Fatal(err)
	}
	out := bufio.NewWriterSize(file, 1<<20)
	random := rand.New(rand.NewPCG(16, 9))
	began := time.Date(2031, 5, 14, 6, 0, 0, 0, time.UTC)
	carriers := [...][3]string{
		{"B3:20@1300 + n78:80@643334", "B3:20@1300", "B1:15@100 + n78:80@643334"},
		{"n28:10 + n78:100@640000", "n28:10", "n1:20@428000"},
		{"B20:10@6300", "B7:20@2850 + B20:10@6300", "B7:20@2850"},
	}
	fmt.Fprintln(out, "time,lat,lon,network,carriers,pci,rsrp,rsrq,sinr,down,up,latency")
	var row []byte
	decimal := func(x float64, places int) {
		row = strconv.AppendFloat(append(row, ','), x, 'f', places, 64)
	}
	for i := range rows {
		second := i / 3
		row = began.Add(time.Duration(second)*time.Second).AppendFormat(row[:0], time.RFC3339)
		decimal(31.5+float64(toAndFro(second, 90_000))*1e-5, 6)
		decimal(-41.25+float64(toAndFro(second, 70_000))*1e-5, 6)
		row = fmt.Appendf(row, ",network %d,%s,%d", i%3, carriers[i%3][second/600%3], second/200%500)
		decimal(-95+9*random.NormFloat64(), 1)
		decimal(-11+2*random.Float64(), 1)
		decimal(12+5*random.NormFloat64(), 1)
		decimal(random.Float64()*20, 2)
		decimal(random.Float64()*5, 2)
		decimal(20+15*random.ExpFloat64(), 1)
		if _, err := out.Write(append(row, '\n')); err != nil {
			tb.Fatal(err)
		}
	}
	if err := out.Flush(); err != nil {
		tb.Fatal(err)
	}
	if err := file.Close(); err != nil {
		tb.Fatal(err)
	}
	return path
}

// toAndFro goes up to a number and back, again and again.
func toAndFro(i, most int) int {
	if i %= 2 * most; i > most {
		return 2*most - i
	}
	return i
}

// rows is how many rows a drive has: those of the environment variable ROWS, or fewer.
func rows(tb testing.TB) int {
	n, err := strconv.Atoi(os.Getenv("ROWS"))
	if err != nil {
		return 300_000
	}
	return n
}

func open(tb testing.TB, path string) *os.File {
	tb.Helper()
	f, err := os.Open(path)
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

// processor is the time that the processor has worked for this program.
func processor(tb testing.TB) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		tb.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkDrive shows the processor's time for a drive against that for a bare read of
// the same file by encoding/csv in the same run on one core, as it is (of-csv) and with
// its records used again (of-csv-reusing), and the memory taken from the system (MB).
func BenchmarkDrive(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(200 << 20)) // as the command does
	path := drive(b, rows(b))
	var walked, bare, reused time.Duration
	for b.Loop() {
		began := processor(b)
		f := open(b, path)
		if r := read(b, atSite, f); r.LeftOutCount > 0 {
			b.Fatalf("left out: %+v", r.LeftOut[0])
		}
		f.Close()
		walked += processor(b) - began
		for reuse, total := range map[bool]*time.Duration{false: &bare, true: &reused} {
			began = processor(b)
			f = open(b, path)
			plain(b, f, reuse)
			f.Close()
			*total += processor(b) - began
		}
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(walked.Seconds()/bare.Seconds(), "of-csv")
	b.ReportMetric(walked.Seconds()/reused.Seconds(), "of-csv-reusing")
	b.ReportMetric(float64(m.Sys)/1e6, "MB")
	b.ReportMetric(float64(walked.Nanoseconds())/float64(b.N)/float64(rows(b)), "ns/row")
}

func plain(b *testing.B, in io.Reader, reuse bool) {
	r := csv.NewReader(in)
	r.ReuseRecord = reuse
	for {
		if _, err := r.Read(); err == io.EOF {
			return
		} else if err != nil {
			b.Fatal(err)
		}
	}
}
