package savefile

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
)

// files lists what a folder holds.
func files(t *testing.T, folder string) []string {
	t.Helper()
	list, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range list {
		names = append(names, e.Name())
	}
	return names
}

func has(t *testing.T, path, want string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("%s has %q, %v; want %q", path, got, err, want)
	}
}

func TestWrite(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "report.html")
	if err := Write(path, []byte("one"), false); err != nil {
		t.Fatal(err)
	}
	has(t, path, "one")
	if err := Write(path, []byte("two"), false); !errors.Is(err, ErrExists) {
		t.Errorf("a file that is there: %v", err)
	}
	has(t, path, "one")
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := Write(path, []byte("three"), true); err != nil {
		t.Fatal(err)
	}
	has(t, path, "three")
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v, %v", info.Mode(), err)
	}
	if got := files(t, folder); !slices.Equal(got, []string{"report.html"}) {
		t.Errorf("left behind: %v", got)
	}
}

func TestWriteToLink(t *testing.T) {
	folder := t.TempDir()
	path, link := filepath.Join(folder, "file"), filepath.Join(folder, "link")
	if err := os.WriteFile(path, []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("file", link); err != nil {
		t.Fatal(err)
	}
	if err := Write(link, []byte("new"), false); !errors.Is(err, ErrExists) {
		t.Errorf("a link to a file: %v", err)
	}
	if err := Write(link, []byte("new"), true); err != nil {
		t.Fatal(err)
	}
	has(t, path, "new")
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info.Mode(), err)
	}
}

func TestWriteRefuses(t *testing.T) {
	folder := t.TempDir()
	lost := filepath.Join(folder, "lost")
	if err := os.Symlink("nothing", lost); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		path string
		want error
	}{
		{folder, ErrNotFile},
		{os.DevNull, ErrNotFile},
		{lost, ErrNotFile},
		{filepath.Join(folder, "no", "such", "folder"), fs.ErrNotExist},
	} {
		for _, replace := range []bool{false, true} {
			if err := Write(test.path, []byte("x"), replace); !errors.Is(err, test.want) {
				t.Errorf("Write(%s, %v): %v, want %v", test.path, replace, err, test.want)
			}
		}
	}
	if got := files(t, folder); !slices.Equal(got, []string{"lost"}) {
		t.Errorf("left behind: %v", got)
	}
	if _, err := os.Stat(os.DevNull); err != nil {
		t.Error(err)
	}
}

// Of many that write one new file at once exactly one does, and its data is whole.
func TestWriteAtOnce(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "file")
	const writers = 16
	var group sync.WaitGroup
	errs := make([]error, writers)
	for i := range writers {
		group.Go(func() { errs[i] = Write(path, bytes.Repeat([]byte{'a' + byte(i)}, 1<<16), false) })
	}
	group.Wait()
	winner := -1
	for i, err := range errs {
		switch {
		case err == nil && winner < 0:
			winner = i
		case err == nil:
			t.Errorf("%d and %d both wrote the file", winner, i)
		case !errors.Is(err, ErrExists):
			t.Error(err)
		}
	}
	if winner < 0 {
		t.Fatal("nobody wrote the file")
	}
	has(t, path, string(bytes.Repeat([]byte{'a' + byte(winner)}, 1<<16)))
	if got := files(t, folder); !slices.Equal(got, []string{"file"}) {
		t.Errorf("left behind: %v", got)
	}
}
