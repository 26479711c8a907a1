package bands

import (
	"strconv"

	"spectally/data"
)

// Working explains the frequency of g as one line of arithmetic; empty if g is no
// GSCN. N and M are those of TS 38.104 clause 5.4.3.1.
func (g GSCN) Working() string {
	for i := range gscnRows() {
		r := &gscnRows()[i]
		if g < r.first || g > r.last {
			continue
		}
		k := int(g - r.origin)
		if !r.clusters {
			return "SS_REF = " + r.base.MHz() + " MHz + " + strconv.Itoa(k) + " x " + r.step.KHz() + " kHz"
		}
		n := (k + 1) / 3
		m := 3 + 2*(k-3*n)
		s := "SS_REF = " + strconv.Itoa(n) + " x " + r.step.KHz() + " kHz + " + strconv.Itoa(m) + " x 50 kHz"
		if r.base != 0 {
			s += " + " + r.base.KHz() + " kHz"
		}
		return s
	}
	if s, ok := gscnSingles()[g]; ok {
		return "SS_REF = " + s.at.MHz() + " MHz"
	}
	return ""
}

// Source is the table of the global raster that g is a number of; that of channels
// above 3 MHz if g is no GSCN.
func (g GSCN) Source() Source {
	rows := gscnRows()
	for i := range rows {
		if r := &rows[i]; r.first <= g && g <= r.last {
			return r.source
		}
	}
	if _, ok := gscnSingles()[g]; ok {
		return data.Find(gscnTables(), "global-n100").Source
	}
	return rows[0].source
}

// Source is the table of the global frequency raster.
func (ARFCN) Source() Source { return globalSource() }
