package ca

import (
	"strconv"

	"spectally/bands"
)

// Class is a bandwidth class as it stands in a name: "A", "C", "R12". What it
// means depends on the technology and the frequency range of the band.
type Class string

// valid reports whether c has the form of a class: a letter, or R and a number
// from 2 to 12.
func (c Class) valid() bool {
	if len(c) == 0 || c[0] < 'A' || c[0] > 'Z' {
		return false
	}
	if len(c) == 1 {
		return true
	}
	n, err := strconv.Atoi(string(c[1:]))
	return err == nil && c[0] == 'R' && c[1] >= '1' && c[1] <= '9' && n >= 2 && n <= 12
}

// compare orders classes as names do: by letter, then by number.
func (c Class) compare(d Class) int {
	if c == "" || d == "" {
		return len(c) - len(d)
	}
	if c[0] != d[0] {
		return int(c[0]) - int(d[0])
	}
	return c.number() - d.number()
}

func (c Class) number() int {
	if len(c) < 2 {
		return 0
	}
	n, _ := strconv.Atoi(string(c[1:])) // the form is checked when a name is made
	return n
}

const (
	classesLTE = "A, B, C, D, E, F, I"
	classesFR1 = "A to E, G to O"
	classesFR2 = "A to M, O to W, R2 to R12"
)

// carriers returns the number of contiguous carriers that class c stands for
// in a band, 0 if bands of its kind have no such class: TS 36.101 Table 5.6A-1,
// TS 38.101-1 Table 5.3A.5-1, TS 38.101-2 Table 5.3A.4-1.
func (c Class) carriers(id bands.ID) int {
	if !c.valid() {
		return 0
	}
	if len(c) > 1 {
		if !rangeFR2(id) {
			return 0
		}
		return c.number()
	}
	var counts string // of the letters from A on; 0 is none
	switch {
	case id.RAT == bands.LTE:
		counts = "122345008"
	case rangeFR2(id):
		counts = "12323423456780234567845"
	default:
		counts = "122340345678345"
	}
	if i := int(c[0] - 'A'); i < len(counts) {
		return int(counts[i] - '0')
	}
	return 0
}

// rangeFR2 reports whether a band lies in FR2: TS 38.101-2 numbers its bands
// from 257 on.
func rangeFR2(id bands.ID) bool { return id.RAT == bands.NR && id.Number >= 257 }
