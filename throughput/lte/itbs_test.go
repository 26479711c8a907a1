package lte

import (
	"errors"
	"strings"
	"testing"

	"spectally/bands"
)

// The lettered indices are those of TS 36.213 V19.3.0 Table 7.1.7.2.1-1, which
// has 44 rows.
func TestITBSNames(t *testing.T) {
	all := ITBSValues()
	if len(all) != 44 {
		t.Fatalf("%d indices, Table 7.1.7.2.1-1 has 44", len(all))
	}
	plain, letters := 0, ""
	for k, i := range all {
		for _, s := range []string{i.String(), strings.ToLower(i.String())} {
			if got, err := ParseITBS(s); err != nil || got != i {
				t.Errorf("ParseITBS(%q) = %v, %v", s, got, err)
			}
		}
		if k > 0 && i <= all[k-1] {
			t.Errorf("%s does not follow %s", i, all[k-1])
		}
		if strings.ContainsAny(i.String(), "AB") {
			letters += " " + i.String()
		} else if plain++; i.String() != decimal(plain-1) {
			t.Errorf("index %d is written %s", plain-1, i)
		}
	}
	if plain != 38 || letters != " 26A 32A 33A 33B 34A 37A" {
		t.Errorf("%d plain indices and%s", plain, letters)
	}
	if s := ITBS(0).String(); s != "none" {
		t.Errorf("the zero ITBS is written %q", s)
	}
}

func decimal(n int) string { // without strconv, for the test's own path
	if n >= 10 {
		return decimal(n/10) + string(rune('0'+n%10))
	}
	return string(rune('0' + n))
}

func TestParseITBSErrors(t *testing.T) {
	for in, nearest := range map[string]string{
		"": "", "none": "", "38": "", "-1": "", "026": "", "26 ": "", "26B": "26", "33c": "33", "A": "", "１": "", "5.0": "",
	} {
		_, err := ParseITBS(in)
		var v *bands.ValueError
		if !errors.As(err, &v) {
			t.Errorf("ParseITBS(%q): error %v", in, err)
			continue
		}
		if v.Got != in || v.Nearest != nearest || v.Source.Table != "7.1.7.2.1-1" {
			t.Errorf("ParseITBS(%q): %+v", in, *v)
		}
	}
}

func FuzzParseITBS(f *testing.F) {
	for _, s := range []string{"0", "26", "26A", "33b", "37A", "38", "26B", "", "none", "٣"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		i, err := ParseITBS(s)
		if err != nil {
			if i != 0 || strings.Contains(err.Error(), "\n") && !strings.Contains(s, "\n") {
				t.Fatalf("ParseITBS(%q) = %v, %q", s, i, err)
			}
			return
		}
		if back, err := ParseITBS(i.String()); err != nil || back != i || !strings.EqualFold(i.String(), s) {
			t.Fatalf("%q is %s, read back as %s, %v", s, i, back, err)
		}
	})
}
