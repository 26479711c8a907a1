package cli

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
)

// Every command has an answer for two carriers, or for its demo, that fits a screen of 24
// lines of 80 columns.
func TestAnswersFitAScreen(t *testing.T) {
	t.Setenv("COLUMNS", "80")
	const screen, columns = 24, 80
	for _, line := range []string{
		"ca|B3:20 + n78:80",
		"ca|n78:80@640000 + n78:80@645332",
		"throughput|B3:20 + n78:80",
		"throughput|B3:20,sinr=16 + n78:80,sinr=12",
		"interference|B3:20 + n78:80",
		"claim|--carriers|B3:20 + n78:80|--total-mhz|100",
		"claim|B3:20 + n78:80|--rate|2000",
		"configs|--with|3,n78",
		"configs|--with|n78,3|--at-least|3",
		"configs|DC_3A_n78A",
		"holdings|1805-1825/1710-1730, 3410-3500",
		"holdings|--demo",
		"field|--demo",
		"site|--demo",
		"walk|--demo",
		"frames|7DS2U/6:4:4|--scs|30",
		"tbs|nr|--prb|273|--layers|4|--symbols|12|--dmrs-re|12|--mcs-table|256qam|--mcs|27",
		"tbs|lte|--prb|100|--mcs|28",
		"bands|n78",
		"bands|3540MHz",
		"bands|C-band",
		"channel|n78|640000|--width|80",
		"channel|1300",
		"channel|n78|640032|--ssb|--width|80",
	} {
		args := strings.Split(line, "|")
		var out, errors bytes.Buffer
		if status := Run(args, strings.NewReader(""), &out, &errors); status > 1 {
			t.Errorf("%q: status %d: %s", args, status, errors.String())
			continue
		}
		lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
		if len(lines) < 3 || len(lines) > screen {
			t.Errorf("%q: %d lines:\n%s", args, len(lines), out.String())
		}
		for _, l := range lines {
			if utf8.RuneCountInString(l) > columns {
				t.Errorf("%q: wider than %d columns: %q", args, columns, l)
			}
		}
		full := bytes.Buffer{}
		if status := Run(append(args, "--full"), strings.NewReader(""), &full, &errors); status > 1 || strings.Count(full.String(), "\n") < len(lines)-1 {
			t.Errorf("%q: --full has less:\n%s", args, full.String())
		}
	}
}

// The help of every command has at most 40 lines of 80 columns, and all of it with --full.
func TestHelpFits(t *testing.T) {
	t.Setenv("COLUMNS", "80")
	n := 0
	var each func(*cobra.Command)
	each = func(c *cobra.Command) {
		for _, below := range c.Commands() {
			each(below)
		}
		n++
		args := append(strings.Fields(c.CommandPath())[1:], "--help")
		var out, full bytes.Buffer
		Run(args, nil, &out, &out)
		Run(append(args, "--full"), nil, &full, &full)
		if lines := strings.Count(out.String(), "\n"); lines > mostHelp || lines < 10 {
			t.Errorf("%q: %d lines:\n%s", args, lines, out.String())
		}
		if !strings.Contains(full.String(), "show all of an answer") || full.Len() < out.Len() {
			t.Errorf("%q --full:\n%s", args, full.String())
		}
	}
	each((&program{stdout: &bytes.Buffer{}}).root())
	if n < 20 {
		t.Errorf("%d commands", n)
	}
}
