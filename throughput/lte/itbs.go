package lte

import (
	"slices"
	"strings"

	"spectally/bands"
)

// ITBS is a transport block size index I_TBS of TS 36.213: a row of the size
// table, a number or a number with a letter ("26", "33A"). Indices compare with
// ==; their order is that of number and letter and says nothing about sizes (27
// lies below 26). The zero ITBS is none.
type ITBS uint8

// itbsNames are the indices in the order of their value, the zero first.
var itbsNames = [...]string{
	"none",
	"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12", "13", "14", "15", "16", "17", "18", "19", "20",
	"21", "22", "23", "24", "25", "26", "26A", "27", "28", "29", "30", "31", "32", "32A", "33", "33A", "33B", "34", "34A",
	"35", "36", "37", "37A",
}

const itbsCount = len(itbsNames) - 1

// ParseITBS reads an index as the standard writes it: "26", "33A". The case of
// the letter does not matter.
func ParseITBS(s string) (ITBS, error) {
	if i := slices.Index(itbsNames[1:], strings.ToUpper(s)); i >= 0 {
		return ITBS(i + 1), nil
	}
	err := &bands.ValueError{
		Param: "I_TBS", Got: s, Allowed: "0 to 37, 26A, 32A, 33A, 33B, 34A or 37A", Source: oneLayer().source,
	}
	if n := strings.TrimRight(strings.ToUpper(s), "ABCDEFGHIJKLMNOPQRSTUVWXYZ"); slices.Contains(itbsNames[1:], n) {
		err.Nearest = n
	}
	return 0, err
}

// ITBSValues lists every index in order.
func ITBSValues() []ITBS {
	all := make([]ITBS, itbsCount)
	for i := range all {
		all[i] = ITBS(i + 1)
	}
	return all
}

// String writes the index as the standard does: "26", "33A".
func (i ITBS) String() string {
	if !i.valid() {
		return itbsNames[0]
	}
	return itbsNames[i]
}

func (i ITBS) valid() bool { return 1 <= i && int(i) <= itbsCount }
