package ca

import (
	"strings"
	"testing"

	"spectally/cmd/internal/commandtest"
)

// A carrier of which only the SS/PBCH block is known has the spectrum that it lies within:
// at 3600.48 MHz, GSCN 7916, the block leaves the centre of 80 MHz 3565.02 to 3635.94 MHz.
func TestOnlyBlockKnown(t *testing.T) {
	out := commandtest.Must(t, Command(), "ca", "n78:80,ssb=640032", "--full")
	for _, want := range []string{"both, within", "3525.02", "3675.94", "3565.02-3635.94 MHz"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if out := commandtest.Must(t, Command(), "ca", "n78:80,ssb=640032", "--full", "--format", "json"); !strings.Contains(out, `"centre_low_mhz": 3565.02`) || !strings.Contains(out, `"centre_mhz": null`) {
		t.Error(out)
	}
}
