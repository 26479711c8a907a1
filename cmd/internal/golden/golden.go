// Package golden holds what is written against files that say how it has to be. Tests
// use it; the program does not.
package golden

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the expected files anew; read the difference")

// Update tells whether the flag -update asks for the expected files to be written anew.
func Update() bool { return *update }

// Check holds got against the file of that name in testdata. With the flag -update it
// writes the file first.
func Check(tb testing.TB, name string, got []byte) {
	tb.Helper()
	file := filepath.Join("testdata", name)
	if Update() {
		if err := os.WriteFile(file, got, 0o666); err != nil {
			tb.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		tb.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		tb.Errorf("%s differs (-want +got):\n%s", file, diff)
	}
}
