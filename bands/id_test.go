package bands_test

import (
	"slices"
	"testing"

	"spectally/bands"
)

const bandError = `: must be n and a number for NR (n78), B and a number or a number alone for LTE (B3, 3)`

func TestParseID(t *testing.T) {
	for _, c := range []struct {
		text       string
		id         bands.ID
		long, name string
	}{
		{"n78", bands.ID{RAT: bands.NR, Number: 78}, "n78", "n78"},
		{"N78", bands.ID{RAT: bands.NR, Number: 78}, "n78", "n78"},
		{"B3", bands.ID{RAT: bands.LTE, Number: 3}, "B3", "3"},
		{"b3", bands.ID{RAT: bands.LTE, Number: 3}, "B3", "3"},
		{"3", bands.ID{RAT: bands.LTE, Number: 3}, "B3", "3"},
		{"113", bands.ID{RAT: bands.LTE, Number: 113}, "B113", "113"},
		{"n1024", bands.ID{RAT: bands.NR, Number: 1024}, "n1024", "n1024"},
	} {
		id, err := bands.ParseID(c.text)
		if err != nil || id != c.id || id.String() != c.long || id.InName() != c.name {
			t.Errorf("ParseID(%q) = %v, written %s and %s, %v; want %v, %s, %s", c.text, id, id.String(), id.InName(), err, c.id, c.long, c.name)
		}
	}
}

func TestParseIDRefuses(t *testing.T) {
	for _, s := range []string{
		"", "n", "B", "n0", "B0", "0", "03", "n078", "n+8", "+3", "-3", "n-8", "3.0", "n78a", "x3", "nB3", "BB3", "n 78", " n78", "n78 ",
		"n1025", "1025", "65536", "70000", "99999999999999999999", "n1_0", "٣", "band 3",
	} {
		id, err := bands.ParseID(s)
		if err == nil || id != (bands.ID{}) {
			t.Errorf("ParseID(%q) = %v, %v", s, id, err)
		}
	}
	_, err := bands.ParseID("x3")
	wantError(t, err, `band "x3"`+bandError)
}

func TestIDZero(t *testing.T) {
	var none bands.ID
	if none.String() != "no band" || none.RAT.String() != "none" {
		t.Errorf("the zero ID is %q of %q", none, none.RAT)
	}
	if bands.LTE.String() != "LTE" || bands.NR.String() != "NR" {
		t.Errorf("technologies are written %s and %s", bands.LTE, bands.NR)
	}
}

func TestIDCompare(t *testing.T) {
	var list []bands.ID
	for _, s := range []string{"n257", "B66", "n1", "B3", "n78", "B1"} {
		list = append(list, mustLookup(t, s).ID)
	}
	slices.SortFunc(list, bands.ID.Compare)
	var got []string
	for _, id := range list {
		got = append(got, id.String())
	}
	if want := []string{"B1", "B3", "B66", "n1", "n78", "n257"}; !slices.Equal(got, want) {
		t.Errorf("order %v, want %v", got, want)
	}
	if list[0].Compare(list[0]) != 0 {
		t.Error("an ID differs from itself")
	}
}

func FuzzParseID(f *testing.F) {
	for _, s := range []string{"n78", "B3", "3", "n", "", "n0", "N257", "b113", "n1025", "+3", "n78a", "03"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		id, err := bands.ParseID(s)
		if err != nil {
			if id != (bands.ID{}) {
				t.Fatalf("%q: %v, and %v", s, err, id)
			}
			return
		}
		for _, text := range []string{id.String(), id.InName()} {
			if back, err := bands.ParseID(text); err != nil || back != id {
				t.Fatalf("%q is %v, written %q, read back as %v, %v", s, id, text, back, err)
			}
		}
		if b, err := bands.Lookup(id); err == nil && b.ID != id {
			t.Fatalf("%v is found as %v", id, b.ID)
		}
	})
}
