package render

import (
	"math"
	"sort"
	"strconv"
	"strings"
)

// niceStep is the smallest of 1, 2 and 5 times a power of ten that is no less than x.
func niceStep(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range [...]float64{1, 2, 5} {
		if m*power >= x {
			return m * power
		}
	}
	return 10 * power
}

// trimmed writes a number with as few digits as it needs, at most nine decimals.
func trimmed(x float64) string {
	s := strconv.FormatFloat(x, 'f', 9, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

var fillCells = [...]string{Solid: "█", Hatched: "▒", Hollow: "░"}

// cellBar draws a bar some cells long, to a cell, and to an eighth of one if it is
// solid. What is above zero shows.
func cellBar(length float64, fill Fill) string {
	if fill != Solid && length > 0 {
		return strings.Repeat(fillCells[fill], max(int(math.Round(length)), 1))
	}
	eighths := int(math.Round(8 * length))
	if eighths <= 0 {
		if !(length > 0) {
			return ""
		}
		eighths = 1
	}
	bar := strings.Repeat("█", eighths/8)
	if rest := eighths % 8; rest > 0 {
		bar += string(rune('█' + 8 - rest)) // U+2588 is a whole cell, U+258F an eighth
	}
	return bar
}

// The size of letters in a drawing, in its units, which are pixels where the drawing is
// as wide as it was laid out for.
const letterSize = 12

// textWidth estimates how wide text is in a drawing. No font is known, so it is on the
// safe side.
func textWidth(s string) float64 {
	width := 0.0
	for _, r := range clean(s) {
		switch {
		case r >= '0' && r <= '9':
			width += 0.62
		case r == ' ' || r == '.' || r == ',' || r == ':':
			width += 0.3
		case r == 'm' || r == 'w' || r == 'M' || r == 'W':
			width += 0.95
		case r >= 'A' && r <= 'Z' || r == '%' || r == '×' || r == '+':
			width += 0.7
		default:
			width += 0.57 * float64(runeCells(r))
		}
	}
	return width * letterSize
}

// boldWidth is that of text in bold letters.
func boldWidth(s string) float64 { return 1.15 * textWidth(s) }

// fitText cuts text that is too wide for a drawing; the description and the table have
// it whole.
func fitText(s string, room float64) string {
	if textWidth(s) <= room {
		return s
	}
	runes := []rune(clean(s))
	cut := func(n int) string { return strings.TrimSpace(string(runes[:n])) + "…" }
	return cut(max(sort.Search(len(runes), func(n int) bool { return textWidth(cut(n)) > room })-1, 0))
}
