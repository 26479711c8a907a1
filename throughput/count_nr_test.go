package throughput

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/data/pace"
)

// smallBlocks is Table 5.1.3.2-1 of TS 38.214 V19.3.0, typed from the table.
var smallBlocks = numbers(`24 32 40 48 56 64 72 80 88 96 104 112 120 128 136 144 152 160 168 176 184 192 208 224 240 256 272 288 304 320
336 352 368 384 408 432 456 480 504 528 552 576 608 640 672 704 736 768 808 848 888 928 984 1032 1064 1128 1160 1192 1224 1256
1288 1320 1352 1416 1480 1544 1608 1672 1736 1800 1864 1928 2024 2088 2152 2216 2280 2408 2472 2536 2600 2664 2728 2792 2856 2976
3104 3240 3368 3496 3624 3752 3824`)

func numbers(s string) []int {
	var list []int
	for _, f := range strings.Fields(s) {
		n, err := strconv.Atoi(f)
		if err != nil {
			panic(err)
		}
		list = append(list, n)
	}
	return list
}

// plainBlock is the size of a transport block in so many resource elements of a resource
// block, and the bits that DataRate counts of it (TS 38.214 V19.3.0 clauses 5.1.3.2 and 5.1.3,
// TS 38.212 clause 5.2.2), in floating point, whose fractions of 1024 are exact.
func plainBlock(elements, blocks, qm int, rate float64, layers int) (size, counted int) {
	info := float64(min(156, elements)*blocks) * rate * float64(qm*layers)
	parts := 1
	if info <= 3824 {
		n := max(3, int(math.Floor(math.Log2(info)))-6)
		quantised := max(24, int(math.Floor(info/math.Exp2(float64(n))))<<n)
		for _, size = range smallBlocks {
			if size >= quantised {
				break
			}
		}
	} else {
		n := int(math.Floor(math.Log2(info-24))) - 5
		quantised := max(3840, int(math.Floor((info-24)/math.Exp2(float64(n))+0.5))<<n)
		up := func(a, b int) int { return (a + b - 1) / b }
		switch {
		case rate <= 0.25:
			parts = up(quantised+24, 3816)
		case quantised > 8424:
			parts = up(quantised+24, 8424)
		}
		size = 8*parts*up(quantised+24, 8*parts) - 24
		if parts == 1 && size+24 > 8448 { // cut by its length alone
			parts = up(size+24, 8448-24)
		}
	}
	return size, parts * (size / parts)
}

// plainNR counts what the downlink or the uplink of an NR carrier sends in 20 ms by the
// assumptions of NewSchedule, slot by slot: slots are letters, those of the pattern repeated.
// The bits are those of 20 ms.
func plainNR(slots string, special [3]int, l *Link, down, fr2 bool) int {
	rates := map[int]float64{2: 679, 4: 658, 6: 948, 8: 948, 10: 948} // highest rates times 1024, TS 38.214 Tables 5.1.3.1-1, -2, -4
	bits, sounded := 0, 0
	perSecond := float64(50 * len(slots))
	soundings := map[bool]int{true: 0, false: 1}[special[2] > 0 && strings.Contains(slots, "S")]
	if !strings.ContainsAny(slots, "DSU") {
		soundings = 2
	}
	for i, letter := range slots {
		symbols, blocks, length := 14, l.ResourceBlocks, 14
		switch {
		case down && (i == 0 || letter == 'U'), !down && (letter == 'D' || letter == 'S'):
			continue
		case letter == 'S':
			symbols, length = special[0], special[0]
		}
		positions, groups := 1, 2
		if down {
			symbols -= map[bool]int{true: 1, false: 2}[fr2]
			if symbols < 3 { // TS 38.214 Table 5.1.2.1-1
				continue
			}
			if l.Layers <= 2 {
				groups = 1
			}
		} else {
			blocks--
			if sounded < soundings {
				sounded++
				symbols--
				length--
			}
		}
		// TS 38.211 Tables 7.4.1.1.2-3, -4 and 6.4.1.1.3-3, one additional position.
		if l.Layers <= 4 && length >= 8 || l.Layers > 4 && length >= 10 {
			positions = 2
		}
		if l.Layers > 4 {
			positions *= 2
			if length < 4 {
				continue
			}
		}
		elements := 12*symbols - 6*groups*positions
		for ; blocks > 0; blocks-- { // no more than the maximum data rate in a slot
			all, heavy := 0, 0
			for _, layers := range codewordLayers(l.Layers) {
				size, counted := plainBlock(elements, blocks, l.Qm(), rates[l.Qm()]/1024, layers)
				all, heavy = all+size, heavy+counted
			}
			if float64(heavy)*perSecond <= l.Max.Float() {
				bits += all
				break
			}
		}
	}
	return bits
}

