package batch

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var errBroken = errors.New("broken off")

// brokenAt is a reader that breaks a run off once so much is read.
type brokenAt struct {
	r    io.Reader
	left int
	stop func()
}

func (b *brokenAt) Read(p []byte) (int, error) {
	if b.left <= 0 {
		b.stop()
	}
	n, err := b.r.Read(p[:min(len(p), 700)])
	b.left -= n
	return n, err
}

// fileRun answers a text into files, and is broken off once so much of it is read; 0
// lets it come to its end.
func fileRun(t testing.TB, text string, o Output, set Settings, broken int) (Summary, error) {
	t.Helper()
	s, err := NewFile(o)
	if err != nil {
		return Summary{}, err
	}
	ctx, cancel := context.WithCancelCause(context.Background())
	defer cancel(nil)
	var in io.Reader = strings.NewReader(text)
	if broken > 0 {
		in = &brokenAt{in, broken, func() { cancel(errBroken) }}
	}
	return Run(ctx, Input{Name: "rows", Reader: in}, s, set, &Progress{})
}

func contents(t testing.TB, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// names lists what is in a directory.
func names(t testing.TB, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	list := []string{}
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return list
}

// A run that is broken off anywhere, several times over, and resumed, writes the same
// bytes as one that is not, packed or not; until then no file appears.
func TestResume(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 3))
	text := someRows(3000, r)
	resumed := 0
	for _, extension := range []string{"", ".gz", ".zst"} {
		set := Settings{Workers: 3, chunk: 1000, Compress: CompressionOf("x" + extension), CompressRejects: CompressionOf("x" + extension)}
		whole := t.TempDir()
		o := Output{Path: filepath.Join(whole, "out"+extension), Rejects: filepath.Join(whole, "rejects"), Program: Program{Name: "p"}}
		wantSum, err := fileRun(t, text, o, set, 0)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := names(t, whole), []string{"out" + extension, "rejects"}; !slices.Equal(got, want) {
			t.Fatalf("files %q, want %q", got, want)
		}
		for range 10 {
			dir := t.TempDir()
			p := Output{Path: filepath.Join(dir, "out"+extension), Rejects: filepath.Join(dir, "rejects"), Program: Program{Name: "p"}, Resume: true}
			var sum Summary
			breaks := 0
			for {
				set.Workers = 1 + r.IntN(4)
				at := 0
				if breaks < 3 {
					at = 1 + r.IntN(len(text))
				}
				sum, err = fileRun(t, text, p, set, at)
				if err == nil {
					break
				}
				if !errors.Is(err, errBroken) {
					t.Fatal(err)
				}
				breaks++
				if sum.Resumed > 0 {
					resumed++
				}
				for _, name := range names(t, dir) {
					if name == "out"+extension || name == "rejects" {
						t.Fatalf("%s appears before its time", name)
					}
				}
			}
			if contents(t, p.Path) != contents(t, o.Path) || contents(t, p.Rejects) != contents(t, o.Rejects) {
				t.Fatalf("after %d breaks the files differ", breaks)
			}
			if sum.Counts != wantSum.Counts {
				t.Fatalf("counts %+v, want %+v", sum.Counts, wantSum.Counts)
			}
			if got := names(t, dir); len(got) != 2 {
				t.Fatalf("left over: %q", got)
			}
		}
	}
	if resumed < 20 {
		t.Errorf("only %d runs had anything to go on from", resumed)
	}
}

// The output of a packed run and its rejects are those of a plain one.
func TestPackedOutput(t *testing.T) {
	text := someRows(2000, rand.New(rand.NewPCG(8, 4)))
	want, wantRejects, sum, err := answerAll(t, strings.NewReader(text), Settings{})
	if err != nil || sum.Rejected == 0 {
		t.Fatal(sum, err)
	}
	for _, c := range []Compression{Gzip, Zstd} {
		data, rejects, _, err := answerAll(t, strings.NewReader(text), Settings{Compress: c, CompressRejects: c, chunk: 500})
		if err != nil {
			t.Fatal(err)
		}
		unpacked := func(data string) string {
			r, release, err := Unpack(strings.NewReader(data), c)
			if err != nil {
				t.Fatal(err)
			}
			defer release()
			text, err := io.ReadAll(r)
			if err != nil {
				t.Fatal(err)
			}
			return string(text)
		}
		if unpacked(data) != want || unpacked(rejects) != wantRejects {
			t.Errorf("%s: other rows", c.Extension())
		}
	}
}

