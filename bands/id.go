package bands

import (
	"strconv"
	"strings"
)

// RAT is a radio access technology.
type RAT uint8

// The technologies of the tables. The zero RAT is none.
const (
	LTE RAT = iota + 1 // E-UTRA
	NR
)

// String names the technology: "LTE" or "NR".
func (r RAT) String() string {
	switch r {
	case LTE:
		return "LTE"
	case NR:
		return "NR"
	}
	return "none"
}

// ID names an operating band: a technology and a number. IDs compare with ==;
// the zero ID is no band. That an ID can be written does not mean that the
// standard has such a band; [Lookup] tells.
type ID struct {
	RAT    RAT
	Number uint16
}

// ParseID reads a band as this program writes it: "n78" for NR, "B3" or a bare
// "3" for LTE. Letter case does not matter.
func ParseID(s string) (ID, error) {
	id := ID{RAT: LTE}
	digits := s
	if s != "" {
		switch s[0] {
		case 'n', 'N':
			id.RAT, digits = NR, s[1:]
		case 'b', 'B':
			digits = s[1:]
		}
	}
	n, err := strconv.ParseUint(digits, 10, 16)
	if err != nil || n == 0 || n > 1024 || digits[0] == '+' || digits[0] == '0' {
		return ID{}, &ValueError{Param: "band", Got: s, Allowed: "n and a number for NR (n78), B and a number or a number alone for LTE (B3, 3)"}
	}
	id.Number = uint16(n)
	return id, nil
}

// String writes the band as this program reads it: "n78", "B3".
func (id ID) String() string {
	switch id.RAT {
	case NR:
		return "n" + strconv.Itoa(int(id.Number))
	case LTE:
		return "B" + strconv.Itoa(int(id.Number))
	}
	return "no band"
}

// InName writes the band as it stands in the name of a configuration: "n78",
// "3".
func (id ID) InName() string { return strings.TrimPrefix(id.String(), "B") }

// Compare orders bands by technology, LTE first, then by number.
func (id ID) Compare(other ID) int {
	if id.RAT != other.RAT {
		return int(id.RAT) - int(other.RAT)
	}
	return int(id.Number) - int(other.Number)
}
