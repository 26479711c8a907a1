package cells

import (
	"math"
	"strconv"

	"spectally/ca"
)

// Strength is how strongly two carriers hint at one site.
type Strength string

// The strengths. None of them is proof.
const (
	Strong  Strength = "strong"  // one identity, and levels that fit
	Fair    Strength = "fair"    // one identity, and no levels to compare
	Weak    Strength = "weak"    // levels alone fit, or one identity and levels that do not
	NoHint  Strength = "none"    // nothing that speaks either way
	Against Strength = "against" // levels that do not fit, and no common identity
)

// Hint is what a pair of carriers says about one site.
type Hint struct {
	A, B     int // places in the assessment, A before B
	Strength Strength
	Reason   string
}

// Hints compares all pairs of carriers by identity and level. A common identity counts
// within a technology alone, and levels within [LevelMargin] of what frequency explains.
func Hints(a *ca.Assessment) []Hint {
	offsets := make(map[[2]int]*Offset)
	for _, o := range Offsets(a) {
		offsets[[2]int{min(o.Carrier, o.Reference), max(o.Carrier, o.Reference)}] = &o
	}
	var list []Hint
	for i := range a.Carriers {
		for k := i + 1; k < len(a.Carriers); k++ {
			list = append(list, hint(a, i, k, offsets[[2]int{i, k}]))
		}
	}
	return list
}

func hint(a *ca.Assessment, i, k int, o *Offset) Hint {
	x, y := &a.Carriers[i], &a.Carriers[k]
	h := Hint{A: i, B: k, Strength: NoHint}
	same := false
	switch {
	case !x.HasPCI || !y.HasPCI:
		h.Reason = "no PCI of both"
	case x.Band.RAT != y.Band.RAT:
		h.Reason = "LTE and NR number their cells apart"
	case x.PCI == y.PCI:
		same = true
		h.Reason = "same PCI " + strconv.Itoa(int(x.PCI))
	default:
		h.Reason = "different cells, PCI " + strconv.Itoa(int(x.PCI)) + " and " + strconv.Itoa(int(y.PCI))
	}
	if o == nil {
		if same {
			h.Strength = Fair
		}
		h.Reason += "; no levels of both"
		return h
	}
	h.Reason += "; " + o.text(a)
	switch fits := o.Within(); {
	case same && fits:
		h.Strength = Strong
	case same || fits:
		h.Strength = Weak
	default:
		h.Strength = Against
	}
	if !o.Within() {
		h.Reason += ", " + strconv.FormatFloat(math.Abs(o.Difference()), 'f', 1, 64) + " dB off"
	}
	return h
}
