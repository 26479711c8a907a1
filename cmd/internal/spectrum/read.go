// Package spectrum reads what people mean by a band, a trade name or a frequency, and
// says what a mistyped one was most likely meant to be.
package spectrum

import (
	"errors"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/words"
)

// Query is one thing to look up: a band, a trade name or a frequency.
type Query struct {
	Bands []*bands.Band   // of a band or a name
	At    bands.Frequency // if it is a frequency
}

// LongestQuery is how many arguments one query may take up when a blank in it was
// not quoted: "digital dividend", "band n 78".
const LongestQuery = 6

// ParseQuery reads one query.
func ParseQuery(s string) (Query, error) {
	if b, err := ParseBand(s); err == nil {
		return Query{Bands: []*bands.Band{b}}, nil
	}
	f, bad := bands.ParseFrequency(s)
	if bad == nil && len(bands.At(f)) > 0 {
		return Query{At: f}, nil
	}
	named, err := bands.ByName(s)
	switch {
	case err == nil:
		return Query{Bands: named}, nil // the trade also calls bands "600 MHz" that do not hold it
	case bad == nil:
		return Query{At: f}, nil
	}
	return Query{}, queryError(s, err)
}

// BandText takes what may be written around a band away: "band 3", "n 78".
func BandText(s string) string {
	s = strings.ToLower(strings.TrimSpace(s))
	s = strings.TrimPrefix(s, "band")
	return strings.ReplaceAll(s, " ", "")
}

// ParseBand reads a band that the tables have.
func ParseBand(s string) (*bands.Band, error) {
	id, err := bands.ParseID(BandText(s))
	if err != nil {
		return nil, err
	}
	return bands.Lookup(id)
}

// queryError finds out what the writer of s most likely meant.
func queryError(s string, unknownName error) error {
	if _, err := bands.ParseID(BandText(s)); err == nil {
		return UnknownBand(s)
	}
	if err := FrequencyError(s); err != nil {
		return err
	}
	if near := bands.Misspelt(BandText(s)); near != nil {
		return &bands.ValueError{Param: "band", Got: s, Allowed: "a band (n78, B3), a frequency with its unit, or a name of the trade", Nearest: near.ID.String()}
	}
	return unknownName
}

// UnknownBand is the error for a band that is well written but does not exist.
// What a slip of the finger makes of it goes by how it was written: 178 may be n78.
func UnknownBand(s string) error {
	_, err := ParseBand(s)
	var e *bands.ValueError
	if errors.As(err, &e) && !strings.Contains(e.Nearest, " or ") {
		if near := bands.Misspelt(BandText(s)); near != nil {
			e.Nearest, e.Source = near.ID.String(), near.Source
		}
	}
	return err
}

// FrequencyForm is how a frequency is written.
const FrequencyForm = "a number with its unit, such as 3540.96 MHz"

var frequencyUnits = []string{"GHz", "MHz", "kHz", "Hz"}

// NearestUnit returns the unit that a word is or was meant to be; empty if it is
// none.
func NearestUnit(word string) string {
	for _, most := range []int{0, 1} {
		for _, u := range frequencyUnits {
			if bands.EditDistance(strings.ToLower(word), strings.ToLower(u)) <= most {
				return u
			}
		}
	}
	return ""
}

// FrequencyError tells what is wrong with something that looks like a frequency;
// nil if nothing does.
func FrequencyError(s string) error {
	s = strings.TrimSpace(s)
	unit := strings.TrimLeft(s, "0123456789., ")
	number := strings.TrimSpace(s[:len(s)-len(unit)])
	meant := NearestUnit(unit)
	if number == "" && strings.EqualFold(meant, s) && s != "" {
		return &bands.ValueError{Param: "frequency", Got: s, Allowed: FrequencyForm}
	}
	if number == "" || strings.ContainsAny(unit, "0123456789") {
		if !strings.HasSuffix(strings.ToLower(s), "hz") || !strings.ContainsAny(s, "0123456789") {
			return nil
		}
		_, err := bands.ParseFrequency(s)
		return err
	}
	switch {
	case unit == "":
		return &bands.ValueError{Param: "frequency", Got: s, Allowed: FrequencyForm, Nearest: frequencyNear(number, "MHz")}
	case meant == "":
		return nil
	case !strings.EqualFold(meant, unit):
		return &bands.ValueError{Param: "unit of a frequency", Got: unit, Allowed: words.Or(frequencyUnits), Nearest: meant}
	case strings.Contains(number, ","):
		return &bands.ValueError{Param: "frequency", Got: s, Allowed: "a number with a decimal point and a unit, such as 3540.96 MHz", Nearest: frequencyNear(number, unit)}
	}
	_, err := bands.ParseFrequency(s)
	return err
}

// frequencyNear writes a number and a unit as the frequency that was meant; empty
// if they make none.
func frequencyNear(number, unit string) string {
	f, err := bands.ParseFrequency(strings.ReplaceAll(number, ",", ".") + unit)
	if err != nil {
		return ""
	}
	return f.MHz() + " MHz"
}

// NearestID is the band that a mistyped one was most likely meant to be; empty if
// there is none.
func NearestID(word string) string {
	if b := bands.Misspelt(BandText(word)); b != nil {
		return b.ID.String()
	}
	return ""
}
