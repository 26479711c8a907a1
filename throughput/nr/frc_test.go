package nr

import (
	"fmt"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/internal/printed"
)

// frcFrame is a frame of the reference channels: when there are data.
type frcFrame struct {
	scs     bands.Frequency
	frames  int
	pattern TDDPattern
	left    SlotSet
}

// frc is a reference channel.
type frc struct {
	spec, table, column string
	direction           bands.Direction
	alloc               Allocation
	mcs                 MCS
	fields              []string // as printed, from N_RE*layers on
	special             [][]string
}

func (c *frc) key(what string) string {
	return strings.Join([]string{c.spec, c.table, c.column, what}, " | ")
}

// readFRC reads the reference channels of Annex A of TS 38.101-1 V19.5.0,
// TS 38.101-2 V19.4.0, TS 38.101-4 V19.2.2, TS 38.101-5 V19.4.0 and TS 38.104
// V19.4.0.
func readFRC(t *testing.T) (map[string]frcFrame, []frc) {
	frames := make(map[string]frcFrame)
	var channels []frc
	for _, section := range readSections(t, "nr_frc.txt") {
		for _, row := range section.rows {
			switch {
			case section.heading == nil:
				f := frcFrame{scs: bands.Frequency(printed.Int(row[2])) * bands.KHz, frames: printed.Int(row[3])}
				var err error
				if row[4] != "-" {
					if f.pattern, err = ParseTDDPattern(row[4]); err != nil {
						t.Fatal(err)
					}
				}
				if f.left, err = ParseSlotSet(strings.Join(row[5:], " ")); err != nil {
					t.Fatal(err)
				}
				frames[row[1]] = f
			case row[0] == "+":
				last := &channels[len(channels)-1]
				last.special = append(last.special, row[1:])
			default:
				h := section.heading
				c := frc{spec: h[0] + " " + h[1], table: h[3], column: row[0], direction: bands.Downlink, fields: row[11:]}
				if h[4] == "UL" {
					c.direction = bands.Uplink
				}
				c.mcs = testMCS(t, row[2], row[3], row[4], row[5])
				c.alloc = Allocation{
					PRB: printed.Int(row[1]), Layers: printed.Int(row[6]), DMRSRE: printed.Int(row[7]), XOverhead: printed.Int(row[8]),
					Symbols: printed.Int(row[9]), Slots: printed.Int(row[10]),
				}.WithMCS(c.mcs)
				channels = append(channels, c)
			}
		}
	}
	return frames, channels
}

// corrections are the values by the clause where a printed one contradicts it.
type corrections struct {
	values map[string][2]string // printed, by the clause
	used   map[string]bool
}

func readCorrections(t *testing.T) corrections {
	text, err := os.ReadFile("../../testdata/nr_frc_corrections.txt")
	if err != nil {
		t.Fatal(err)
	}
	c := corrections{make(map[string][2]string), make(map[string]bool)}
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		f := strings.Split(line, " | ")
		if len(f) != 7 || f[4] == f[5] || f[6] == "" {
			t.Fatalf("%q: want seven fields, two different values and a reason", line)
		}
		c.values[strings.Join(f[:4], " | ")] = [2]string{f[4], f[5]}
	}
	return c
}

// want is the value that a printed one stands for; false if none is printed.
func (c *corrections) want(t *testing.T, key, printed string) (string, bool) {
	printed, wrong := strings.CutPrefix(printed, "!")
	if !wrong {
		return printed, printed != "-"
	}
	v, ok := c.values[key]
	if !ok || v[0] != printed {
		t.Errorf("%s: no correction of %s", key, printed)
	}
	c.used[key] = true
	return v[1], true
}

// TestReferenceChannels works out every block of every reference channel.
func TestReferenceChannels(t *testing.T) {
	_, channels := readFRC(t)
	corrections := readCorrections(t)
	values := 0
	check := func(c *frc, what, printed string, got int) {
		if want, ok := corrections.want(t, c.key(what), printed); ok {
			values++
			if strconv.Itoa(got) != want {
				t.Errorf("%s = %d, want %s", c.key(what), got, want)
			}
		}
	}
	for i := range channels {
		c := &channels[i]
		b, err := c.alloc.TransportBlock()
		if err != nil {
			t.Errorf("%s: %v", c.key(""), err)
			continue
		}
		f := c.fields
		check(c, "re*layers", f[0], b.RE*b.Layers)
		check(c, "tbs", f[1], b.TBS)
		check(c, "crc", f[2], b.CRCBits)
		check(c, "blocks", f[3], b.CodeBlocks)
		check(c, "graph", f[4], b.BaseGraph)
		check(c, "block-bits", f[5], b.CodeBlockBits)
		for n, f := range c.special {
			a := c.alloc
			a.Symbols, a.DMRSRE = printed.Int(f[0]), printed.Int(f[1])
			if b, err = a.TransportBlock(); err != nil {
				t.Errorf("%s: %v", c.key("special"), err)
				continue
			}
			suffix := fmt.Sprintf("_%d", n+2)
			check(c, "tbs"+suffix, f[2], b.TBS)
			check(c, "crc"+suffix, f[3], b.CRCBits)
			check(c, "blocks"+suffix, f[4], b.CodeBlocks)
		}
		if len(f) > 6 {
			corrections.want(t, c.key("mbps"), strings.TrimRight(f[10], "tu"))
		}
	}
	for key := range corrections.values {
		if !corrections.used[key] {
			t.Errorf("correction without a wrong value: %s", key)
		}
	}
	t.Logf("%d reference channels, %d values, %d of them corrected", len(channels), values, len(corrections.values))
	if len(channels) != 821 {
		t.Errorf("%d channels, want 821", len(channels))
	}
}

