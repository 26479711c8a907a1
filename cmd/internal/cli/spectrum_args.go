package cli

import (
	"errors"
	"strings"

	"spectally/bands"
)

// query is one thing to look up: a band, a trade name or a frequency.
type query struct {
	bands []*bands.Band   // of a band or a name
	at    bands.Frequency // if it is a frequency
}

// longestQuery is how many arguments one query may take up when a blank in it was
// not quoted: "digital dividend", "band n 78".
const longestQuery = 6

// parseQueries reads arguments as queries. Words that belong together need no
// quotes: the longest run of arguments that means something is one query.
func parseQueries(args []string) ([]query, error) {
	var list []query
next:
	for i := 0; i < len(args); {
		for n := min(longestQuery, len(args)-i); n > 0; n-- {
			if q, err := parseQuery(strings.Join(args[i:i+n], " ")); err == nil {
				list = append(list, q)
				i += n
				continue next
			}
		}
		if i > 0 && nearestUnit(args[i]) != "" {
			i-- // the number before it was not a band
		}
		text := args[i]
		if i+1 < len(args) && nearestUnit(args[i+1]) != "" {
			text += " " + args[i+1]
		}
		_, err := parseQuery(text)
		return nil, at(argument(i), err)
	}
	return list, nil
}

// parseQuery reads one query.
func parseQuery(s string) (query, error) {
	if b, err := parseBand(s); err == nil {
		return query{bands: []*bands.Band{b}}, nil
	}
	f, bad := bands.ParseFrequency(s)
	if bad == nil && len(bands.At(f)) > 0 {
		return query{at: f}, nil
	}
	named, err := bands.ByName(s)
	switch {
	case err == nil:
		return query{bands: named}, nil // the trade also calls bands "600 MHz" that do not hold it
	case bad == nil:
		return query{at: f}, nil
	}
	return query{}, queryError(s, err)
}

// bandText takes what may be written around a band away: "band 3", "n 78".
func bandText(s string) string {
	s = strings.ToLower(strings.TrimSpace(s))
	s = strings.TrimPrefix(s, "band")
	return strings.ReplaceAll(s, " ", "")
}

// parseBand reads a band that the tables have.
func parseBand(s string) (*bands.Band, error) {
	id, err := bands.ParseID(bandText(s))
	if err != nil {
		return nil, err
	}
	return bands.Lookup(id)
}

// queryError finds out what the writer of s most likely meant.
func queryError(s string, unknownName error) error {
	if _, err := bands.ParseID(bandText(s)); err == nil {
		return unknownBand(s)
	}
	if err := frequencyError(s); err != nil {
		return err
	}
	if near := nearestBand(bandText(s)); near != nil {
		return &bands.ValueError{Param: "band", Got: s, Allowed: "a band (n78, B3), a frequency with its unit, or a name of the trade", Nearest: near.ID.String()}
	}
	return unknownName
}

// unknownBand is the error for a band that is well written but does not exist.
// The nearest band is the one that a slip of the finger makes of it, else the one
// that the tables are nearest to.
func unknownBand(s string) error {
	_, err := parseBand(s)
	var e *bands.ValueError
	if errors.As(err, &e) && !strings.Contains(e.Nearest, " or ") {
		if near := nearestBand(bandText(s)); near != nil {
			e.Nearest, e.Source = near.ID.String(), near.Source
		}
	}
	return err
}

var frequencyUnits = []string{"GHz", "MHz", "kHz", "Hz"}

// nearestUnit returns the unit that a word is or was meant to be; empty if it is
// none.
func nearestUnit(word string) string {
	for _, most := range []int{0, 1} {
		for _, u := range frequencyUnits {
			if bands.EditDistance(strings.ToLower(word), strings.ToLower(u)) <= most {
				return u
			}
		}
	}
	return ""
}

// frequencyError tells what is wrong with something that looks like a frequency;
// nil if nothing does.
func frequencyError(s string) error {
	s = strings.TrimSpace(s)
	unit := strings.TrimLeft(s, "0123456789., ")
	number := strings.TrimSpace(s[:len(s)-len(unit)])
	meant := nearestUnit(unit)
	if number == "" && strings.EqualFold(meant, s) && s != "" {
		return &bands.ValueError{Param: "frequency", Got: s, Allowed: (*frequencyFlag)(nil).allowed()}
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
		return &bands.ValueError{Param: "frequency", Got: s, Allowed: (*frequencyFlag)(nil).allowed(), Nearest: frequencyNear(number, "MHz")}
	case meant == "":
		return nil
	case !strings.EqualFold(meant, unit):
		return &bands.ValueError{Param: "unit of a frequency", Got: unit, Allowed: alternatives(frequencyUnits), Nearest: meant}
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

// nearestBand returns the band whose name is s with its parts exchanged, or
// differs from it in one letter, best at the end; nil if there is none or s is no
// mistyped band.
func nearestBand(s string) *bands.Band {
	if len(s) < 2 || len(s) > 6 || !strings.ContainsAny(s, "0123456789") {
		return nil
	}
	var best *bands.Band
	for _, b := range bands.All(0) {
		name := strings.ToLower(b.ID.String())
		switch {
		case s == name[1:]+name[:1], strings.HasPrefix(s, name) && len(s) == len(name)+1:
			return b
		case best == nil && bands.EditDistance(s, name) == 1:
			best = b
		}
	}
	return best
}
