package commands

import (
	"go/build"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// arrows reads what every package of the project imports, tests apart, by its path.
func arrows(t *testing.T) map[string][]string {
	t.Helper()
	root, err := filepath.Abs("../../..")
	if err != nil {
		t.Fatal(err)
	}
	imports := map[string][]string{}
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if name := d.Name(); name == "testdata" || strings.HasPrefix(name, ".") {
			return fs.SkipDir
		}
		p, err := build.ImportDir(path, 0)
		if _, none := err.(*build.NoGoError); none {
			return nil
		}
		if err != nil {
			return err
		}
		below, err := filepath.Rel(root, path)
		imports["spectally/"+filepath.ToSlash(below)] = p.Imports
		return err
	})
	if err != nil || len(imports) < 20 {
		t.Fatalf("%d packages, %v", len(imports), err)
	}
	return imports
}

const (
	program = "spectally/cmd/"
	rooms   = "spectally/cmd/internal/commands/"
	cobra   = "github.com/spf13/cobra"
)

// layers are the libraries from the lowest to the highest.
var layers = []string{"spectally/data", "spectally/bands", "spectally/ca", "spectally/throughput"}

// layer is the number of the library that a package belongs to; -1 for none.
func layer(path string) int {
	return slices.IndexFunc(layers, func(l string) bool { return path == l || strings.HasPrefix(path, l+"/") })
}

// Imports run one way: a library knows those below it, and nothing of the program,
// terminals or servers.
func TestLibrariesImportDownwards(t *testing.T) {
	forbidden := []string{"net", "net/http", "os", "log", "log/slog", "flag"}
	seen := map[int]bool{}
	all := arrows(t)
	used := map[string]bool{}
	for _, imports := range all {
		for _, to := range imports {
			used[to] = true
		}
	}
	for path, imports := range all {
		from := layer(path)
		if from < 0 || !used[path] {
			continue // what nobody imports is for tests
		}
		seen[from] = true
		for _, to := range imports {
			if strings.HasPrefix(to, program) || layer(to) > from || slices.Contains(forbidden, to) {
				t.Errorf("%s imports %s", path, to)
			}
		}
	}
	if len(seen) != len(layers) {
		t.Errorf("of the libraries only %v were found", seen)
	}
}

// A command knows no other, and nothing of the program that runs it, so that it can be
// asked without a command line.
func TestCommandsKnowNoOther(t *testing.T) {
	all := arrows(t)
	found := 0
	for path := range all {
		if !strings.HasPrefix(path, rooms) {
			continue
		}
		found++
		for _, to := range all[path] {
			if strings.HasPrefix(to, rooms) && !strings.HasPrefix(to, path+"/") || to == cobra {
				t.Errorf("%s imports %s", path, to)
			}
		}
	}
	if found == 0 {
		t.Error("no command was found")
	}
}

// Nothing but the command line links the library of the command line: not even through
// others.
func TestAskingNeedsNoCommandLine(t *testing.T) {
	all := arrows(t)
	var reach func(path string, seen map[string]bool)
	reach = func(path string, seen map[string]bool) {
		for _, to := range all[path] {
			if !seen[to] {
				seen[to] = true
				reach(to, seen)
			}
		}
	}
	seen := map[string]bool{}
	reach("spectally/cmd/internal/commands", seen)
	if !seen["spectally/cmd/internal/command"] {
		t.Fatal("the list of commands does not reach what a command is")
	}
	for _, far := range []string{cobra, "net", "net/http", "os/signal", "os/exec"} {
		if seen[far] {
			t.Errorf("asking a command links %s", far)
		}
	}
}
