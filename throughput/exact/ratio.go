package exact

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// Ratio is an exact fraction Num/Den, with Den above zero: a share of time, an
// overhead, a scaling factor, or a rate in bit/s. The zero Ratio stands for "not
// given"; Ratio{0, 1} is zero.
//
// Sums and products are exact while the reduced terms fit into 63 bits, which
// everything this package computes does.
type Ratio struct{ Num, Den int64 }

// Of is the fraction num/den; den is above zero.
func Of(num, den int64) Ratio { return Ratio{num, den} }

// Whole is a whole number.
func Whole(n int64) Ratio { return Ratio{n, 1} }

// IsZero tells whether r stands for "not given".
func (r Ratio) IsZero() bool { return r.Den == 0 }

// Reduced returns r in lowest terms with a positive denominator.
func (r Ratio) Reduced() Ratio {
	a, b := r.Num, r.Den
	for b != 0 {
		a, b = b, a%b
	}
	if r.Den < 0 != (a < 0) { // give the result a positive denominator
		a = -a
	}
	if a == 0 {
		return Ratio{}
	}
	return Ratio{r.Num / a, r.Den / a}
}

// Add returns r + s. A Ratio that is not given counts as zero.
func (r Ratio) Add(s Ratio) Ratio {
	switch {
	case r.Den == 0:
		return s
	case s.Den == 0:
		return r
	case r.Den == s.Den:
		return Ratio{r.Num + s.Num, r.Den}.Reduced()
	}
	g := Ratio{r.Den, s.Den}.Reduced() // r.Den*g.Den is the least common multiple
	return Ratio{r.Num*g.Den + s.Num*g.Num, r.Den * g.Den}.Reduced()
}

// Sub returns r - s. A Ratio that is not given counts as zero.
func (r Ratio) Sub(s Ratio) Ratio { return r.Add(Ratio{-s.Num, s.Den}) }

// Mul returns r times s.
func (r Ratio) Mul(s Ratio) Ratio {
	a := Ratio{r.Num, s.Den}.Reduced() // cross-reduced first, so products stay small
	b := Ratio{s.Num, r.Den}.Reduced()
	return Ratio{a.Num * b.Num, a.Den * b.Den}.Reduced()
}

// Cmp compares r and s: -1, 0 or +1.
func (r Ratio) Cmp(s Ratio) int {
	d := r.Add(Ratio{-s.Num, s.Den})
	switch {
	case d.Num < 0:
		return -1
	case d.Num > 0:
		return 1
	}
	return 0
}

// Round returns the integer nearest to r; halves go up. It is 0 if r is not given.
func (r Ratio) Round() int64 {
	if r.Den == 0 {
		return 0
	}
	q, rest := r.Num/r.Den, r.Num%r.Den
	if rest < 0 {
		q, rest = q-1, rest+r.Den
	}
	if 2*rest >= r.Den {
		q++
	}
	return q
}

// Float returns the floating-point number nearest to r, for output alone; 0 if
// r is not given.
func (r Ratio) Float() float64 {
	if r.Den == 0 {
		return 0
	}
	return float64(r.Num) / float64(r.Den)
}

// Mbps returns a rate in bit/s as Mbit/s, for output alone.
func (r Ratio) Mbps() float64 { return r.Float() / 1e6 }

// Percent writes a share with one decimal: "74.3 %"; "none" if it is not given.
func (r Ratio) Percent() string {
	if r.Den == 0 {
		return r.String()
	}
	tenths := r.Mul(Ratio{1000, 1}).Round()
	return strconv.FormatInt(tenths/10, 10) + "." + strconv.FormatInt(tenths%10, 10) + " %"
}

// Rate writes a rate in bit/s with its unit: "150.752 Mbit/s", three decimals; "none" if it
// is not given.
func (r Ratio) Rate() string {
	if r.Den == 0 {
		return r.String()
	}
	return strconv.FormatFloat(r.Mbps(), 'f', 3, 64) + " Mbit/s"
}

// String writes r as an integer or a fraction: "2", "3/4"; "none" if it is not
// given.
func (r Ratio) String() string {
	if r.Den == 0 {
		return "none"
	}
	if r = r.Reduced(); r.Den == 1 {
		return strconv.FormatInt(r.Num, 10)
	}
	return strconv.FormatInt(r.Num, 10) + "/" + strconv.FormatInt(r.Den, 10)
}

// ParseRatio reads a number that is not negative as a decimal or a fraction of
// decimals: "0.75", "3/4", "682.5/1024". A decimal has at most nine digits before the
// point and nine after it, in a fraction nine in all.
func ParseRatio(s string) (Ratio, error) {
	num, den, isFraction := strings.Cut(strings.TrimSpace(s), "/")
	r, ok := ratioDecimal(num)
	if isFraction && ok {
		d, isDecimal := ratioDecimal(den)
		ok = isDecimal && d.Num != 0 && len(num) <= 10 && len(den) <= 10
		if ok {
			r = r.Mul(Ratio{d.Den, d.Num})
		}
	}
	if !ok {
		return Ratio{}, &bands.ValueError{Param: "number", Got: s, Allowed: "a decimal or a fraction such as 0.75 or 3/4"}
	}
	return r, nil
}

func ratioDecimal(s string) (Ratio, bool) {
	whole, frac, dotted := strings.Cut(s, ".")
	w, ok := words.Digits(whole)
	if !dotted || !ok {
		return Ratio{w, 1}, ok
	}
	f, ok := words.Digits(frac)
	if !ok {
		return Ratio{}, false
	}
	scale := int64(1)
	for range len(frac) {
		scale *= 10
	}
	return Ratio{w*scale + f, scale}.Reduced(), true
}
