package printed

import (
	"strconv"

	"spectally/throughput/exact"
)

// tableInt reads a whole number of an embedded table. Tests read every table, so a
// panic is a fault of the build.
func Int(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		panic("throughput: bad whole number " + strconv.Quote(s) + " in a table")
	}
	return n
}

// tableRatio reads a decimal or a fraction of an embedded table.
func Ratio(s string) exact.Ratio {
	r, err := exact.ParseRatio(s)
	if err != nil {
		panic("throughput: bad number " + strconv.Quote(s) + " in a table")
	}
	return r
}
