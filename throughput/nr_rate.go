package throughput

import (
	"slices"
	"strconv"
	"sync"

	"spectally/bands"
	"spectally/data"
)

// NRCarrier is one NR carrier in one direction as the maximum data rate of
// TS 38.306 clause 4.1.2 sees it.
type NRCarrier struct {
	Range          bands.Range // satellite bands count as FR1 or FR2 by their number
	Direction      bands.Direction
	SCS            bands.Frequency
	ResourceBlocks int // N_PRB of the carrier's width
	Layers         int // v: 1 to 8
	Qm             int // modulation order: 1, 2, 4, 6, 8, 10
	// Scaling is the scaling factor f: 1, 0.8, 0.75 or 0.4. Not given, it is 1.
	Scaling Ratio
	// Fixed is v * Qm * f where the kind of UE fixes it, in place of layers, modulation
	// and scaling factor (eRedCap, TS 38.306 clause 4.2.22.2). Not given, they count.
	Fixed Ratio
	// Overhead replaces the OH of the clause: a part of all resource elements, in
	// lowest terms with a denominator of at most 2^20. Not given, it is
	// NROverhead(Range, Direction).
	Overhead Ratio
}

var nrRateTables = data.Lazy("nr_max_rate")

type nrRateFacts struct {
	overhead [2][2]Ratio // by FR2 or not, by uplink or not
	scaling  []Ratio
	source   bands.Source
}

var loadNRRateFacts = sync.OnceValue(func() *nrRateFacts {
	f := &nrRateFacts{}
	t := data.Find(nrRateTables(), "overhead")
	f.source = t.Source
	for _, row := range t.Rows {
		f.overhead[oneIf(row[0] == "FR2")][oneIf(row[1] == "ul")] = tableRatio(row[2])
	}
	for _, row := range data.Find(nrRateTables(), "scaling").Rows {
		f.scaling = append(f.scaling, tableRatio(row[0]))
	}
	return f
})

func oneIf(b bool) int {
	if b {
		return 1
	}
	return 0
}

// NROverhead is the overhead OH of TS 38.306 clause 4.1.2: 0.14 in the FR1
// downlink, 0.18 in the FR2 downlink, 0.08 and 0.10 in the uplink.
func NROverhead(r bands.Range, d bands.Direction) Ratio {
	return loadNRRateFacts().overhead[oneIf(r.IsFR2())][oneIf(d == bands.Uplink)]
}

// NRScalingFactors lists the scaling factors f of TS 38.306 clause 4.1.2.
func NRScalingFactors() []Ratio {
	return append([]Ratio(nil), loadNRRateFacts().scaling...)
}

// MaxRate is the maximum data rate of the carrier in bit/s, exactly:
//
//	v * Qm * f * Rmax * 12 * N_PRB / T_s * (1 - OH)
//
// with Rmax = 948/1024 and T_s = 1 ms / (14 * 2^mu) (TS 38.306 clause 4.1.2).
// It counts every symbol for the direction: the formula does not discount TDD.
// The rate of a band combination is the sum over its carriers ([Ratio.Add]); a
// carrier with two TRPs by multiple DCI counts twice.
func (c *NRCarrier) MaxRate() (Ratio, error) {
	f, oh := c.Scaling, c.Overhead
	if f.Den == 0 {
		f = Ratio{1, 1}
	}
	if oh.Den == 0 {
		oh = NROverhead(c.Range, c.Direction)
	}
	mu, err := c.check(f, oh)
	if err != nil {
		return Ratio{}, err
	}
	// 12 * 14 * 1000 * 948/1024 is 622125/4 bit/s for each resource block, layer
	// and bit of a symbol at 15 kHz.
	product := c.Product()
	base := int64(c.ResourceBlocks) << mu
	num := base * 622125 * product.Num * (oh.Den - oh.Num)
	return Ratio{num, 4 * product.Den * oh.Den}.Reduced(), nil
}

// Product is v * Qm * f, which the floor of TS 38.306 clause 4.1.2 limits.
func (c *NRCarrier) Product() Ratio {
	if c.Fixed.Den != 0 {
		return c.Fixed
	}
	f := c.Scaling
	if f.Den == 0 {
		f = Ratio{1, 1}
	}
	return Ratio{int64(c.Layers*c.Qm) * f.Num, f.Den}.Reduced()
}

// CheckFloor returns an error if v * Qm * f is below 4, the least a UE may have
// on a single carrier in standalone operation (TS 38.306 clause 4.1.2). The
// floor does not hold for eRedCap UEs.
func (c *NRCarrier) CheckFloor() error {
	if p := c.Product(); p.Cmp(Ratio{4, 1}) < 0 {
		return &bands.ValueError{
			Param:   "layers * modulation order * scaling factor",
			Got:     p.String(),
			Allowed: "at least 4 for one carrier in standalone operation",
			Source:  loadNRRateFacts().source,
		}
	}
	return nil
}

// check returns mu.
func (c *NRCarrier) check(f, oh Ratio) (int, error) {
	facts := loadNRRateFacts()
	bad := func(param string, got string, allowed string) error {
		return &bands.ValueError{Param: param, Got: got, Allowed: allowed, Source: facts.source}
	}
	switch {
	case c.Range == 0 && c.Overhead.Den == 0:
		return 0, bad("frequency range", "none", "FR1, FR2-1, FR2-2, FR1-NTN or FR2-NTN")
	case c.Direction != bands.Downlink && c.Direction != bands.Uplink:
		return 0, bad("direction", c.Direction.String(), "downlink or uplink")
	case c.ResourceBlocks < 1 || c.ResourceBlocks > nrMaxBlocks:
		return 0, bad("resource blocks", strconv.Itoa(c.ResourceBlocks), "1 to "+strconv.Itoa(nrMaxBlocks))
	case c.Layers < 1 || c.Layers > 8:
		return 0, bad("layers", strconv.Itoa(c.Layers), "1 to 8")
	case !validNRQm(c.Qm):
		return 0, bad("modulation order", strconv.Itoa(c.Qm), "1, 2, 4, 6, 8 or 10")
	case oh.Den < 1 || oh.Den > 1<<20 || oh.Num < 0 || oh.Num >= oh.Den:
		return 0, bad("overhead", oh.String(), "from 0 to below 1, with a denominator of at most 1048576")
	}
	if !slices.Contains(facts.scaling, f.Reduced()) {
		return 0, bad("scaling factor", f.String(), "1, 0.8, 0.75 or 0.4")
	}
	n, err := NRNumerologyOf(c.SCS)
	return n.Mu, err
}

func validNRQm(qm int) bool {
	return qm == 1 || qm >= 2 && qm <= 10 && qm%2 == 0
}
