package lte

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/data"
)

func itbs(t testing.TB, s string) ITBS {
	t.Helper()
	i, err := ParseITBS(s)
	if err != nil {
		t.Fatal(err)
	}
	return i
}

// knownGaps are the sizes that the translation tables of TS 36.213 V19.3.0
// (Tables 7.1.7.2.2-1, 7.1.7.2.4-1, 7.1.7.2.5-1) leave out: index, blocks from and
// to, and the fewest layers of a codeword that have the gap.
var knownGaps = []struct {
	itbs                string
	first, last, layers int
	oneBits             int
}{
	{"33B", 100, 110, 3, 100752},
	{"32A", 108, 110, 3, 101840}, {"34", 96, 98, 3, 101840}, {"34A", 95, 98, 3, 101840},
	{"35", 92, 94, 3, 101840}, {"36", 87, 90, 3, 101840}, {"37", 81, 83, 3, 101840}, {"37A", 84, 86, 3, 101840},
	{"37", 103, 105, 2, 128496}, {"37A", 107, 108, 2, 128496}, {"37A", 109, 110, 2, 130392},
	{"37", 106, 109, 2, 133208}, {"37", 110, 110, 2, 137792},
}

// Every index, number of blocks and number of layers of a codeword is a size or
// a gap that is known.
func TestGaps(t *testing.T) {
	type cell struct {
		i         ITBS
		n, layers int
	}
	gaps := make(map[cell]int)
	for _, g := range knownGaps {
		for n := g.first; n <= g.last; n++ {
			for layers := g.layers; layers <= 4; layers++ {
				gaps[cell{itbs(t, g.itbs), n, layers}] = g.oneBits
			}
		}
	}
	sizes, missing := 0, 0
	for _, i := range ITBSValues() {
		for n := 1; n <= MaxPRB; n++ {
			for layers := 1; layers <= 4; layers++ {
				bits, err := CodewordSize(i, n, layers)
				want, gap := gaps[cell{i, n, layers}]
				if !gap {
					if err != nil || bits <= 0 || bits%8 != 0 {
						t.Errorf("I_TBS %s, %d blocks, %d layers: %d bits, %v", i, n, layers, bits, err)
					}
					sizes++
					continue
				}
				missing++
				var e *GapError
				if !errors.As(err, &e) || bits != 0 {
					t.Errorf("I_TBS %s, %d blocks, %d layers: %d bits, %v; the standard has none", i, n, layers, bits, err)
					continue
				}
				table := map[int]string{2: "7.1.7.2.2-1", 3: "7.1.7.2.4-1", 4: "7.1.7.2.5-1"}[layers]
				if e.ITBS != i || e.PRB != n || e.Layers != layers || e.OneBits != want || e.Source.Table != table {
					t.Errorf("I_TBS %s, %d blocks, %d layers: gap %+v", i, n, layers, *e)
				}
				for _, part := range []string{"I_TBS " + i.String(), strconv.Itoa(n), strconv.Itoa(want), table} {
					if !strings.Contains(err.Error(), part) {
						t.Errorf("%q does not say %q", err, part)
					}
				}
			}
		}
	}
	if sizes+missing != 44*110*4 || missing != 12*3+34*2 {
		t.Errorf("%d sizes and %d gaps", sizes, missing)
	}
}

// The layer rule of TS 36.213 clause 7.1.7.2 a second time, from the tables and
// with the limits written out.
func TestCodewordSizeRule(t *testing.T) {
	limit := map[int]int{2: 55, 3: 36, 4: 27} // clauses 7.1.7.2.2, 7.1.7.2.4, 7.1.7.2.5
	for layers, most := range limit {
		table := make(map[string]string)
		for _, row := range data.Find(tbsFile(), fmt.Sprintf("layers%d", layers)).Rows {
			table[row[0]] = row[1]
		}
		for _, row := range data.Find(tbsFile(), "layers1").Rows {
			sizes := strings.Fields(row[1])
			if len(sizes) != MaxPRB {
				t.Fatalf("I_TBS %s has %d sizes", row[0], len(sizes))
			}
			for n := 1; n <= MaxPRB; n++ {
				want := table[sizes[n-1]]
				if n <= most {
					want = sizes[layers*n-1]
				}
				if want == "" {
					want = "0"
				}
				if bits, _ := CodewordSize(itbs(t, row[0]), n, layers); strconv.Itoa(bits) != want {
					t.Errorf("I_TBS %s, %d blocks, %d layers: %d bits, want %s", row[0], n, layers, bits, want)
				}
			}
		}
	}
}

