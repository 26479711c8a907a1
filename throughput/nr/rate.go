package nr

import (
	"slices"
	"strconv"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
)

// Carrier is one NR carrier in one direction as the maximum data rate of
// TS 38.306 clause 4.1.2 sees it.
type Carrier struct {
	Range          bands.Range // satellite bands count as FR1 or FR2 by their number
	Direction      bands.Direction
	SCS            bands.Frequency
	ResourceBlocks int // N_PRB of the carrier's width
	Layers         int // v: 1 to 8
	Qm             int // modulation order: 1, 2, 4, 6, 8, 10
	// Scaling is the scaling factor f: 1, 0.8, 0.75 or 0.4. Not given, it is 1.
	Scaling exact.Ratio
	// Fixed is v * Qm * f where the kind of UE fixes it, in place of layers, modulation
	// and scaling factor (eRedCap, TS 38.306 clause 4.2.22.2). Not given, they count.
	Fixed exact.Ratio
	// Overhead replaces the OH of the clause: a part of all resource elements, in
	// lowest terms with a denominator of at most 2^20. Not given, it is
	// Overhead(Range, Direction).
	Overhead exact.Ratio
}

var rateTables = data.Lazy("nr_max_rate")

type rateFacts struct {
	overhead [2][2]exact.Ratio // by FR2 or not, by uplink or not
	scaling  []exact.Ratio
	source   bands.Source
}

var loadRateFacts = sync.OnceValue(func() *rateFacts {
	f := &rateFacts{}
	t := data.Find(rateTables(), "overhead")
	f.source = t.Source
	for _, row := range t.Rows {
		f.overhead[oneIf(row[0] == "FR2")][oneIf(row[1] == "ul")] = printed.Ratio(row[2])
	}
	for _, row := range data.Find(rateTables(), "scaling").Rows {
		f.scaling = append(f.scaling, printed.Ratio(row[0]))
	}
	return f
})

func oneIf(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Overhead is the overhead OH of TS 38.306 clause 4.1.2: 0.14 in the FR1
// downlink, 0.18 in the FR2 downlink, 0.08 and 0.10 in the uplink.
func Overhead(r bands.Range, d bands.Direction) exact.Ratio {
	return loadRateFacts().overhead[oneIf(r.IsFR2())][oneIf(d == bands.Uplink)]
}

// ScalingFactors lists the scaling factors f of TS 38.306 clause 4.1.2.
func ScalingFactors() []exact.Ratio {
	return append([]exact.Ratio(nil), loadRateFacts().scaling...)
}

// MaxRate is the maximum data rate of the carrier in bit/s, exactly:
//
//	v * Qm * f * Rmax * 12 * N_PRB / T_s * (1 - OH)
//
// with Rmax = 948/1024 and T_s = 1 ms / (14 * 2^mu) (TS 38.306 clause 4.1.2).
// It counts every symbol for the direction: the formula does not discount TDD.
// The rate of a band combination is the sum over its carriers ([exact.Ratio.Add]); a
// carrier with two TRPs by multiple DCI counts twice.
func (c *Carrier) MaxRate() (exact.Ratio, error) {
	f, oh := c.Scaling, c.Overhead
	if f.Den == 0 {
		f = exact.Whole(1)
	}
	if oh.Den == 0 {
		oh = Overhead(c.Range, c.Direction)
	}
	mu, err := c.check(f, oh)
	if err != nil {
		return exact.Ratio{}, err
	}
	// 12 * 14 * 1000 * 948/1024 is 622125/4 bit/s for each resource block, layer
	// and bit of a symbol at 15 kHz.
	product := c.Product()
	base := int64(c.ResourceBlocks) << mu
	num := base * 622125 * product.Num * (oh.Den - oh.Num)
	return exact.Of(num, 4*product.Den*oh.Den).Reduced(), nil
}

// Product is v * Qm * f, which the floor of TS 38.306 clause 4.1.2 limits.
func (c *Carrier) Product() exact.Ratio {
	if c.Fixed.Den != 0 {
		return c.Fixed
	}
	f := c.Scaling
	if f.Den == 0 {
		f = exact.Whole(1)
	}
	return exact.Of(int64(c.Layers*c.Qm)*f.Num, f.Den).Reduced()
}

// CheckFloor returns an error if v * Qm * f is below 4, the least a UE may have
// on a single carrier in standalone operation (TS 38.306 clause 4.1.2). The
// floor does not hold for eRedCap UEs.
func (c *Carrier) CheckFloor() *bands.ValueError {
	if p := c.Product(); p.Cmp(exact.Whole(4)) < 0 {
		return &bands.ValueError{
			Param:   "layers * modulation order * scaling factor",
			Got:     p.String(),
			Allowed: "at least 4 for one carrier in standalone operation",
			Source:  loadRateFacts().source,
		}
	}
	return nil
}

// check returns mu.
func (c *Carrier) check(f, oh exact.Ratio) (int, error) {
	facts := loadRateFacts()
	bad := func(param string, got string, allowed string) error {
		return &bands.ValueError{Param: param, Got: got, Allowed: allowed, Source: facts.source}
	}
	switch {
	case c.Range == 0 && c.Overhead.Den == 0:
		return 0, bad("frequency range", "none", "FR1, FR2-1, FR2-2, FR1-NTN or FR2-NTN")
	case c.Direction != bands.Downlink && c.Direction != bands.Uplink:
		return 0, bad("direction", c.Direction.String(), "downlink or uplink")
	case c.ResourceBlocks < 1 || c.ResourceBlocks > maxBlocks:
		return 0, bad("resource blocks", strconv.Itoa(c.ResourceBlocks), "1 to "+strconv.Itoa(maxBlocks))
	case c.Layers < 1 || c.Layers > 8:
		return 0, bad("layers", strconv.Itoa(c.Layers), "1 to 8")
	case !validQm(c.Qm):
		return 0, bad("modulation order", strconv.Itoa(c.Qm), "1, 2, 4, 6, 8 or 10")
	case oh.Den < 1 || oh.Den > 1<<20 || oh.Num < 0 || oh.Num >= oh.Den:
		return 0, bad("overhead", oh.String(), "from 0 to below 1, with a denominator of at most 1048576")
	}
	if !slices.Contains(facts.scaling, f.Reduced()) {
		return 0, bad("scaling factor", f.String(), "1, 0.8, 0.75 or 0.4")
	}
	n, err := NumerologyOf(c.SCS)
	return n.Mu, err
}

func validQm(qm int) bool {
	return qm == 1 || qm >= 2 && qm <= 10 && qm%2 == 0
}