// What a broken run has left is told from what something else has made of it.
func TestResumeRefuses(t *testing.T) {
	text := someRows(1000, rand.New(rand.NewPCG(8, 5)))
	set := Settings{chunk: 500}
	for name, test := range map[string]struct {
		change func(t *testing.T, o *Output, text *string, set *Settings)
		want   string
	}{
		"another input": {func(_ *testing.T, _ *Output, text *string, _ *Settings) {
			*text = strings.Replace(*text, "\n0,", "\n7,", 1)
		}, "rows: the input is not what it was when the run began: --force begins anew"},
		"a shorter input": {func(_ *testing.T, _ *Output, text *string, _ *Settings) {
			*text = (*text)[:100]
		}, "rows: the input is not what it was when the run began: --force begins anew"},
		"other settings": {func(_ *testing.T, _ *Output, _ *string, set *Settings) { set.Prefix = "x" }, "begun with other settings"},
		"no rejects":     {func(_ *testing.T, o *Output, _ *string, _ *Settings) { o.Rejects = "" }, "begun with other settings"},
		"another program": {func(_ *testing.T, o *Output, _ *string, _ *Settings) {
			o.Program.Name = "q"
		}, "begun by another program or build (p, , tables ): --force begins anew"},
		"another build": {func(_ *testing.T, o *Output, _ *string, _ *Settings) {
			o.Program.Build = "1"
		}, "begun by another program or build"},
		"other tables": {func(_ *testing.T, o *Output, _ *string, _ *Settings) {
			o.Program.Tables = "1"
		}, "begun by another program or build"},
		"other rejects": {func(_ *testing.T, o *Output, _ *string, _ *Settings) { o.Rejects += "2" }, "begun with other files"},
		"part gone":     {func(t *testing.T, o *Output, _ *string, _ *Settings) { must(t, os.Remove(partOf(t, o.Path))) }, "gone, though its checkpoint is there"},
		"part cut": {func(t *testing.T, o *Output, _ *string, _ *Settings) {
			must(t, os.Truncate(partOf(t, o.Path), 10))
		}, "not what the run has left"},
		"part changed": {func(t *testing.T, o *Output, _ *string, _ *Settings) {
			b := []byte(contents(t, partOf(t, o.Path)))
			b[20]++
			must(t, os.WriteFile(partOf(t, o.Path), b, 0o666))
		}, "not what the run has left"},
		"output there": {func(t *testing.T, o *Output, _ *string, _ *Settings) {
			must(t, os.WriteFile(o.Path, nil, 0o666))
		}, "the file is already there: --force replaces it"},
		"not resumed": {func(_ *testing.T, o *Output, _ *string, _ *Settings) { o.Resume = false }, "left by a run that was broken off: --resume goes on from there, --force begins anew"},
	} {
		dir := t.TempDir()
		o := Output{Path: filepath.Join(dir, "out"), Rejects: filepath.Join(dir, "rejects"), Program: Program{Name: "p"}, Resume: true}
		if _, err := fileRun(t, text, o, set, len(text)/2); !errors.Is(err, errBroken) {
			t.Fatal(err)
		}
		p, changed, with := o, text, set
		test.change(t, &p, &changed, &with)
		before := names(t, dir)
		if _, err := fileRun(t, changed, p, with, 0); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v; want %s", name, err, test.want)
		}
		if after := names(t, dir); !slices.Equal(before, after) {
			t.Errorf("%s: files %q, before %q", name, after, before)
		}
		o.Resume, o.Force = false, true // which begins anew, whatever is there
		if _, err := fileRun(t, text, o, set, 0); err != nil {
			t.Errorf("%s: anew: %v", name, err)
		}
		if got, want := names(t, dir), []string{"out", "rejects"}; !slices.Equal(got, want) {
			t.Errorf("%s: files %q, want %q", name, got, want)
		}
	}
}

