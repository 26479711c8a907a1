package nr

import (
	"strconv"

	"spectally/bands"
	"spectally/throughput/internal/precoding"
)

// sourcePrecoding is where transform precoding takes a single layer and numbers of
// resource blocks that are products of 2, 3 and 5.
var sourcePrecoding = bands.Source{Spec: "TS 38.211", Version: "19.3.0", Table: "clause 6.3.1.4"}

// CheckPrecoding says whether an allocation can have transform precoding, which the
// tables 64qam-tp and 64qam-lowse-tp and pi/2-BPSK (modulation order 1) need: one layer,
// on a number of resource blocks that is a product of powers of 2, 3 and 5.
func (a *Allocation) CheckPrecoding() error {
	if a.Layers != 1 {
		return &bands.ValueError{Param: "layers", Got: strconv.Itoa(a.Layers), Allowed: "1 with transform precoding", Source: sourcePrecoding}
	}
	if n := precoding.Blocks(a.PRB); n != a.PRB {
		return &bands.ValueError{Param: "resource blocks", Got: strconv.Itoa(a.PRB), Allowed: "products of 2, 3 and 5 with transform precoding",
			Nearest: strconv.Itoa(n), Source: sourcePrecoding}
	}
	return nil
}

// precoded tells whether the schedule has transform precoding.
func (s *Schedule) precoded() bool { return s.MCS.Table.TransformPrecoding() || s.MCS.Qm == 1 }
