package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"spectally/cmd/internal/command"
)

// manText is the text of a page without the macros and marks of man(7).
func manText(page string) string {
	undo := strings.NewReplacer(`\fB`, "", `\fI`, "", `\fR`, "", `\-`, "-", `\e`, `\`, `\(dq`, `"`, `\(aq`, "'", "\\`", "`", `\(ha`, "^", `\(ti`, "~", `\&`, "")
	var lines []string
	for line := range strings.Lines(page) {
		if !strings.HasPrefix(line, ".") {
			lines = append(lines, undo.Replace(strings.TrimSpace(line)))
		}
	}
	return " " + strings.Join(lines, " ") + " "
}

// ascii is a text as a page has it: what is not ASCII is named by its code point.
func ascii(text string) string {
	return strings.NewReplacer("…", `\[u2026]`, "×", `\[u00D7]`, "µ", `\[u00B5]`).Replace(strings.Join(strings.Fields(text), " "))
}

// Every command that help lists has a page, which says all that its help says; the
// macros are those of man(7).
func TestManPages(t *testing.T) {
	t.Setenv("SOURCE_DATE_EPOCH", "1935661089") // 2031-05-04, by date -u -d @1935661089
	dir := filepath.Join(t.TempDir(), "man1")
	mustRun(t, "man", "--output", dir)
	written, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	root := (&program{}).root()
	root.InitDefaultHelpCmd() // which a run adds
	pages := 0
	for _, c := range append(everyCommand(root), root) {
		if c.Hidden {
			continue
		}
		pages++
		name := strings.Join(strings.Fields(c.CommandPath()), "-")
		file, err := os.ReadFile(filepath.Join(dir, name+".1"))
		if err != nil {
			t.Errorf("%s: %v", c.CommandPath(), err)
			continue
		}
		page := string(file)
		if got := mustRun(t, append([]string{"man"}, strings.Fields(c.CommandPath())[1:]...)...); got != page {
			t.Errorf("%s: another page is printed", name)
		}
		if want := `.TH "` + strings.ReplaceAll(strings.ToUpper(name), "-", `\-`) + `" 1 "2031-05-04" "spectally ` + version + `" "spectally manual"` + "\n"; !strings.HasPrefix(page, want) {
			t.Errorf("%s: begins with %.80q", name, page)
		}
		text := manText(page)
		says := []string{name + " - " + c.Short, c.Long}
		if c.Name() == "batch" {
			says = append(says, "-o, --output FILE ")
		}
		for _, e := range examples(c.Example) {
			says = append(says, e.Name+" "+e.Value)
		}
		for _, set := range []*pflag.FlagSet{c.LocalNonPersistentFlags(), root.PersistentFlags()} {
			set.VisitAll(func(f *pflag.Flag) {
				value, usage := pflag.UnquoteUsage(f)
				says = append(says, strings.TrimSpace("--"+f.Name+" "+value)+" "+usage)
			})
		}
		for _, s := range says {
			if !strings.Contains(text, " "+ascii(s)+" ") && !strings.Contains(text, ascii(s)+" ") {
				t.Errorf("%s lacks %q", name, s)
			}
		}
		for i, line := range strings.Split(page, "\n") {
			macro, _, _ := strings.Cut(line, " ")
			if strings.HasPrefix(line, ".") && !strings.Contains(" .TH .SH .PP .TP .BR ", " "+macro+" ") || strings.HasPrefix(line, "'") {
				t.Errorf("%s:%d: %q is none of the macros", name, i+1, line)
			}
			for _, r := range line {
				if r > 0x7e || r < ' ' {
					t.Errorf("%s:%d: %q is not ASCII", name, i+1, r)
				}
			}
		}
	}
	if pages != len(written) || pages < 15 {
		t.Errorf("%d pages for %d commands", len(written), pages)
	}
	for _, test := range []struct {
		epoch string
		args  []string
		want  string
	}{
		{"x", []string{"man"}, `spectally man: SOURCE_DATE_EPOCH: time "x": must be seconds since the beginning of 1970, a whole number` + "\n"},
		{"", []string{"man", "band"}, ""},
		{"", []string{"man", "bands", "--output", dir}, ""},
		{"", []string{"man", "--output", filepath.Join(dir, "spectally.1", "x")}, ""},
	} {
		t.Setenv("SOURCE_DATE_EPOCH", test.epoch)
		status, out, errs := run(test.args...)
		if status != command.Unusable || out != "" || strings.Count(errs, "\n") != 1 || test.want != "" && errs != test.want {
			t.Errorf("%q: exit status %d, %q, %q", test.args, status, out, errs)
		}
	}
}
