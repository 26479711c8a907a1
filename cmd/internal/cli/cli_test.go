package cli

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"spectally/cmd/internal/command"
)

// run runs the program in this process.
func run(args ...string) (status int, stdout, stderr string) {
	var out, errs bytes.Buffer
	status = Run(args, strings.NewReader(""), &out, &errs)
	return status, out.String(), errs.String()
}

// mustRun returns the answer of a run that has to be good.
func mustRun(t testing.TB, args ...string) string {
	t.Helper()
	status, out, errs := run(args...)
	if status != command.Good || errs != "" {
		t.Fatalf("spectally %s: exit status %d\n%s", strings.Join(args, " "), status, errs)
	}
	return out
}

type brokenPipe struct{ writes int }

func (b *brokenPipe) Write([]byte) (int, error) {
	b.writes++
	return 0, errors.New("broken\npipe")
}

func TestAnswerThatCannotBeWritten(t *testing.T) {
	var out brokenPipe
	var errs bytes.Buffer
	status := Run([]string{"bands", "n78"}, strings.NewReader(""), &out, &errs)
	if status != command.Unwritten || errs.String() != "spectally: the answer could not be written: broken pipe\n" {
		t.Errorf("exit status %d, %q", status, errs.String())
	}
	if out.writes != 1 {
		t.Errorf("%d writes: an answer is written whole, once", out.writes)
	}
}

// The names of commands, flags and formats are a contract.
func TestGlobalFlags(t *testing.T) {
	root := (&program{}).root()
	for _, name := range []string{"format", "explain", "color", "quiet", "version", "help"} {
		if root.PersistentFlags().Lookup(name) == nil {
			t.Errorf("no flag --%s", name)
		}
	}
	for _, format := range []string{"text", "json", "csv", "markdown", "html"} {
		if out := mustRun(t, "bands", "n78", "--format", format); out == "" {
			t.Errorf("--format %s: no answer", format)
		}
	}
}

// everyCommand lists the commands below one, and those below them.
func everyCommand(cmd *cobra.Command) []*cobra.Command {
	var list []*cobra.Command
	for _, c := range cmd.Commands() {
		list = append(append(list, c), everyCommand(c)...)
	}
	return list
}

// Every command has help with examples, and every example works as it stands.
func TestHelpAndExamples(t *testing.T) {
	root := (&program{}).root()
	tried := 0
	for _, c := range append(everyCommand(root), root) {
		if c.Hidden {
			continue
		}
		if c.Short == "" || c.Long == "" || c.Example == "" {
			t.Errorf("%s: help needs a short text, a long one, and examples", c.Name())
		}
		page := mustRun(t, append(strings.Fields(c.CommandPath())[1:], "--help", "--full")...)
		for _, e := range examples(c.Example) {
			if e.Value == "" {
				t.Errorf("%s: example %q does not say what it shows", c.Name(), e.Name)
			}
			if !strings.Contains(page, e.Name) {
				t.Errorf("%s: the help page lacks %q", c.Name(), e.Name)
			}
			command, ok := strings.CutPrefix(e.Name, "spectally ")
			if !ok && e.Name != "spectally" {
				t.Errorf("%s: example %q does not begin with the program", c.Name(), e.Name)
				continue
			}
			tried++
			if c.Name() == "serve" || c.Name() == "batch" || c.Name() == "pages" {
				continue // one runs until it is interrupted, one needs the user's own rows, one writes files: they have tests of their own
			}
			if out := mustRun(t, strings.Fields(command)...); out == "" {
				t.Errorf("%s: example %q has no answer", c.Name(), e.Name)
			}
		}
	}
	if tried < 8 {
		t.Errorf("only %d examples", tried)
	}
}

// Whatever the arguments, the program does not panic, an error is one line, and
// then nothing is on standard output.
func FuzzRun(f *testing.F) {
	for _, args := range []string{
		"bands n78", "bands 3540 MHz --explain", "bands --width 80 --rat nr", "channel n78 640000 --gscn", "channel B3 1842.5 MHz --width 20",
		"bands band 3", "bands n\n78", "sources 38.101-1", "channel n46 745332 --width 60 --format json", "--format csv", "help bands", "bands --at 9MHz",
		"bands '3540", "channel n263 60GHz --width 400 --scs 120", "bands\x00", "--", "bands -- -5", "__complete bands n", "completion fish x",
		"ca B3:20 + n78:80@640000,scs=30", "ca 2xn78:80 + n28:10", "ca DC_3A-7A_n78(2A)", "ca CA_n78(9A) --explain", "ca n257:100@2079163 + n257:100@2080829 + B1:20",
		"ca n78:100@630000 + n78:100@636664 --explain", "ca n80:20", "ca 8xB3:1.4", "ca n78:80,pattern=DDDSU/10:2:2,pci=1", "ca CA_n90A", "ca 3A-7A",
		"configs CA_3A-7A", "configs CA_7A-38A CA_n78(9A)", "configs --with n90 --limit 2", "configs --with n78,3 --only --widths --limit 3", "configs --uplink 3A --at-most 2",
		"__complete configs --with n78,",
		"throughput B3:20 + n78:100 --explain", "throughput n78:100,scale=0.4,layers=8,qam=1024", "throughput n80:20 + n75:20 --goodput", "throughput DC_3A_n78(2A) --pattern 7DS2U/6:4:4",
		"throughput B41:20,pattern=0/0-ext,rsrp=-140 --sinr -23 --control-symbols 0", "throughput n257:400 --dmrs type=2,length=2,groups=3 --xoverhead 18 --no-broadcast", "throughput n78:100 --device x",
		"tbs nr --prb 273 --mcs-table 1024qam --mcs 26 --layers 8 --explain", "tbs nr --prb 1 --rate 1/2048 --qm 1 --dmrs pos=3,mapping=B --symbols 13 --start 1", "tbs nr --prb 3 --mcs 0 --scaling 10 --dmrs-re 0",
		"tbs lte --prb 110 --itbs 37A --layers 8 --explain", "tbs lte --prb 6 --mcs-table 6bit --mcs 44 --scaling 0.5 --special 9", "tbs lte --prb 1 --mcs 28 --direction ul --subframe 0", "tbs",
		"frames DDDSU", "frames 14D2S4U/12:2:0/0:6:8 --scs 480", "frames 0/0-ext", "frames fdd --scs 15", "help tbs nr", "frames U", "frames 640D",
	} {
		f.Add(args, byte(0))
	}
	f.Fuzz(func(t *testing.T, line string, format byte) {
		args := strings.Split(line, " ")
		if format > 0 {
			args = append(args, "--format", []string{"text", "json", "csv", "markdown"}[format%4])
		}
		status, out, errs := run(args...)
		switch status {
		case command.Good, command.Refuted:
			if out == "" && !strings.HasPrefix(line, "__complete") {
				t.Errorf("%q: status %d and no answer", args, status)
			}
		case command.Unusable:
			if out != "" || strings.Count(errs, "\n") != 1 || !strings.HasSuffix(errs, "\n") || !strings.HasPrefix(errs, "spectally") {
				t.Errorf("%q: standard output %q, standard error %q", args, out, errs)
			}
		default:
			t.Errorf("%q: exit status %d", args, status)
		}
	})
}
