package claim

import (
	"math/big"
	"strings"

	"spectally/cmd/internal/render"
)

// Verdict is the outcome of a judgement.
type Verdict string

// The verdicts. A claim holds if what was stated is enough for it, and fails if nothing
// that the standard admits for what was left open can make it true.
const (
	Holds     Verdict = "holds"
	Fails     Verdict = "fails"
	Undecided Verdict = "undecided"
)

// Judgement is what became of a claim.
type Judgement struct {
	Text      string  `json:"text"`      // as published; may be empty
	Statement string  `json:"statement"` // what was judged, in this program's words
	Kind      Kind    `json:"kind"`
	Verdict   Verdict `json:"verdict"`
	// Reading is the meaning under which the claim holds; empty unless it holds.
	Reading string `json:"reading"`
	// Summary says the outcome in a sentence or two.
	Summary string `json:"summary"`
	// Why is the summary without the verdict, to stand behind it.
	Why string `json:"-"`
	// Needs is the least that would make an undecided claim hold.
	Needs []string `json:"needs"`
	// Quote is one sentence to print: the subject, the reading, the figure, what it
	// rests on, and its source.
	Quote string `json:"quote"`
	// Tolerance says how far a value may be from the figure claimed, and why.
	Tolerance   string        `json:"tolerance"`
	Readings    []Reading     `json:"readings"`
	Working     []render.Step `json:"working"`
	Assumptions []string      `json:"assumptions"`
	// Brief is what weighs most of the assumptions, on a line each.
	Brief    []string `json:"-"`
	Cautions []string `json:"cautions"`
	// Parts are the judgements of a statement that makes several claims at once.
	Parts []*Judgement `json:"parts,omitempty"`
}

// Reading is the claim under one meaning.
type Reading struct {
	// As is the word with which a claim states this reading; empty if it can't.
	As      As      `json:"as"`
	Meaning string  `json:"meaning"`
	Value   float64 `json:"value"` // with the usual values for what was left open
	Low     float64 `json:"low"`   // the least and the most over all that was left open
	High    float64 `json:"high"`
	Claimed float64 `json:"claimed"`
	Unit    string  `json:"unit"`
	Verdict Verdict `json:"verdict"`
	Holds   bool    `json:"holds"` // the verdict is "holds"
	// Relation is how the value must stand to the claim, within the tolerance.
	Relation Relation `json:"relation"`

	values span
	b      *stated
	alike  bool // both sides of a comparison are taken to be alike
}

// Relation is how a value must stand to the figure claimed.
type Relation string

// The relations. The zero Relation is the usual one of what is claimed.
const (
	Equal    Relation = "equal"
	AtLeast  Relation = "at least"
	AtMost   Relation = "at most"
	MoreThan Relation = "more than"
	LessThan Relation = "less than"
)

// below tells whether a smaller value stands to the figure as well.
func (r Relation) below() bool { return r == AtMost || r == LessThan }

// judge gathers the parts of a judgement.
type judge struct {
	Judgement
	claim     *Claim
	evidence  *Evidence
	tolerated map[string]bool // units of which the tolerance is told
	same      string          // says that carriers of both sides are taken for the same; may be empty
}

// read adds a reading and its step of working. The relation that the claim states goes
// before the usual one.
func (j *judge) read(as As, meaning string, values span, b *stated, unit string, r Relation, step render.Step) *Reading {
	if j.claim.Relation != "" {
		r = j.claim.Relation
		b = b.as(r)
	}
	return j.readAs(as, meaning, values, b, unit, r, step)
}

// readAs is read for a figure that the relation of the claim is not about.
func (j *judge) readAs(as As, meaning string, values span, b *stated, unit string, r Relation, step render.Step) *Reading {
	verdict := values.verdict(b, r)
	if t := b.tolerance(r, unit); t != "" && !j.tolerated[unit] { // the first of a unit decides
		j.tolerated[unit] = true
		if j.Tolerance != "" {
			j.Tolerance += "; "
		}
		j.Tolerance += t
	}
	j.Readings = append(j.Readings, Reading{
		As: as, Meaning: meaning, Value: float(values.usual), Low: float(values.low), High: float(values.high), Claimed: float(b.claimed),
		Unit: unit, Relation: r, Verdict: verdict, Holds: verdict == Holds, values: values, b: b})
	step.Name, step.Result = meaning, trim(values.usual, 3)+" "+unit
	j.Working = append(j.Working, step)
	return &j.Readings[len(j.Readings)-1]
}

