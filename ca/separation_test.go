package ca_test

import (
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

// TestSeparationClasses holds the classes against TS 38.101-2 V19.4.0 Tables 5.3A.4-2 and
// 5.3A.4-3 and TS 38.101-1 V19.5.0 Table 5.3A.5-2, typed from the tables.
func TestSeparationClasses(t *testing.T) {
	write := func(list []ca.SeparationClass) string {
		var words []string
		for _, c := range list {
			words = append(words, c.Name+" "+c.Max.MHz())
		}
		return strings.Join(words, ", ")
	}
	of := func(id string) *bands.Band {
		b, err := bands.Lookup(mustID(t, id))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	const both = "X 400, XI 600, I 800, IV 1000, II 1200, III 1400"
	for _, c := range []struct {
		band     string
		down, up string
		extra    string
	}{
		{"n258", both + ", V 1600, VI 1800, VII 2000, VIII 2200, IX 2400", both, "I 200, II 400, III 600, IV 800, V 1000, VI 1200"},
		{"n77", "", "I 100, II 200, III 600", ""},
		{"B42", "", "", ""},
	} {
		b := of(c.band)
		if got := write(ca.SeparationClasses(b, bands.Downlink)); got != c.down {
			t.Errorf("%s down: %s", c.band, got)
		}
		if got := write(ca.SeparationClasses(b, bands.Uplink)); got != c.up {
			t.Errorf("%s up: %s", c.band, got)
		}
		if got := write(ca.DownlinkOnlyClasses(b)); got != c.extra {
			t.Errorf("%s downlink-only: %s", c.band, got)
		}
	}
}

// TestSeparationEdges: the widest class admits carriers that reach over all of it, and none
// that reach further; contiguous carriers need no class.
func TestSeparationEdges(t *testing.T) {
	for text, want := range map[string]ca.Severity{
		"n257:100@26550MHz + n257:100@28850.04MHz": ca.Error, // 2400.04 MHz
		"n257:100@26550MHz + n257:100@28849.92MHz": ca.Note,  // 2399.92 MHz
		"n257:100@26550MHz + n257:100@26649.96MHz": 0,
	} {
		c, err := ca.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		var got ca.Severity
		for _, f := range ca.CheckRules(c) {
			if f.Rule == ca.RuleSeparation {
				got = f.Severity
			}
		}
		if got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

func mustID(t *testing.T, text string) bands.ID {
	t.Helper()
	id, err := bands.ParseID(text)
	if err != nil {
		t.Fatal(err)
	}
	return id
}
