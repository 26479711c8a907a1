package throughput

import "strconv"

// tableInt reads a whole number of an embedded table. Tests read every table, so a
// panic is a fault of the build.
func tableInt(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		panic("throughput: bad whole number " + strconv.Quote(s) + " in a table")
	}
	return n
}

// tableRatio reads a decimal or a fraction of an embedded table.
func tableRatio(s string) Ratio {
	r, err := ParseRatio(s)
	if err != nil {
		panic("throughput: bad number " + strconv.Quote(s) + " in a table")
	}
	return r
}
