package batch

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"
	"time"
)

// answerAll runs a text through and returns what is written, and the rejects.
func answerAll(t testing.TB, in io.Reader, set Settings) (out string, rejects string, sum Summary, err error) {
	t.Helper()
	s := &memory{}
	sum, err = Run(context.Background(), Input{Name: "rows", Reader: in}, s, set, &Progress{})
	return s.output.String(), s.rejects.String(), sum, err
}

// memory is a sink in memory.
type memory struct {
	output, rejects        bytes.Buffer
	at                     []position
	finished, interrupted_ bool
}

func (m *memory) begin(string) (position, Counts, error) { return position{}, Counts{}, nil }
func (m *memory) write(output, rejects []byte, at position, _ Counts) error {
	m.output.Write(output)
	m.rejects.Write(rejects)
	m.at = append(m.at, at)
	return nil
}
func (m *memory) partial(output []byte) error { m.output.Write(output); return nil }
func (m *memory) interrupted() (bool, error)  { m.interrupted_ = true; return false, nil }
func (m *memory) finish() error               { m.finished = true; return nil }

// someCarriers are combinations of every sort: allowed, not listed, of bands and
// widths that do not exist, names, and texts that are none.
var someCarriers = []string{
	"n78:80", "B3:20 + B7:20 + n78:80@640000,scs=30 + n78:80@645332", "2xn78:80 + n28:10", "B3:20+B7:20+B20:10", "n1:20+n28:10+n78:100",
	"B5:10+B12:10+n5:10+n77:100", "n41:100,layers=2,qam=64 + n41:60", "n999:10", "n78:35", "B3:20,pci=17,rsrp=-85.5", "CA_3A-7A", "DC_3A_n78A", "CA_1A-99A",
	"n78-80", "", "CA_", "B3:1,4", "n78:80,pattern=XYZ", "n78:80,layers=8,ullayers=8", "B40:20,pattern=1/7 + n1:5", "B3:20,qam=1024,ulqam=1024", "n80:20 + n78:100",
}

// someRows makes rows in which the first column counts them.
func someRows(n int, r *rand.Rand) string {
	var b strings.Builder
	b.WriteString("number,carriers,down,up,latency\n")
	for i := range n {
		carriers := someCarriers[r.IntN(len(someCarriers))]
		if strings.Contains(carriers, ",") {
			carriers = `"` + carriers + `"`
		}
		down := ""
		if r.IntN(4) > 0 {
			down = strconv.FormatFloat(1000*r.Float64(), 'f', 1, 64)
		}
		fmt.Fprintf(&b, "%d,%s,%s,%d,%s", i, carriers, down, r.IntN(100), []string{"20", "", "0", "3,5", "x"}[min(4, r.IntN(20))])
		if i < n-1 || r.IntN(2) == 0 {
			b.WriteString([]string{"\n", "\r\n", "\n\n"}[r.IntN(3)])
		}
	}
	return b.String()
}

