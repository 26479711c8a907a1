package nr

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/data"
	"spectally/data/pace"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
)

// plainSizes are the sizes of TS 38.214 V19.3.0 Table 5.1.3.2-1.
func plainSizes(t testing.TB) []int64 {
	var sizes []int64
	for _, row := range data.Find(tbsTables(), "small").Rows {
		if printed.Int(row[0]) != len(sizes)+1 {
			t.Fatalf("line %s of the table stands at %d", row[0], len(sizes)+1)
		}
		for f := range strings.FieldsSeq(row[1]) {
			sizes = append(sizes, int64(printed.Int(f)))
		}
	}
	return sizes
}

func TestSmallSizes(t *testing.T) {
	sizes := plainSizes(t)
	if len(sizes) != 93 || sizes[0] != 24 || sizes[92] != 3824 {
		t.Fatalf("%d sizes from %d", len(sizes), sizes[0])
	}
	for i, s := range sizes {
		if s%8 != 0 || i > 0 && s <= sizes[i-1] {
			t.Errorf("size %d: %d", i+1, s)
		}
	}
}

// plainBlock runs the steps of TS 38.214 V19.3.0 clause 5.1.3.2 as they are
// printed, in rationals and with searches in place of logarithms. It returns the
// size and the number of code blocks that step 4 has (1 in step 3).
func plainBlock(sizes []int64, a Allocation) (tbs, blocks int64) {
	perBlock := min(156, 12*a.Symbols-a.DMRSRE-a.XOverhead)
	re := int64(perBlock * a.PRB)
	if a.Slots > 1 {
		re *= int64(a.Slots)
	}
	rate := big.NewRat(int64(a.Rate2048), 2048)
	info := new(big.Rat).Mul(big.NewRat(re*int64(a.Qm*a.Layers), 1<<a.ScalingField), rate)
	log2 := func(x *big.Rat) int { // floor
		n := 0
		for ; x.Cmp(big.NewRat(1<<(n+1), 1)) >= 0; n++ {
		}
		return n
	}
	floor := func(x *big.Rat) int64 { return new(big.Int).Div(x.Num(), x.Denom()).Int64() }
	if info.Cmp(big.NewRat(3824, 1)) <= 0 {
		step := int64(1) << max(3, log2(info)-6)
		quantised := max(24, step*floor(new(big.Rat).Quo(info, big.NewRat(step, 1))))
		for _, size := range sizes {
			if size >= quantised {
				return size, 1
			}
		}
	}
	rest := new(big.Rat).Sub(info, big.NewRat(24, 1))
	step := int64(1) << (log2(rest) - 5)
	rounded := new(big.Rat).Quo(rest, big.NewRat(step, 1))
	quantised := max(3840, step*floor(rounded.Add(rounded, big.NewRat(1, 2))))
	ceil := func(x, y int64) int64 { return (x + y - 1) / y }
	switch {
	case rate.Cmp(big.NewRat(1, 4)) <= 0:
		c := ceil(quantised+24, 3816)
		return 8*c*ceil(quantised+24, 8*c) - 24, c
	case quantised > 8424:
		c := ceil(quantised+24, 8424)
		return 8*c*ceil(quantised+24, 8*c) - 24, c
	}
	return 8*ceil(quantised+24, 8) - 24, 1
}

// everyMCS calls f for every row of every MCS table that has a rate.
func everyMCS(f func(MCS)) {
	for table := MCS64QAM; table <= MCS64QAMLowSETP; table++ {
		for i, pi2 := range []bool{false, true} {
			for _, m := range table.Rows(pi2) {
				if !m.Reserved() && (i == 0 || m.Qm == 1) {
					f(m)
				}
			}
		}
	}
}

