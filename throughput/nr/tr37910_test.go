package nr

import (
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
)

// frame37910 counts what 20 ms of a carrier hold in one direction, as the
// overhead sets of TR 37.910 V1.0.0 Tables B.3.1.1-2 and B.3.1.2-2 need it.
type frame37910 struct {
	direction    bands.Direction
	fr2, fdd     bool
	blocks       int64
	layers       int64
	slots        int64       // slots with the direction, special ones included
	fullSlots    int64       // slots wholly of the direction
	symbols      *big.Rat    // half of the guard symbols included (clause 5.1.1)
	guardSymbols *big.Rat    // that half
	share        exact.Ratio // alpha: symbols by all symbols
}

func newFrame37910(t *testing.T, pattern, fr string, scs bands.Frequency, d bands.Direction, blocks, layers int) frame37910 {
	n, err := NumerologyOf(scs)
	if err != nil {
		t.Fatal(err)
	}
	total := int64(2 * n.SlotsPerFrame)
	f := frame37910{direction: d, fr2: fr == "FR2", blocks: int64(blocks), layers: int64(layers)}
	if pattern == "-" {
		f.fdd, f.slots, f.fullSlots = true, total, total
		f.symbols, f.guardSymbols, f.share = big.NewRat(14*total, 1), new(big.Rat), exact.Whole(1)
		return f
	}
	p, err := ParseTDDPattern(pattern)
	if err != nil {
		t.Fatal(err)
	}
	for i := range total {
		switch s := p.Slot(int(i)); {
		case s.Symbols(d) == 14:
			f.slots++
			f.fullSlots++
		case s.Symbols(d) > 0:
			f.slots++
		}
	}
	guard := p.GuardShare()
	f.share = p.Share(d).Add(guard.Mul(exact.Of(1, 2)))
	f.symbols = big.NewRat(14*total*f.share.Num, f.share.Den)
	f.guardSymbols = big.NewRat(14*total*guard.Num, 2*guard.Den)
	return f
}

// overhead is the part of the resource elements that set 1 to 4 takes. False if the
// report does not describe the set in full.
//
// Read so: signals wider than the carrier end at its edge (set 3 says so of TRS);
// an SS/PBCH block hides one of two DM-RS symbols; PT-RS skip one DM-RS symbol in
// the downlink and are in full uplink slots alone; DM-RS are in special slots too.
// Set 4 of the TDD downlink repeats SS/PBCH block, CSI-RS and CSI-IM every 20 slots
// at each spacing, has no TRS, and no SS/PBCH block where 20 blocks do not fit.
func (f *frame37910) overhead(set int) (*big.Rat, bool) {
	all := new(big.Rat).Mul(big.NewRat(12*f.blocks, 1), f.symbols)
	x := new(big.Rat).Mul(big.NewRat(12*f.blocks, 1), f.guardSymbols)
	add := func(re, by int64) { x.Add(x, big.NewRat(re, by)) }
	n := f.blocks
	trs := 2 * 12 * min(52, n) // two slots
	switch {
	case set == 4 && !f.fdd && (f.fr2 || f.direction == bands.Uplink):
		return nil, false
	case set == 4 && !f.fdd:
		periods := f.slots / 3 / 4 // of 20 slots, in which 12 are downlink or special
		add((2*72+16*n)*f.slots+12*n*periods, 1)
		if n >= 20 {
			add(960*periods, 1)
		}
	case set == 4: // chosen to meet TS 38.306
		oh := Overhead(bands.FR1, f.direction)
		return big.NewRat(oh.Num, oh.Den), true
	case f.direction == bands.Downlink:
		dmrs, beams := int64(16), int64(1)
		if f.layers == 6 {
			dmrs = 12
		}
		if f.fr2 {
			beams = 8
		}
		add(dmrs*n*f.slots+960*beams, 1)
		add(-dmrs*20*beams, 2)
		switch {
		case set == 1 && f.fr2:
			add(24*12*f.slots+2*trs+2*8*n, 1)
		case set == 1:
			add(24*12*f.slots+trs+8*n, 1)
		case set == 2:
			add(144*f.slots+12*n, 1)
			add(trs, 4)
		case f.fr2: // set 3: TRS every 10 ms, CSI-RS and CSI-IM every 2.5 ms
			add(4*72*f.slots+2*trs+8*12*n, 1)
		default:
			add(4*72*f.slots+12*n, 1)
			add(trs, 4)
		}
		if f.fr2 { // PT-RS on every fourth resource block
			ptrs := new(big.Rat).Sub(f.symbols, big.NewRat(f.slots, 1))
			x.Add(x, ptrs.Mul(ptrs, big.NewRat(n, 4)))
		}
	default:
		add(12*f.slots, 1) // PUCCH: 1 resource block, 1 symbol
		switch {
		case set == 1 && f.fr2:
			add(12*n*f.slots+4*12*n, 1)
		case set == 1 && f.fdd:
			add(12*n*f.slots+2*12*n, 1)
		case set == 1:
			add(12*n*f.slots+12*n, 1)
		case set == 2:
			add(8*n*f.slots+12*n, 1)
		case f.fdd: // set 3: 8 elements in the slot with SRS
			add(12*n*f.slots-4*n+12*n, 1)
		case f.fr2:
			add(12*n*f.slots+8*12*n, 1)
		default:
			add(12*n*f.fullSlots+8*n*(f.slots-f.fullSlots), 1)
		}
		if f.fr2 { // PT-RS of two ports
			add(2*14*n*f.fullSlots, 4)
		}
	}
	return x.Quo(x, all), true
}