func codewordLayers(layers int) []int {
	if layers <= 4 {
		return []int{layers}
	}
	return []int{layers / 2, layers - layers/2}
}

// TestCountNR counts carriers of every band, width and spacing, with drawn patterns, layers
// and constellations, slot by slot in plain code.
func TestCountNR(t *testing.T) {
	r := rand.New(rand.NewPCG(38, 214))
	patterns := []struct {
		text, slots string
		special     [3]int
	}{
		{"DDDSU/10:2:2", "DDDSU", [3]int{10, 2, 2}}, {"DDDSU/3:9:2", "DDDSU", [3]int{3, 9, 2}}, {"DDDSU/11:1:2", "DDDSU", [3]int{11, 1, 2}},
		{"7DS2U/6:4:4", "DDDDDDDSUU", [3]int{6, 4, 4}}, {"DSUUU/12:2:0", "DSUUU", [3]int{12, 2, 0}},
	}
	counted := 0
	for _, b := range bands.All(bands.NR) {
		for _, w := range b.Widths() {
			if r.IntN(pace.Step(5)) != 0 || b.Duplex == bands.SDO || b.Duplex != bands.SUL && !w.Allows(bands.Downlink) || b.Duplex == bands.SUL && !w.Allows(bands.Uplink) {
				continue
			}
			text := fmt.Sprintf("%s:%s,scs=%s", b.ID, w.Width.MHz(), strings.TrimSuffix(w.SCS.String(), " kHz"))
			slots, special := strings.Repeat("-", int(20*w.SCS/(15*bands.KHz))), [3]int{}
			if b.Duplex == bands.TDD {
				p := patterns[r.IntN(len(patterns))]
				if len(slots)%len(p.slots) != 0 {
					continue
				}
				slots, special = strings.Repeat(p.slots, len(slots)/len(p.slots)), p.special
				text += ",pattern=" + p.text
			}
			if b.Has(bands.Downlink) {
				text += fmt.Sprintf(",layers=%d,qam=%d", 1+r.IntN(8), []int{4, 16, 64, 256, 1024}[r.IntN(5)])
			}
			if b.Has(bands.Uplink) && w.Allows(bands.Uplink) {
				text += fmt.Sprintf(",ul=1,ullayers=%d,ulqam=%d", 1+r.IntN(4), []int{4, 16, 64, 256}[r.IntN(4)])
			}
			c, err := ca.Parse(text)
			if err != nil {
				t.Fatal(err)
			}
			result, err := Rate(ca.Assess(c))
			if err != nil {
				continue // a pattern whose period the spacing does not have
			}
			if err := result.Schedule(Settings{}); err != nil {
				t.Fatalf("%s: %v", text, err)
			}
			for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
				l := result.Carriers[0].Link(d)
				if l.IsZero() {
					continue
				}
				counted++
				want := int64(50 * plainNR(slots, special, l, d == bands.Downlink, b.Range.IsFR2()))
				if got := l.Scheduled.Round(); got != want || l.Scheduled.Reduced().Den != 1 {
					t.Errorf("%s %s: %d bit/s, counted %d", text, d, got, want)
				}
			}
		}
	}
	if pace.Whole && counted < 1500 {
		t.Errorf("%d links", counted)
	}
}
