package batch

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// No file of a run may be another one of it, by whatever name: what the rows are read
// from stays as it is, whatever else is asked for.
func TestFilesOfARunAreDifferent(t *testing.T) {
	const text = "carriers\nn78:80\nbad\n"
	for name, test := range map[string]struct{ input, link, output, rejects string }{
		"output is the input":                {input: "rows", output: "rows"},
		"output is a link to the input":      {input: "rows", link: "link", output: "link"},
		"rejects are the input":              {input: "rows", output: "out", rejects: "rows"},
		"the input is the checkpoint":        {input: "out.checkpoint", output: "out"},
		"rejects are the checkpoint":         {input: "rows", output: "out", rejects: "out.checkpoint"},
		"rejects are the output":             {input: "rows", output: "out", rejects: "./out"},
		"rejects are the output, by a link":  {input: "rows", output: "out", rejects: "folder/out"},
		"rejects are the output that is":     {input: "rows", link: "out", output: "rows2", rejects: "other"},
		"the checkpoint is a file of others": {input: "rows", link: "", output: "notes"},
	} {
		for _, how := range []Output{{}, {Force: true}, {Resume: true}, {Force: true, Resume: true}} {
			dir := t.TempDir()
			at := func(name string) string {
				if name == "" {
					return ""
				}
				return filepath.Join(dir, name)
			}
			must(t, os.WriteFile(at(test.input), []byte(text), 0o666))
			must(t, os.WriteFile(at("notes.checkpoint"), []byte("my own\n"), 0o666))
			must(t, os.Symlink(".", at("folder")))
			if name == "rejects are the output that is" {
				must(t, os.WriteFile(at("rows2"), nil, 0o666))
				must(t, os.Link(at("rows2"), at("other")))
			} else if test.link != "" {
				must(t, os.Symlink(at(test.input), at(test.link)))
			}
			info, err := os.Stat(at(test.input))
			must(t, err)
			how.Path, how.Rejects, how.Input = at(test.output), at(test.rejects), info
			before := names(t, dir)
			if _, err := NewFile(how); !errors.Is(err, errRefused) {
				t.Errorf("%s, %+v: %v", name, how, err)
			}
			if contents(t, at(test.input)) != text || contents(t, at("notes.checkpoint")) != "my own\n" || !slices.Equal(before, names(t, dir)) {
				t.Errorf("%s: files %q", name, names(t, dir))
			}
		}
	}
}

// Files with names such as this program could give its own stay as they are.
func TestNamesOfOthers(t *testing.T) {
	const text = "carriers\nn78:80\nbad\n"
	dir := t.TempDir()
	others := []string{"out.part", "rejects.part", "out.new", "out.checkpoint.new", "out.tmp", ".out.part"}
	for _, name := range others {
		must(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666))
	}
	o := Output{Path: filepath.Join(dir, "out"), Rejects: filepath.Join(dir, "rejects"), Every: 1}
	for _, how := range []struct{ force, resume, broken bool }{{}, {force: true}, {force: true, broken: true}, {resume: true, force: true}, {force: true}} {
		o.Force, o.Resume = how.force, how.resume
		at := 0
		if how.broken {
			at = 1
		}
		if _, err := fileRun(t, text, o, Settings{chunk: 8}, at); err != nil && !errors.Is(err, errBroken) {
			t.Fatal(err)
		}
	}
	for _, name := range others {
		if contents(t, filepath.Join(dir, name)) != text {
			t.Errorf("%s is changed", name)
		}
	}
	if got, want := len(names(t, dir)), len(others)+2; got != want {
		t.Errorf("files %q", names(t, dir))
	}
}

// Rejects are not written where rows are read or answers go.
func TestRejectsBesideStream(t *testing.T) {
	path := filepath.Join(t.TempDir(), "rows")
	must(t, os.WriteFile(path, []byte("carriers\n"), 0o666))
	info, err := os.Stat(path)
	must(t, err)
	if _, err := NewStream(&failing{}, path, true, nil, info); !errors.Is(err, errRefused) {
		t.Errorf("%v", err)
	}
}

