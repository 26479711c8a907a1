package claim

import (
	"math/big"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
	"spectally/throughput"
)

// Compared is what two sets of carriers or two networks are compared by.
type Compared string

// What can be compared. The zero Compared is the total bandwidth.
const (
	ByBandwidth Compared = "bandwidth"
	ByRate      Compared = "rate"     // what a network can send at most
	ByRuns      Compared = "measured" // the medians of the runs
)

// AllCompared lists what can be compared.
func AllCompared() []Compared { return []Compared{ByBandwidth, ByRate, ByRuns} }

// compare judges how a figure of the evidence stands to the same figure of another: a
// number of times as much, per cent more, or merely more, less, or at least as much.
func (j *judge) compare() {
	c := j.claim
	var b stated
	relation, factor := c.Relation, func(ratio *big.Rat) *big.Rat { return ratio }
	unit := "times"
	switch {
	case c.Times.IsGiven():
		b = ratioAs(c.Times)
	case c.PercentMore.IsGiven():
		b, unit = statedAs(c.PercentMore, c.About), "% more"
		factor = func(ratio *big.Rat) *big.Rat {
			more := new(big.Rat).Sub(ratio, big.NewRat(1, 1))
			return more.Mul(more, big.NewRat(100, 1))
		}
	default:
		one := big.NewRat(1, 1)
		b = exactlyStated(one)
		if relation == "" {
			relation = Equal
		}
	}
	if c.About && c.Times.IsGiven() {
		b = statedAs(c.Times, true)
	}
	what := c.By
	if what == "" {
		what = ByBandwidth
	}
	for _, m := range j.comparable(what) {
		ratio, ok := m.ratio()
		if !ok {
			continue
		}
		j.read(m.as, m.meaning, ratio.each(factor), &b, unit, Equal, render.Step{
			Formula: map[bool]string{true: "100 * (first / second - 1)", false: "first / second"}[c.PercentMore.IsGiven()],
			Numbers: trim(m.first.usual, 3) + " against " + trim(m.second.usual, 3) + " " + m.unit, Source: m.source}).alike = m.known != nil
	}
	if len(j.Readings) == 0 {
		j.conclude(Undecided, "One of the two sides has no figure to compare.")
		j.need("carriers or runs for both sides")
		return
	}
	if what == ByRate {
		j.assume()
	}
	if j.alike() != nil {
		both := "Both sides alike: " + alikeWords + "."
		j.Assumptions, j.Brief = append(j.Assumptions, both), append(j.Brief, both)
	}
	r := &j.Readings[0]
	if i := slices.IndexFunc(j.Readings, func(r Reading) bool { return c.As != "" && r.As == c.As }); i >= 0 {
		r = &j.Readings[i]
	}
	switch {
	case r.Holds:
		j.holdsAs(r, j.same)
		if j.same != "" {
			j.quote(r, "carriers on both sides counting as the same ones")
			break
		}
		j.quote(r)
	case r.Verdict == Undecided && j.alikeDecides() != nil:
		r = j.alikeDecides()
		if r.Verdict == Fails {
			j.conclude(Undecided, "It depends on what both sides leave open; with both alike it is ", r.rangeText(), ", which fails.")
			j.needBothSides()
			break
		}
		j.conclude(Undecided, "It depends on what both sides leave open; with both alike it is ", r.rangeText(), ", which holds.")
		j.need("both sides to be alike (--alike, alike in a log): ", alikeWords)
	case r.Verdict == Undecided:
		if like := j.alike(); like != nil {
			r = like
		}
		j.conclude(Undecided, sentence(r.Meaning), " is ", r.rangeText(), ", by what was left open.")
		if what == ByBandwidth {
			j.need(openWords[r.As])
			break
		}
		j.needBothSides()
	case c.As == "" && what == ByBandwidth && j.first(Holds) != nil:
		other := j.first(Holds)
		j.conclude(Undecided, "Only as ", other.Meaning, " is it ", other.text(), "; as ", r.Meaning, " it is ", r.text(), ".")
		j.need("a stated reading, such as downlink or nr")
	default:
		j.led(Fails, ": ", r.Meaning, " is ", r.rangeText(), ".", j.same)
	}
}

