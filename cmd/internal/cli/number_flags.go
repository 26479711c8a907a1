package cli

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
)

// wholeFlag is a flag for a whole number between two limits; -1 is none.
type wholeFlag struct {
	param       string
	least, most int
	value       int
}

// given tells whether there is a number.
func (w *wholeFlag) given() bool { return w.value >= 0 }

// Set implements pflag.Value.
func (w *wholeFlag) Set(s string) error {
	n, err := strconv.Atoi(s)
	if err != nil || n < w.least || n > w.most || s != strconv.Itoa(n) {
		e := &bands.ValueError{Param: w.param, Got: s, Allowed: w.allowed()}
		if err == nil {
			e.Nearest = strconv.Itoa(min(max(n, w.least), w.most))
		}
		return e
	}
	w.value = n
	return nil
}

// allowed implements valued.
func (w *wholeFlag) allowed() string {
	return "a whole number from " + strconv.Itoa(w.least) + " to " + strconv.Itoa(w.most)
}

// String implements pflag.Value.
func (w *wholeFlag) String() string {
	if w.value < 0 {
		return ""
	}
	return strconv.Itoa(w.value)
}

// Type implements pflag.Value.
func (w *wholeFlag) Type() string { return "N" }

// decibelFlag is a flag for a noise figure.
type decibelFlag struct {
	text  string
	value float64
}

// Set implements pflag.Value.
func (d *decibelFlag) Set(s string) error {
	text := strings.TrimSpace(s)
	if cut := len(text) - len("dB"); cut > 0 && strings.EqualFold(text[cut:], "dB") {
		text = strings.TrimSpace(text[:cut])
	}
	v, err := quantity.ParseDecimal(text)
	if err != nil || v.Sign() <= 0 || v.Compare(quantity.NewDecimal(30, 0)) > 0 {
		return &bands.ValueError{Param: "noise figure", Got: s, Allowed: d.allowed()}
	}
	d.text = text
	d.value, _ = v.Rat().Float64()
	return nil
}

// allowed implements valued.
func (*decibelFlag) allowed() string { return "decibels above 0, up to 30" }

// String implements pflag.Value.
func (d *decibelFlag) String() string { return d.text }

// Type implements pflag.Value.
func (*decibelFlag) Type() string { return "dB" }