// A checkpoint in a journal that was not written to its end does no harm, one that was
// changed is refused, and neither is taken for anything else.
func TestJournal(t *testing.T) {
	path := filepath.Join(t.TempDir(), "journal")
	j, c, err := openJournal(path)
	if err != nil || c != nil {
		t.Fatal(c, err)
	}
	now := checkpoint{Form: checkpointForm, Program: Program{"p", "b", "t"}, Settled: "s"}
	must(t, j.begin(&now))
	for rows := range int64(5) {
		now.Counts.Rows = 1 << (10 * rows)
		must(t, j.save(&now))
	}
	must(t, j.close())
	whole := contents(t, path)
	read := func(text string) *checkpoint {
		c, err := readJournal(path, []byte(text))
		if err != nil && !errors.Is(err, errRefused) {
			t.Fatal(err)
		}
		return c
	}
	if c := read(whole); c == nil || *c != now {
		t.Errorf("%+v, want %+v", c, now)
	}
	place := len(whole) / 2
	for i := range len(whole) {
		changed := []byte(whole)
		changed[i] ^= 1
		c := read(string(changed))
		if c == nil || c.Counts.Rows != now.Counts.Rows && c.Counts.Rows != 1<<30 {
			t.Fatalf("byte %d changed: %+v", i, c)
		}
		if last := int(now.Save) % 2 * place; i >= last && i < last+8 && c.Counts.Rows != 1<<30 {
			t.Fatalf("byte %d changed: the check sum holds", i)
		}
	}
	if read(strings.Repeat("x", len(whole))) != nil || read("{}") != nil || read(whole[:20]) != nil {
		t.Error("anything is a checkpoint")
	}
	strange := now
	strange.Form++
	line, err := strange.line()
	must(t, err)
	if read(string(line)+string(line)) != nil {
		t.Error("a checkpoint of another form is read")
	}
	more := `{"checkpoint":2,"new":1}`
	more = checksum([]byte(more)) + " " + more + "\n"
	if read(more+more) != nil {
		t.Error("a checkpoint with something unknown is read")
	}
}

// FuzzJournal reads anything as a journal: what is taken for a checkpoint is one that
// comes out as it is.
func FuzzJournal(f *testing.F) {
	c := checkpoint{Form: checkpointForm, Save: 3, Settled: "s"}
	line, err := c.line()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(slices.Concat(line, line))
	f.Add([]byte(strings.Repeat(" ", 40) + "\n"))
	f.Add([]byte("00000000 {}\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := parseJournal(text)
		if err != nil {
			return
		}
		line, err := c.line()
		must(t, err)
		again, err := parseJournal(slices.Concat(line, line))
		if err != nil || *again != *c || c.Form != checkpointForm {
			t.Fatalf("%+v comes back as %+v, %v", c, again, err)
		}
	})
}

// An input that ends before it has the bytes that it had is an error, and what came
// before it can be gone on from.
func TestInputThatIsCutShort(t *testing.T) {
	text := "carriers\n" + strings.Repeat("n78:80\n", 3000)
	dir := t.TempDir()
	s, err := NewFile(Output{Path: filepath.Join(dir, "out")})
	must(t, err)
	in := Input{Name: "rows", Reader: strings.NewReader(text[:9009]), Size: int64(len(text))}
	sum, err := Run(context.Background(), in, s, Settings{chunk: 1000}, &Progress{})
	if err == nil || err.Error() != "rows: cut short while it was read: it had 21009 bytes and ends after 9009" || !sum.Resumable || sum.Rows == 0 {
		t.Errorf("%v, %+v", err, sum)
	}
	if _, err := os.Stat(filepath.Join(dir, "out")); err == nil {
		t.Error("the output appears")
	}
}
