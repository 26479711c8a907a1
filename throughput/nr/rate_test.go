package nr

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
)

// TestMaxRateExamples checks examples of TS 38.306 V19.2.0 clause 4.1.2, worked
// in exact arithmetic: carriers and sums, to the last digit.
func TestMaxRateExamples(t *testing.T) {
	sums := make(map[string]exact.Ratio)
	totals := make(map[string]string)
	rows := readSections(t, "nr_max_rate.txt")[0].rows
	for _, row := range rows {
		totals[row[0]] = row[11]
		if row[1] == "LTE" {
			sums[row[0]] = sums[row[0]].Add(exact.Whole(int64(printed.Int(row[12])) * 1000))
			continue
		}
		r, err := bands.ParseRange(row[3])
		if err != nil {
			t.Fatal(err)
		}
		c := Carrier{Range: r, Direction: bands.Downlink, SCS: bands.Frequency(printed.Int(row[4])) * bands.KHz,
			ResourceBlocks: printed.Int(row[6]), Layers: printed.Int(row[7]), Qm: printed.Int(row[8]), Scaling: printed.Ratio(row[9])}
		if row[2] == "ul" {
			c.Direction = bands.Uplink
		}
		rate, err := c.MaxRate()
		if err != nil {
			t.Fatalf("%v: %v", row, err)
		}
		if want := printed.Ratio(row[10]).Mul(exact.Whole(1e6)); rate.Round() != want.Num || want.Den != 1 {
			t.Errorf("%v: %d bit/s, want %s", row, rate.Round(), want)
		}
		sums[row[0]] = sums[row[0]].Add(rate)
	}
	for example, total := range totals {
		if want := printed.Ratio(total).Mul(exact.Whole(1e6)); sums[example].Round() != want.Num {
			t.Errorf("example %s: %d bit/s, want %s", example, sums[example].Round(), want)
		}
	}
	if len(rows) != 36 || len(totals) != 24 {
		t.Errorf("%d rows, %d examples", len(rows), len(totals))
	}
}

// TestMaxRateFormula compares with the formula of TS 38.306 V19.2.0 clause 4.1.2
// in rationals, written out as it is printed, over its whole domain but for the
// number of resource blocks.
func TestMaxRateFormula(t *testing.T) {
	overhead := map[bands.Range][3]*big.Rat{} // by direction
	for r := bands.FR1; r <= bands.FR2NTN; r++ {
		overhead[r] = [3]*big.Rat{bands.Downlink: big.NewRat(14, 100), bands.Uplink: big.NewRat(8, 100)}
		if r == bands.FR21 || r == bands.FR22 || r == bands.FR2NTN {
			overhead[r] = [3]*big.Rat{bands.Downlink: big.NewRat(18, 100), bands.Uplink: big.NewRat(10, 100)}
		}
	}
	scaling := []exact.Ratio{{}, exact.Whole(1), exact.Of(4, 5), exact.Of(3, 4), exact.Of(2, 5)}
	for _, n := range Numerologies() {
		if n.Mu == 4 || n.Extended {
			continue
		}
		symbol := big.NewRat(1, 1000*14<<n.Mu) // T_s in seconds
		for r, oh := range overhead {
			for d := bands.Downlink; d <= bands.Uplink; d++ {
				for _, f := range scaling {
					for _, qm := range []int{1, 2, 4, 6, 8, 10} {
						for layers := 1; layers <= 8; layers++ {
							for _, blocks := range []int{1, 11, 106, 273, 275} {
								c := Carrier{Range: r, Direction: d, SCS: n.SCS, ResourceBlocks: blocks, Layers: layers, Qm: qm, Scaling: f}
								got, err := c.MaxRate()
								if err != nil {
									t.Fatal(err)
								}
								if f.IsZero() {
									f = exact.Whole(1)
								}
								want := big.NewRat(int64(layers*qm), 1)
								want.Mul(want, big.NewRat(f.Num, f.Den))
								want.Mul(want, big.NewRat(948, 1024))
								want.Mul(want, new(big.Rat).Quo(big.NewRat(int64(12*blocks), 1), symbol))
								want.Mul(want, new(big.Rat).Sub(big.NewRat(1, 1), oh[d]))
								if want.Cmp(big.NewRat(got.Num, got.Den)) != 0 {
									t.Fatalf("%+v: %s, want %s", c, got, want)
								}
							}
						}
					}
				}
			}
		}
	}
}

// TestScalingFactors checks the factors of TS 38.306 V19.2.0 clause 4.1.2.
func TestScalingFactors(t *testing.T) {
	got := ScalingFactors()
	want := []exact.Ratio{exact.Whole(1), exact.Of(4, 5), exact.Of(3, 4), exact.Of(2, 5)}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("factor %d is %s, want %s", i, got[i], want[i])
		}
	}
}

func TestMaxRateErrors(t *testing.T) {
	good := Carrier{Range: bands.FR1, Direction: bands.Downlink, SCS: 30 * bands.KHz, ResourceBlocks: 273, Layers: 4, Qm: 8}
	for _, c := range []struct {
		param  string
		change func(*Carrier)
	}{
		{"frequency range", func(c *Carrier) { c.Range = 0 }},
		{"direction", func(c *Carrier) { c.Direction = 0 }},
		{"subcarrier spacing", func(c *Carrier) { c.SCS = 240 * bands.KHz }},
		{"subcarrier spacing", func(c *Carrier) { c.SCS = 0 }},
		{"resource blocks", func(c *Carrier) { c.ResourceBlocks = 0 }},
		{"resource blocks", func(c *Carrier) { c.ResourceBlocks = 276 }},
		{"layers", func(c *Carrier) { c.Layers = 0 }},
		{"layers", func(c *Carrier) { c.Layers = 9 }},
		{"modulation order", func(c *Carrier) { c.Qm = 3 }},
		{"modulation order", func(c *Carrier) { c.Qm = 12 }},
		{"scaling factor", func(c *Carrier) { c.Scaling = exact.Of(1, 2) }},
		{"overhead", func(c *Carrier) { c.Overhead = exact.Whole(1) }},
		{"overhead", func(c *Carrier) { c.Overhead = exact.Of(-1, 5) }},
	} {
		bad := good
		c.change(&bad)
		_, err := bad.MaxRate()
		var e *bands.ValueError
		if !errors.As(err, &e) || e.Param != c.param || strings.Contains(err.Error(), "\n") {
			t.Errorf("%+v: %v, want one line about %s", bad, err, c.param)
		}
	}
	if _, err := good.MaxRate(); err != nil {
		t.Error(err)
	}
}

// TestFloor checks the floor v * Qm * f >= 4 of TS 38.306 V19.2.0 clause 4.1.2.
func TestFloor(t *testing.T) {
	for _, c := range []struct {
		layers, qm int
		f          exact.Ratio
		holds      bool
	}{
		{1, 4, exact.Ratio{}, true}, {1, 2, exact.Ratio{}, false}, {2, 2, exact.Ratio{}, true}, {1, 6, exact.Of(3, 4), true},
		{1, 6, exact.Of(2, 5), false}, {1, 10, exact.Of(2, 5), true}, {2, 4, exact.Of(2, 5), false}, {1, 4, exact.Of(4, 5), false},
	} {
		carrier := Carrier{Layers: c.layers, Qm: c.qm, Scaling: c.f}
		if err := carrier.CheckFloor(); (err == nil) != c.holds {
			t.Errorf("%d layers, Qm %d, f %s: %v", c.layers, c.qm, c.f, err)
		}
	}
}
