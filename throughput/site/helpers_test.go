package site

import (
	"math"
	"testing"

	"spectally/ca"
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