// TestSelfEvaluation checks the peak spectral efficiencies and peak rates of
// TR 37.910 V1.0.0, whose equation 5.1.1-1 is the formula of TS 38.306 clause 4.1.2
// divided by the bandwidth.
func TestSelfEvaluation(t *testing.T) {
	checks := make(map[string]int)
	for _, section := range readSections(t, "nr_tr37910.txt") {
		for _, row := range section.rows {
			h, check := section.heading, row[9]
			checks[check]++
			if check == "left-out" {
				continue
			}
			d := bands.Downlink
			if h[1] == "UL" {
				d = bands.Uplink
			}
			scs := bands.Frequency(printed.Int(row[2])) * bands.KHz
			blocks, layers := printed.Int(row[4]), printed.Int(row[5])
			pattern, supplementary := strings.CutSuffix(row[0], "+sul")
			f := newFrame37910(t, pattern, row[1], scs, d, blocks, layers)
			c := Carrier{Range: bands.FR1, Direction: d, SCS: scs, ResourceBlocks: blocks, Layers: layers, Qm: 8, Overhead: exact.Whole(0)}
			rate, err := c.MaxRate() // without overhead
			if err != nil {
				t.Fatal(err)
			}
			base := new(big.Rat).Quo(big.NewRat(rate.Num, rate.Den), big.NewRat(int64(printed.Int(row[3]))*1e6, 1))

			first, last, ranged := strings.Cut(row[6], "-")
			if !ranged {
				last = first
			}
			low, high := 1e9, 0.0
			for set := printed.Int(first); set <= printed.Int(last); set++ {
				if oh, ok := f.overhead(set); ok {
					e, _ := new(big.Rat).Mul(base, oh.Sub(big.NewRat(1, 1), oh)).Float64()
					low, high = min(low, e), max(high, e)
				}
			}
			wantLow, wantHigh := printed.Ratio(row[7]).Float(), printed.Ratio(row[8]).Float()
			scale := printed.Ratio(row[3]).Float() / 1000 // Gbit/s for each bit/s/Hz
			if !supplementary {
				scale *= f.share.Float()
			}
			tolerance := 0.05
			switch {
			case check == "near":
				tolerance = 0.15
			case check == "bound" && h[2] == "Gbit/s":
				wantLow, wantHigh = wantLow/scale, wantHigh/scale
			case h[2] == "Gbit/s": // alpha * bandwidth * efficiency, the last rounded to one decimal
				low, high, tolerance = low*scale, high*scale, 0.005+0.05*scale
				if wantLow == wantHigh { // the upper end
					low = high
				}
			}
			if check == "bound" {
				f.checkBound(t, h[0], row, base, wantLow, wantHigh)
				continue
			}
			tolerance += 1e-9
			if check != "upper" && !(max(low-wantLow, wantLow-low) <= tolerance) {
				t.Errorf("Table %s %v: lowest %.3f, want %s", h[0], row[:7], low, row[7])
			}
			if check != "lower" && !(max(high-wantHigh, wantHigh-high) <= tolerance) {
				t.Errorf("Table %s %v: highest %.3f, want %s", h[0], row[:7], high, row[8])
			}
		}
	}
	t.Logf("%v", checks)
	if checks["="] != 116 || checks["near"] != 19 || checks["bound"] != 27 || checks["left-out"] != 4 {
		t.Errorf("checks are %v", checks)
	}
}

// checkBound compares the overhead behind a printed efficiency with that of DM-RS
// and guard alone.
func (f *frame37910) checkBound(t *testing.T, table string, row []string, base *big.Rat, low, high float64) {
	b, _ := base.Float64()
	dmrs := 8 * f.fullSlots
	if f.direction == bands.Downlink {
		dmrs = 16 * f.slots
	}
	all, _ := f.symbols.Float64()
	guard, _ := f.guardSymbols.Float64()
	least := (float64(dmrs)/12 + guard) / all
	for _, printed := range []float64{low, high} {
		if oh := 1 - printed/b; oh < least || oh > least+0.05+1.5/float64(f.blocks) {
			t.Errorf("Table %s %v: overhead %.4f behind %.1f, DM-RS and guard alone %.4f", table, row[:7], oh, printed, least)
		}
	}
}

// TestDirectionShares checks alpha of TR 37.910 V1.0.0, clause 5.1.1: half of the
// guard symbols count for each direction.
func TestDirectionShares(t *testing.T) {
	for _, c := range []struct{ pattern, dl, ul string }{
		{"DDDSU/11:1:2", "0.7643", "0.2357"},
		{"DSUUD/11:1:2", "0.5643", "0.4357"},
		{"DSUUD/6:2:6", "0.5", "0.5"},
	} {
		p, err := ParseTDDPattern(c.pattern)
		if err != nil {
			t.Fatal(err)
		}
		half := p.GuardShare().Mul(exact.Of(1, 2))
		for d, want := range map[bands.Direction]string{bands.Downlink: c.dl, bands.Uplink: c.ul} {
			share := p.Share(d).Add(half)
			if !roundsTo(big.NewRat(share.Num, share.Den), want, 0) {
				t.Errorf("%s %s: %s, want %s", c.pattern, d, share, want)
			}
		}
	}
}
