package nr

import "testing"

func TestSlotSet(t *testing.T) {
	for _, c := range []struct{ in, out string }{
		{"", ""}, {"0", "0"}, {"3-4 0 8-9", "0 3-4 8-9"}, {"5-9 0-4", "0-9"}, {"1 1 1-2", "1-2"}, {"1 3", "1 3"}, {"0-655359", "0-655359"},
	} {
		s, err := ParseSlotSet(c.in)
		if err != nil || s.String() != c.out {
			t.Errorf("%q is %q, %v; want %q", c.in, s, err, c.out)
		}
		n := 0
		cursor := slotCursor(s)
		for slot := range 700 {
			in := s.Contains(slot)
			n += oneIf(in)
			if got, end := cursor.at(slot); got != in || end <= slot || s.Contains(end-1) != in {
				t.Errorf("%q: slot %d: %v up to %d", c.in, slot, got, end)
			}
		}
		if c.in != "0-655359" && n != s.Len() {
			t.Errorf("%q: %d slots, Len %d", c.in, n, s.Len())
		}
	}
	for _, s := range []string{"x", "-1", "3-1", "1-", "655360", "1,2", "1--2"} {
		if set, err := ParseSlotSet(s); err == nil {
			t.Errorf("%q is %q", s, set)
		}
	}
	a, b := Slots(0, 3), Slots(2, 5)
	if u := a.Union(b); !u.Equal(Slots(0, 5)) || !a.Equal(Slots(0, 3)) || Slots(3, 2).Len() != 0 {
		t.Errorf("union %s, %s left", u, a)
	}
}

func FuzzParseNRSlotSet(f *testing.F) {
	for _, s := range []string{"0", "0 3-4 8-9", "5-9 0-4", "", "x-y", "3-1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseSlotSet(text)
		if err != nil {
			return
		}
		if again, err := ParseSlotSet(s.String()); err != nil || !again.Equal(s) {
			t.Fatalf("%q is written %q and read as %q, %v", text, s, again, err)
		}
	})
}
