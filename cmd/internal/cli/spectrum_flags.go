package cli

import (
	"strings"
	"unicode"

	"spectally/bands"
)

// widthFlag is a flag that takes a channel bandwidth: megahertz, with or without
// the unit.
type widthFlag struct {
	value bands.Frequency
	set   bool
}

// Set implements pflag.Value.
func (w *widthFlag) Set(s string) error {
	f, err := bands.ParseMHz(s)
	if err != nil {
		if f, err = bands.ParseFrequency(s); err != nil {
			return widthError(s)
		}
	}
	if f == 0 {
		return &bands.ValueError{Param: "channel bandwidth", Got: s, Allowed: "more than 0 MHz"}
	}
	w.value, w.set = f, true
	return nil
}

func widthError(s string) error {
	if strings.IndexFunc(s, unicode.IsLetter) >= 0 {
		if err := frequencyError(s); err != nil {
			return err
		}
	}
	return &bands.ValueError{Param: "channel bandwidth", Got: s, Allowed: (*widthFlag)(nil).allowed()}
}

// allowed implements valued.
func (*widthFlag) allowed() string { return "megahertz, such as 80 or 1.4" }

// String implements pflag.Value.
func (w *widthFlag) String() string {
	if !w.set {
		return ""
	}
	return w.value.MHz()
}

// Type implements pflag.Value.
func (w *widthFlag) Type() string { return "MHz" }

// frequencyFlag is a flag that takes a frequency with its unit.
type frequencyFlag struct {
	value bands.Frequency
	set   bool
}

// Set implements pflag.Value.
func (f *frequencyFlag) Set(s string) error {
	v, err := bands.ParseFrequency(s)
	if err != nil {
		if better := frequencyError(s); better != nil {
			return better
		}
		return err
	}
	f.value, f.set = v, true
	return nil
}

// allowed implements valued.
func (*frequencyFlag) allowed() string { return "a number with its unit, such as 3540.96 MHz" }

// String implements pflag.Value.
func (f *frequencyFlag) String() string {
	if !f.set {
		return ""
	}
	return f.value.String()
}

// Type implements pflag.Value.
func (f *frequencyFlag) Type() string { return "FREQUENCY" }

// spacingFlag is a flag that takes a subcarrier spacing: kilohertz, with or
// without the unit.
type spacingFlag struct {
	value bands.Frequency
	set   bool
}

var spacings = []string{"15", "30", "60", "120", "480", "960"}

// Set implements pflag.Value.
func (s *spacingFlag) Set(text string) error {
	number := strings.TrimSpace(text)
	if cut := len(number) - len("kHz"); cut > 0 && strings.EqualFold(number[cut:], "kHz") {
		number = strings.TrimSpace(number[:cut])
	}
	for _, name := range spacings {
		if number == name {
			f, err := bands.ParseFrequency(name + "kHz")
			s.value, s.set = f, true
			return err
		}
	}
	return &bands.ValueError{Param: "subcarrier spacing", Got: text, Allowed: s.allowed()}
}

// allowed implements valued.
func (*spacingFlag) allowed() string { return alternatives(spacings) + " kHz" }

// String implements pflag.Value.
func (s *spacingFlag) String() string {
	if !s.set {
		return ""
	}
	return s.value.KHz()
}

// Type implements pflag.Value.
func (s *spacingFlag) Type() string { return "kHz" }
