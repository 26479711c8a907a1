package lte

import (
	"sync"

	"spectally/bands"
	"spectally/throughput/exact"
)

// Scheduled is the most a scheduler can send in one subframe.
type Scheduled struct {
	Subframe Subframe
	PRB      int // allocated resource blocks; 0 where nothing is sent
	Column   int // column n_prb of the size table
	Elements int // resource elements of one layer that carry data
	Bits     int // transport block bits, sum over the codewords
	Blocks   [2]Block
}

// Schedule is the most a scheduler can send in a frame of 10 ms.
type Schedule struct {
	Cell      Cell // with its defaults filled in
	Subframes [Subframes]Scheduled
	FrameBits int // transport block bits of the frame
	// Positioned are the bits that positioning subframes take from that in each of their
	// periods.
	Positioned int
}

// Rate is the rate in bit/s: that of the frame over its 10 ms, less what positioning
// subframes take in their period.
func (s *Schedule) Rate() exact.Ratio {
	rate := exact.Whole(frameRate(s.FrameBits))
	if s.Positioned > 0 {
		rate = rate.Sub(exact.Of(int64(s.Positioned)*1000, int64(s.Cell.PRSPeriod)))
	}
	return rate
}

// positioned adds up the bits of as many downlink subframes as have positioning reference
// signals, from subframe 1 on.
func (s *Schedule) positioned() int {
	sum, left := 0, s.Cell.PRS
	for i := 1; i < 2*Subframes && left > 0; i++ {
		sub := &s.Subframes[i%Subframes]
		if k := sub.Subframe.Kind; k == Paired || k == DownlinkOnly {
			sum, left = sum+sub.Bits, left-1
		}
	}
	return sum
}

// frameRate is the rate in bit/s of bits that are sent every 10 ms.
func frameRate(bits int) int64 { return int64(bits) * 100 }

type scheduleKey struct {
	cell       Cell
	dir        bands.Direction
	qm, layers int
}

// schedules keeps schedules that were worked out, up to a number of them.
var schedules = struct {
	sync.RWMutex
	m map[scheduleKey]*Schedule
}{m: make(map[scheduleKey]*Schedule)}

const schedulesKept = 1024

// Schedule works out the most that a scheduler can send to or from one UE in a
// frame, with a modulation of at most order qm (2, 4, 6, 8; 10 in the downlink) on 1
// to 8 layers (uplink 4): in every subframe, over the numbers of blocks and the
// rows of that modulation's MCS table, each codeword for itself, the largest
// transport blocks whose code rate is at most 0.932 (TS 36.213 clause 7.1.7: above
// it a UE may skip decoding; the same bound is used in the uplink) in the resource
// elements that the cell leaves. Sizes that the standard does not give are no
// choice.
//
// The control region, cell-specific and UE-specific reference signals, PSS, SSS and
// PBCH are taken from subframes 0 and 5 (in TDD also 1 and 6) as TS 36.211 maps
// them; blocks outside the centre are used first. In the uplink the demodulation
// reference signal, the PUCCH and sounding are taken out. UpPTS carries user data where the
// cell says so, in the column max(floor(0.375 n), 1) of the size table, as DwPTS of as many
// symbols does (TS 36.213 clause 8.6.2; the factor from memory).
//
// The schedule is kept for all who ask: it must not be changed.
func (c Cell) Schedule(dir bands.Direction, qm, layers int) (*Schedule, error) {
	key := scheduleKey{c, dir, qm, layers}
	schedules.RLock()
	s, ok := schedules.m[key]
	schedules.RUnlock()
	if ok {
		return s, nil
	}
	fresh, err := c.schedule(dir, qm, layers)
	if err != nil {
		return nil, err
	}
	schedules.Lock()
	if len(schedules.m) >= schedulesKept {
		clear(schedules.m)
	}
	schedules.m[key] = &fresh
	schedules.Unlock()
	return &fresh, nil
}

func (c Cell) schedule(dir bands.Direction, qm, layers int) (Schedule, error) {
	c, err := c.withDefaults(dir, layers)
	if err != nil {
		return Schedule{}, err
	}
	if _, err := MCSTableFor(dir, qm); err != nil {
		return Schedule{}, err
	}
	search := search{
		mcs: schemes(dir, qm, c.Alternatives), qm: qm, layers: layers,
		products: dir == bands.Uplink, rate2048: c.CodeRate2048,
	}
	if dir == bands.Downlink && layers > 1 {
		search.grouped = c.RB
	}
	s := Schedule{Cell: c}
	var grids [Subframes]grid
	for i := range Subframes {
		grids[i] = c.grid(dir, i, layers)
		sub := &s.Subframes[i]
		for j := range i { // a subframe like an earlier one is not searched again
			if grids[j] == grids[i] && s.Subframes[j].Subframe == c.Frame.Subframe(i) {
				*sub = s.Subframes[j]
				break
			}
		}
		if sub.Subframe.Kind == 0 {
			*sub = search.best(&grids[i], c.Frame.Subframe(i), dir)
		}
		s.FrameBits += sub.Bits
	}
	if dir == bands.Downlink {
		s.Positioned = s.positioned()
	}
	return s, nil
}

// search looks for the largest transport blocks of a subframe.
type search struct {
	mcs        []scheme
	qm, layers int
	rate2048   int  // the highest code rate times 2048; 0 for that of the standard
	products   bool // only numbers of blocks that are products of 2, 3 and 5
	grouped    int  // only numbers of blocks that are signalled of so many; 0 for all
}

func (s *search) best(g *grid, sub Subframe, dir bands.Direction) Scheduled {
	best := Scheduled{Subframe: sub}
	for n := g.blocks(); n > 0; n-- {
		if s.products && PUSCHBlocks(n) != n || s.grouped > 0 && !signalled(n, s.grouped) {
			continue
		}
		elements := g.elements(n)
		if 932*elements*s.qm*s.layers <= 1000*best.Bits {
			break // fewer blocks carry no more
		}
		here := Scheduled{Subframe: sub, PRB: n, Column: n, Elements: elements}
		switch {
		case dir == bands.Downlink:
			here.Column = sub.Column(n)
		case sub.Kind == SpecialSubframe:
			here.Column = max(3*n/8, 1)
		}
		for i, layers := range split[s.layers] {
			if layers == 0 {
				continue
			}
			if i == 1 && layers == here.Blocks[0].Layers {
				here.Blocks[1] = here.Blocks[0]
			} else {
				here.Blocks[i] = s.codeword(here.Column, elements, layers)
			}
			here.Bits += here.Blocks[i].Bits
		}
		if here.Bits > best.Bits {
			best = here
		}
	}
	return best
}

// admits tells whether a block keeps within the code rate that is set for the highest
// modulation.
func (s *search) admits(bits, channel, qm int) bool {
	return s.rate2048 == 0 || qm < s.qm || 2048*(bits+CRCBits) <= s.rate2048*channel
}

// codeword finds the largest block of one codeword.
func (s *search) codeword(column, elements, layers int) Block {
	t := sizes[layers]()
	best := Block{Layers: layers}
	for _, m := range s.mcs {
		bits := int(t.bits[m.itbs][column])
		if channel := elements * m.qm * layers; bits > best.Bits && decodable(bits, channel) && s.admits(bits, channel, m.qm) {
			best = Block{layers, m.index, m.itbs, m.qm, bits, channel}
		}
	}
	return best
}
