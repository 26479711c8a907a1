package bands_test

import (
	"strings"
	"testing"

	"spectally/bands"
)

func ids(list []*bands.Band) string {
	var words []string
	for _, b := range list {
		words = append(words, b.ID.String())
	}
	return strings.Join(words, " ")
}

// Names of the trade: common practice, no source.
func TestByName(t *testing.T) {
	for name, want := range map[string]string{
		"AWS":                 "B4 B10 B66 B70 n66 n70",
		"CBRS":                "B48 B49 n48",
		"C-band":              "B22 B42 B43 B52 n77 n78 n79",
		"digital dividend":    "B20 B28 n20 n28",
		"PCS":                 "B2 B25 n2 n25",
		"AWS-3":               "B66 n66",
		"3.5 GHz band":        "B42 B43 n77 n78",
		"extended L-band SDL": "B76 n76",
	} {
		for _, spelling := range []string{
			name, strings.ToUpper(name), strings.ToLower(name), " " + name + " ",
			strings.ReplaceAll(name, "-", " "), strings.ReplaceAll(name, " ", ""), strings.ReplaceAll(name, " ", "_"), strings.ReplaceAll(name, "-", "\u2011"), strings.ReplaceAll(name, ".", ","),
		} {
			found, err := bands.ByName(spelling)
			if err != nil || ids(found) != want {
				t.Errorf("ByName(%q) = %s, %v; want %s", spelling, ids(found), err, want)
			}
		}
	}
}

func TestByNameErrors(t *testing.T) {
	const allowed = `: must be a band (n78, B3), a frequency with its unit, or a name of the trade`
	for name, nearest := range map[string]string{
		"digital devidend": "digital dividend",
		"CBR":              "CBRS",
		"xCS":              "PCS", // of three as near the first
		"mmwaves":          "mmWave",
		"Ku-band":          "Ku-band satellite",
		"":                 "",
		"--":               "",
		"zzzzzz":           "",
	} {
		want := `band name "` + name + `"` + allowed
		if nearest != "" {
			want += "; closest is " + nearest
		}
		found, err := bands.ByName(name)
		wantError(t, err, want)
		if found != nil {
			t.Errorf("ByName(%q) = %s besides the error", name, ids(found))
		}
	}
}

// Every name finds the bands that bear it, and no other; every name says where it is
// known from.
func TestNamesBothWays(t *testing.T) {
	bearers := make(map[string][]string)
	for _, b := range bands.All(0) {
		seen := make(map[string]bool)
		for _, n := range b.Names() {
			if n.Text == "" || n.Origin != "common practice, no source" {
				t.Errorf("%s: name %q, known from %q", b.ID, n.Text, n.Origin)
			}
			if seen[n.Text] {
				t.Errorf("%s bears %q twice", b.ID, n.Text)
			}
			seen[n.Text] = true
			bearers[n.Text] = append(bearers[n.Text], b.ID.String())
		}
	}
	if len(bearers) < 90 {
		t.Errorf("only %d names", len(bearers))
	}
	for name, want := range bearers {
		found, err := bands.ByName(name)
		if err != nil || ids(found) != strings.Join(want, " ") {
			t.Errorf("ByName(%q) = %s, %v; want %s", name, ids(found), err, strings.Join(want, " "))
		}
		if _, err := bands.ParseID(name); err == nil && !strings.HasPrefix(name, "4") {
			t.Errorf("%q is a name and reads as a band", name)
		}
	}
}

func TestEditDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"abc", "abc", 0}, {"abc", "abd", 1}, {"abc", "abcd", 1}, {"abcd", "bcd", 1},
		{"kitten", "sitting", 3}, {"ab", "ba", 2}, {"pcs", "dcs", 1},
	} {
		if got := bands.EditDistance(c.a, c.b); got != c.want {
			t.Errorf("EditDistance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
		if got := bands.EditDistance(c.b, c.a); got != c.want {
			t.Errorf("EditDistance(%q, %q) = %d, want %d", c.b, c.a, got, c.want)
		}
	}
}

func FuzzByName(f *testing.F) {
	for _, s := range []string{"AWS", "c-band", "digital devidend", "", "3.5 GHz", "\u2011", "aws-1+", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		found, err := bands.ByName(s)
		if (err == nil) != (len(found) > 0) {
			t.Fatalf("ByName(%q) = %s, %v", s, ids(found), err)
		}
		upper, errUpper := bands.ByName(strings.ToUpper(s) + " ")
		folds := isASCII(s) // capitals of other letters may be other names
		if folds && (ids(upper) != ids(found) || (errUpper == nil) != (err == nil)) {
			t.Fatalf("%q finds %s, in capitals %s", s, ids(found), ids(upper))
		}
		for _, b := range found {
			if _, err := bands.Lookup(b.ID); err != nil {
				t.Fatalf("ByName(%q): %v", s, err)
			}
		}
	})
}

func isASCII(s string) bool {
	for _, r := range s {
		if r > 127 {
			return false
		}
	}
	return true
}
