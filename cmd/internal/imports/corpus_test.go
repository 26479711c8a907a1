package imports

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/golden"
)

// entry is a text of the corpus, with the options behind its name.
type entry struct{ name, options, text string }

func corpus(t testing.TB) []entry {
	t.Helper()
	data, err := os.ReadFile("testdata/corpus.txt")
	if err != nil {
		t.Fatal(err)
	}
	var list []entry
	for line := range strings.Lines(string(data)) {
		if head, ok := strings.CutPrefix(line, "-- "); ok && strings.HasSuffix(head, " --\n") {
			name, options, _ := strings.Cut(strings.TrimSuffix(head, " --\n"), " ")
			list = append(list, entry{name: name, options: options})
		} else if len(list) > 0 {
			list[len(list)-1].text += line
		}
	}
	if len(list) < 49 {
		t.Fatalf("%d texts, want 49 at least", len(list))
	}
	return list
}

func options(t testing.TB, text string) (o Options) {
	t.Helper()
	switch value, ok := strings.CutPrefix(text, "map="); {
	case text == "loaded=down":
		o.Loaded = bands.Downlink
	case ok:
		for pair := range strings.SplitSeq(value, ",") {
			c, err := ParseMap(pair)
			if err != nil {
				t.Fatal(err)
			}
			o.Map = append(o.Map, c)
		}
	case text != "":
		t.Fatal(text)
	}
	return o
}

// summary writes what an import says, on lines.
func summary(m *Import, err error) string {
	if err != nil {
		return "error " + err.Error() + "\n"
	}
	var s strings.Builder
	fmt.Fprintf(&s, "%s\n", m.Format)
	for i := range m.Networks {
		n := &m.Networks[i]
		fmt.Fprintf(&s, "network %s\n", n.Combination())
		for _, c := range n.Carriers {
			if c.Number != NoNumber {
				fmt.Fprintf(&s, "  number of %s: %s\n", c.Band, c.Number)
			}
		}
		for _, c := range n.Neighbours {
			fmt.Fprintf(&s, "  neighbour %s %d PCI %d %s dBm\n", c.Band, c.Channel, c.PCI, c.RSRP)
		}
		for _, l := range n.Levels {
			fmt.Fprintf(&s, "  %s RSRP %s SINR %s\n", l.RAT, l.RSRP, l.SINR)
		}
		for i := range n.Runs {
			fmt.Fprintf(&s, "  %q\n", n.Runs[i].text())
		}
	}
	for _, line := range strings.Split(m.RunsText(), "\n\n") {
		if line != "" {
			fmt.Fprintf(&s, "%q\n", line)
		}
	}
	for _, n := range m.Notes {
		fmt.Fprintf(&s, "note %s: %s\n", n.About, n.Text)
	}
	return s.String()
}

// TestCorpus reads the corpus. What it is read as was gone through by hand against the
// lists of fields in doc comments and the standards' channel numbers.
func TestCorpus(t *testing.T) {
	var s strings.Builder
	for _, e := range corpus(t) {
		s.WriteString("-- " + e.name + " --\n")
		s.WriteString(summary(Read([]byte(e.text), options(t, e.options))))
	}
	golden.Check(t, "corpus.want", []byte(s.String()))
}

// identities stand in the corpus and must be in nothing that is kept.
var identities = []string{"123456789", "4711", "Harbourline", "00199", "001991234567890", "001234560000001", "192.0.2", "abcdefgh", "files.example", "Modem/0"}

func TestNoIdentities(t *testing.T) {
	seen := 0
	for _, e := range corpus(t) {
		m, err := Read([]byte(e.text), options(t, e.options))
		kept := summary(m, err) + fmt.Sprintf("%+v", m)
		if err == nil {
			text, _ := m.Into("", []byte("title = \"x\"\n"), "")
			kept += string(text)
		}
		for _, id := range identities {
			if strings.Contains(e.text, id) {
				seen++
			}
			if strings.Contains(kept, id) {
				t.Errorf("%s keeps %s", e.name, id)
			}
		}
	}
	if seen < 20 {
		t.Errorf("the corpus has %d identities, want 20 at least", seen)
	}
}

// What is cut short anywhere is read or refused in one line, and never gives a carrier that
// the whole does not have.
func TestCutShort(t *testing.T) {
	for _, e := range corpus(t) {
		whole, err := Read([]byte(e.text), options(t, e.options))
		if err != nil || whole.Format != Telephony {
			continue
		}
		var have []ca.Carrier
		for i := range whole.Networks {
			for _, c := range whole.Networks[i].Combination() {
				have = append(have, withoutLevels(c))
			}
		}
		for n := range len(e.text) {
			m, err := Read([]byte(e.text[:n]), Options{})
			if err != nil {
				if strings.Contains(err.Error(), "\n") {
					t.Errorf("%s cut at %d: %q", e.name, n, err)
				}
				continue
			}
			for i := range m.Networks {
				for _, c := range m.Networks[i].Combination() {
					if !slices.Contains(have, withoutLevels(c)) && strings.HasPrefix(e.name, "telephony-present") {
						t.Fatalf("%s cut at %d has %s", e.name, n, c)
					}
				}
			}
		}
	}
}

// withoutLevels leaves out what a cut changes: levels and the role among several carriers.
func withoutLevels(c ca.Carrier) ca.Carrier {
	c.RSRP, c.SINR, c.Role, c.Transmit = ca.Level{}, ca.Level{}, 0, ca.Open
	return c
}