// TestTransportBlockPlain compares with the plain path over every MCS, many
// numbers of resource blocks, every layer and resource elements from few to many,
// and checks what must hold for every block.
func TestTransportBlockPlain(t *testing.T) {
	sizes := plainSizes(t)
	elements := []struct{ symbols, dmrs, overhead int }{
		{1, 0, 0}, {2, 6, 0}, {4, 12, 6}, {9, 12, 0}, {12, 36, 0}, {12, 24, 18}, {13, 12, 12}, {14, 0, 0},
	}
	n := 0
	everyMCS(func(m MCS) {
		for _, prb := range []int{1, 2, 3, 5, 11, 24, 32, 51, 66, 79, 106, 133, 162, 217, 245, 273, 275} {
			for _, e := range elements {
				for layers := 1; layers <= 4; layers++ {
					a := Allocation{PRB: prb, Symbols: e.symbols, DMRSRE: e.dmrs, XOverhead: e.overhead, Layers: layers}.WithMCS(m)
					n++
					checkBlock(t, sizes, a)
				}
			}
		}
	})
	// Blocks over several slots, the scaling of paging and random access, and rates
	// of no table.
	for _, slots := range []int{0, 1, 2, 4, 8} {
		for field := range 3 {
			for rate := 1; rate <= 2048; rate += 23 * pace.Step(7) {
				for _, prb := range []int{1, 7, 48, 273} {
					a := Allocation{PRB: prb, Symbols: 14, DMRSRE: 36, Layers: 1, Qm: 2, Rate2048: rate, Slots: slots, ScalingField: field}
					n++
					checkBlock(t, sizes, a)
				}
			}
		}
	}
	t.Logf("%d blocks", n)
}

func checkBlock(t *testing.T, sizes []int64, a Allocation) {
	b, err := a.TransportBlock()
	if err != nil {
		t.Fatalf("%+v: %v", a, err)
	}
	want, blocks := plainBlock(sizes, a)
	if int64(b.TBS) != want {
		t.Fatalf("%+v: %d bits, want %d", a, b.TBS, want)
	}
	// The code blocks of TS 38.212 come out as step 4 of TS 38.214 has them, and
	// the size is chosen so that they are equally long.
	if b.Large && int64(b.CodeBlocks) != blocks && a.Rate2048 > 512 {
		t.Fatalf("%+v: %d code blocks, step 4 has %d", a, b.CodeBlocks, blocks)
	}
	total := b.TBS + b.CRCBits
	if b.CodeBlocks > 1 {
		total += 24 * b.CodeBlocks
	}
	largest := map[int]int{1: 8448, 2: 3840}[b.BaseGraph]
	if b.CodeBlocks*b.CodeBlockBits != total || b.CodeBlockBits > largest {
		t.Fatalf("%+v: %d code blocks of %d bits for %d", a, b.CodeBlocks, b.CodeBlockBits, total)
	}
	if b.CodeBlocks > 1 && (total-24*b.CodeBlocks)-(b.CodeBlocks-1)*(largest-24) <= 0 {
		t.Fatalf("%+v: %d code blocks where fewer would do", a, b.CodeBlocks)
	}
	if b.TBS%8 != 0 || b.ScheduledBits() > int64(b.TBS) {
		t.Fatalf("%+v: %d bits, V = %d", a, b.TBS, b.ScheduledBits())
	}
	// Up to R = 948/1024 the block fits the resource elements; only the smallest
	// block of all, 24 bits, is larger than N_info asks for.
	if a.Rate2048 <= 2*948 && b.TBS > 24 && b.TBS > b.ChannelBits() {
		t.Fatalf("%+v: %d bits in %d channel bits", a, b.TBS, b.ChannelBits())
	}
}

