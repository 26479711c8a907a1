package batch

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"testing/iotest"
	"unicode/utf16"

	"github.com/klauspost/compress/zstd"
)

// failing is a writer that takes some bytes and then no more.
type failing struct {
	left int
	err  error
}

func (f *failing) Write(b []byte) (int, error) {
	n := min(f.left, len(b))
	f.left -= n
	if n < len(b) {
		return n, f.err
	}
	return n, nil
}

// A full disk or a closed pipe ends the run with its reason, and no goroutine stays.
func TestWriterThatFails(t *testing.T) {
	before := runtime.NumGoroutine()
	text := "carriers\n" + strings.Repeat("n78:80\n", 100_000)
	for _, test := range []struct {
		w    *failing
		want error
	}{{&failing{0, syscall.ENOSPC}, syscall.ENOSPC}, {&failing{1_000_000, syscall.ENOSPC}, syscall.ENOSPC}, {&failing{300_000, syscall.EPIPE}, syscall.EPIPE}, {&failing{10, nil}, io.ErrShortWrite}} {
		s, err := NewStream(test.w, "", false)
		if err != nil {
			t.Fatal(err)
		}
		_, err = Run(context.Background(), Input{Name: "rows", Reader: strings.NewReader(text)}, s, Settings{Workers: 4}, &Progress{})
		var fault *WriteError
		if !errors.Is(err, test.want) || !errors.As(err, &fault) {
			t.Errorf("%v; want %v", err, test.want)
		}
	}
	waitForGoroutines(t, before)
}

// An input that fails half-way gives the rows before the fault, and the fault.
func TestReaderThatFails(t *testing.T) {
	before := runtime.NumGoroutine()
	text := "carriers\n" + strings.Repeat("n78:80\n", 1000)
	for _, cut := range []int{0, 3, 9, 12, 16, 3000, len(text)} {
		in := io.MultiReader(strings.NewReader(text[:cut]), iotest.ErrReader(syscall.EIO))
		out, _, sum, err := answerAll(t, in, Settings{Workers: 2, chunk: 100})
		if !errors.Is(err, syscall.EIO) || err.Error() != "rows: input/output error" {
			t.Errorf("cut at %d: %v", cut, err)
		}
		if want := strings.Count(text[:cut], "\n"); strings.Count(out, "\n") != want || sum.Rows != int64(max(0, want-1)) {
			t.Errorf("cut at %d: %d lines are written, want %d; counts %+v", cut, strings.Count(out, "\n"), want, sum.Counts)
		}
	}
	if _, _, _, err := answerAll(t, idle{}, Settings{}); !errors.Is(err, io.ErrNoProgress) {
		t.Errorf("a reader that gives nothing: %v", err)
	}
	waitForGoroutines(t, before)
}

type idle struct{}

func (idle) Read([]byte) (int, error) { return 0, nil }

