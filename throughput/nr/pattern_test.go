package nr

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
)

func mustPattern(t testing.TB, s string) TDDPattern {
	t.Helper()
	p, err := ParseTDDPattern(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestTDDPatternText checks how patterns are read and written, and their slots as
// downlink, guard and uplink symbols.
func TestTDDPatternText(t *testing.T) {
	const d, u = "14:0:0 ", "0:0:14 "
	for _, c := range []struct{ in, out, slots string }{
		{"DDDSU/10:2:2", "DDDSU/10:2:2", d + d + d + "10:2:2 " + u},
		{"dddsu/10:2:2", "DDDSU/10:2:2", d + d + d + "10:2:2 " + u},
		{"3D1S1U/10:2:2", "DDDSU/10:2:2", d + d + d + "10:2:2 " + u},
		{"DDDSU", "DDDSU", d + d + d + "10:2:2 " + u},
		{"7DS2U/6:4:4", "7DS2U/6:4:4", d + d + d + d + d + d + d + "6:4:4 " + u + u},
		{"DDDDDDDSUU/6:4:4", "7DS2U/6:4:4", d + d + d + d + d + d + d + "6:4:4 " + u + u},
		{"DDDSUDDSUU/10:2:2", "DDDSU/10:2:2-DDSUU/10:2:2", d + d + d + "10:2:2 " + u + d + d + "10:2:2 " + u + u},
		{"DDDSUDDSUU", "DDDSU-DDSUU", d + d + d + "10:2:2 " + u + d + d + "10:2:2 " + u + u},
		{"DDDSU/10:2:2-DDSUU/10:2:2", "DDDSU/10:2:2-DDSUU/10:2:2", d + d + d + "10:2:2 " + u + d + d + "10:2:2 " + u + u},
		{"DS/10:2:2-SU/12:2:0", "DS/10:2:2-SU/12:2:0", d + "10:2:2 12:2:0 " + u},
		{"DDSSU/12:8:8", "DDSSU/12:8:8", d + d + "12:2:0 0:6:8 " + u},
		{"DDSSU/12:2:0/0:6:8", "DDSSU/12:8:8", d + d + "12:2:0 0:6:8 " + u},
		{"DDSU/11:3:0", "DDSU/11:3:0", d + d + "11:3:0 " + u},
		{"DSUUD/6:2:6", "DSUU/6:2:6-D", d + "6:2:6 " + u + u + d},
		{"DSUDSUDSU/10:2:2", "DSU/10:2:2", d + "10:2:2 " + u},
		{"DSUDDUDSUDDU/10:2:2", "DSU/10:2:2-DDU", d + "10:2:2 " + u + d + d + u},
		{"2D4S2U/0:56:0", "2D4S2U/0:56:0", d + d + "0:14:0 0:14:0 0:14:0 0:14:0 " + u + u},
		{"DU", "DU", d + u},
		{"SU/13:1:0", "SU/13:1:0", "13:1:0 " + u},
	} {
		p, err := ParseTDDPattern(c.in)
		if err != nil {
			t.Errorf("%s: %v", c.in, err)
			continue
		}
		var slots strings.Builder
		for _, s := range p.Expand(p.Slots()) {
			fmt.Fprintf(&slots, "%d:%d:%d ", s.DL, s.Guard, s.UL)
		}
		if p.String() != c.out || slots.String() != c.slots {
			t.Errorf("%s is %s with the slots %s; want %s with %s", c.in, p, slots.String(), c.out, c.slots)
		}
		if q, err := ParseTDDPattern(p.String()); q != p || err != nil {
			t.Errorf("%s is written %s and read as %s, %v", c.in, p, q, err)
		}
		if p.SpecialAssumed() != (strings.Contains(c.out, "S") && !strings.Contains(c.out, ":")) {
			t.Errorf("%s: special slot assumed: %v", c.in, p.SpecialAssumed())
		}
	}
}

func TestTDDPatternBadText(t *testing.T) {
	for _, c := range []struct{ in, says string }{
		{"", "slots such as"},
		{"DDXSU", "slots such as"},
		{"DDDſU", "slots such as"},
		{"3", "slots such as"},
		{"D0S", "slots such as"},
		{"DDDSU/10:2", "slots such as"},
		{"DDDSU/", "slots such as"},
		{"DDDSU/10:2:2-", "slots such as"},
		{"DDDSU/a:2:2", "slots such as"},
		{"DDDSU/10:2:3", "add up to 14, not 15"},
		{"DDSSU/10:2:2", "add up to 28, not 14"},
		{"DDSSU/14:0:0/0:6:8", "at most 13"},
		{"DDSU/14:0:0", "at most 13"},
		{"DDSSU/0:14:0/2:4:8", "in the first special slot alone"},
		{"DDSSSU/12:2:0/0:6:8", "one for each of the 3"},
		{"DDU/10:2:2", "no symbols after /"},
		{"DSUDDSU/10:2:2/10:2:2", "for each of the 1"},
		{"DSSUDSSUU/12:2:0/0:6:8", "with - between them"},
		{"DSU-DDSU-DDDSU", "at most two different patterns"},
		{"999D", "at most 640 slots"},
		{"640D1S", "at most 640 slots"},
		{"99999999999999999999D", "at most 640 slots"},
		{strings.Repeat("D", 65), "at most 64 characters"},
	} {
		_, err := ParseTDDPattern(c.in)
		var e *bands.ValueError
		if !errors.As(err, &e) || e.Got != c.in || !strings.Contains(e.Allowed, c.says) {
			t.Errorf("%q: %v, want %q", c.in, err, c.says)
		}
	}
}

// TestTDDPatternPeriods checks periods against TS 38.213 V19.3.0 clause 11.1: which
// period goes with which reference spacing, and that the pattern divides 20 ms.
func TestTDDPatternPeriods(t *testing.T) {
	const bad = "error"
	for _, c := range []struct {
		pattern string
		scs     int
		want    string
	}{
		{"DDDSU", 15, "5 none"}, {"DDDSU", 30, "5/2 none"}, {"DDDSU", 60, "5/4 none"}, {"DDDSU", 120, "5/8 none"},
		{"DDDSU", 480, bad}, {"DDDSU", 960, bad}, // 0.15625 and 0.078125 ms
		{"7DS2U", 15, "10 none"}, {"7DS2U", 30, "5 none"}, {"7DS2U", 60, "5/2 none"}, {"7DS2U", 120, "5/4 none"},
		{"DDDSUDDSUU", 30, "5/2 5/2"}, {"DDDSUDDSUU", 15, "5 5"},
		{"DDSU", 15, "4 none"}, {"DDSU", 30, "2 none"}, {"DDSU", 60, "1 none"}, {"DDSU", 120, "1/2 none"},
		{"DSU", 15, bad}, // 3 ms does not divide 20 ms
		{"DSU-DU", 15, "3 2"}, {"DSU-U", 15, "3 1"}, {"DDU-DDSU", 15, bad},
		{"DS/10:2:2-SU/12:2:0", 30, "1 1"},
		{"14D2S4U/12:8:8", 60, "5 none"}, {"14D2S4U/12:8:8", 480, "5/8 none"}, {"14D2S4U/12:8:8", 960, bad}, // 0.3125 ms
		{"28D4S8U/12:32:12", 960, "5/8 none"},
		{"DU", 15, "2 none"}, {"DU", 30, "1 none"}, {"DU", 60, "1/2 none"}, {"D", 15, "1 none"}, {"U", 30, "1/2 none"},
		{"D", 60, bad}, // 0.25 ms
		{"30D4S6U/0:56:0", 30, "10 10"},
		{"30D4S6U/0:56:0", 15, bad},
		{"10DS9U", 15, bad}, // 20 ms, 10 + 10: see below
		{"4DSU", 15, bad},   // 6 ms
		// At 960 kHz, 10 ms can be written at 480 kHz alone: in pairs of symbols. Two
		// patterns of 5 ms can be written at 960 kHz.
		{"320D2S318U/0:28:0", 960, "10 none"}, {"321D2S317U/2:24:2", 960, "10 none"},
		{"320D2S318U/1:26:1", 960, "5 5"}, {"639DS/1:13:0", 960, "5 5"},
		{"4DSU-3DU", 30, "3 2"},
	} {
		p := mustPattern(t, c.pattern)
		periods, err := p.Periods(bands.Frequency(c.scs) * bands.KHz)
		got := fmt.Sprintf("%s %s", periods[0], periods[1])
		if err != nil {
			got = bad
			var e *bands.ValueError
			if !errors.As(err, &e) || !strings.Contains(e.Allowed, " ms (") || e.Source.Table != "clause 11.1" {
				t.Errorf("%s at %d kHz: %v", c.pattern, c.scs, err)
			}
		}
		if c.pattern == "10DS9U" { // D*10 and S U*9 are 10 ms each
			c.want = "10 10"
		}
		if got != c.want {
			t.Errorf("%s at %d kHz: %s, want %s (%v)", c.pattern, c.scs, got, c.want, err)
		}
	}
	var none TDDPattern
	if _, err := none.Periods(15 * bands.KHz); err != nil {
		t.Error(err)
	}
	p := mustPattern(t, "DDDSU")
	if _, err := p.Periods(240 * bands.KHz); err == nil {
		t.Error("a pattern at 240 kHz")
	}
}

func TestDefaultTDDPattern(t *testing.T) {
	for _, n := range Numerologies() {
		if n.Mu == 4 {
			continue
		}
		p := DefaultTDDPattern(n.SCS)
		if _, err := p.Periods(n.SCS); err != nil {
			t.Error(err)
		}
		if q, err := ParseTDDPattern(p.String()); q != p || err != nil {
			t.Errorf("%s is read as %s, %v", p, q, err)
		}
	}
	// At 960 kHz each slot of 480 kHz is two.
	half, whole := DefaultTDDPattern(960*bands.KHz), DefaultTDDPattern(480*bands.KHz)
	for d := bands.Downlink; d <= bands.Uplink; d++ {
		if half.Share(d) != whole.Share(d) {
			t.Errorf("%s %s: %s and %s", d, half, half.Share(d), whole.Share(d))
		}
	}
}

// patternCheck checks what holds for every pattern.
func patternCheck(t *testing.T, p TDDPattern) {
	n := p.Slots()
	dl, guard, ul := 0, 0, 0
	for i := range n {
		s := p.Slot(i)
		if s.DL+s.Guard+s.UL != 14 || s != p.Slot(i+n) || s != p.Slot(i+7*n) {
			t.Fatalf("%s slot %d: %+v", p, i, s)
		}
		dl, guard, ul = dl+int(s.DL), guard+int(s.Guard), ul+int(s.UL)
	}
	all := int64(14 * n)
	if p.Share(bands.Downlink).Cmp(exact.Of(int64(dl), all)) != 0 || p.Share(bands.Uplink).Cmp(exact.Of(int64(ul), all)) != 0 ||
		p.GuardShare().Cmp(exact.Of(int64(guard), all)) != 0 {
		t.Fatalf("%s: shares %s, %s, %s of %d, %d, %d symbols", p, p.Share(bands.Downlink), p.GuardShare(), p.Share(bands.Uplink), dl, guard, ul)
	}
	for _, scs := range []bands.Frequency{15, 30, 60, 120, 480, 960} {
		periods, err := p.Periods(scs * bands.KHz)
		if err != nil {
			continue
		}
		length := periods[0].Add(periods[1]) // ms
		slots := length.Mul(exact.Of(int64(scs), 15))
		if slots != (exact.Whole(int64(n))) || (exact.Whole(20)).Mul(exact.Of(length.Den, length.Num)).Den != 1 {
			t.Fatalf("%s at %d kHz: periods %s and %s for %d slots", p, scs, periods[0], periods[1], n)
		}
	}
}

func TestTDDPatternShares(t *testing.T) {
	for _, s := range []string{"DDDSU", "7DS2U/6:4:4", "DDDSUDDSUU/10:2:2", "DS/10:2:2-SU/12:2:0", "14D2S4U/12:8:8", "30D4S6U/0:56:0", "DU", "U", "S/0:14:0"} {
		patternCheck(t, mustPattern(t, s))
	}
	var none TDDPattern
	if !none.IsZero() || none.Share(bands.Downlink) != (exact.Whole(1)) || none.Share(bands.Uplink) != (exact.Whole(1)) || none.GuardShare() != (exact.Whole(0)) || none.String() != "" {
		t.Errorf("no pattern: %q %s %s", none, none.Share(bands.Downlink), none.GuardShare())
	}
}

func FuzzParseTDDPattern(f *testing.F) {
	for _, s := range []string{"DDDSU/10:2:2", "7DS2U/6:4:4", "DDDSUDDSUU", "DS/10:2:2-SU/12:2:0", "14D2S4U/12:2:0/0:6:8", "30D4S6U/0:56:0",
		"D", "640D", "/", "-", "S/-1:2:3", "3", "dsud", "DSUDSUDDU/1:1:12"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := ParseTDDPattern(s)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r") {
				t.Fatalf("%q: more than one line: %v", s, err)
			}
			return
		}
		if p.IsZero() || p.Slots() == 0 {
			t.Fatalf("%q is no pattern", s)
		}
		if q, err := ParseTDDPattern(p.String()); err != nil || q != p {
			t.Fatalf("%q is written %s and read as %s, %v", s, p, q, err)
		}
		patternCheck(t, p)
	})
}