// partOf is the only part file of a path.
func partOf(t testing.TB, path string) string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".*.part"))
	if err != nil || len(list) != 1 {
		t.Fatalf("part files %q of %s, %v", list, path, err)
	}
	return list[0]
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A run that is broken off while its files appear lets the others appear when it is
// resumed.
func TestResumeAtTheEnd(t *testing.T) {
	text := someRows(500, rand.New(rand.NewPCG(8, 6)))
	for appeared := range 3 {
		dir := t.TempDir()
		o := Output{Path: filepath.Join(dir, "out"), Rejects: filepath.Join(dir, "rejects"), Program: Program{Name: "p"}, Resume: true}
		s, err := NewFile(o)
		must(t, err)
		f := s.(*file)
		sum, err := Run(context.Background(), Input{Name: "rows", Reader: strings.NewReader(text)}, &endless{f}, Settings{}, &Progress{})
		must(t, err)
		f.now.Done = true
		must(t, f.save(&f.now))
		for i, target := range f.targets() {
			if i < appeared {
				must(t, target.appear())
			} else {
				must(t, target.close())
			}
		}
		must(t, f.journal.close())
		again, err := fileRun(t, text, o, Settings{}, 0)
		if err != nil || again.Counts != sum.Counts {
			t.Errorf("%d files had appeared: %v, counts %+v", appeared, err, again.Counts)
		}
		if got, want := names(t, dir), []string{"out", "rejects"}; !slices.Equal(got, want) {
			t.Errorf("%d files had appeared: files %q", appeared, got)
		}
		want, wantRejects, _, err := answerAll(t, strings.NewReader(text), Settings{})
		if err != nil || contents(t, o.Path) != want || contents(t, o.Rejects) != wantRejects {
			t.Errorf("%d files had appeared: other rows, %v", appeared, err)
		}
	}
}

// endless is a sink of files that does not finish.
type endless struct{ *file }

func (e *endless) finish() error { return e.settle() }

// Two runs do not write one file.
func TestLock(t *testing.T) {
	dir := t.TempDir()
	o := Output{Path: filepath.Join(dir, "out"), Program: Program{Name: "p"}}
	first, err := NewFile(o)
	must(t, err)
	if _, _, err := first.begin("x"); err != nil {
		t.Fatal(err)
	}
	for _, second := range []Output{{Path: o.Path, Force: true}, {Path: o.Path, Resume: true}} {
		if _, err := fileRun(t, "carriers\nn78:80\n", second, Settings{}, 0); err == nil || !strings.HasSuffix(err.Error(), "another run is writing it") {
			t.Errorf("%+v: %v", second, err)
		}
	}
	must(t, first.write([]byte("whole\n"), nil, position{}, Counts{}))
	must(t, first.finish())
	if got := contents(t, o.Path); got != "whole\n" {
		t.Errorf("the file holds %q", got)
	}
}

// Where nothing was read yet, nothing is left.
func TestNothingIsLeftOfNothing(t *testing.T) {
	for _, text := range []string{"", "no header\nx\n", "carriers\nbad\n"} {
		dir := t.TempDir()
		o := Output{Path: filepath.Join(dir, "out"), Rejects: filepath.Join(dir, "rejects")}
		if _, err := fileRun(t, text, o, Settings{Strict: true}, 0); err == nil {
			t.Errorf("%q: no error", text)
		}
		if got := names(t, dir); len(got) > 0 {
			t.Errorf("%q: files %q", text, got)
		}
	}
}

