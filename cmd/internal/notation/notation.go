// Package notation says what is wrong with carriers in the notation that commands read.
package notation

import (
	"errors"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/spectrum"
)

// Explain adds what was most likely meant to an error about a band, or about a
// band without a width.
func Explain(err error) error {
	notation, ok := errors.AsType[*ca.NotationError](err)
	if !ok {
		return err
	}
	v, ok := errors.AsType[*bands.ValueError](notation.Err)
	if !ok || v.Nearest != "" {
		return err
	}
	better := *v
	if b, err := spectrum.ParseBand(notation.Text); err == nil && len(b.Widths()) > 0 {
		list := b.Widths()
		better.Nearest = b.ID.String() + ":" + list[len(list)-1].Width.MHz()
	} else if v.Param == "band" {
		better.Nearest = spectrum.NearestID(v.Got)
	}
	return &ca.NotationError{Carrier: notation.Carrier, Text: notation.Text, Err: &better}
}