// TestSlotFormats checks TS 38.213 V19.3.0 Table 11.1.1-1: 56 different formats,
// the first four by their definition, and that a special slot finds its format.
func TestSlotFormats(t *testing.T) {
	seen := make(map[string]bool)
	for n := range 56 {
		s, err := SlotFormat(n)
		if err != nil || len(s) != 14 || strings.Trim(s, "DUF") != "" || seen[s] {
			t.Errorf("format %d is %q, %v", n, s, err)
		}
		seen[s] = true
		slot := TDDSlot{uint8(strings.Count(s, "D")), uint8(strings.Count(s, "F")), uint8(strings.Count(s, "U"))}
		inOrder := strings.Repeat("D", int(slot.DL)) + strings.Repeat("F", int(slot.Guard)) + strings.Repeat("U", int(slot.UL))
		if got, ok := slot.Format(); s == inOrder && (got != n || !ok) {
			t.Errorf("format %d, %s: found as %d, %v", n, s, got, ok)
		}
	}
	for n, want := range []string{strings.Repeat("D", 14), strings.Repeat("U", 14), strings.Repeat("F", 14), strings.Repeat("D", 13) + "F"} {
		if got, _ := SlotFormat(n); got != want {
			t.Errorf("format %d is %s", n, got)
		}
	}
	for _, n := range []int{-1, 56, 255} {
		if s, err := SlotFormat(n); err == nil {
			t.Errorf("format %d is %s", n, s)
		}
	}
	if n, ok := (TDDSlot{10, 2, 2}).Format(); !ok || n != 32 {
		t.Errorf("10:2:2 is format %d, %v; want 32", n, ok)
	}
	if n, ok := (TDDSlot{11, 1, 2}).Format(); !ok || n != 31 {
		t.Errorf("11:1:2 is format %d, %v; want 31", n, ok)
	}
	if n, ok := (TDDSlot{4, 6, 4}).Format(); ok {
		t.Errorf("4:6:4 is format %d", n)
	}
}