// Within an index the size does not fall with the number of blocks, nor with
// the number of layers; but I_TBS 6 prints 328 bits at one block (TS 36.213
// V19.3.0 Table 7.1.7.2.1-1).
func TestSizeMonotone(t *testing.T) {
	for _, i := range ITBSValues() {
		for layers := 1; layers <= 8; layers++ {
			last := 0
			for n := 1; n <= MaxPRB; n++ {
				bits, err := TransportBlock(i, n, layers)
				if err != nil {
					continue // a gap: TestLTEGaps
				}
				odd := i.String() == "6" && last == layers*328 && n == 2 && layers <= 2
				if bits < last && !odd {
					t.Errorf("I_TBS %s, %d layers: %d bits at %d blocks, %d before", i, layers, bits, n, last)
				}
				last = bits
				if fewer, err := TransportBlock(i, n, max(1, layers-1)); err == nil && fewer > bits && i.String() != "6" {
					t.Errorf("I_TBS %s, %d blocks: %d bits on %d layers, %d on one less", i, n, bits, layers, fewer)
				}
			}
		}
	}
	for n, want := range map[int]int{1: 328, 2: 176} {
		if bits, err := CodewordSize(itbs(t, "6"), n, 1); err != nil || bits != want {
			t.Errorf("I_TBS 6 at %d blocks: %d bits, %v; want %d", n, bits, err, want)
		}
	}
}

// The order of the rows of TS 36.213 V19.3.0 Table 7.1.7.2.1-1 in every column.
func TestSizeOrder(t *testing.T) {
	chains := []string{
		"0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25 27 28 29 30 31 32 33 34 35 36 37",
		"24 26A 26 30", "25 27 26", "32 32A", "32 33A 33 33B 34 34A 35", "36 37A 37",
	}
	for _, chain := range chains {
		names := strings.Fields(chain)
		for k := 1; k < len(names); k++ {
			low, high := itbs(t, names[k-1]), itbs(t, names[k])
			for n := 1; n <= MaxPRB; n++ {
				a, _ := CodewordSize(low, n, 1)
				b, _ := CodewordSize(high, n, 1)
				if a > b && !(n == 1 && low.String() == "6") {
					t.Errorf("%d blocks: I_TBS %s has %d bits, %s has %d", n, low, a, high, b)
				}
			}
		}
	}
	for n := 1; n <= MaxPRB; n++ {
		a, _ := CodewordSize(itbs(t, "27"), n, 1)
		b, _ := CodewordSize(itbs(t, "26"), n, 1)
		if a >= b {
			t.Errorf("%d blocks: I_TBS 27 has %d bits, 26 has %d; 27 lies below in every column", n, a, b)
		}
	}
	below, above := itbs(t, "33"), itbs(t, "32A")
	for n := 1; n <= MaxPRB; n++ {
		a, _ := CodewordSize(below, n, 1)
		b, _ := CodewordSize(above, n, 1)
		if (b > a) != (n >= 108) {
			t.Errorf("%d blocks: 33 has %d bits, 32A %d; 32A is the larger from 108 on", n, a, b)
		}
	}
}

// A size of several layers is close to that many times the size of one.
func TestLayersNearMultiple(t *testing.T) {
	for _, i := range ITBSValues() {
		for n := 28; n <= MaxPRB; n++ {
			one, _ := CodewordSize(i, n, 1)
			for layers := 2; layers <= 4; layers++ {
				bits, err := CodewordSize(i, n, layers)
				if err != nil || layers*n <= MaxPRB {
					continue
				}
				if diff := bits - layers*one; 1000*max(diff, -diff) > 22*layers*one {
					t.Errorf("I_TBS %s, %d blocks: one layer %d, %d layers %d", i, n, one, layers, bits)
				}
			}
		}
	}
}

