package throughput

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/data/pace"
	"spectally/throughput/lte"
)

// plainPair counts the elements for data of one resource block in a subframe of 14 symbols,
// element by element (TS 36.211 V19.3.0 clauses 6.10.1.2, 6.10.3.2, 6.11.1.2, 6.11.2.2,
// 6.6.4): the control region, the cell-specific reference signals of so many ports, the
// UE-specific ones, and in the central 72 subcarriers PSS, SSS and PBCH.
func plainPair(first, blocks, subframe, symbols, control, ports, specific int, tdd bool) int {
	left := 0
	for k := range 12 {
		subcarrier := 12*first + k
		central := 2*subcarrier >= 12*blocks-72 && 2*subcarrier < 12*blocks+72
		for s := range symbols {
			sync := !tdd && subframe%5 == 0 && (s == 5 || s == 6) || tdd && subframe%5 == 0 && s == 13 || tdd && subframe%5 == 1 && s == 2
			reference := s%7 == 0 || s%7 == 4
			second := s%7 == 1
			switch {
			case s < control, central && sync:
			case central && subframe == 0 && s >= 7 && s <= 10:
			case reference && (k%6 == 0 || ports > 1 && k%6 == 3):
			case second && ports == 4 && k%3 == 0:
			default:
				left++
			}
		}
	}
	return left - specific
}

// plainLTE counts the bits of a frame in a direction: in each subframe the most over the
// numbers of blocks that can be signalled, the blocks with the most elements first, and over
// the rows of the MCS table for each codeword, at code rates up to 0.932 (TS 36.213 V19.3.0
// clauses 7.1.6, 7.1.7 and 8.6).
func plainLTE(t *testing.T, frame lte.Frame, l *Link, down bool) int {
	t.Helper()
	d, sum := bands.Uplink, 0
	if down {
		d = bands.Downlink
	}
	table, err := lte.MCSTableFor(d, l.Qm())
	if err != nil {
		t.Fatal(err)
	}
	blocks := l.ResourceBlocks
	for i := range lte.Subframes {
		sub := frame.Subframe(i)
		if !sub.Carries(d) {
			continue
		}
		var each []int
		if down {
			control, ports, specific := 1, map[int]int{1: 1, 2: 2, 3: 4, 4: 4}[l.Layers], 0
			if blocks <= 10 {
				control = 2
			}
			if l.Layers > 4 {
				ports, specific = 1, 24
			}
			for b := range blocks {
				n := plainPair(b, blocks, i, sub.DownlinkSymbols, control, ports, specific, frame.TDD())
				if specific > 0 && n < plainPair(b, blocks, 3, sub.DownlinkSymbols, control, ports, specific, frame.TDD()) {
					continue // no ports 7 to 14 beside synchronisation signals and PBCH
				}
				each = append(each, n)
			}
		} else {
			for range blocks - 2 { // PUCCH
				each = append(each, 12*(14-2))
			}
		}
		slices.SortFunc(each, func(a, b int) int { return b - a })
		best := 0
		for n := 1; n <= len(each); n++ {
			if down && l.Layers > 1 && !plainGroups(n, blocks) || !down && !plainProduct(n) {
				continue
			}
			elements := 0
			for _, e := range each[:n] {
				elements += e
			}
			column := n
			if down {
				column = sub.Column(n)
			}
			here := 0
			for _, layers := range plainCodewords(l.Layers) {
				most := 0
				for _, m := range table.Rows() {
					order := m.Qm
					if m.Reserved() || m.Qm > l.Qm() && (down || l.Qm() != 4) {
						continue
					}
					order = min(order, l.Qm())
					if size, err := lte.CodewordSize(m.ITBS, column, layers); err == nil && 1000*(size+24) <= 932*elements*order*layers {
						most = max(most, size)
					}
				}
				here += most
			}
			best = max(best, here)
		}
		sum += best
	}
	return sum
}

func plainCodewords(layers int) []int {
	if layers == 1 {
		return []int{1}
	}
	return []int{layers / 2, layers - layers/2}
}

func plainProduct(n int) bool {
	for _, p := range []int{2, 3, 5} {
		for n%p == 0 {
			n /= p
		}
	}
	return n == 1
}

// plainGroups tells whether whole groups, of which the last may be smaller, or the blocks of
// one subset make n blocks up (TS 36.213 Table 7.1.6.1-1 and clauses 7.1.6.1, 7.1.6.2).
func plainGroups(n, blocks int) bool {
	p, shift := 4, 2
	switch {
	case blocks <= 10:
		p, shift = 1, 0
	case blocks <= 26:
		p, shift = 2, 1
	case blocks <= 63:
		p, shift = 3, 2
	}
	for whole := range blocks/p + 1 {
		if n == whole*p || blocks%p != 0 && n == whole*p+blocks%p {
			return true
		}
	}
	return n <= (blocks+p-1)/p-shift-1
}

// TestCountLTE counts carriers of every width with drawn frames, layers and constellations,
// element by element in plain code.
func TestCountLTE(t *testing.T) {
	r := rand.New(rand.NewPCG(36, 213))
	counted := 0
	for range pace.Times(60, 6) {
		for _, width := range []string{"1.4", "3", "5", "10", "15", "20"} {
			text := fmt.Sprintf("B3:%s,layers=%d,qam=%d", width, 1+r.IntN(8), []int{4, 16, 64, 256, 1024}[r.IntN(5)])
			if r.IntN(2) == 0 && width != "1.4" && width != "3" {
				text = fmt.Sprintf("B42:%s,pattern=%d/%d,layers=%d,qam=%d", width, r.IntN(7), r.IntN(10), 1+r.IntN(8), []int{4, 16, 64, 256}[r.IntN(4)])
			}
			text += fmt.Sprintf(",ul=1,ullayers=%d,ulqam=%d", 1+r.IntN(4), []int{4, 16, 64, 256}[r.IntN(4)])
			c, err := ca.Parse(text)
			if err != nil {
				t.Fatal(err)
			}
			result, err := Rate(ca.Assess(c))
			if err != nil {
				t.Fatalf("%s: %v", text, err)
			}
			if err := result.Schedule(Settings{}); err != nil {
				t.Fatalf("%s: %v", text, err)
			}
			for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
				counted++
				l := result.Carriers[0].Link(d)
				want := int64(100 * plainLTE(t, result.Carriers[0].Frame.LTE, l, d == bands.Downlink))
				if got := l.Scheduled.Round(); got != want {
					t.Errorf("%s %s: %d bit/s, counted %d", text, d, got, want)
				}
			}
		}
	}
	if pace.Whole && counted < 700 {
		t.Errorf("%d links", counted)
	}
}