func ExampleParseTDDPattern() {
	p, err := ParseTDDPattern("DDDSU/10:2:2")
	fmt.Println(p, p.Share(bands.Downlink), p.GuardShare(), p.Share(bands.Uplink), err)
	_, err = p.Periods(480 * bands.KHz)
	fmt.Println(err)
	// Output:
	// DDDSU/10:2:2 26/35 1/35 8/35 <nil>
	// TDD pattern at 480 kHz "DDDSU/10:2:2 (5 slots, 0.15625 ms)": must be a period of 0.5 ms (16 slots), 0.625 ms (20 slots), 1 ms (32 slots), 1.25 ms (40 slots), 2 ms (64 slots), 2.5 ms (80 slots), 4 ms (128 slots), 5 ms (160 slots), 10 ms (320 slots), or two periods whose sum divides 20 ms (TS 38.213 clause 11.1)
}

// TestDedicatedPattern: TR 37.910 V1.0.0 clause 5.1.1 takes DSUUD at every spacing of FR1
// and FR2-1. At 60 and 120 kHz its parts, of four slots and one, have no period P of their
// own, so that a dedicated configuration makes it (TS 38.213 V19.3.0 clause 11.1).
func TestDedicatedPattern(t *testing.T) {
	p := mustPattern(t, "DSUUD/11:1:2")
	for scs, want := range map[bands.Frequency]exact.Ratio{60 * bands.KHz: exact.Of(5, 4), 120 * bands.KHz: exact.Of(5, 8)} {
		periods, err := p.Periods(scs)
		if err != nil || periods != [2]exact.Ratio{want} {
			t.Errorf("%s: %v, %v", scs, periods, err)
		}
	}
	if _, err := p.Periods(480 * bands.KHz); err == nil {
		t.Error("DSUUD at 480 kHz")
	}
}
