package nr

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
)

func newSchedule(t testing.TB, c Carrier, pattern string) Schedule {
	t.Helper()
	var p TDDPattern
	if pattern != "" {
		p = mustPattern(t, pattern)
	}
	s, err := NewSchedule(c, p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var midBand = Carrier{Range: bands.FR1, Direction: bands.Downlink, SCS: 30 * bands.KHz, ResourceBlocks: 273, Layers: 4, Qm: 8}

// everyCarrier calls f for carriers over the whole domain of ranges, spacings,
// layers and modulations, and a few numbers of resource blocks.
func everyCarrier(f func(Carrier)) {
	for r := bands.FR1; r <= bands.FR2NTN; r++ {
		for _, n := range Numerologies() {
			if n.Mu == 4 || n.Extended {
				continue
			}
			for d := bands.Downlink; d <= bands.Uplink; d++ {
				for _, qm := range []int{1, 2, 4, 6, 8, 10} {
					if _, err := MCSTableFor(d, qm); err != nil {
						continue
					}
					for layers := 1; layers <= 8; layers++ {
						if qm == 1 && layers > 1 {
							break // transform precoding has one layer (TS 38.211 clause 6.3.1.4)
						}
						for _, blocks := range []int{11, 79, 273} {
							f(Carrier{Range: r, Direction: d, SCS: n.SCS, ResourceBlocks: blocks, Layers: layers, Qm: qm})
						}
					}
				}
			}
		}
	}
}

// TestScheduledBelowMaximum checks, for every kind of carrier in paired spectrum,
// that N_info of all slots, and so the rate before the rounding of block sizes, is
// not above the formula of TS 38.306 at equal overhead; that the rounding adds at
// most one part in 64 and a byte for each code block; and that with the limit of
// TS 38.214 clause 5.1.3 the scheduled rate never passes the maximum data rate.
func TestScheduledBelowMaximum(t *testing.T) {
	n, limited := 0, 0
	everyCarrier(func(c Carrier) {
		n++
		s, err := NewSchedule(c, TDDPattern{})
		if err != nil {
			t.Fatal(err)
		}
		maximum := s.Limit
		r, err := s.Schedule()
		if err != nil {
			t.Fatal(err)
		}
		if r.Bits == 0 || r.Rate().Cmp(maximum) > 0 || r.SlotLoad().Cmp(maximum) > 0 {
			t.Fatalf("%+v: scheduled %s, at most in a slot %s, maximum %s", c, r.Rate(), r.SlotLoad(), maximum)
		}
		for _, k := range r.Kinds() {
			limited += oneIf(k.Limited)
		}

		s.Limit = exact.Ratio{}
		if r, err = s.Schedule(); err != nil {
			t.Fatal(err)
		}
		numerology, _ := NumerologyOf(c.SCS)
		elements := 168 * int64(c.ResourceBlocks) * int64(2*numerology.SlotsPerFrame) // of 20 ms
		var used int64
		info, bits := new(big.Rat), new(big.Rat)
		for _, k := range r.Kinds() {
			for _, b := range k.Blocks[:k.Codewords] {
				exact := new(big.Rat).SetFloat64(b.Info)
				info.Add(info, exact.Mul(exact, big.NewRat(int64(k.Sent), 1)))
				most := b.Info*(1+1.0/64) + 24 + 8*float64(b.CodeBlocks)
				if float64(b.TBS) > most && b.TBS > 3824 {
					t.Fatalf("%+v: %d bits for N_info %.1f", c, b.TBS, b.Info)
				}
			}
			used += int64(k.Blocks[0].RE * k.Sent)
		}
		bits.SetInt64(r.Bits)
		// The formula has Rmax = 948/1024 and the same resource elements, as a rate
		// over 20 ms.
		equal := c
		equal.Overhead = exact.Whole(0)
		full, err := equal.MaxRate()
		if err != nil {
			t.Fatal(err)
		}
		formula := big.NewRat(full.Num, 50*full.Den)
		formula.Mul(formula, big.NewRat(used, elements))
		if info.Cmp(formula) > 0 {
			t.Fatalf("%+v: N_info adds up to %s, the formula gives %s", c, info.FloatString(1), formula.FloatString(1))
		}
		if c.Qm >= 6 && info.Cmp(formula) != 0 { // the highest rates are Rmax
			t.Fatalf("%+v: N_info adds up to %s, not %s", c, info.FloatString(1), formula.FloatString(1))
		}
	})
	t.Logf("%d carriers, %d kinds of slot limited", n, limited)
}

// TestScheduleCounts checks the slots of the assumptions by hand.
func TestScheduleCounts(t *testing.T) {
	ul := midBand
	ul.Direction, ul.Layers, ul.Qm = bands.Uplink, 2, 6
	fr2 := Carrier{Range: bands.FR21, Direction: bands.Downlink, SCS: 120 * bands.KHz, ResourceBlocks: 66, Layers: 2, Qm: 6}
	for _, c := range []struct {
		carrier Carrier
		pattern string
		change  func(*Schedule)
		kinds   string // slots x symbols x resource blocks, N_DMRS
	}{
		{midBand, "", nil, "39x12x273,24"},                        // slot 0 of 40 left out
		{midBand, "DDDSU/10:2:2", nil, "23x12x273,24 8x8x273,24"}, // 3 of 5 slots, special slots with two DM-RS symbols
		{midBand, "7DS2U/6:4:4", nil, "27x12x273,24 4x4x273,12"},  // one DM-RS symbol in 6 symbols
		{midBand, "DSUU/1:12:1", nil, "9x12x273,24"},              // no room beside PDCCH
		{midBand, "DDDSU/3:9:2", nil, "23x12x273,24"},             // no PDSCH of one symbol (TS 38.214 Table 5.1.2.1-1)
		{midBand, "DDDSU/4:8:2", nil, "23x12x273,24"},             // nor of two with mapping type A
		{midBand, "DDDSU/4:8:2", func(s *Schedule) { s.DMRS.MappingB = true }, "23x12x273,24 8x2x273,12"},
		{midBand, "DDDSU/5:7:2", nil, "23x12x273,24 8x3x273,12"},
		{midBand, "DDDSU-DDSUU", nil, "19x12x273,24 8x8x273,24"}, // 5 of 10 slots
		{midBand, "DDDSU/10:2:2-DDSUU/11:1:2", nil, "19x12x273,24 4x8x273,24 4x9x273,24"},
		{ul, "", nil, "2x13x272,24 38x14x272,24"},           // SRS in two slots, PUCCH on one block
		{ul, "DDDSU/10:2:2", nil, "8x14x272,24"},            // SRS in the special slot
		{ul, "DDSU/12:2:0", nil, "1x13x272,24 9x14x272,24"}, // no uplink symbols there
		{ul, "DDDSU/4:2:8", func(s *Schedule) { s.FullSlotsOnly = false }, "8x8x272,24 8x14x272,24"},
		{fr2, "DDDSU/10:2:2", nil, "95x13x66,12 32x9x66,12"}, // 1 symbol of PDCCH, one CDM group
		{midBand, "", func(s *Schedule) { s.LeftOut = SlotSet{} }, "40x12x273,24"},
		{midBand, "", func(s *Schedule) { s.LeftOut, s.Shared, s.SharedBlocks = SlotSet{}, Slots(0, 1), 20 }, "2x12x253,24 38x12x273,24"},
		{midBand, "", func(s *Schedule) { s.Frames, s.LeftOut = 1, SlotSet{} }, "20x12x273,24"},
		{midBand, "DDDSU", func(s *Schedule) { s.FullSlotsOnly = true }, "23x12x273,24"},
		{midBand, "", func(s *Schedule) { s.DMRSRE = 36 }, "39x12x273,36"},
		{midBand, "DDDSU", func(s *Schedule) { s.DMRSRE, s.SpecialDMRSRE = 36, 12 }, "23x12x273,36 8x8x273,12"},
		{midBand, "DDDSU", func(s *Schedule) { s.DMRSRE = 36 }, "23x12x273,36 8x8x273,36"},
	} {
		s := newSchedule(t, c.carrier, c.pattern)
		s.Limit = exact.Ratio{}
		if c.change != nil {
			c.change(&s)
		}
		r, err := s.Schedule()
		if err != nil {
			t.Errorf("%s: %v", c.pattern, err)
			continue
		}
		var got []string
		var bits int64
		for _, k := range r.Kinds() {
			got = append(got, fmt.Sprintf("%dx%dx%d,%d", k.Slots, k.Symbols, k.PRB, k.DMRSRE))
			if k.Codewords == 0 {
				if k.Bits != 0 || k.Sent != 0 {
					t.Errorf("%s: nothing fits and %d bits are sent", c.pattern, k.Bits)
				}
				continue
			}
			a := Allocation{PRB: k.PRB, Symbols: k.Symbols, DMRSRE: k.DMRSRE, Layers: s.Layers}.WithMCS(s.MCS)
			b, err := a.TransportBlock()
			if err != nil || b != k.Blocks[0] || k.Bits != int64(b.TBS*k.Slots) {
				t.Errorf("%s: %+v, want %d slots of %+v", c.pattern, k, k.Slots, b)
			}
			bits += k.Bits
		}
		if strings.Join(got, " ") != c.kinds || bits != r.Bits {
			t.Errorf("%s %s: %v and %d bits, want %s and %d", c.carrier.Direction, c.pattern, got, r.Bits, c.kinds, bits)
		}
		if want := (exact.Of(bits*100, int64(r.Frames))); r.Rate().Cmp(want) != 0 {
			t.Errorf("%s: %s bit/s, want %s", c.pattern, r.Rate(), want)
		}
	}
}

// TestScheduleSlots compares the count of slots with a walk through them one by
// one, over patterns, slots left out and shared, and periods that end within a
// pattern.
func TestScheduleSlots(t *testing.T) {
	patterns := []string{"", "DDDSU", "7DS2U/6:4:4", "DDDSU/10:2:2-DDSUU/11:1:2", "DSUUD/6:2:6", "2D4S2U/5:48:3", "DU", "29D2S9U/10:16:2", "SU/0:9:5-DS/7:7:0"}
	sets := []string{"", "0", "0-3", "1 3 5-9 12 36-39", "3-7 20-200", "0-2000"}
	n := 0
	for _, pattern := range patterns {
		for _, out := range sets {
			for _, shared := range sets {
				for d := bands.Downlink; d <= bands.Uplink; d++ {
					for _, frames := range []int{1, 2, 3} {
						c := midBand
						c.Direction = d
						s := newSchedule(t, c, pattern)
						s.Frames, s.FullSlotsOnly, s.SharedBlocks, s.SoundingSlots = frames, n%5 == 0, 20, n%4
						s.LeftOut, _ = ParseSlotSet(out)
						s.Shared, _ = ParseSlotSet(shared)
						n++
						compareSlots(t, &s, frames*20)
					}
				}
			}
		}
	}
	t.Logf("%d schedules", n)
}

func compareSlots(t *testing.T, s *Schedule, slots int) {
	type kind struct {
		symbols, blocks int
		special         bool
	}
	want := make(map[kind]int)
	sounding := s.SoundingSlots
	for slot := range slots {
		symbols := 14
		if !s.Pattern.IsZero() {
			symbols = s.Pattern.Slot(slot).Symbols(s.Direction)
		}
		k := kind{symbols, s.ResourceBlocks, symbols != 14}
		if symbols == 0 || k.special && s.FullSlotsOnly || s.LeftOut.Contains(slot) {
			continue
		}
		if s.Shared.Contains(slot) {
			k.blocks -= s.SharedBlocks
		}
		k.symbols -= s.ControlSymbols
		k.blocks -= s.ControlBlocks
		if s.Direction == bands.Uplink && !k.special && sounding > 0 {
			k.symbols -= s.SoundingSymbols
			sounding--
		}
		if k.symbols > 0 {
			want[k]++
		}
	}
	r, err := s.Schedule()
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range r.Kinds() {
		key := kind{k.Symbols, k.PRB, k.Special}
		if k.Limited { // the limit lowers the resource blocks of a kind
			limit := s.Limit
			s.Limit = exact.Ratio{}
			compareSlots(t, s, slots)
			s.Limit = limit
			return
		}
		if want[key] != k.Slots {
			t.Fatalf("%s %s without %q, shared %q: %d slots of %+v, want %d", s.Direction, s.Pattern, s.LeftOut, s.Shared, k.Slots, key, want[key])
		}
		delete(want, key)
	}
	if len(want) != 0 {
		t.Fatalf("%s %s without %q, shared %q: missing %v", s.Direction, s.Pattern, s.LeftOut, s.Shared, want)
	}
}

// TestScheduleTwoCodewords checks that eight layers are sent as two blocks.
func TestScheduleTwoCodewords(t *testing.T) {
	c := midBand
	c.Layers = 8
	s := newSchedule(t, c, "")
	r, err := s.Schedule()
	if err != nil {
		t.Fatal(err)
	}
	k := r.Kinds()[0]
	// Double-symbol DM-RS at two positions, two CDM groups: 4 * 12 elements.
	if len(r.Kinds()) != 1 || k.Codewords != 2 || k.Blocks[0] != k.Blocks[1] || k.Blocks[0].Layers != 4 || k.DMRSRE != 48 || r.Blocks != 78 || r.BlockRate() != (exact.Whole(3900)) {
		t.Errorf("%+v, %d blocks", k, r.Blocks)
	}
}

func TestScheduleRepetition(t *testing.T) {
	c := midBand
	c.Direction, c.Layers, c.Qm = bands.Uplink, 1, 2
	s := newSchedule(t, c, "")
	s.SoundingSlots, s.Limit = 0, exact.Ratio{}
	once, err := s.Schedule()
	if err != nil {
		t.Fatal(err)
	}
	s.Repetitions = 4
	four, err := s.Schedule()
	if err != nil || 4*four.Bits != once.Bits || four.Blocks != 10 {
		t.Errorf("%d bits with 4 repetitions, %d without, %v", four.Bits, once.Bits, err)
	}
	s.Repetitions, s.BlockSlots = 1, 4
	tboms, err := s.Schedule()
	if err != nil || tboms.Blocks != 10 || tboms.Kinds()[0].Blocks[0].RE != 4*once.Kinds()[0].Blocks[0].RE {
		t.Errorf("%+v, %v", tboms.Kinds(), err)
	}
	// One large block of four slots is about as many bits as four of one slot.
	if ratio := float64(tboms.Bits) / float64(once.Bits); math.Abs(ratio-1) > 0.02 {
		t.Errorf("%d bits, %d without", tboms.Bits, once.Bits)
	}
	if a, b := tboms.SlotLoad().Float(), once.SlotLoad().Float(); math.Abs(a/b-1) > 0.02 {
		t.Errorf("load of a slot %v, %v without", a, b)
	}
}

// TestScheduleLimit checks that the limit is kept as tightly as whole resource
// blocks allow.
func TestScheduleLimit(t *testing.T) {
	s := newSchedule(t, midBand, "")
	for _, mbps := range []int64{1, 5, 100, 1000, 1900} {
		s.Limit = exact.Whole(mbps * 1e6)
		r, err := s.Schedule()
		if err != nil {
			t.Fatal(err)
		}
		k := r.Kinds()[0]
		if !k.Limited || r.SlotLoad().Cmp(s.Limit) > 0 {
			t.Errorf("%d Mbit/s: %d blocks, load %s", mbps, k.PRB, r.SlotLoad())
		}
		a := Allocation{PRB: k.PRB + 1, Symbols: k.Symbols, DMRSRE: k.DMRSRE, Layers: s.Layers}.WithMCS(s.MCS)
		b, err := a.TransportBlock()
		if err != nil || (exact.Whole(b.ScheduledBits()*2000)).Cmp(s.Limit) <= 0 {
			t.Errorf("%d Mbit/s: %d blocks would do, %v", mbps, k.PRB+1, err)
		}
	}
	s.Limit = exact.Whole(1000)
	if r, err := s.Schedule(); err != nil || r.Bits != 0 || r.Kinds()[0].Codewords != 0 {
		t.Errorf("1 kbit/s: %+v, %v", r.Kinds(), err)
	}
}

// TestDataRate checks the limits of TS 38.214 V19.3.0 clause 5.1.3 on a block
// worked by hand: 273 resource blocks, 12 symbols, 24 DM-RS elements, 4 layers of
// 256QAM at 948/1024 every 0.5 ms.
func TestDataRate(t *testing.T) {
	s := newSchedule(t, midBand, "")
	r, err := s.Schedule()
	if err != nil {
		t.Fatal(err)
	}
	v := r.Kinds()[0].Blocks[0].ScheduledBits()
	if r.SlotLoad() != (exact.Whole(v*2000)) || r.AllocationLoad().Cmp(exact.Of(v*2000*14, 12)) != 0 {
		t.Errorf("V = %d: %s and %s", v, r.SlotLoad(), r.AllocationLoad())
	}
	limit := s.Limit
	if !DataRate(limit, &r).Holds() || DataRate(limit, &r, &r).Holds() || !DataRate(limit.Add(limit), &r, &r).Holds() {
		t.Errorf("load %s, limit %s", DataRate(limit, &r).Load, limit)
	}
	cc := DataRateCC(limit, &r)
	if cc.Holds() != (cc.Load.Cmp(limit) <= 0) || cc.Load != r.AllocationLoad() {
		t.Errorf("%+v", cc)
	}
	b := TransportBlock{TBS: 100, CodeBlocks: 3}
	if b.ScheduledBits() != 99 {
		t.Errorf("V = %d, want 3 * floor(100/3)", b.ScheduledBits())
	}
}

func TestScheduleErrors(t *testing.T) {
	good := newSchedule(t, midBand, "DDDSU")
	for _, c := range []struct {
		param  string
		change func(*Schedule)
	}{
		{"direction", func(s *Schedule) { s.Direction = 0 }},
		{"subcarrier spacing", func(s *Schedule) { s.SCS = 20 * bands.KHz }},
		{"resource blocks", func(s *Schedule) { s.ResourceBlocks = 0 }},
		{"resource blocks", func(s *Schedule) { s.ResourceBlocks = 276 }},
		{"layers", func(s *Schedule) { s.Layers = 9 }},
		{"layers", func(s *Schedule) { s.Layers, s.DMRSRE = 9, 24 }},
		{"MCS index", func(s *Schedule) { s.MCS = MCS{Index: 31, Qm: 8} }},
		{"frames", func(s *Schedule) { s.Frames = -1 }},
		{"frames", func(s *Schedule) { s.Frames = 1025 }},
		{"control symbols", func(s *Schedule) { s.ControlSymbols = 14 }},
		{"control resource blocks", func(s *Schedule) { s.ControlBlocks = 273 }},
		{"shared resource blocks", func(s *Schedule) { s.SharedBlocks = -1 }},
		{"sounding symbols", func(s *Schedule) { s.SoundingSymbols = 14 }},
		{"sounding slots", func(s *Schedule) { s.SoundingSlots = -1 }},
		{"repetitions", func(s *Schedule) { s.Repetitions = 33 }},
		{"DM-RS resource elements of special slots", func(s *Schedule) { s.SpecialDMRSRE = -1 }},
		{"DM-RS type", func(s *Schedule) { s.DMRS.Type = 3 }},
		{"DM-RS length", func(s *Schedule) { s.DMRS.Length = 0 }},
		{"additional DM-RS positions", func(s *Schedule) { s.DMRS.AdditionalPositions = 4 }},
		{"CDM groups", func(s *Schedule) { s.DMRS.Groups = 1 }},
		{"xOverhead", func(s *Schedule) { s.XOverhead = 3 }},
		{"slots of one transport block", func(s *Schedule) { s.BlockSlots = 3 }},
	} {
		bad := good
		c.change(&bad)
		r, err := bad.Schedule()
		var e *bands.ValueError
		if !errors.As(err, &e) || !strings.HasPrefix(e.Param, c.param) || r.Bits != 0 {
			t.Errorf("%s: %v, %d bits", c.param, err, r.Bits)
		}
	}
	bad := midBand
	bad.Qm = 1 // no pi/2-BPSK in the downlink
	if _, err := NewSchedule(bad, TDDPattern{}); err == nil {
		t.Error("pi/2-BPSK in the downlink")
	}
	var zero Scheduled
	if zero.Rate() != (exact.Whole(0)) || zero.BlockRate() != (exact.Whole(0)) || zero.SlotLoad() != (exact.Whole(0)) || zero.AllocationLoad() != (exact.Whole(0)) {
		t.Error("a schedule without slots has a rate")
	}
}

func ExampleSchedule() {
	c := Carrier{Range: bands.FR1, Direction: bands.Downlink, SCS: 30 * bands.KHz, ResourceBlocks: 273, Layers: 4, Qm: 8}
	p, err := ParseTDDPattern("DDDSU/10:2:2")
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := NewSchedule(c, p)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := s.Schedule()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, k := range r.Kinds() {
		fmt.Println(k.Slots, "slots of", k.Blocks[0].TBS, "bits on", k.Symbols, "symbols")
	}
	fmt.Printf("%.3f Mbit/s of at most %.3f\n", r.Rate().Mbps(), s.Limit.Mbps())
	// Output:
	// 23 slots of 966896 bits on 12 symbols
	// 8 slots of 590128 bits on 8 symbols
	// 1347.982 Mbit/s of at most 2337.000
}

func BenchmarkMaxRate(b *testing.B) {
	c := midBand
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.MaxRate(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSchedule(b *testing.B) {
	fr2 := Carrier{Range: bands.FR22, Direction: bands.Downlink, SCS: 960 * bands.KHz, ResourceBlocks: 148, Layers: 2, Qm: 6}
	for _, c := range []struct {
		name, pattern string
		carrier       Carrier
	}{{"30kHz-FDD", "", midBand}, {"30kHz-TDD", "DDDSU/10:2:2", midBand}, {"960kHz-TDD", "29D2S9U/10:16:2", fr2}} {
		s := newSchedule(b, c.carrier, c.pattern)
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := s.Schedule(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
