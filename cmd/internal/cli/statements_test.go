package cli

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/command"
)

// statement is a line of the corpus of statements.
type statement struct {
	line                      int
	who                       string
	args                      []string
	verdict, reading, because string
}

func readStatements(tb testing.TB) []statement {
	tb.Helper()
	data, err := os.ReadFile("../../../testdata/claims/statements.txt")
	if err != nil {
		tb.Fatal(err)
	}
	var list []statement
	for n, line := range strings.Split(string(data), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		f := strings.Split(line, " | ")
		if len(f) != 5 {
			tb.Fatalf("line %d has %d fields", n+1, len(f))
		}
		list = append(list, statement{n + 1, f[0], splitQuoted(f[1]), f[2], f[3], f[4]})
	}
	return list
}

// verdictOf asks for the verdict on a statement.
func verdictOf(tb testing.TB, args []string) (j judged, status int, message string) {
	tb.Helper()
	var out, errs bytes.Buffer
	status = Run(append([]string{"claim", "--format", "json"}, args...), nil, &out, &errs)
	if status == command.Unusable {
		return j, status, errs.String()
	}
	if err := json.Unmarshal(out.Bytes(), &j); err != nil {
		tb.Fatalf("%q: %v, %s", args, err, errs.String())
	}
	return j, status, ""
}

type judged struct {
	Verdict, Reading, Summary, Quote, Kind string
	Needs                                  []string
}

// TestStatements holds the verdicts on statements to those worked out by hand.
func TestStatements(t *testing.T) {
	list, who := readStatements(t), map[string]int{}
	t.Chdir("../../..") // the files of statements are named from there
	for _, s := range list {
		who[s.who]++
		j, status, message := verdictOf(t, s.args)
		if j.Reading == "" {
			j.Reading = "-"
		}
		if j.Verdict != s.verdict || j.Reading != s.reading {
			t.Errorf("line %d: %q\n\t%s as %s: %s%s\n\twant %s as %s: %s", s.line, s.args, j.Verdict, j.Reading, j.Summary, message, s.verdict, s.reading, s.because)
		}
		if (status == command.Refuted) != (j.Verdict == "fails") {
			t.Errorf("line %d: %s with status %d", s.line, j.Verdict, status)
		}
		site := j.Kind == "same-site" || j.Kind == "several" // the parts have their own
		switch {
		case j.Quote == "" && j.Kind != "several":
			t.Errorf("line %d: nothing to quote", s.line)
		case j.Verdict == "undecided" && len(j.Needs) == 0 && !site:
			t.Errorf("line %d: undecided, and nothing is said of what it needs", s.line)
		}
	}
	if len(list) < 150 || len(who) != 3 {
		t.Errorf("%d statements of %v", len(list), who)
	}
}

// TestLeftOpen: no verdict that a statement holds or fails changes when what it leaves
// open takes any value that the standard admits. Measurements bound what can have been
// open, and a comparison of rates takes the same carriers of both sides alike, so
// statements with either are left out.
func TestLeftOpen(t *testing.T) {
	draw := rand.New(rand.NewPCG(38, 306))
	tried := 0
	for _, s := range readStatements(t) {
		if s.verdict == "undecided" || strings.HasPrefix(s.args[0], "--") || strings.Contains(strings.Join(s.args, " "), "--runs") || slices.Contains(s.args, "--by") {
			continue
		}
		list, err := ca.Parse(s.args[0])
		if err != nil {
			continue // a name, whose widths are the table's
		}
		for range 12 {
			filled := slices.Clone(list)
			for i := range filled {
				fill(draw, &filled[i])
			}
			if slices.ContainsFunc(ca.CheckRules(filled), func(f ca.Finding) bool { return f.Severity == ca.Error }) &&
				!slices.ContainsFunc(ca.CheckRules(list), func(f ca.Finding) bool { return f.Severity == ca.Error }) {
				continue // not admissible
			}
			j, status, message := verdictOf(t, append([]string{filled.String()}, s.args[1:]...))
			if status == command.Unusable || strings.Contains(j.Summary, "is not known") {
				if s.verdict != "" && strings.Contains(message, "internal") {
					t.Error(message)
				}
				continue
			}
			tried++
			if j.Verdict != s.verdict {
				t.Errorf("line %d: %s %s; with %s %s: %s", s.line, s.args, s.verdict, filled, j.Verdict, j.Summary)
			}
		}
	}
	if tried < 800 {
		t.Errorf("only %d statements were filled in", tried)
	}
}