// TestTransportBlockMonotone checks that a block grows with resource blocks and
// layers, over every MCS.
func TestTransportBlockMonotone(t *testing.T) {
	everyMCS(func(m MCS) {
		var before [5]int
		for prb := 1; prb <= 275; prb++ {
			last := 0
			for layers := 1; layers <= 4; layers++ {
				a := Allocation{PRB: prb, Symbols: 12, DMRSRE: 24, Layers: layers}.WithMCS(m)
				b, err := a.TransportBlock()
				if err != nil {
					t.Fatal(err)
				}
				if b.TBS < last || b.TBS < before[layers] {
					t.Fatalf("%+v: %d bits, less than %d or %d", a, b.TBS, last, before[layers])
				}
				last, before[layers] = b.TBS, b.TBS
			}
		}
	})
}

// TestCodewords checks the split of TS 38.211 V19.3.0 clause 7.3.1.3: above four
// layers the first codeword has half of them, rounded down.
func TestCodewords(t *testing.T) {
	for layers, want := range [][2]int{1: {1, 0}, 2: {2, 0}, 3: {3, 0}, 4: {4, 0}, 5: {2, 3}, 6: {3, 3}, 7: {3, 4}, 8: {4, 4}} {
		if layers == 0 {
			continue
		}
		a := Allocation{PRB: 100, Symbols: 12, DMRSRE: 24, Layers: layers, Qm: 6, Rate2048: 1200}
		blocks, n, err := a.TransportBlocks()
		if err != nil || n != 1+oneIf(want[1] > 0) {
			t.Fatalf("%d layers: %d codewords, %v", layers, n, err)
		}
		for i, v := range want {
			one := TransportBlock{}
			if v > 0 {
				a.Layers = v
				if one, err = a.TransportBlock(); err != nil {
					t.Fatal(err)
				}
			}
			if blocks[i] != one {
				t.Errorf("%d layers: codeword %d is %+v, want that of %d layers", layers, i+1, blocks[i], v)
			}
		}
	}
	a := Allocation{PRB: 100, Symbols: 12, Layers: 5, Qm: 6, Rate2048: 1200}
	if _, err := a.TransportBlock(); err == nil {
		t.Error("five layers in one codeword")
	}
}

// TestBaseGraph checks the limits of TS 38.212 clauses 7.2.1 and 7.2.2: base graph 2
// up to 292 bits, up to 3824 bits and R = 0.67, and up to R = 0.25; a CRC of 24 bits
// above 3824 bits. The reference channels of Annex A confirm them.
func TestBaseGraph(t *testing.T) {
	for _, c := range []struct{ tbs, rate2048, want int }{
		{288, 1900, 2}, {304, 1900, 1}, {304, 1372, 2}, {304, 1373, 1}, {3824, 1372, 2}, {3824, 1373, 1},
		{3848, 1372, 1}, {3848, 513, 1}, {3848, 512, 2}, {100000, 512, 2}, {100000, 513, 1},
	} {
		b := TransportBlock{TBS: c.tbs}
		b.segment(c.rate2048)
		if b.BaseGraph != c.want || b.CRCBits != map[bool]int{false: 16, true: 24}[c.tbs > 3824] {
			t.Errorf("%d bits at %d/2048: %+v, want base graph %d", c.tbs, c.rate2048, b, c.want)
		}
	}
}

