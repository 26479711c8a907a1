package flags

import (
	"errors"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// Key is a flag that stands for a key of the carrier notation.
type Key struct {
	Name, Kind string
	text       string
	Carrier    ca.Carrier
}

// Set implements pflag.Value.
func (k *Key) Set(s string) error {
	text := strings.TrimSpace(s)
	if strings.ContainsAny(text, ",+") {
		text = "?" // would be taken for more than one value
	}
	list, err := ca.Parse("n1:5," + k.Name + "=" + text)
	if err != nil {
		v, ok := errors.AsType[*bands.ValueError](err)
		if !ok {
			return err
		}
		better := *v
		better.Param, better.Got = k.Name, s
		return &better
	}
	k.text, k.Carrier = text, list[0]
	return nil
}

// Allowed implements valued.
func (k *Key) Allowed() string {
	var v *bands.ValueError
	if _, err := ca.Parse("n1:5," + k.Name + "=?"); errors.As(err, &v) {
		return v.Allowed
	}
	return k.Kind
}

// String implements pflag.Value.
func (k *Key) String() string { return k.text }

// Type implements pflag.Value.
func (k *Key) Type() string { return k.Kind }

// Pattern is a flag for a TDD pattern of NR and one of LTE.
type Pattern struct{ nr, lte string }

// Of is the pattern of a technology; empty for none.
func (p *Pattern) Of(rat bands.RAT) string {
	if rat == bands.LTE {
		return p.lte
	}
	return p.nr
}

// Set implements pflag.Value.
func (p *Pattern) Set(s string) error {
	f, err := ReadFrame(s)
	if err != nil {
		return err
	}
	text := f.String()
	switch {
	case f.RAT == bands.LTE && !f.LTE.TDD():
		return &bands.ValueError{Param: "TDD pattern", Got: s, Allowed: p.Allowed()}
	case f.RAT == bands.LTE:
		p.lte = text
	default:
		p.nr = text
	}
	return nil
}

// ReadFrame reads a TDD pattern of NR, or a frame structure of LTE, which has no
// letters of slots in it.
func ReadFrame(s string) (f throughput.Frame, err error) {
	text := strings.ToUpper(strings.TrimSpace(s))
	if text != "" && strings.Trim(text, "0123456789/") == "" || strings.HasPrefix(text, "FDD") || strings.HasSuffix(text, "-EXT") {
		f.RAT = bands.LTE
		f.LTE, err = lte.ParseFrame(text)
		return f, err
	}
	f.RAT = bands.NR
	f.Pattern, err = nr.ParseTDDPattern(text)
	if v, ok := errors.AsType[*bands.ValueError](err); ok {
		v.Got = s
	}
	return f, err
}

// Allowed implements valued.
func (*Pattern) Allowed() string {
	return "a TDD pattern of NR such as DDDSU/10:2:2, or of LTE such as 2/7"
}

// String implements pflag.Value.
func (p *Pattern) String() string { return strings.TrimSpace(p.nr + " " + p.lte) }

// Type implements pflag.Value.
func (p *Pattern) Type() string { return "PATTERN" }
