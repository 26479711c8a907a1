package tomlfile

import (
	"errors"

	"spectally/bands"
)

// Renamed gives the fault of a value the name of its key.
func Renamed(err error, key string) error {
	var v *bands.ValueError
	if !errors.As(err, &v) {
		return err
	}
	w := *v
	w.Param, w.Got = key, Shorten(v.Got)
	return &w
}
