package pages

import (
	"bytes"
	"compress/gzip"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spectally/cmd/internal/offline"
)

// small is an edition with a program that is none.
func small(t *testing.T, name string) *offline.Edition {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write([]byte(name)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return offline.NewEdition(name, &offline.Program{Packed: b.Bytes(), Start: []byte("//")})
}

// names lists what is in a folder.
func names(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return strings.Join(list, " ")
}

// Pages are written whole or not at all, and take the place of pages alone.
func TestPut(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	first, second := small(t, "spectally 1"), small(t, "spectally 2")
	for _, tt := range []struct {
		edition *offline.Edition
		path    string
		force   bool
		want    string // of the error
	}{
		{first, at("a.html"), false, ""},
		{second, at("a.html"), false, "must be a name that is not taken; --force replaces pages that are there"},
		{second, at("a.html"), true, ""},
		{first, at("folder"), false, ""},
		{second, at("folder"), false, "must be a name that is not taken; --force replaces pages that are there"},
		{second, at("folder"), true, ""},
		{first, at("others"), true, "must be a folder with nothing but pages in it"},
		{first, at("others/x"), true, "must be a name that is not taken; --force replaces pages that are there"},
		{first, at("none/a.html"), false, "could not be written: no such file or directory"},
		{first, at("none/folder"), false, "could not be written: no such file or directory"},
	} {
		if strings.HasSuffix(tt.path, "others") {
			if err := os.Mkdir(tt.path, 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(tt.path, "x"), nil, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		_, err := put(tt.edition, tt.path, tt.force)
		got := ""
		if err != nil {
			got = fault(tt.path, err).Error()
		}
		if (got == "") != (tt.want == "") || !strings.HasSuffix(got, tt.want) {
			t.Errorf("%s, %s: %q, want %q", tt.edition.Version, tt.path, got, tt.want)
		}
	}
	if got := names(t, dir); got != "a.html folder others" {
		t.Errorf("left: %s", got)
	}
	page, err := os.ReadFile(at("a.html"))
	if err != nil || !strings.Contains(string(page), second.Version) {
		t.Errorf("a.html is not that of %s: %v", second.Version, err)
	}
	if got := names(t, at("folder")); strings.Count(got, "program-") != 1 || strings.Count(got, " ") != 5 {
		t.Errorf("folder: %s", got)
	}
	version, err := os.ReadFile(at("folder/version.txt"))
	if err != nil || string(version) != second.Version+"\n" {
		t.Errorf("%q: %v", version, err)
	}
}
