package cli

import (
	"errors"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// keyFlag is a flag that stands for a key of the carrier notation.
type keyFlag struct {
	key, kind string
	text      string
	carrier   ca.Carrier
}

// Set implements pflag.Value.
func (k *keyFlag) Set(s string) error {
	text := strings.TrimSpace(s)
	if strings.ContainsAny(text, ",+") {
		text = "?" // would be taken for more than one value
	}
	list, err := ca.Parse("n1:5," + k.key + "=" + text)
	if err != nil {
		v, ok := errors.AsType[*bands.ValueError](err)
		if !ok {
			return err
		}
		better := *v
		better.Param, better.Got = k.key, s
		return &better
	}
	k.text, k.carrier = text, list[0]
	return nil
}

// allowed implements valued.
func (k *keyFlag) allowed() string {
	var v *bands.ValueError
	if _, err := ca.Parse("n1:5," + k.key + "=?"); errors.As(err, &v) {
		return v.Allowed
	}
	return k.kind
}

// String implements pflag.Value.
func (k *keyFlag) String() string { return k.text }

// Type implements pflag.Value.
func (k *keyFlag) Type() string { return k.kind }

// patternFlag is a flag for a TDD pattern of NR and one of LTE.
type patternFlag struct{ nr, lte string }

// of is the pattern of a technology; empty for none.
func (p *patternFlag) of(rat bands.RAT) string {
	if rat == bands.LTE {
		return p.lte
	}
	return p.nr
}

// Set implements pflag.Value.
func (p *patternFlag) Set(s string) error {
	f, err := readFrame(s)
	if err != nil {
		return err
	}
	text := f.String()
	switch {
	case f.RAT == bands.LTE && !f.LTE.TDD():
		return &bands.ValueError{Param: "TDD pattern", Got: s, Allowed: p.allowed()}
	case f.RAT == bands.LTE:
		p.lte = text
	default:
		p.nr = text
	}
	return nil
}

// readFrame reads a TDD pattern of NR, or a frame structure of LTE, which has no
// letters of slots in it.
func readFrame(s string) (f throughput.Frame, err error) {
	text := strings.ToUpper(strings.TrimSpace(s))
	if text != "" && strings.Trim(text, "0123456789/") == "" || strings.HasPrefix(text, "FDD") || strings.HasSuffix(text, "-EXT") {
		f.RAT = bands.LTE
		f.LTE, err = throughput.ParseLTEFrame(text)
		return f, err
	}
	f.RAT = bands.NR
	f.Pattern, err = throughput.ParseTDDPattern(text)
	if v, ok := errors.AsType[*bands.ValueError](err); ok {
		v.Got = s
	}
	return f, err
}

// allowed implements valued.
func (*patternFlag) allowed() string {
	return "a TDD pattern of NR such as DDDSU/10:2:2, or of LTE such as 2/7"
}

// String implements pflag.Value.
func (p *patternFlag) String() string { return strings.TrimSpace(p.nr + " " + p.lte) }

// Type implements pflag.Value.
func (p *patternFlag) Type() string { return "PATTERN" }