// needBothSides needs what is left open of the carriers that are compared.
func (j *judge) needBothSides() {
	d := j.claim.direction()
	j.need(j.evidence.openOf(d))
	if o := j.claim.Than.Evidence; o != nil {
		j.need(o.openOf(d))
	}
}

// ratioAs follows the digits of a factor one further than those of other figures, since
// half a unit of "2 times" would let 1.5 pass: 2 is 1.95 to 2.05.
func ratioAs(d quantity.Decimal) stated {
	return within(d.Rat(), new(big.Rat).Mul(d.HalfUnit(), big.NewRat(1, 10)), "half a unit of one digit more than was stated (this program's rule)", false)
}

// pair is one figure of both sides.
type pair struct {
	as            As
	meaning, unit string
	first, second span
	source        render.Source
	known         *span // the ratio, where it is not that of the sides apart
}

// NoBound is the high end of a reading that has none.
const NoBound = 1_000_000_000

var noBound = big.NewRat(NoBound, 1)

// ratio is first over second; false where the second can be zero.
func (p *pair) ratio() (span, bool) {
	if p.known != nil {
		return *p.known, true
	}
	if p.second.high.Sign() <= 0 || p.second.usual.Sign() <= 0 {
		return span{}, false
	}
	if p.second.low.Sign() == 0 {
		s := span{low: new(big.Rat).Quo(p.first.low, p.second.high), usual: new(big.Rat).Quo(p.first.usual, p.second.usual), high: noBound, unbounded: true}
		return s, true
	}
	over := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }
	return span{low: over(p.first.low, p.second.high), usual: over(p.first.usual, p.second.usual), high: over(p.first.high, p.second.low)}, true
}

// comparable lists the figures that both sides have.
func (j *judge) comparable(what Compared) []pair {
	other := j.claim.Than
	d := j.claim.direction()
	switch what {
	case ByRuns:
		first, second := Median(j.evidence.measured(d)), other.figure("Mbit/s")
		if second == nil && other.Evidence != nil {
			second = Median(other.Evidence.measured(d))
		}
		if first == nil || second == nil {
			return nil
		}
		return []pair{{meaning: "the median of the runs", unit: "Mbit/s", first: exactly(first), second: exactly(second)}}
	case ByRate:
		first, ok := j.evidence.ceilings(d)
		if !ok {
			return nil
		}
		source, _ := j.evidence.rateSources(d)
		p := pair{meaning: "what a network can send at most in the " + d.String(), unit: "Mbit/s", first: first.schedulable, source: source}
		if f := other.figure("Mbit/s"); f != nil {
			p.second = exactly(f)
		} else if other.Evidence == nil {
			return nil
		} else if second, ok := other.Evidence.ceilings(d); ok {
			p.second = second.schedulable
		} else {
			return nil
		}
		usual := pair{meaning: "what usual networks schedule in the " + d.String(), unit: "Mbit/s", first: exactly(first.scheduled), second: p.second, source: source}
		list := []pair{p, usual}
		if other.Evidence != nil {
			second, _ := other.Evidence.ceilings(d)
			list[1].second = exactly(second.scheduled)
			j.shared(&list[0], d)
			alike := p
			alike.meaning += bothAlike
			if ratio, ok := alikeRatio(j.evidence, other.Evidence, d); ok && (j.claim.Alike || !p.first.isExact() || !p.second.isExact()) {
				alike.known = &ratio
				if j.claim.Alike {
					return []pair{alike, list[0], list[1]}
				}
				list = append(list, alike)
			}
		}
		return list
	}
	if j.evidence.Assessment == nil {
		return nil
	}
	var second []meaningOfTotal
	if other.Evidence != nil && other.Evidence.Assessment != nil {
		second = (&judge{claim: j.claim, evidence: other.Evidence}).totals()
	}
	var list []pair
	for _, t := range j.totals() {
		if f := other.figure("MHz"); f != nil {
			list = append(list, pair{as: t.as, meaning: t.meaning, unit: "MHz", first: t.values, second: exactly(f)})
			continue
		}
		if i := slices.IndexFunc(second, func(s meaningOfTotal) bool { return s.as == t.as }); i >= 0 {
			list = append(list, pair{as: t.as, meaning: t.meaning, unit: "MHz", first: t.values, second: second[i].values})
		}
	}
	return list
}