// A disk that is full leaves either what a run can be resumed from, or nothing.
func TestFullDisk(t *testing.T) {
	text := someRows(2000, rand.New(rand.NewPCG(8, 7)))
	for _, saved := range []bool{false, true} {
		dir := t.TempDir()
		o := Output{Path: filepath.Join(dir, "out"), Program: Program{Name: "p"}, Resume: true}
		s, err := NewFile(o)
		must(t, err)
		_, err = Run(context.Background(), Input{Name: "rows", Reader: strings.NewReader(text)}, &filling{file: s.(*file), after: 10, save: saved}, Settings{chunk: 500, Workers: 2}, &Progress{})
		var fault *WriteError
		if !errors.As(err, &fault) {
			t.Errorf("%v", err)
		}
		want := []string{}
		if saved {
			want = []string{filepath.Base(partOf(t, o.Path)), "out.checkpoint"}
		}
		if got := names(t, dir); !slices.Equal(got, want) {
			t.Errorf("saved %v: files %q, want %q", saved, got, want)
		}
		if _, err := fileRun(t, text, o, Settings{chunk: 500}, 0); err != nil {
			t.Fatal(err)
		}
		if want, _, _, _ := answerAll(t, strings.NewReader(text), Settings{}); contents(t, o.Path) != want {
			t.Errorf("saved %v: resumed, the rows differ", saved)
		}
	}
}

// filling is a sink of files whose disk is full after some writes: the file that is
// written cannot be written any more.
type filling struct {
	*file
	after int
	save  bool
}

func (f *filling) write(output, rejects []byte, at position, all Counts) error {
	f.after--
	if f.after == 0 {
		if err := f.settle(); err != nil {
			return err
		}
		f.kept = f.save
		if err := f.output.file.Close(); err != nil {
			return err
		}
	}
	return f.file.write(output, rejects, at, all)
}

// A file that is replaced keeps its permissions, and a link to it stays a link.
func TestReplacedFile(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "out"), filepath.Join(dir, "link")
	must(t, os.WriteFile(path, []byte("old"), 0o640))
	must(t, os.Chmod(path, 0o640))
	must(t, os.Symlink(path, link))
	o := Output{Path: link, Force: true}
	if _, err := fileRun(t, "carriers\nn78:80\n", o, Settings{}, 0); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	must(t, err)
	if info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link is replaced")
	}
	info, err = os.Stat(path)
	must(t, err)
	if info.Mode().Perm() != 0o640 || !strings.HasPrefix(contents(t, path), "carriers,valid,") {
		t.Errorf("permissions %v, content %q", info.Mode().Perm(), contents(t, path))
	}
	if _, err := NewFile(Output{Path: path}); err == nil || !strings.HasSuffix(err.Error(), "already there: --force replaces it") {
		t.Errorf("a file that is there: %v", err)
	}
	if _, err := NewFile(Output{Path: dir, Force: true}); err == nil || !strings.HasSuffix(err.Error(), "a directory: must be a file") {
		t.Errorf("a directory: %v", err)
	}
	var fault *WriteError
	if _, err := fileRun(t, "carriers\nn78:80\n", Output{Path: filepath.Join(dir, "none", "out")}, Settings{}, 0); !errors.As(err, &fault) {
		t.Errorf("a directory that is not there: %v", err)
	}
}

// The rejects of a run to a writer appear whole or not at all too.
func TestRejectsOfStream(t *testing.T) {
	for _, cut := range []bool{false, true} {
		dir := t.TempDir()
		path := filepath.Join(dir, "rejects")
		var out bytes.Buffer
		var w io.Writer = &out
		if cut {
			w = &failing{100, errBroken}
		}
		s, err := NewStream(w, path, false)
		must(t, err)
		_, err = Run(context.Background(), Input{Name: "rows", Reader: strings.NewReader("carriers\nn78:80\nbad\n")}, s, Settings{}, &Progress{})
		switch got := names(t, dir); {
		case cut && (err == nil || len(got) > 0):
			t.Errorf("broken off: %v, files %q", err, got)
		case !cut && (err != nil || !slices.Equal(got, []string{"rejects"}) || !strings.HasPrefix(contents(t, path), "line,reason,row\n3,")):
			t.Errorf("%v, files %q", err, got)
		}
		if !cut {
			if _, err := NewStream(w, path, false); err == nil {
				t.Error("rejects are replaced")
			}
		}
	}
}
