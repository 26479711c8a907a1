package site

import (
	"math"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
)

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

func parseCarriers(tb testing.TB, s string) ca.Combination {
	tb.Helper()
	c, err := ca.Parse(s)
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

// measuredIn gives a radio with carriers in FR2, for which nothing is published, figures
// of its own.
func measuredIn(r Radio) Radio {
	for i := range r.Carriers {
		if b, err := bands.Lookup(r.Carriers[i].Band); err == nil && b.Range.IsFR2() {
			r.Measured = Measured{Downlink: exact.Whole(3), Uplink: exact.Whole(2), DownlinkEdge: exact.Of(1, 10), UplinkEdge: exact.Of(1, 20), Origin: "drawn"}
		}
	}
	return r
}