// Rows come out in their order, each of them either in the output or among the
// rejects, whatever the number of workers and however little is read at once.
func TestOrderAndCompleteness(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 2))
	const n = 5000
	text := someRows(n, r)
	want, wantRejects, wantSum, err := answerAll(t, strings.NewReader(text), Settings{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	var numbers []int
	for _, part := range []struct {
		text   string
		column int
	}{{want, 0}, {wantRejects, 2}} {
		reader := csv.NewReader(strings.NewReader(part.text))
		reader.FieldsPerRecord = -1
		rows, err := reader.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		last := -1
		for _, row := range rows[1:] {
			i, err := strconv.Atoi(strings.Split(row[part.column], ",")[0])
			if err != nil || i <= last {
				t.Fatalf("row %q after %d: %v", row, last, err)
			}
			last = i
			numbers = append(numbers, i)
		}
	}
	slices.Sort(numbers)
	if len(numbers) != n || len(slices.Compact(numbers)) != n {
		t.Errorf("%d rows came out, want %d, each once", len(numbers), n)
	}
	if wantSum.Rows != n || wantSum.Valid+wantSum.Invalid+wantSum.Rejected != n || wantSum.Valid == 0 || wantSum.Invalid == 0 || wantSum.Rejected == 0 {
		t.Errorf("counts %+v", wantSum.Counts)
	}
	for name, test := range map[string]struct {
		reader io.Reader
		set    Settings
	}{
		"8 workers":     {strings.NewReader(text), Settings{Workers: 8, chunk: 300}},
		"small chunks":  {strings.NewReader(text), Settings{Workers: 3, chunk: 64}},
		"single bytes":  {iotest.OneByteReader(strings.NewReader(text)), Settings{Workers: 2}},
		"prompt":        {iotest.HalfReader(strings.NewReader(text)), Settings{Workers: 2, Prompt: true}},
		"prompt bytes":  {iotest.OneByteReader(strings.NewReader(text)), Settings{Workers: 2, Prompt: true, chunk: 100}},
		"error at end":  {iotest.DataErrReader(strings.NewReader(text)), Settings{}},
		"with a BOM":    {strings.NewReader("\xef\xbb\xbf" + text), Settings{}},
		"blank lines":   {strings.NewReader("\n\r\n" + text), Settings{}},
		"form is given": {strings.NewReader(text), Settings{Rows: CSV, Separator: ','}},
	} {
		got, rejects, sum, err := answerAll(t, test.reader, test.set)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if name == "blank lines" {
			rejects = wantRejects // whose lines differ by two, as they should
		}
		if got != want || rejects != wantRejects || sum.Counts != wantSum.Counts {
			t.Errorf("%s: the rows differ, or their counts %+v", name, sum.Counts)
		}
	}
}

// The lines that rejects tell are those of the input.
func TestLineNumbers(t *testing.T) {
	text := "\xef\xbb\xbf\ncarriers,remark\r\nn78:80,x\n\nbad1,x\n\"n78:80\",\"two\nlines\"\nbad2,\"more\r\n\nlines\"\nbad3\n"
	for _, chunk := range []int{1, 20, 0} {
		_, rejects, _, err := answerAll(t, strings.NewReader(text), Settings{chunk: chunk})
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(rejects)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var lines []string
		for _, row := range rows {
			lines = append(lines, row[0])
		}
		if want := []string{"line", "5", "8", "11"}; !slices.Equal(lines, want) {
			t.Errorf("chunks of %d: lines %q, want %q", chunk, lines, want)
		}
	}
}

func TestStrict(t *testing.T) {
	text := "carriers\nn78:80\nn28:10\nbad\nn1:20\n"
	for _, workers := range []int{1, 4} {
		s := &memory{}
		sum, err := Run(context.Background(), Input{Name: "rows.csv", Reader: strings.NewReader(text)}, s, Settings{Strict: true, Workers: workers}, &Progress{})
		var fault *RowError
		if !errors.As(err, &fault) || err.Error() != `rows.csv:4: carriers: carrier 1 "bad": must be band:width, such as n78:80 or B3:20` {
			t.Errorf("%v", err)
		}
		if got := strings.Count(s.output.String(), "\n"); got != 3 || !s.interrupted_ || s.finished || sum.Rows != 3 {
			t.Errorf("%d lines are written, finished %v, counts %+v", got, s.finished, sum.Counts)
		}
	}
}

// pausing is a reader that gives its text and then waits.
type pausing struct {
	text io.Reader
	wait chan struct{}
}

func (p *pausing) Read(b []byte) (int, error) {
	n, err := p.text.Read(b)
	if err == io.EOF {
		<-p.wait
		return 0, io.EOF
	}
	return n, err
}

// A run that is cancelled writes what was read, says why it ends, and leaves no
// goroutine behind once its reader returns.
func TestCancel(t *testing.T) {
	before := runtime.NumGoroutine()
	why := errors.New("enough")
	ctx, cancel := context.WithCancelCause(context.Background())
	in := &pausing{strings.NewReader("carriers\nn78:80\nn28:10\n"), make(chan struct{})}
	s, p := &memory{}, &Progress{}
	go func() {
		for p.Rows.Load() < 2 {
			time.Sleep(time.Millisecond)
		}
		cancel(why)
	}()
	sum, err := Run(ctx, Input{Name: "rows", Reader: in}, s, Settings{Prompt: true}, p)
	if err != why || sum.Rows != 2 || sum.Valid != 2 || !s.interrupted_ || s.finished {
		t.Errorf("%v, counts %+v, finished %v", err, sum.Counts, s.finished)
	}
	close(in.wait)
	waitForGoroutines(t, before)
}

// waitForGoroutines waits until there are no more goroutines than there were; for ever,
// which is as long as the test binary has.
func waitForGoroutines(t *testing.T, before int) {
	t.Helper()
	for runtime.NumGoroutine() > before {
		if end, limited := t.Deadline(); limited && time.Until(end) < 10*time.Second {
			stacks := make([]byte, 1<<16)
			t.Fatalf("%d goroutines, %d before:\n%s", runtime.NumGoroutine(), before, stacks[:runtime.Stack(stacks, true)])
		}
		time.Sleep(time.Millisecond)
	}
}

// Rows that repeat a combination cost no allocation.
func TestNoAllocationsForRepeatedRows(t *testing.T) {
	text := "carriers,down,up,latency\n" + strings.Repeat("\"n78:80,layers=4 + n28:10\",412.5,38.1,24\nB3:20,80,20.5,\n", 200)
	src := newSource(strings.NewReader(text), false)
	task, err := newTask(src, &Settings{})
	if err != nil {
		t.Fatal(err)
	}
	c, w := &chunk{}, task.newWorker(100)
	if !src.next(c) {
		t.Fatal("no rows")
	}
	w.work(c)
	if c.counts.Rows != 400 || c.counts.Rejected != 0 {
		t.Fatalf("counts %+v", c.counts)
	}
	if n := testing.AllocsPerRun(20, func() { w.work(c) }); n != 0 {
		t.Errorf("%v allocations for 400 rows", n)
	}
}
