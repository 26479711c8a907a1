package flags

import (
	"strings"
	"unicode"

	"spectally/bands"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// Width is a flag that takes a channel bandwidth: megahertz, with or without
// the unit.
type Width struct {
	Value bands.Frequency
	IsSet bool
}

// Set implements pflag.Value.
func (w *Width) Set(s string) error {
	f, err := bands.ParseMHz(s)
	if err != nil {
		if f, err = bands.ParseFrequency(s); err != nil {
			return widthError(s)
		}
	}
	if f == 0 {
		return &bands.ValueError{Param: "channel bandwidth", Got: s, Allowed: "more than 0 MHz"}
	}
	w.Value, w.IsSet = f, true
	return nil
}

func widthError(s string) error {
	if strings.IndexFunc(s, unicode.IsLetter) >= 0 {
		if err := spectrum.FrequencyError(s); err != nil {
			return err
		}
	}
	return &bands.ValueError{Param: "channel bandwidth", Got: s, Allowed: (*Width)(nil).Allowed()}
}

// Allowed implements valued.
func (*Width) Allowed() string { return "megahertz, such as 80 or 1.4" }

// String implements pflag.Value.
func (w *Width) String() string {
	if !w.IsSet {
		return ""
	}
	return w.Value.MHz()
}

// Type implements pflag.Value.
func (w *Width) Type() string { return "MHz" }

// Frequency is a flag that takes a frequency with its unit.
type Frequency struct {
	Value bands.Frequency
	IsSet bool
}

// Set implements pflag.Value.
func (f *Frequency) Set(s string) error {
	v, err := bands.ParseFrequency(s)
	if err != nil {
		if better := spectrum.FrequencyError(s); better != nil {
			return better
		}
		return err
	}
	f.Value, f.IsSet = v, true
	return nil
}

// Allowed implements valued.
func (*Frequency) Allowed() string { return spectrum.FrequencyForm }

// String implements pflag.Value.
func (f *Frequency) String() string {
	if !f.IsSet {
		return ""
	}
	return f.Value.String()
}

// Type implements pflag.Value.
func (f *Frequency) Type() string { return "FREQUENCY" }

// Spacing is a flag that takes a subcarrier spacing: kilohertz, with or
// without the unit.
type Spacing struct {
	Value bands.Frequency
	IsSet bool
}

var Spacings = []string{"15", "30", "60", "120", "480", "960"}

// Set implements pflag.Value.
func (s *Spacing) Set(text string) error {
	number := strings.TrimSpace(text)
	if cut := len(number) - len("kHz"); cut > 0 && strings.EqualFold(number[cut:], "kHz") {
		number = strings.TrimSpace(number[:cut])
	}
	for _, name := range Spacings {
		if number == name {
			f, err := bands.ParseFrequency(name + "kHz")
			s.Value, s.IsSet = f, true
			return err
		}
	}
	return &bands.ValueError{Param: "subcarrier spacing", Got: text, Allowed: s.Allowed()}
}

// Allowed implements valued.
func (*Spacing) Allowed() string { return words.Or(Spacings) + " kHz" }

// String implements pflag.Value.
func (s *Spacing) String() string {
	if !s.IsSet {
		return ""
	}
	return s.Value.KHz()
}

// Type implements pflag.Value.
func (s *Spacing) Type() string { return "kHz" }

// Offers is what a shell may offer for the value.
func (*Spacing) Offers(string) []string { return Spacings }
