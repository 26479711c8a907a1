package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/golden"

	"github.com/google/go-cmp/cmp"
)

// Whole answers, as their readers see them. The first line of a golden file is the
// command: "$ COLUMNS=80 spectally ca B3:20".
func TestGolden(t *testing.T) {
	files, err := filepath.Glob("testdata/golden/*.txt")
	if err != nil || len(files) < 15 {
		t.Fatalf("%d golden files, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			head, want, _ := strings.Cut(string(text), "\n")
			columns, line, ok := strings.Cut(strings.TrimPrefix(head, "$ COLUMNS="), " spectally ")
			if !ok || !strings.HasPrefix(head, "$ COLUMNS=") {
				t.Fatalf("%s does not begin with its command: %q", file, head)
			}
			t.Setenv("COLUMNS", columns)
			status, got, errs := run(strings.Fields(line)...)
			if status > command.Refuted || errs != "" {
				t.Fatalf("exit status %d, %s", status, errs)
			}
			if golden.Update() {
				if err := os.WriteFile(file, []byte(head+"\n"+got), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s (-want +got):\n%s", head, diff)
			}
		})
	}
}