// Sizes of TS 36.306 V19.2.0 Tables 4.1-1, 4.1A-1, 4.1A-2 (largest single blocks and
// sums of two), and the worked columns of DwPTS for I_TBS 26.
func TestCheckValues(t *testing.T) {
	for _, c := range []struct {
		itbs        string
		n, layers   int
		codeword    int // largest single block
		total       int // of the layers
		cwLayers    int
		description string
	}{
		{"26", 100, 1, 75376, 75376, 1, "UL category 5"},
		{"26", 100, 2, 75376, 150752, 1, "DL category 4"},
		{"26", 100, 4, 149776, 299552, 2, "DL category 5"},
		{"26", 100, 8, 299856, 599712, 4, "DL category 8, one of five carriers"},
		{"33", 100, 1, 97896, 97896, 1, "256QAM on one layer"},
		{"33", 100, 2, 97896, 195792, 1, "256QAM on two layers"},
		{"33", 100, 4, 195816, 391632, 2, "DL category 13"},
		{"33", 100, 8, 391656, 783312, 4, "DL category 14, one of five carriers"},
		{"33B", 100, 2, 100752, 201504, 1, "DL category 15, alternativeTBS-Index-r14"},
		{"33B", 100, 4, 201936, 403872, 2, "DL category 15, alternativeTBS-Index-r14"},
		{"37", 100, 1, 125808, 125808, 1, "DL category 20, 1024QAM"},
		{"37", 100, 2, 125808, 251616, 1, "DL category 20, 1024QAM"},
		{"37", 100, 4, 251640, 503280, 2, "DL category 20, 1024QAM"},
		{"37", 100, 8, 502624, 1005248, 4, "DL category 20, 1024QAM"},
		{"34", 100, 1, 105528, 105528, 1, "UL category 16"},
		{"34", 100, 4, 211936, 423872, 2, "UL category 17, one of five carriers"},
		{"26", 75, 1, 55056, 55056, 1, "DwPTS of 100 blocks, column 75"},
		{"26", 37, 1, 27376, 27376, 1, "DwPTS of 100 blocks, column 37"},
	} {
		i := itbs(t, c.itbs)
		if bits, err := CodewordSize(i, c.n, c.cwLayers); err != nil || bits != c.codeword {
			t.Errorf("%s: codeword of %d bits, %v; want %d", c.description, bits, err, c.codeword)
		}
		if bits, err := TransportBlock(i, c.n, c.layers); err != nil || bits != c.total {
			t.Errorf("%s: %d bits, %v; want %d", c.description, bits, err, c.total)
		}
	}
}

// TS 36.211 V19.3.0 clause 6.3.3.2: the codewords of 1 to 8 layers.
func TestCodewords(t *testing.T) {
	want := [][2]int{{1, 0}, {1, 1}, {1, 2}, {2, 2}, {2, 3}, {3, 3}, {3, 4}, {4, 4}}
	for k, w := range want {
		a, b, err := Codewords(k + 1)
		if err != nil || a != w[0] || b != w[1] {
			t.Errorf("%d layers: %d + %d, %v; want %v", k+1, a, b, err, w)
		}
	}
	for _, i := range ITBSValues() {
		for n := 1; n <= MaxPRB; n++ {
			for k, w := range want {
				sum, gap := 0, false
				for _, layers := range w {
					if layers > 0 {
						bits, err := CodewordSize(i, n, layers)
						sum, gap = sum+bits, gap || err != nil
					}
				}
				bits, err := TransportBlock(i, n, k+1)
				var e *GapError
				if gap != errors.As(err, &e) || (!gap && bits != sum) || (gap && bits != 0) {
					t.Errorf("I_TBS %s, %d blocks, %d layers: %d bits, %v; codewords give %d", i, n, k+1, bits, err, sum)
				}
			}
		}
	}
}

func TestSizeArguments(t *testing.T) {
	i := itbs(t, "26")
	for _, c := range []struct {
		i         ITBS
		n, layers int
		param     string
		nearest   string
	}{
		{0, 100, 1, "I_TBS", ""}, {45, 100, 1, "I_TBS", ""},
		{i, 0, 1, "number of resource blocks", "1"}, {i, 111, 1, "number of resource blocks", "110"},
		{i, -5, 1, "number of resource blocks", "1"},
		{i, 100, 0, "number of layers", "1"}, {i, 100, 9, "number of layers", "8"},
	} {
		for name, size := range map[string]func(ITBS, int, int) (int, error){
			"LTECodewordSize": CodewordSize, "LTETransportBlock": TransportBlock,
		} {
			bits, err := size(c.i, c.n, c.layers)
			var v *bands.ValueError
			if bits != 0 || !errors.As(err, &v) || v.Param != c.param {
				t.Errorf("%s(%v, %d, %d) = %d, %v", name, c.i, c.n, c.layers, bits, err)
				continue
			}
			nearest := c.nearest
			if name == "LTECodewordSize" && nearest == "8" {
				nearest = "4"
			}
			if v.Nearest != nearest {
				t.Errorf("%s(%v, %d, %d): nearest %q", name, c.i, c.n, c.layers, v.Nearest)
			}
		}
	}
	for _, layers := range []int{0, 9, -1} {
		if _, _, err := Codewords(layers); err == nil {
			t.Errorf("%d layers have codewords", layers)
		}
	}
}
