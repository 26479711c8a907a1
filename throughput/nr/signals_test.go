package nr

import (
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
)

// someSignals are signals as they may be set up.
var someSignals = []string{
	"tr37910-1", "tr37910-2", "tr37910-3", "tr37910-4", "pdcch=0,ssb=0", "pdcch=0,ssb=0,pucch=0,srs=0,special=1",
	"cce=2,ssb=8/20,csirs=12/20,trs=80", "pdcch=3,ssb=8/5,csirs=32/2.5,trs=10,ptrs=2", "pucch=1x1,srs=1/160,special=1", "pucch=4,srs=4/5,special=0", "tr37910-1,ssb=0,srs=0",
}

func TestSignalsText(t *testing.T) {
	for _, text := range someSignals {
		g, err := ParseSignals(" " + strings.ToUpper(text))
		if err != nil || g.IsZero() {
			t.Errorf("%s: %v", text, err)
			continue
		}
		again, err := ParseSignals(g.String())
		if err != nil || again != g {
			t.Errorf("%s is written %s and read back as %+v, %v", text, g, again, err)
		}
	}
	for text, want := range map[string]string{
		"":                    `signals "": must be ` + SignalsAllowed,
		"tr37910-5":           `signals "tr37910-5": must be ` + SignalsAllowed + "; closest is tr37910-1",
		"tr37910-1,tr37910-2": `signals "tr37910-2": must be ` + SignalsAllowed + "; closest is tr37910-1",
		"sbb=8/20":            `signal "sbb": must be ` + SignalsAllowed + "; closest is ssb",
		"ssb=8":               `signal ssb "8": must be 0 to 64 SS/PBCH blocks and their period, such as 8/20 (2.5, 5, 10, 20, 40, 80 or 160 ms)`,
		"ssb=8/30":            `signal ssb "8/30": must be 0 to 64 SS/PBCH blocks and their period, such as 8/20 (2.5, 5, 10, 20, 40, 80 or 160 ms)`,
		"pdcch=4":             `signal pdcch "4": must be 0 to 3 symbols at the start of a slot`,
		"ptrs=3":              `signal ptrs "3": must be 0, 2 or 4: none, or every second or fourth resource block`,
		"pucch=1x15":          `signal pucch "1x15": must be 0 to 16 resource blocks, by symbols where they do not fill the slot, such as 1x2`,
		"pdcch=1,pdcch=2":     `signal "pdcch": must be given once`,
	} {
		if _, err := ParseSignals(text); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// TestSignalElements counts by hand what signals leave of 100 MHz at 30 kHz, 273 resource
// blocks, in 20 ms of 40 slots: PDCCH of one symbol, DM-RS of two symbols with one CDM group
// of type 1 (TS 38.211 clauses 7.3.2.2, 7.4.1.1.2), one SS/PBCH block of 20 blocks by 4
// symbols that hides one of both DM-RS symbols (clause 7.4.3.1), CSI-RS of 8 elements a
// block, TRS of 12 on 52 blocks in each of two slots.
func TestSignalElements(t *testing.T) {
	c := Carrier{Range: bands.FR1, Direction: bands.Downlink, SCS: 30 * bands.KHz, ResourceBlocks: 273, Layers: 2, Qm: 8}
	s := newSchedule(t, c, "")
	g, err := ParseSignals("pdcch=1,ssb=1/20,csirs=8/20,trs=20")
	if err != nil {
		t.Fatal(err)
	}
	if err := g.Apply(&c, nil, &s); err != nil {
		t.Fatal(err)
	}
	r, err := s.Schedule()
	if err != nil {
		t.Fatal(err)
	}
	const slot = 273 * (13*12 - 12)
	want := int64(40*slot - (960 - 20*6) - 8*273 - 2*12*52)
	if rate := s.PeakRate(&r); rate.Cmp(exact.Of(want*2*8*948*50, 1024)) != 0 {
		t.Errorf("%s, want %d elements", rate, want)
	}
}

// TestSignalsLowerMCS: a slot from which signals take more than its blocks can do without
// has blocks of a lower MCS, whose effective code rate is at most 0.95 (TS 38.214 V19.3.0
// clause 5.1.3); a slot from which they take little keeps them.
func TestSignalsLowerMCS(t *testing.T) {
	c := Carrier{Range: bands.FR1, Direction: bands.Downlink, SCS: 30 * bands.KHz, ResourceBlocks: 51, Layers: 4, Qm: 8}
	for text, lowered := range map[string]bool{"pdcch=2,ssb=0,csirs=2/20": false, "pdcch=2,ssb=0,csirs=32/20": true, "pdcch=2,ssb=1/20": true} {
		s := newSchedule(t, c, "")
		g, err := ParseSignals(text)
		if err != nil {
			t.Fatal(err)
		}
		if err := g.Apply(&c, nil, &s); err != nil {
			t.Fatal(err)
		}
		r, err := s.Schedule()
		if err != nil {
			t.Fatal(err)
		}
		plain, least := 0, 1<<30
		for _, k := range r.Kinds() {
			b := &k.Blocks[0]
			if 100*(b.TBS+b.CRCBits) > 95*k.Elements*b.Qm*b.Layers {
				t.Errorf("%s: block of %d bits in %d elements", text, b.TBS, k.Elements)
			}
			if k.Taken == 0 {
				plain = b.TBS
			}
			least = min(least, b.TBS)
		}
		if (least < plain) != lowered {
			t.Errorf("%s: %d bits beside %d", text, least, plain)
		}
	}
}

// TestSSBSlots holds the slots of SS/PBCH blocks against TS 38.213 clause 4.1: case A
// {2, 8} + 14n, case C the same at 30 kHz, case D {4, 8, 16, 20} + 28n with n = 0 to 3, 5 to
// 8, 10 to 13, 15 to 18 at 120 kHz; counted by their first symbols.
func TestSSBSlots(t *testing.T) {
	a := Carrier{Range: bands.FR1, SCS: 15 * bands.KHz}
	c := Carrier{Range: bands.FR1, SCS: 30 * bands.KHz}
	d := Carrier{Range: bands.FR21, SCS: 120 * bands.KHz}
	block := 0
	for n := range 4 {
		for _, first := range []int{2, 8} {
			if got := (first + 14*n) / 14; ssbSlot(&a, block) != got || ssbSlot(&c, block) != got {
				t.Errorf("block %d: %d, %d, want %d", block, ssbSlot(&a, block), ssbSlot(&c, block), got)
			}
			block++
		}
	}
	block = 0
	for _, n := range []int{0, 1, 2, 3, 5, 6, 7, 8, 10, 11, 12, 13, 15, 16, 17, 18} {
		for _, first := range []int{4, 8, 16, 20} {
			if got := (first + 28*n) / 14; ssbSlot(&d, block) != got {
				t.Errorf("block %d: %d, want %d", block, ssbSlot(&d, block), got)
			}
			block++
		}
	}
}
