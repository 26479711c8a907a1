package savefile

import (
	"errors"
	"path/filepath"
	"slices"
	"testing"
)

// A file appears when it is committed and not before; one that is discarded leaves
// nothing, and one whose name was taken meanwhile does not take it back.
func TestCreate(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "rows.csv")
	begin := func(replace bool, parts ...string) *File {
		t.Helper()
		f, err := Create(path, replace)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range parts {
			if _, err := f.Write([]byte(p)); err != nil {
				t.Fatal(err)
			}
		}
		return f
	}
	if err := begin(false, "one").Discard(); err != nil {
		t.Fatal(err)
	}
	if got := files(t, folder); len(got) != 0 {
		t.Errorf("left behind: %v", got)
	}
	first, second := begin(false, "a", "b"), begin(false, "c")
	if got := files(t, folder); len(got) != 2 || slices.Contains(got, "rows.csv") {
		t.Errorf("before any is committed: %v", got)
	}
	if err := first.Commit(); err != nil {
		t.Fatal(err)
	}
	if err := second.Commit(); !errors.Is(err, ErrExists) {
		t.Errorf("the second of the same name: %v", err)
	}
	has(t, path, "ab")
	if _, err := Create(path, false); !errors.Is(err, ErrExists) {
		t.Errorf("a file that is there: %v", err)
	}
	if err := begin(true, "d").Commit(); err != nil {
		t.Fatal(err)
	}
	has(t, path, "d")
	if got := files(t, folder); !slices.Equal(got, []string{"rows.csv"}) {
		t.Errorf("left behind: %v", got)
	}
	if _, err := Create(folder, true); !errors.Is(err, ErrNotFile) {
		t.Errorf("a folder: %v", err)
	}
}
