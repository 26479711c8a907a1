package claim

import (
	"math/big"
	"strings"

	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
)

// Verdict is the outcome of a judgement.
type Verdict string

// The verdicts.
const (
	Holds     Verdict = "holds"
	Fails     Verdict = "fails"
	Undecided Verdict = "undecided" // what is known neither confirms nor refutes it
)

// Judgement is what became of a claim.
type Judgement struct {
	Text      string  `json:"text"`      // as published; may be empty
	Statement string  `json:"statement"` // what was judged, in this program's words
	Kind      Kind    `json:"kind"`
	Verdict   Verdict `json:"verdict"`
	// Reading is the meaning under which the claim holds, the most usual one first;
	// empty unless it holds.
	Reading string `json:"reading"`
	// Summary says the outcome in a sentence or two.
	Summary string `json:"summary"`
	// Tolerance says how far a value may be from the figure claimed, and why.
	Tolerance   string        `json:"tolerance"`
	Readings    []Reading     `json:"readings"`
	Working     []render.Step `json:"working"`
	Assumptions []string      `json:"assumptions"`
	Cautions    []string      `json:"cautions"`
}

// Reading is the claim under one meaning.
type Reading struct {
	Meaning string  `json:"meaning"`
	Value   float64 `json:"value"`
	Claimed float64 `json:"claimed"`
	Unit    string  `json:"unit"`
	Holds   bool    `json:"holds"`
	// Relation is how value and claim are compared: "equal", "at least", "at most",
	// each within the tolerance.
	Relation Relation `json:"relation"`
	// Assumed tells that the value rests on something nobody stated, so that this
	// reading alone decides nothing.
	Assumed bool `json:"assumed"`

	exact *big.Rat
}

// Relation is how a value has to stand to the figure claimed.
type Relation string

// The relations.
const (
	Equal   Relation = "equal"
	AtLeast Relation = "at least" // the value is no less than the figure
	AtMost  Relation = "at most"  // the value is no more than the figure
)

// bounds is what a stated figure leaves open.
type bounds struct{ low, claimed, high *big.Rat }

// boundsOf follows the digits: a figure stands for everything that rounds to it, half
// a unit of its last digit to either side. Zeros at the end of a whole number count as
// stated: 200 is 199.5 to 200.5. A figure called rough has 10 % to either side, the
// program's own rule.
func boundsOf(d quantity.Decimal, about bool) bounds {
	v := d.Rat()
	margin := d.HalfUnit()
	if about {
		if tenth := new(big.Rat).Mul(v, big.NewRat(1, 10)); tenth.Cmp(margin) > 0 {
			margin = tenth
		}
	}
	return bounds{new(big.Rat).Sub(v, margin), v, new(big.Rat).Add(v, margin)}
}

// meets tells whether a value stands to the figure as the relation says.
func (b *bounds) meets(r Relation, value *big.Rat) bool {
	return (r == AtMost || value.Cmp(b.low) >= 0) && (r == AtLeast || value.Cmp(b.high) <= 0)
}

// tolerance puts the bounds into words.
func (b *bounds) tolerance(unit string, about bool) string {
	s := trim(b.low, 10) + " to " + trim(b.high, 10) + " " + unit
	if about {
		return s + ": 10 % to either side of a figure given as rough (this program's rule)"
	}
	return s + ": half a unit of the last digit stated"
}

// judge gathers the parts of a judgement.
type judge struct {
	Judgement
	claim    *Claim
	evidence *Evidence
}

// read adds a reading and its step of working.
func (j *judge) read(meaning string, value *big.Rat, b *bounds, unit string, r Relation, step render.Step) *Reading {
	float, _ := value.Float64()
	claimed, _ := b.claimed.Float64()
	j.Readings = append(j.Readings, Reading{
		Meaning: meaning, Value: float, Claimed: claimed, Unit: unit, Relation: r, Holds: b.meets(r, value), exact: value})
	step.Name, step.Result = meaning, trim(value, 3)+" "+unit
	j.Working = append(j.Working, step)
	return &j.Readings[len(j.Readings)-1]
}

// step adds a step of working alone.
func (j *judge) step(name, formula, numbers, result string, source render.Source) {
	j.Working = append(j.Working, render.Step{Name: name, Formula: formula, Numbers: numbers, Result: result, Source: source})
}

// firstHolding is the first reading that holds; nil if none does. Those that rest on
// assumptions come last.
func (j *judge) firstHolding() *Reading {
	for _, assumed := range [...]bool{false, true} {
		for i := range j.Readings {
			if r := &j.Readings[i]; r.Holds && r.Assumed == assumed {
				return r
			}
		}
	}
	return nil
}

// text writes the value of a reading with its unit.
func (r *Reading) text() string { return trim(r.exact, 1) + " " + r.Unit }

// conclude sets the verdict and says why.
func (j *judge) conclude(v Verdict, summary ...string) {
	j.Verdict, j.Summary = v, strings.Join(summary, "")
}

// holdsAs concludes that the claim holds under a reading.
func (j *judge) holdsAs(r *Reading, more string) {
	j.Reading = r.Meaning
	j.conclude(Holds, "Holds as ", r.Meaning, ": ", r.text(), ".", more)
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