// alike is the reading that takes both sides to be alike; nil if there is none.
func (j *judge) alike() *Reading {
	for i := range j.Readings {
		if j.Readings[i].alike {
			return &j.Readings[i]
		}
	}
	return nil
}

// alikeDecides is the reading with both sides alike if that is decided; nil otherwise.
func (j *judge) alikeDecides() *Reading {
	if r := j.alike(); r != nil && r.Verdict != Undecided {
		return r
	}
	return nil
}

// bothAlike ends the meaning of a comparison that takes both sides to be alike.
const bothAlike = " with both sides alike"

// shared takes downlink carriers that both sides have for the same carriers with the same
// settings: where one side is the other and more, the ratio has 1 for a bound. In the uplink
// the UE need not transmit on the same ones.
func (j *judge) shared(p *pair, d bands.Direction) {
	if d == bands.Uplink {
		return
	}
	first, second := j.evidence.Stated, j.claim.Than.Evidence.Stated
	if more, ok := without(first, second); ok {
		if b, err := throughput.BoundsOf(more, d); len(more) > 0 && err == nil {
			j.same = " Carriers on both sides count as the same ones."
			// Second and more over second is the more, the less the second has.
			p.first.low = new(big.Rat).Add(p.second.high, mbps(b.Least.Schedulable))
			p.first.high = new(big.Rat).Add(p.second.low, mbps(b.Most.Schedulable))
		} else if len(more) == 0 {
			j.same = " The carriers of both sides count as the same ones."
			p.first, p.second = exactly(p.first.usual), exactly(p.first.usual)
		}
	}
}

// without is what a combination has beside another; false if it does not have all of
// that.
func without(c, other ca.Combination) (more ca.Combination, ok bool) {
	more = slices.Clone(c)
	for _, o := range other {
		i := slices.Index(more, o)
		if i < 0 {
			return nil, false
		}
		more = slices.Delete(more, i, i+1)
	}
	return more, true
}

// Other is the other side of a comparison: evidence, or a figure with its unit.
type Other struct {
	Evidence *Evidence
	Figure   quantity.Decimal
	Unit     string // "MHz" or "Mbit/s"
}

// figure is the figure in a unit; nil if there is none.
func (o *Other) figure(unit string) *big.Rat {
	if o == nil || !o.Figure.IsGiven() || o.Unit != unit {
		return nil
	}
	return o.Figure.Rat()
}

// name names the other side in sentences.
func (o *Other) name() string {
	switch {
	case o == nil:
		return ""
	case o.Figure.IsGiven():
		return o.Figure.String() + " " + o.Unit
	case o.Evidence != nil:
		return o.Evidence.Name
	}
	return ""
}

// shareOfTotal judges the share of a technology in the total bandwidth.
func (j *judge) shareOfTotal() {
	b := statedAs(j.claim.Share, j.claim.About)
	if j.evidence.Assessment == nil {
		j.conclude(Undecided, "No carriers are given, so nothing can be added up.")
		j.need("the carriers")
		return
	}
	t := j.evidence.Assessment.Totals(j.evidence.downlinkShare)
	part := new(big.Rat)
	for _, p := range t.ByRAT {
		if p.Key == j.claim.Of.String() {
			part = megahertz(p.Downlink)
		}
	}
	if t.Downlink == 0 {
		j.conclude(Undecided, "The carriers have no downlink.")
		j.need("carriers with a downlink")
		return
	}
	share := new(big.Rat).Quo(new(big.Rat).Mul(part, big.NewRat(100, 1)), megahertz(t.Downlink))
	r := j.read(AsDownlink, "the share of "+j.claim.Of.String()+" in the total downlink bandwidth", exactly(share), &b, "%", Equal,
		render.Step{Formula: "100 * part / total", Numbers: "100 * " + trim(part, 3) + " / " + t.Downlink.MHz() + " MHz"})
	if r.Holds {
		j.holdsAs(r)
		j.quote(r)
		return
	}
	j.led(Fails, ": ", r.Meaning, " is ", r.text(), ".")
}

