package ca

// FallsBackTo tells whether a UE that has the configuration n has m as well: m is n,
// one carrier of a band of n, or what results from n by leaving carriers out
// (TS 38.101-1 clause 5.5A.0, TS 36.101 clause 4.3A). Whether the standard lists
// either is no matter here; see [StatusOf].
func (n Name) FallsBackTo(m Name) bool {
	if n.IsZero() || m.IsZero() {
		return false
	}
	if n == m {
		return true
	}
	have, want := shapeOf(n), shapeOf(m)
	if m.kind == KindLTE || m.kind == KindNR {
		return have.component(want.components[0].Band) != nil
	}
	return have.covers(&want)
}