func packed(t testing.TB, c Compression, text string) []byte {
	t.Helper()
	var b bytes.Buffer
	var w io.WriteCloser = gzip.NewWriter(&b)
	if c == Zstd {
		var err error
		if w, err = zstd.NewWriter(&b); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := io.WriteString(w, text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Packed input that is cut off or damaged is told from a whole one, wherever the cut is.
func TestPackedInputThatIsCutOff(t *testing.T) {
	text := "carriers,n\n"
	for i := range 3000 {
		text += "n78:80," + strings.Repeat(string(rune('a'+i%26)), i%17) + "\n"
	}
	want, _, _, err := answerAll(t, strings.NewReader(text), Settings{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []Compression{Gzip, Zstd} {
		data := packed(t, c, text)
		answer := func(data []byte) (string, error) {
			r, release, err := Unpack(bytes.NewReader(data), c)
			if err != nil {
				return "", err
			}
			defer release()
			out, _, _, err := answerAll(t, r, Settings{})
			return out, err
		}
		if out, err := answer(data); err != nil || out != want {
			t.Errorf("%s: %v, or other rows than those of the plain text", c.Extension(), err)
		}
		for cut := 1; cut < len(data); cut += max(1, len(data)/97) {
			out, err := answer(data[:cut])
			if err == nil || !strings.HasSuffix(err.Error(), "data end too early: the file is cut off") || !strings.HasPrefix(want, out) {
				t.Errorf("%s, cut at %d of %d: %v", c.Extension(), cut, len(data), err)
			}
		}
		damaged := bytes.Clone(data)
		damaged[len(data)-5] ^= 0x10
		if _, err := answer(damaged); err == nil || !strings.Contains(err.Error(), "cannot be read") {
			t.Errorf("%s, damaged: %v", c.Extension(), err)
		}
		padded := append(bytes.Clone(data), make([]byte, 5000)...)
		switch out, err := answer(padded); {
		case c == Gzip && (err != nil || out != want):
			t.Errorf("zeros behind the end: %v, or other rows", err)
		case c == Zstd && err == nil:
			t.Error("zeros behind the end of zst data are taken")
		}
		if _, err := answer(append(padded, 'x')); err == nil {
			t.Errorf("%s: something behind zeros is taken", c.Extension())
		}
		if out, err := answer(slices.Concat(data[:0], packed(t, c, text[:20]), packed(t, c, text[20:]))); err != nil || out != want {
			t.Errorf("%s, in two: %v, or other rows", c.Extension(), err)
		}
		if _, _, _, err := answerAll(t, bytes.NewReader(data), Settings{}); err == nil || !strings.Contains(err.Error(), "must end in "+c.Extension()) {
			t.Errorf("%s without its ending: %v", c.Extension(), err)
		}
		if _, err := answer([]byte("carriers\nn78:80\n")); err == nil || !strings.Contains(err.Error(), "cannot be read") {
			t.Errorf("%s, not packed at all: %v", c.Extension(), err)
		}
	}
}

// A zstd window beyond what every decoder supports (RFC 8878 clause 3.1.1.1.2: 8 MB)
// is refused: it would take that much memory.
func TestZstdWindow(t *testing.T) {
	for window, allowed := range map[int]bool{8 << 20: true, 16 << 20: false} {
		var b bytes.Buffer
		w, err := zstd.NewWriter(&b, zstd.WithWindowSize(window), zstd.WithSingleSegment(false))
		if err != nil {
			t.Fatal(err)
		}
		_, err = io.WriteString(w, "carriers\n"+strings.Repeat("n78:80,"+strings.Repeat(" ", 1000)+"\n", 3000))
		if err = errors.Join(err, w.Close()); err != nil {
			t.Fatal(err)
		}
		r, release, err := Unpack(&b, Zstd)
		if err != nil {
			t.Fatal(err)
		}
		_, err = io.Copy(io.Discard, r)
		release()
		if allowed && err != nil || !allowed && (err == nil || !strings.Contains(err.Error(), "window of more than 8 MiB")) {
			t.Errorf("a window of %d: %v", window, err)
		}
	}
}

func TestEncodings(t *testing.T) {
	text := "carriers\nn78:80\n"
	utf16Text := func(order func(uint16) []byte) string {
		var b []byte
		for _, u := range utf16.Encode([]rune(text)) {
			b = append(b, order(u)...)
		}
		return string(b)
	}
	little := utf16Text(func(u uint16) []byte { return []byte{byte(u), byte(u >> 8)} })
	big := utf16Text(func(u uint16) []byte { return []byte{byte(u >> 8), byte(u)} })
	for _, test := range []struct{ text, want string }{
		{"\xff\xfe" + little, "rows: the text is in UTF-16: must be UTF-8"},
		{"\xfe\xff" + big, "rows: the text is in UTF-16: must be UTF-8"},
		{little, "rows: the text is in UTF-16: must be UTF-8"},
		{big, "rows: the text is in UTF-16: must be UTF-8"},
		{"\xff\xfe\x00\x00c\x00\x00\x00", "rows: the text is in UTF-32: must be UTF-8"},
		{"\x00\x00\xfe\xff\x00\x00\x00c", "rows: the text is in UTF-32: must be UTF-8"},
		{"c\x00\x00\x00a\x00\x00\x00", "rows: the text is in UTF-32: must be UTF-8"},
		{"\x00\x00\x00c\x00\x00\x00a", "rows: the text is in UTF-32: must be UTF-8"},
		{"carri\x00ers\nn78:80\n", "rows: header: a NUL byte: must be text in UTF-8"},
		{"", "rows: empty: must be a header row with a column carriers, and rows"},
		{"\n\n", "rows: empty: must be a header row with a column carriers, and rows"},
		{"carriers\rn78:80\r", "rows: header: a carriage return inside the row: lines end in LF or CR LF"},
		{"\"carriers\n", "rows: header: " + scanReasons[scanOpen]},
		{"car\"riers\n", "rows: header: " + scanReasons[scanStray]},
	} {
		_, _, _, err := answerAll(t, strings.NewReader(test.text), Settings{})
		if err == nil || err.Error() != test.want {
			t.Errorf("%.20q: %v; want %s", test.text, err, test.want)
		}
	}
	_, rejects, sum, err := answerAll(t, strings.NewReader("carriers\nn78:80\nn78\x00:80\n"), Settings{})
	if err != nil || sum.Rejected != 1 || !strings.Contains(rejects, "3,a NUL byte: must be text in UTF-8,") {
		t.Errorf("NUL in a row: %v, %q", err, rejects)
	}
}

// longLine is a text of one character, made as it is read.
type longLine struct{ left int }

var manyX = strings.Repeat("x", 64<<10)

func (l *longLine) Read(b []byte) (int, error) {
	if l.left == 0 {
		return 0, io.EOF
	}
	n := copy(b, manyX[:min(l.left, len(manyX))])
	l.left -= n
	return n, nil
}

// A line of 100 MB is rejected with its length, the rows around it are answered, and
// memory stays as it was.
func TestLongLine(t *testing.T) {
	const length = 100_000_000
	for _, test := range []struct {
		name, head, before, after string
		rows                      int64
		reason                    string
	}{
		{"CSV", "carriers\n", "n78:80\n", "\nn28:10\n", 3, "3,the row is 100000001 bytes long: must be at most 256 KiB,xxx"},
		{"CSV, quoted", "carriers\n", "n78:80\n\"", "\"\nn28:10\n", 3, "3,the row is 100000003 bytes long: must be at most 256 KiB,\"\"\"xxx"},
		{"CSV, the last", "carriers\n", "n78:80\nn28:10\n", "", 3, "4,the row is 100000000 bytes long: must be at most 256 KiB,xxx"},
		{"JSON lines", "", "{\"carriers\":\"n78:80\"}\n{\"carriers\":\"", "\"}\n{\"carriers\":\"n28:10\"}\n", 3, "{\"line\":2,\"reason\":\"the row is 100000016 bytes long: must be at most 256 KiB\",\"row\":\"{\\\"carriers"},
	} {
		in := io.MultiReader(strings.NewReader(test.head+test.before), &longLine{length}, strings.NewReader(test.after))
		var start, end runtime.MemStats
		runtime.ReadMemStats(&start)
		_, rejects, sum, err := answerAll(t, in, Settings{Workers: 2})
		runtime.ReadMemStats(&end)
		if err != nil || sum.Rows != test.rows || sum.Valid != test.rows-1 || sum.Rejected != 1 || !strings.Contains(rejects, test.reason) {
			t.Errorf("%s: %v, counts %+v, rejects %.300q", test.name, err, sum.Counts, rejects)
		}
		if used := end.TotalAlloc - start.TotalAlloc; used > 32<<20 {
			t.Errorf("%s: %d bytes are allocated", test.name, used)
		}
	}
	_, _, _, err := answerAll(t, &longLine{length}, Settings{})
	if err == nil || err.Error() != "rows: header: the first row is longer than 256 KiB" {
		t.Errorf("a long header: %v", err)
	}
}

// An open quote costs its own line alone, however much follows it.
func TestOpenQuote(t *testing.T) {
	text := "carriers\nn78:80\n\"n78:80\n" + strings.Repeat("n28:10\n", 60_000)
	out, rejects, sum, err := answerAll(t, strings.NewReader(text), Settings{Workers: 2})
	if err != nil || sum.Rows != 60_002 || sum.Rejected != 1 || sum.Valid != 60_001 {
		t.Errorf("%v, counts %+v", err, sum.Counts)
	}
	if strings.Count(out, "\n") != 60_002 {
		t.Errorf("%d lines", strings.Count(out, "\n"))
	}
	rows, err := csv.NewReader(strings.NewReader(rejects)).ReadAll()
	if err != nil || len(rows) != 2 || rows[1][0] != "3" || rows[1][1] != scanReasons[scanOpen] || rows[1][2] != "\"n78:80" {
		t.Errorf("rejects %q, %v", rejects, err)
	}
}
