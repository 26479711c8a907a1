package bands

import (
	"fmt"

	"spectally/data"
)

// Source says which table of which specification a value was read from.
type Source = data.Source

// ValueError reports an input outside what is allowed. Callers match it with
// errors.As.
type ValueError struct {
	Param   string // in the field's words: "NR-ARFCN", "operating band"
	Got     string // as it was given
	Allowed string // what would be accepted
	Nearest string // the nearest accepted value, if one is near
	Source  Source // who says so; zero where the limit is the program's own
}

// Error writes the error on one line, with the source at its end.
func (e *ValueError) Error() string {
	if e.Source != (Source{}) {
		return e.Text() + " (" + e.Source.Short() + ")"
	}
	return e.Text()
}

// Text writes the error without its source, for those who show that apart.
func (e *ValueError) Text() string {
	s := fmt.Sprintf("%s %q: must be %s", e.Param, e.Got, e.Allowed)
	if e.Nearest != "" {
		s += "; closest is " + e.Nearest
	}
	return s
}