// efficiency judges bit/s/Hz: of the runs if there are any, else of what a network can
// send at most.
func (j *judge) efficiency() {
	d := j.claim.direction()
	b := statedAs(j.claim.Efficiency, j.claim.About)
	e := j.evidence
	if e.Assessment == nil {
		j.conclude(Undecided, "No carriers are given, so there is no bandwidth to divide by.")
		j.need("the carriers")
		return
	}
	t := e.Assessment.Totals(e.downlinkShare)
	width := exactly(megahertz(t.Downlink))
	if d == bands.Uplink {
		width = e.uplinkSums(t.Uplink)
	}
	if width.low.Sign() == 0 {
		j.conclude(Undecided, "The carriers have no ", d.String(), ".")
		j.need("carriers with ", map[bands.Direction]string{bands.Downlink: "a ", bands.Uplink: "an "}[d], d.String())
		return
	}
	relation := Equal
	var rates []pair
	if values := e.measured(d); len(values) > 0 {
		_, high := extremes(values)
		rates = []pair{{meaning: "the median of the runs over the bandwidth", first: exactly(Median(values))}, {meaning: "the best run over the bandwidth", first: exactly(high)}}
	} else if j.claim.Rate.IsGiven() {
		rates = []pair{{meaning: "the rate stated over the bandwidth", first: exactly(j.claim.Rate.Rat())}}
	} else if c, ok := e.ceilings(d); ok {
		source, _ := e.rateSources(d)
		rates, relation = []pair{{meaning: "what a network can send at most over the bandwidth", first: c.schedulable, source: source}}, AtLeast
		j.assume()
	}
	for _, p := range rates {
		p.second = width
		if v, ok := p.ratio(); ok {
			j.read("", p.meaning, v, &b, "bit/s/Hz", relation, render.Step{Formula: "rate / bandwidth", Numbers: trim(p.first.usual, 3) + " / " + trim(width.usual, 3), Source: p.source})
		}
	}
	switch {
	case len(j.Readings) == 0:
		j.conclude(Undecided, "What the carriers can yield is not known.")
		j.need("a run of the test, with --runs")
	case j.Readings[0].Holds:
		j.holdsAs(&j.Readings[0])
		j.quote(&j.Readings[0])
	case j.Readings[0].Verdict == Undecided:
		j.conclude(Undecided, sentence(j.Readings[0].Meaning), " is ", j.Readings[0].rangeText(), ", by what was left open.")
		var needs []string
		if !rates[0].first.isExact() && width.isExact() {
			needs = e.needs(d, func(rate *big.Rat) bool {
				return b.meets(j.Readings[0].Relation, new(big.Rat).Quo(rate, width.usual))
			})
		}
		if needs == nil {
			needs = []string{e.openOf(d)}
		}
		j.Needs = append(j.Needs, needs...)
	case j.first(Holds) != nil:
		j.conclude(Undecided, "Only ", j.first(Holds).Meaning, " is ", j.first(Holds).text(), "; ", j.Readings[0].Meaning, " is ", j.Readings[0].text(), ".")
		j.need("the statement to say which run it means")
	default:
		j.led(Fails, ": ", j.Readings[0].Meaning, " is ", j.Readings[0].rangeText(), ".")
	}
}

// superlatives are words of a rank, which figures of one network cannot show.
var superlatives = []string{"first", "best", "largest", "fastest", "biggest", "highest", "widest", "most", "only", "leading", "unique", "quickest"}

// superlativeIn is the word of a rank in a text; empty if there is none.
func superlativeIn(text string) string {
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if slices.Contains(superlatives, w) {
			return w
		}
	}
	return ""
}

// superlative answers a claim of rank: it cannot be checked, but what is known can be
// said.
func (j *judge) superlative() {
	words := []string{"“", superlativeIn(j.claim.Text), "” cannot be checked from figures: it takes the figures of everyone else."}
	if a := j.evidence.Assessment; a != nil && len(a.Carriers) > 0 {
		t := a.Totals(j.evidence.downlinkShare)
		words = append(words, " Known: ", plural(len(a.Carriers), "carrier"), " with ", t.Downlink.MHz(), " MHz in the downlink")
		if c, ok := j.evidence.ceilings(bands.Downlink); ok {
			words = append(words, ", on which a usual network schedules ", trim(c.scheduled, 1), " Mbit/s")
			j.assume()
		}
		words = append(words, ".")
	}
	j.conclude(Undecided, words...)
	j.need("the same figures of every network it is compared with")
}
