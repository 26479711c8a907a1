package throughput

import (
	"strconv"

	"spectally/bands"
	"spectally/data"
)

// NRCQI is a row of a channel quality indicator table of TS 38.214: the highest
// scheme the channel supports. Index 0, out of range, has no scheme.
type NRCQI struct {
	Table      NRMCSTable // 64qam, 256qam, 64qam-lowse or 1024qam
	Index      int
	Qm         int
	Rate2048   int // code rate times 2048
	Efficiency int // as printed, times 10000
}

// BitsPerSymbol is the exact efficiency Qm * R in bits for each resource element
// and layer.
func (c NRCQI) BitsPerSymbol() Ratio {
	return Ratio{int64(c.Qm * c.Rate2048), 2048}.Reduced()
}

func loadNRCQI(t NRMCSTable) []NRCQI {
	table := data.Find(nrMCSTables(), "cqi-"+nrMCSNames[t])
	rows := make([]NRCQI, 0, len(table.Rows))
	for _, row := range table.Rows {
		c := NRCQI{Table: t, Index: tableInt(row[0])}
		if row[1] != "" {
			c.Qm, c.Rate2048, c.Efficiency = tableInt(row[1]), nrRate2048(row[2]), nrEfficiency(row[3])
		}
		rows = append(rows, c)
	}
	return rows
}

// CQISource is where the CQI table that goes with the MCS table stands; none for
// the tables of PUSCH with transform precoding.
func (t NRMCSTable) CQISource() bands.Source {
	if t < NRMCS64QAM || t > NRMCS1024QAM {
		return bands.Source{}
	}
	return data.Find(nrMCSTables(), "cqi-"+nrMCSNames[t]).Source
}

// CQIRows lists the CQI table that goes with the MCS table: TS 38.214 Tables
// 5.2.2.1-2 (64qam), -3 (256qam), -4 (64qam-lowse), -5 (1024qam). The rows are
// the caller's.
func (t NRMCSTable) CQIRows() []NRCQI {
	if !t.valid() {
		return nil
	}
	return append([]NRCQI(nil), loadNRMCS()[t].cqi...)
}

// CQI finds a row of the CQI table that goes with the MCS table, 0 to 15.
func (t NRMCSTable) CQI(index int) (NRCQI, error) {
	if t.valid() {
		if rows := loadNRMCS()[t].cqi; index >= 0 && index < len(rows) {
			return rows[index], nil
		}
	}
	allowed := "0 to 15"
	if t.TransformPrecoding() || !t.valid() {
		allowed = "an index of the tables 64qam, 256qam, 64qam-lowse and 1024qam"
	}
	return NRCQI{}, &bands.ValueError{
		Param:   "CQI of table " + t.String(),
		Got:     strconv.Itoa(index),
		Allowed: allowed,
		Source:  t.CQISource(),
	}
}

// CQIWithin is the highest CQI whose efficiency is not above the one given (bits
// for each resource element and layer): index 0, out of range, if even CQI 1 is
// above it.
func (t NRMCSTable) CQIWithin(efficiency float64) NRCQI {
	best := NRCQI{Table: t}
	if t.valid() {
		for _, c := range loadNRMCS()[t].cqi {
			if float64(c.Qm*c.Rate2048) <= efficiency*2048 && c.Qm*c.Rate2048 > best.Qm*best.Rate2048 {
				best = c
			}
		}
	}
	return best
}
