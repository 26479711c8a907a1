package throughput

import (
	"iter"
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
)

// Bounds are the least and the most that a combination can yield in one direction,
// over every value that the standard admits for what its carriers leave open: layers,
// constellation, subcarrier spacing, TDD pattern, and on which carriers the UE transmits.
// The scaling factor, a limit that a UE states of itself, is 1 unless a carrier states it.
type Bounds struct{ Least, Most Rates }

// BoundsOf works out the bounds of a combination in a direction. What a carrier states
// is kept. The errors are those of [Rate].
func BoundsOf(c ca.Combination, d bands.Direction) (Bounds, error) {
	var b Bounds
	for _, f := range [...]func(*Rates) *exact.Ratio{
		func(r *Rates) *exact.Ratio { return &r.Max },
		func(r *Rates) *exact.Ratio { return &r.Schedulable },
		func(r *Rates) *exact.Ratio { return &r.Scheduled },
	} {
		most, err := extremeOf(c, d, f, true)
		if err != nil {
			return Bounds{}, err
		}
		least, err := extremeOf(c, d, f, false)
		if err != nil {
			return Bounds{}, err
		}
		*f(&b.Most), *f(&b.Least) = *f(&most), *f(&least)
	}
	return b, nil
}

// extremeOf gives each carrier the values that yield the most, or the least, of a figure
// by themselves, and rates them together. In the uplink one carrier that transmits is
// enough for the least where none is said to.
func extremeOf(c ca.Combination, d bands.Direction, figure func(*Rates) *exact.Ratio, most bool) (Rates, error) {
	filled, each := slices.Clone(c), make([]Rates, len(c))
	for i := range filled {
		found := false
		for candidate := range extremes(c[i], d, most) {
			r, err := rateAs(ca.Combination{candidate}, d, most)
			if err == nil && (!found || (figure(&r).Cmp(*figure(&each[i])) > 0) == most) {
				filled[i], each[i], found = candidate, r, true
			}
		}
	}
	stated := slices.ContainsFunc(c, func(c ca.Carrier) bool { return c.Transmit == ca.Yes })
	if d == bands.Downlink || most || stated {
		for i := range filled {
			if d == bands.Uplink && filled[i].Transmit == ca.Open {
				filled[i].Transmit = ca.No
				if most {
					filled[i].Transmit = ca.Yes
				}
			}
		}
		return rateAs(filled, d, most)
	}
	least := Rates{Max: exact.Whole(0), Schedulable: exact.Whole(0), Scheduled: exact.Whole(0)}
	found := false
	for i := range each {
		if c[i].Uplink != 0 && c[i].Transmit == ca.Open && (!found || figure(&each[i]).Cmp(*figure(&least)) < 0) {
			least, found = each[i], true
		}
	}
	return least, nil
}

// rateAs rates carriers in a direction; the UE transmits on all that do not say, where
// that is asked for one by one.
func rateAs(c ca.Combination, d bands.Direction, most bool) (Rates, error) {
	if len(c) == 1 && d == bands.Uplink && c[0].Transmit == ca.Open {
		c[0].Transmit = ca.Yes
	}
	r, err := Rate(ca.Assess(c))
	if err == nil {
		set := Settings{}
		if !most { // others may have the channel of shared spectrum all of the time
			set.Airtime = exact.Whole(0)
		}
		err = r.Schedule(set)
	}
	if err != nil {
		return Rates{}, err
	}
	return r.Sum(d), nil
}

// extremes are the ways to fill in what a carrier leaves open, with the most layers and
// the largest constellation that the direction takes, or the fewest and the smallest.
// Which spacing and which pattern are the extreme is for the rate to say.
func extremes(c ca.Carrier, d bands.Direction, most bool) iter.Seq[ca.Carrier] {
	return func(yield func(ca.Carrier) bool) {
		for _, scs := range openSpacings(&c) {
			spaced := c
			spaced.SCS = scs
			spaced, ok := extremeLink(spaced, d, most)
			if !ok {
				continue
			}
			for _, pattern := range openPatterns(&spaced, d, most) {
				spaced.Pattern = pattern
				if !yield(spaced) {
					return
				}
			}
		}
	}
}

// openSpacings are the subcarrier spacings that the carrier can have.
func openSpacings(c *ca.Carrier) []bands.Frequency {
	b, err := bands.Lookup(c.Band)
	if c.SCS != 0 || c.Band.RAT != bands.NR || err != nil {
		return []bands.Frequency{c.SCS}
	}
	return b.Spacings(max(c.Downlink, c.Uplink))
}

// openPatterns are the TDD patterns among which the extreme is: the frame that is all
// downlink or all uplink for NR, every configuration for LTE.
func openPatterns(c *ca.Carrier, d bands.Direction, most bool) []string {
	b, err := bands.Lookup(c.Band)
	if c.Pattern != "" || err != nil || b.Duplex != bands.TDD {
		return []string{c.Pattern}
	}
	if b.LicensedAssisted() {
		return []string{"type3/0", "type3/10"}
	}
	if c.Band.RAT == bands.NR {
		scs := c.SCS
		if scs == 0 {
			scs = b.DefaultSpacing(max(c.Downlink, c.Uplink))
		}
		letter := "U"
		if (d == bands.Downlink) == most {
			letter = "D"
		}
		return []string{strconv.Itoa(int(10*scs/(15*bands.KHz))) + letter}
	}
	var list []string
	for _, f := range lte.TDDFrames() {
		list = append(list, f.String())
	}
	return list
}

// The layers and constellations that a link may have; which of them it takes is for
// [Rate] to say.
var (
	linkLayers = [...]uint8{1, 2, 3, 4, 5, 6, 7, 8}
	linkQAM    = [...]uint16{2, 4, 16, 64, 256, 1024}
)

// extremeLink fills in layers and constellation; false if the link takes
// none.
func extremeLink(c ca.Carrier, d bands.Direction, most bool) (ca.Carrier, bool) {
	layers, qam := &c.Layers, &c.QAM
	if d == bands.Uplink {
		layers, qam = &c.UplinkLayers, &c.UplinkQAM
	}
	takes := func() bool {
		_, err := Rate(ca.Assess(ca.Combination{c}))
		return err == nil
	}
	if *layers == 0 && !firstThat(layers, linkLayers[:], most, takes) {
		return c, false
	}
	if *qam == 0 && !firstThat(qam, linkQAM[:], most, takes) {
		return c, false
	}
	return c, true
}

// firstThat sets a value to the least, or the most, of a list that holds.
func firstThat[T any](value *T, list []T, most bool, holds func() bool) bool {
	for i := range list {
		if *value = list[i]; most {
			*value = list[len(list)-1-i]
		}
		if holds() {
			return true
		}
	}
	return false
}
