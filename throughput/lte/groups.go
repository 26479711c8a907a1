package lte

import "math/bits"

// GroupSize is P, the number of resource blocks of a resource block group on a carrier
// of so many (TS 36.213 Table 7.1.6.1-1).
func GroupSize(blocks int) int {
	switch {
	case blocks <= 10:
		return 1
	case blocks <= 26:
		return 2
	case blocks <= 63:
		return 3
	}
	return 4
}

// signalled tells whether the downlink control information of several layers can
// allocate n of the resource blocks of a carrier: whole groups with type 0, of which the
// last may be smaller, or single blocks of one of P subsets with type 1 (TS 36.213
// clauses 7.1.6.1 and 7.1.6.2). One layer may have any number in a row with type 2.
func signalled(n, blocks int) bool {
	p := GroupSize(blocks)
	if n%p == 0 || n%p == blocks%p {
		return true
	}
	return n <= (blocks+p-1)/p-bits.Len(uint(p-1))-1
}
