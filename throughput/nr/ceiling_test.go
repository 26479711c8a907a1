package nr

import (
	"math/rand/v2"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
)

// TestCeiling: no schedule that can be set up sends more than the ceiling of its
// carrier, pattern and MCS.
func TestCeiling(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 38214))
	patterns := []string{"", "DDDSU", "DDDSU/3:9:2", "DDDSU/11:1:2", "7DS2U/6:4:4", "DSUUD/6:2:6", "DSUUU/12:2:0", "DDDSU/5:1:8", "DDDSU-DDSUU"}
	sent := 0
	for range 6000 {
		d := bands.Direction(1 + r.IntN(2))
		qm := []int{1, 2, 4, 6, 8, 10}[r.IntN(6)]
		if d == bands.Downlink && qm == 1 || d == bands.Uplink && qm == 10 {
			continue
		}
		c := Carrier{
			Range: []bands.Range{bands.FR1, bands.FR21}[r.IntN(2)], Direction: d, SCS: 30 * bands.KHz,
			ResourceBlocks: 5 + r.IntN(269), Layers: 1 + r.IntN(8), Qm: qm,
		}
		if qm == 1 {
			c.Layers = 1
		}
		s := newSchedule(t, c, patterns[r.IntN(len(patterns))])
		s.ControlSymbols, s.ControlBlocks = r.IntN(4), r.IntN(4)
		s.SoundingSymbols, s.SoundingSlots = r.IntN(5), r.IntN(20)
		s.XOverhead = 6 * r.IntN(4)
		s.FullSlotsOnly = r.IntN(2) == 0
		s.LeftOut = Slots(0, r.IntN(4)-1)
		s.Shared, s.SharedBlocks = Slots(0, r.IntN(4)-1), min(20, c.ResourceBlocks-4)
		s.DMRS = DMRS{Type: 1 + r.IntN(2), Length: 1 + r.IntN(2), AdditionalPositions: r.IntN(4), MappingB: r.IntN(2) == 0}
		if r.IntN(2) == 0 {
			g, err := ParseSignals(someSignals[r.IntN(len(someSignals))])
			if err != nil {
				t.Fatal(err)
			}
			if g.Apply(&c, nil, &s) != nil {
				continue // a set that is for others
			}
		}
		if r.IntN(2) == 0 {
			s.Limit = exact.Ratio{}
		}
		got, err := s.Schedule()
		if err != nil {
			continue // the DM-RS does not hold the layers
		}
		sent++
		most, err := s.Ceiling()
		if err != nil || most.Cmp(got.Rate()) < 0 {
			t.Fatalf("%+v: %s, more than %s, %v", s, got.Rate(), most, err)
		}
	}
	if sent < 2000 {
		t.Errorf("%d schedules", sent)
	}
}

// TestCeilingFigures: a full slot has N'_RE = 156 resource elements of a resource block
// (TS 38.214 V19.3.0 clause 5.1.3.2, step 1), the special slot 11 symbols less one CDM
// group of DM-RS for each four layers. DataRate leaves of that no more than the maximum
// data rate in the 32 of 40 slots with a downlink (TS 38.214 clause 5.1.3).
func TestCeilingFigures(t *testing.T) {
	c := midBand
	c.Layers = 8
	s := newSchedule(t, c, "DDDSU/11:1:2")
	limited, err := s.Ceiling()
	if err != nil || limited.Cmp(s.Limit.Mul(exact.Of(32, 40))) > 0 {
		t.Errorf("%s, %v", limited, err)
	}
	// One DM-RS symbol and one control symbol alone are 3308 Mbit/s, counted by hand.
	if limited.Cmp(exact.Whole(3_308_000_000)) < 0 {
		t.Errorf("%s", limited)
	}
	s.Limit = exact.Ratio{}
	free, err := s.Ceiling()
	full, special := Allocation{PRB: 273, Symbols: 14, DMRSRE: 12, Layers: 8}, Allocation{PRB: 273, Symbols: 11, DMRSRE: 8, Layers: 8}
	bits := int64(0)
	for n, a := range map[int64]Allocation{24: full, 8: special} {
		b, _, err := new(a.WithMCS(s.MCS)).TransportBlocks()
		if err != nil {
			t.Fatal(err)
		}
		bits += n * int64(b[0].TBS+b[1].TBS)
	}
	// TR 37.910 V1.0.0 clause 5.1.1 prints 3.68 Gbit/s for 8 layers in 100 MHz, without DataRate.
	if err != nil || free.Cmp(exact.Whole(50*bits)) != 0 || free.Cmp(exact.Whole(3_680_000_000)) < 0 {
		t.Errorf("%s, want %d, %v", free, 50*bits, err)
	}
}
