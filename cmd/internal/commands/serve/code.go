package serve

import (
	"strings"

	"rsc.io/qr"
)

// quiet is how many light modules lie around a code (ISO/IEC 18004:2015 clause 5.3.8).
const quiet = 4

// drawCode draws a text as a QR code, two rows of modules to a line. With colour it is
// black on white, whatever the terminal is; else light modules are what is drawn, for a
// dark one.
func drawCode(text string, color bool) (string, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", err
	}
	light := func(x, y int) bool { return !code.Black(x-quiet, y-quiet) } // nothing is black outside
	halves := map[[2]bool]rune{{true, true}: '█', {true, false}: '▀', {false, true}: '▄', {false, false}: ' '}
	side := code.Size + 2*quiet
	var b strings.Builder
	for y := 0; y < side; y += 2 {
		if color {
			b.WriteString("\x1b[97;40m")
		}
		for x := range side {
			b.WriteRune(halves[[2]bool{light(x, y), y+1 < side && light(x, y+1)}])
		}
		if color {
			b.WriteString("\x1b[0m")
		}
		b.WriteByte('\n')
	}
	return b.String(), nil
}
