package throughput

import (
	"math"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
)

// LinkCurve is an efficiency against SINR by the truncated Shannon form:
//
//	0                         below MinSINR
//	Alpha * log2(1 + SINR)    up to MaxEfficiency
//	MaxEfficiency             above
//
// in bit/s for each hertz and layer. The curves of [LinkCurveTR36942] and
// [LinkCurveTR38803] are from memory or second-hand; Note says which figure is
// which. They guide a planner and are no limit of a standard.
type LinkCurve struct {
	Alpha         float64
	MinSINR       float64 // dB
	MaxEfficiency float64 // bit/s/Hz
	Title         string
	Note          string
	Source        bands.Source
}

var (
	linkTables = data.Lazy("link_mapping")
	linkCurves = sync.OnceValue(func() map[string][bands.Uplink + 1]LinkCurve {
		all := make(map[string][bands.Uplink + 1]LinkCurve)
		for _, t := range linkTables() {
			var pair [bands.Uplink + 1]LinkCurve
			for _, row := range t.Rows {
				d := bands.Downlink
				if row[0] == "ul" {
					d = bands.Uplink
				}
				pair[d] = readLinkCurve(t, row)
			}
			all[t.ID] = pair
		}
		return all
	})
)

func readLinkCurve(t *data.Table, row data.Row) LinkCurve {
	c := LinkCurve{
		Alpha:   printed.Ratio(row[1]).Float(),
		MinSINR: float64(printed.Int(row[2])),
		Title:   t.Title,
		Note:    t.Note,
		Source:  t.Source,
	}
	if row[3] != "" {
		c.MaxEfficiency = printed.Ratio(row[3]).Float()
	} else {
		c.MaxEfficiency = c.Alpha * math.Log2(1+fromDB(float64(printed.Int(row[4]))))
	}
	return c
}

// LinkCurveTR36942 is the mapping of TR 36.942 Annex A.2, for LTE.
func LinkCurveTR36942(d bands.Direction) LinkCurve {
	return linkCurves()["tr36942"][d]
}

// LinkCurveTR38803 is the mapping of TR 38.803, for NR.
func LinkCurveTR38803(d bands.Direction) LinkCurve {
	return linkCurves()["tr38803"][d]
}

// Efficiency is the efficiency at a SINR in dB, in bit/s for each hertz and layer.
func (c *LinkCurve) Efficiency(sinr float64) float64 {
	if !(sinr >= c.MinSINR) { // also if it is not a number
		return 0
	}
	return min(c.Alpha*math.Log2(1+fromDB(sinr)), c.MaxEfficiency)
}

// MaxSINR is the SINR in dB from which on the efficiency stays at its maximum.
func (c *LinkCurve) MaxSINR() float64 {
	return 10 * math.Log10(math.Exp2(c.MaxEfficiency/c.Alpha)-1)
}

// ExpectedRate is the rate in bit/s of a carrier by an efficiency in bit/s/Hz:
// efficiency times layers times channel bandwidth times the direction's share of
// time. The SINR behind the efficiency is that of each layer.
func ExpectedRate(efficiency float64, layers int, width bands.Frequency, share exact.Ratio) float64 {
	return efficiency * float64(layers) * float64(width) * share.Float()
}

func fromDB(db float64) float64 { return math.Pow(10, db/10) }