// TestReferenceChannelThroughput runs every reference channel with a printed
// throughput through the schedule: slots of the pattern, slots left out, special
// slots, repetition.
func TestReferenceChannelThroughput(t *testing.T) {
	frames, channels := readFRC(t)
	corrections := readCorrections(t)
	n := 0
	for i := range channels {
		c := &channels[i]
		if len(c.fields) < 7 {
			continue
		}
		n++
		f, c2 := frames[c.fields[6]], c.fields[7:]
		s := Schedule{
			Direction: c.direction, SCS: f.scs, ResourceBlocks: c.alloc.PRB, Layers: c.alloc.Layers, MCS: c.mcs,
			Pattern: f.pattern, Frames: f.frames, ControlSymbols: printed.Int(c2[0]), Repetitions: printed.Int(c2[1]),
			DMRSRE: c.alloc.DMRSRE, XOverhead: c.alloc.XOverhead, LeftOut: f.left,
		}
		for _, sp := range c.special { // the kind with fewer symbols stands in the special slots
			if printed.Int(sp[0]) < c.alloc.Symbols {
				s.SpecialDMRSRE = printed.Int(sp[1])
			}
		}
		r, err := s.Schedule()
		if err != nil {
			t.Errorf("%s: %v", c.key(""), err)
			continue
		}
		for _, k := range r.Kinds() {
			known := k.Symbols == c.alloc.Symbols
			for _, sp := range c.special {
				known = known || k.Symbols == printed.Int(sp[0])
			}
			if !known {
				t.Errorf("%s: %d slots with %d symbols", c.key(""), k.Slots, k.Symbols)
			}
		}
		if len(r.Kinds()) != 1+len(c.special) {
			t.Errorf("%s: %d kinds of slot, want %d", c.key(""), len(r.Kinds()), 1+len(c.special))
		}
		got := big.NewRat(r.Bits, 1000*int64(printed.Int(c2[2]))) // Mbit/s
		printed := c2[3]
		how := printed[len(printed)-1]
		want, _ := corrections.want(t, c.key("mbps"), strings.TrimRight(printed, "tu"))
		if !roundsTo(got, want, how) {
			t.Errorf("%s: %s Mbit/s, want %s", c.key("mbps"), got.FloatString(6), printed)
		}
	}
	t.Logf("%d throughputs", n)
	if n != 307 {
		t.Errorf("%d throughputs, want 307", n)
	}
}

// roundsTo tells whether x, rounded to the digits of want, is want: cut off if
// how is 't', upwards if it is 'u', else to the nearest with halves up.
func roundsTo(x *big.Rat, want string, how byte) bool {
	_, frac, _ := strings.Cut(want, ".")
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(frac))), nil)
	y := new(big.Rat).Mul(x, new(big.Rat).SetInt(scale))
	num, den := y.Num(), y.Denom()
	switch how {
	case 't':
	case 'u':
		num = new(big.Int).Add(num, new(big.Int).Sub(den, big.NewInt(1)))
	default:
		num = new(big.Int).Add(new(big.Int).Lsh(num, 1), den)
		den = new(big.Int).Lsh(den, 1)
	}
	got := new(big.Rat).SetFrac(new(big.Int).Div(num, den), scale)
	w, ok := new(big.Rat).SetString(want)
	return ok && got.Cmp(w) == 0
}

// TestCQITransportBlocks checks TS 38.101-4 V19.2.2 Tables A.4-x: each CQI, the
// MCS that goes with it and its transport block.
func TestCQITransportBlocks(t *testing.T) {
	n := 0
	for _, section := range readSections(t, "nr_cqi_tbs.txt") {
		h := section.heading
		for _, row := range section.rows {
			n++
			m := testMCS(t, h[2], row[2], row[3], row[4])
			a := Allocation{PRB: printed.Int(h[3]), Symbols: printed.Int(h[4]), Layers: printed.Int(h[5]), DMRSRE: printed.Int(h[6]), XOverhead: printed.Int(h[7])}.WithMCS(m)
			b, err := a.TransportBlock()
			if err != nil || b.TBS != printed.Int(row[5]) {
				t.Errorf("%v CQI %s: %d bits, %v; want %s", h, row[0], b.TBS, err, row[5])
			}
			if efficiency(row[1]) != m.Efficiency {
				t.Errorf("%v CQI %s: efficiency %d, want %s", h, row[0], m.Efficiency, row[1])
			}
			// Where the CQI table has the same efficiency as an MCS, that MCS is the
			// highest within it. CQI 1 of most tables is below the lowest MCS.
			cqi, err := m.Table.CQI(printed.Int(row[0]))
			if err != nil {
				t.Fatal(err)
			}
			if got, ok := m.Table.Within(cqi.BitsPerSymbol().Float()); ok && got != m {
				t.Errorf("%v CQI %s: MCS within its efficiency is %d, want %d", h, row[0], got.Index, m.Index)
			} else if !ok && m.Index != 0 {
				t.Errorf("%v CQI %s: no MCS within its efficiency, want %d", h, row[0], m.Index)
			}
		}
	}
	if n != 128 {
		t.Errorf("%d rows, want 128", n)
	}
}
