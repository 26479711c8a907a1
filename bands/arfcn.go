package bands

import (
	"strconv"

	"spectally/data"
)

// ARFCN is an NR absolute radio frequency channel number (NR-ARFCN), N_REF.
type ARFCN int32

// globalRow is a row of the global frequency raster.
type globalRow struct {
	low, high   Frequency
	step        Frequency // ΔF_Global
	offset      Frequency // F_REF-Offs
	first, last ARFCN     // first is N_REF-Offs
}

// globalRaster is read apart from the bands: it is three rows.
var globalRaster = lazy(func() []globalRow {
	t := data.Find(nrRasterTables(), "global")
	rows := make([]globalRow, len(t.Rows))
	for i, r := range t.Rows {
		rows[i] = globalRow{
			low:    must(ParseMHz(r[0])),
			high:   must(ParseMHz(r[1])),
			step:   kilohertz(r[2]),
			offset: must(ParseMHz(r[3])),
			first:  ARFCN(number(r[5])),
			last:   ARFCN(number(r[6])),
		}
	}
	return rows
})

func globalSource() Source { return data.Find(nrRasterTables(), "global").Source }

// Frequency returns the RF reference frequency of n (TS 38.104 clause 5.4.2.1):
//
//	F_REF = F_REF-Offs + ΔF_Global (N_REF − N_REF-Offs)
func (n ARFCN) Frequency() (Frequency, error) {
	for _, r := range globalRaster() {
		if r.first <= n && n <= r.last {
			return r.offset + r.step*Frequency(n-r.first), nil
		}
	}
	return 0, &ValueError{Param: "NR-ARFCN", Got: strconv.Itoa(int(n)), Allowed: "0 to 3279165", Source: globalSource()}
}

// Working explains the frequency of n as one line of arithmetic; empty if n is
// no NR-ARFCN.
func (n ARFCN) Working() string {
	for _, r := range globalRaster() {
		if r.first <= n && n <= r.last {
			return "F_REF = " + r.offset.MHz() + " MHz + " + r.step.KHz() + " kHz x (" + strconv.Itoa(int(n)) + " - " + strconv.Itoa(int(r.first)) + ")"
		}
	}
	return ""
}

// ARFCNNear returns the NR-ARFCN nearest to a frequency and whether it is
// exact. A frequency half-way between two numbers gives the lower one.
// Frequencies outside 0 to 100 GHz are an error.
func ARFCNNear(f Frequency) (n ARFCN, exact bool, err error) {
	rows := globalRaster()
	if f < rows[0].low || f > rows[len(rows)-1].high {
		return 0, false, &ValueError{Param: "frequency", Got: f.String(), Allowed: "0 Hz to 100 GHz", Source: globalSource()}
	}
	best := Frequency(-1)
	for _, r := range rows {
		steps := (f - r.offset + (r.step-1)/2) / r.step
		m := min(max(r.first+ARFCN(steps), r.first), r.last)
		at := r.offset + r.step*Frequency(m-r.first)
		if d := max(at-f, f-at); best < 0 || d < best {
			n, best = m, d
		}
	}
	return n, best == 0, nil
}
