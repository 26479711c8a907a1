package flags

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
)

// Whole is a flag for a whole number between two limits; -1 is none.
type Whole struct {
	Param       string
	Least, Most int
	Value       int
}

// Given tells whether there is a number.
func (w *Whole) Given() bool { return w.Value >= 0 }

// Set implements pflag.Value.
func (w *Whole) Set(s string) error {
	n, err := strconv.Atoi(s)
	if err != nil || n < w.Least || n > w.Most || s != strconv.Itoa(n) {
		e := &bands.ValueError{Param: w.Param, Got: s, Allowed: w.Allowed()}
		if err == nil {
			e.Nearest = strconv.Itoa(min(max(n, w.Least), w.Most))
		}
		return e
	}
	w.Value = n
	return nil
}

// Allowed implements valued.
func (w *Whole) Allowed() string {
	return "a whole number from " + strconv.Itoa(w.Least) + " to " + strconv.Itoa(w.Most)
}

// String implements pflag.Value.
func (w *Whole) String() string {
	if w.Value < 0 {
		return ""
	}
	return strconv.Itoa(w.Value)
}

// Type implements pflag.Value.
func (w *Whole) Type() string { return "N" }

// NoiseFigure is a flag for a noise figure.
type NoiseFigure struct {
	text  string
	Value float64
}

// Set implements pflag.Value.
func (d *NoiseFigure) Set(s string) error {
	text := strings.TrimSpace(s)
	if cut := len(text) - len("dB"); cut > 0 && strings.EqualFold(text[cut:], "dB") {
		text = strings.TrimSpace(text[:cut])
	}
	v, err := quantity.ParseDecimal(text)
	if err != nil || v.Sign() <= 0 || v.Compare(quantity.NewDecimal(30, 0)) > 0 {
		return &bands.ValueError{Param: "noise figure", Got: s, Allowed: d.Allowed()}
	}
	d.text = text
	d.Value, _ = v.Rat().Float64()
	return nil
}

// Allowed implements valued.
func (*NoiseFigure) Allowed() string { return "decibels above 0, up to 30" }

// String implements pflag.Value.
func (d *NoiseFigure) String() string { return d.text }

// Type implements pflag.Value.
func (*NoiseFigure) Type() string { return "dB" }