func TestAllocationErrors(t *testing.T) {
	good := Allocation{PRB: 106, Symbols: 12, DMRSRE: 12, Layers: 2, Qm: 6, Rate2048: 2 * 948}
	if _, err := good.TransportBlock(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		param  string
		change func(*Allocation)
	}{
		{"resource blocks", func(a *Allocation) { a.PRB = 0 }},
		{"resource blocks", func(a *Allocation) { a.PRB = 276 }},
		{"symbols", func(a *Allocation) { a.Symbols = 0 }},
		{"symbols", func(a *Allocation) { a.Symbols = 15 }},
		{"DM-RS resource elements", func(a *Allocation) { a.DMRSRE = -1 }},
		{"xOverhead", func(a *Allocation) { a.XOverhead = 5 }},
		{"xOverhead", func(a *Allocation) { a.XOverhead = -6 }},
		{"layers", func(a *Allocation) { a.Layers = 0 }},
		{"layers", func(a *Allocation) { a.Layers = 9 }},
		{"modulation order", func(a *Allocation) { a.Qm = 5 }},
		{"modulation order", func(a *Allocation) { a.Qm = 0 }},
		{"code rate", func(a *Allocation) { a.Rate2048 = 0 }},
		{"code rate", func(a *Allocation) { a.Rate2048 = 2049 }},
		{"slots of one transport block", func(a *Allocation) { a.Slots = 3 }},
		{"TB scaling field", func(a *Allocation) { a.ScalingField = 3 }},
		{"resource elements left for data", func(a *Allocation) { a.DMRSRE = 144 }},
		{"resource elements left for data", func(a *Allocation) { a.Symbols, a.XOverhead = 2, 12 }},
	} {
		bad := good
		c.change(&bad)
		_, _, err := bad.TransportBlocks()
		var e *bands.ValueError
		if !errors.As(err, &e) || !strings.HasPrefix(e.Param, c.param) {
			t.Errorf("%+v: %v, want an error about %s", bad, err, c.param)
		}
	}
}

func TestRate2048(t *testing.T) {
	for s, want := range map[string]int{"490/1024": 980, "682.5/1024": 1365, "1365/2048": 1365, "1": 2048, "0.5": 1024, "1/2048": 1,
		"0": 0, "1/4096": 0, "1025/1024": 0, "0.48": 0} {
		rate, err := exact.ParseRatio(s)
		if err != nil {
			t.Error(err)
		}
		got, err := Rate2048(rate)
		if got != want || (err != nil) != (want == 0) {
			t.Errorf("%s is %d/2048, %v; want %d", s, got, err, want)
		}
	}
	if _, err := Rate2048(exact.Ratio{}); err == nil {
		t.Error("no rate is a rate")
	}
}

// TestEffectiveCodeRate counts the bits of a block by hand: 1608 bits and 16 of CRC
// on 1188 elements of 16QAM (TS 38.101-1 V19.5.0 Table A.2.2.3-1, column 3).
func TestEffectiveCodeRate(t *testing.T) {
	a := Allocation{PRB: 9, Symbols: 14, DMRSRE: 36, Layers: 1, Qm: 4, Rate2048: 2 * 340}
	b, err := a.TransportBlock()
	if err != nil || b.TBS != 1608 || b.ChannelBits() != 4752 || b.EffectiveCodeRate() != (exact.Of(1624, 4752)).Reduced() {
		t.Errorf("%+v: %d channel bits, rate %s, %v", b, b.ChannelBits(), b.EffectiveCodeRate(), err)
	}
}

// The block of a whole 100 MHz carrier at 30 kHz: TS 38.214 clause 5.1.3.2, every
// step.
func ExampleAllocation_TransportBlock() {
	m, err := MCS256QAM.MCS(27, false)
	if err != nil {
		fmt.Println(err)
		return
	}
	a := Allocation{PRB: 273, Symbols: 12, DMRSRE: 12, Layers: 4}.WithMCS(m)
	b, err := a.TransportBlock()
	fmt.Println(b.RE, b.Info, b.N, b.Quantised, b.TBS, err)
	fmt.Println(b.CodeBlocks, b.CodeBlockBits, b.BaseGraph, b.CRCBits)
	// Output:
	// 36036 1.0675665e+06 15 1081344 1081512 <nil>
	// 129 8408 1 24
}

func BenchmarkTransportBlock(b *testing.B) {
	for _, a := range []Allocation{
		{PRB: 273, Symbols: 12, DMRSRE: 24, Layers: 4, Qm: 8, Rate2048: 2 * 948},
		{PRB: 3, Symbols: 12, DMRSRE: 24, Layers: 1, Qm: 2, Rate2048: 2 * 193},
	} {
		b.Run(fmt.Sprintf("%dprb", a.PRB), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := a.TransportBlock(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
