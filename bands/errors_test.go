package bands_test

import (
	"testing"

	"spectally/bands"
)

func TestValueError(t *testing.T) {
	e := bands.ValueError{Param: "width", Got: "7\nMHz", Allowed: "5 or 10 MHz"}
	wantError(t, &e, `width "7\nMHz": must be 5 or 10 MHz`) // one line, whatever was given
	e.Nearest = "5 MHz"
	wantError(t, &e, `width "7\nMHz": must be 5 or 10 MHz; closest is 5 MHz`)
	e.Source = bands.Source{Spec: "TS 36.101", Version: "19.6.0", Table: "5.6-1"}
	wantError(t, &e, `width "7\nMHz": must be 5 or 10 MHz; closest is 5 MHz (TS 36.101 Table 5.6-1)`)
}