// step adds a step of working alone.
func (j *judge) step(name, formula, numbers, result string, source render.Source) {
	j.Working = append(j.Working, render.Step{Name: name, Formula: formula, Numbers: numbers, Result: result, Source: source})
}

// first is the first reading with a verdict; nil if there is none.
func (j *judge) first(v Verdict) *Reading {
	for i := range j.Readings {
		if r := &j.Readings[i]; r.Verdict == v {
			return r
		}
	}
	return nil
}

// Decimals are how many a value is shown with: ratios and efficiencies have two.
func (r *Reading) Decimals() int {
	if r.Unit == "times" || r.Unit == "bit/s/Hz" {
		return 2
	}
	return 1
}

// text writes the usual value of a reading with its unit.
func (r *Reading) text() string { return r.of(r.values.usual) }

// of writes a value with the unit of the reading.
func (r *Reading) of(x *big.Rat) string {
	value, unit := r.shown(x)
	return strings.TrimSpace(value + " " + unit)
}

// shown is a value and its unit as they are written; a ratio of one has no unit.
func (r *Reading) shown(x *big.Rat) (value, unit string) {
	value = trim(x, r.Decimals())
	switch {
	case r.Unit == "% more" && x.Sign() < 0 && value != "0":
		return strings.TrimPrefix(value, "-"), "% less"
	case r.Unit == "times" && value == "1":
		return [...]string{"a little less", "as much", "a little more"}[1+x.Cmp(big.NewRat(1, 1))], ""
	case r.Unit == "times":
		return value, "times as much"
	}
	if value == "1" {
		if stem, ok := strings.CutSuffix(r.Unit, "ies"); ok {
			return value, stem + "y"
		}
		return value, strings.TrimSuffix(r.Unit, "s")
	}
	return value, r.Unit
}

// rangeText writes what the value can be with its unit.
func (r *Reading) rangeText() string {
	if r.values.isExact() {
		return r.text()
	}
	if list := r.values.values; len(list) == 2 {
		return trim(r.values.low, r.Decimals()) + " or " + r.of(r.values.high)
	}
	if r.values.unbounded {
		return r.of(r.values.low) + " or more"
	}
	if r.values.low.Sign() == 0 {
		return "up to " + r.of(r.values.high)
	}
	low, high := r.values.low, r.values.high
	if high.Sign() <= 0 { // less goes the other way
		low, high = high, low
	}
	from, unit := r.shown(low)
	to, same := r.shown(high)
	switch {
	case from == to && unit == same:
		return r.of(high)
	case unit == same:
		return from + " to " + r.of(high)
	}
	return r.of(low) + " to " + r.of(high)
}

// conclude sets the verdict and says why.
func (j *judge) conclude(v Verdict, why ...string) {
	j.Verdict, j.Why = v, strings.Join(why, "")
	j.Summary = j.Why
}

// led is conclude where the summary has the verdict ahead of the reason, and a link between
// them.
func (j *judge) led(v Verdict, link string, why ...string) {
	j.conclude(v, why...)
	j.Summary = sentence(string(v)) + link + j.Why
}

// holdsAs concludes that the claim holds under a reading.
func (j *judge) holdsAs(r *Reading, more ...string) {
	j.Reading = r.Meaning
	j.led(Holds, " ", "as ", r.Meaning, ": ", r.rangeText(), ".", r.closely(), strings.Join(more, ""))
}

// closely says that a bound is met by what its figure leaves open alone; empty where it is
// met as it stands.
func (r *Reading) closely() string {
	if !(r.Relation == AtLeast && r.values.low.Cmp(r.b.claimed) < 0 || r.Relation == AtMost && r.values.high.Cmp(r.b.claimed) > 0) {
		return ""
	}
	if r.b.rough {
		return " That is within 10 % of the figure, as a rough one has it."
	}
	return " That rounds to the figure claimed."
}

// need adds to what would make the claim hold.
func (j *judge) need(words ...string) { j.Needs = append(j.Needs, strings.Join(words, "")) }

func float(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// trim writes a number with at most some decimals, without zeros at the end.
func trim(r *big.Rat, decimals int) string {
	s := r.FloatString(decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