// fill gives some of what a carrier leaves open a value.
func fill(draw *rand.Rand, c *ca.Carrier) {
	pick := func(list ...int) int { return list[draw.IntN(len(list))] }
	if c.Layers == 0 {
		c.Layers = uint8(pick(0, 1, 2, 4, 8))
	}
	if c.UplinkLayers == 0 {
		c.UplinkLayers = uint8(pick(0, 1, 2, 4))
	}
	if c.QAM == 0 {
		c.QAM = uint16(pick(0, 4, 16, 64, 256, 1024))
	}
	if c.UplinkQAM == 0 {
		c.UplinkQAM = uint16(pick(0, 4, 16, 64, 256))
	}
	b, err := bands.Lookup(c.Band)
	if err != nil {
		return
	}
	if c.SCS == 0 && c.Band.RAT == bands.NR {
		if list := b.Spacings(max(c.Downlink, c.Uplink)); len(list) > 0 && draw.IntN(2) == 0 {
			c.SCS = list[draw.IntN(len(list))]
		}
	}
	if c.Pattern == "" && b.Duplex == bands.TDD && draw.IntN(2) == 0 {
		if c.Band.RAT == bands.LTE {
			c.Pattern = strconv.Itoa(draw.IntN(7))
		} else {
			c.Pattern = []string{"DDDSU/10:2:2", "DSUUU/2:2:10", "9DU", "D9U", "7DS2U/6:4:4"}[draw.IntN(5)]
		}
	}
	if c.Transmit == ca.Open && c.Uplink != 0 && draw.IntN(3) == 0 {
		c.Transmit = ca.Yes
	}
}

// TestMoreIsNoLess: of statements that a rate is reached at least, none that holds fails
// with more layers, a larger constellation or more bandwidth.
func TestMoreIsNoLess(t *testing.T) {
	tried := 0
	for _, s := range readStatements(t) {
		list, err := ca.Parse(s.args[0])
		if err != nil || s.verdict != "holds" || !strings.HasPrefix(s.reading, "the most a network") || slices.Contains(s.args, "--less-than") {
			continue
		}
		for i := range list {
			for _, more := range []func(*ca.Carrier) bool{
				func(c *ca.Carrier) bool { c.Layers *= 2; return c.Layers > 0 && c.Layers <= 8 },
				func(c *ca.Carrier) bool { c.QAM *= 4; return c.QAM > 0 && c.QAM <= 1024 },
				func(c *ca.Carrier) bool { c.UplinkLayers *= 2; return c.UplinkLayers > 0 && c.UplinkLayers <= 4 },
				func(c *ca.Carrier) bool { c.UplinkQAM *= 4; return c.UplinkQAM > 0 && c.UplinkQAM <= 256 },
				func(c *ca.Carrier) bool { c.Layers, c.QAM, c.UplinkQAM = 0, 0, 0; return true },
			} {
				raised := slices.Clone(list)
				if !more(&raised[i]) {
					continue
				}
				tried++
				if j, _, message := verdictOf(t, append([]string{raised.String()}, s.args[1:]...)); j.Verdict != "holds" && j.Verdict != "undecided" {
					t.Errorf("line %d holds; %s %s: %s%s", s.line, raised, j.Verdict, j.Summary, message)
				}
			}
		}
	}
	if tried < 30 {
		t.Errorf("only %d were raised", tried)
	}
}

// splitQuoted cuts arguments at blanks outside double quotes.
func splitQuoted(s string) []string {
	var args []string
	for i, part := range strings.Split(s, `"`) {
		if i%2 == 1 {
			args = append(args, part)
			continue
		}
		args = append(args, strings.Fields(part)...)
	}
	return args
}
