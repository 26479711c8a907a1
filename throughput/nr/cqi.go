package nr

import (
	"strconv"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
)

// CQI is a row of a channel quality indicator table of TS 38.214: the highest
// scheme the channel supports. Index 0, out of range, has no scheme.
type CQI struct {
	Table      MCSTable // 64qam, 256qam, 64qam-lowse or 1024qam
	Index      int
	Qm         int
	Rate2048   int // code rate times 2048
	Efficiency int // as printed, times 10000
}

// BitsPerSymbol is the exact efficiency Qm * R in bits for each resource element
// and layer.
func (c CQI) BitsPerSymbol() exact.Ratio {
	return exact.Of(int64(c.Qm*c.Rate2048), 2048).Reduced()
}

func loadCQI(t MCSTable) []CQI {
	table := data.Find(mcsTables(), "cqi-"+mcsNames[t])
	rows := make([]CQI, 0, len(table.Rows))
	for _, row := range table.Rows {
		c := CQI{Table: t, Index: printed.Int(row[0])}
		if row[1] != "" {
			c.Qm, c.Rate2048, c.Efficiency = printed.Int(row[1]), rate2048(row[2]), efficiency(row[3])
		}
		rows = append(rows, c)
	}
	return rows
}

// CQISource is where the CQI table that goes with the MCS table stands; none for
// the tables of PUSCH with transform precoding.
func (t MCSTable) CQISource() bands.Source {
	if t < MCS64QAM || t > MCS1024QAM {
		return bands.Source{}
	}
	return data.Find(mcsTables(), "cqi-"+mcsNames[t]).Source
}

// CQIRows lists the CQI table that goes with the MCS table: TS 38.214 Tables
// 5.2.2.1-2 (64qam), -3 (256qam), -4 (64qam-lowse), -5 (1024qam). The rows are
// the caller's.
func (t MCSTable) CQIRows() []CQI {
	if !t.valid() {
		return nil
	}
	return append([]CQI(nil), loadMCS()[t].cqi...)
}

// CQI finds a row of the CQI table that goes with the MCS table, 0 to 15.
func (t MCSTable) CQI(index int) (CQI, error) {
	if t.valid() {
		if rows := loadMCS()[t].cqi; index >= 0 && index < len(rows) {
			return rows[index], nil
		}
	}
	allowed := "0 to 15"
	if t.TransformPrecoding() || !t.valid() {
		allowed = "an index of the tables 64qam, 256qam, 64qam-lowse and 1024qam"
	}
	return CQI{}, &bands.ValueError{
		Param:   "CQI of table " + t.String(),
		Got:     strconv.Itoa(index),
		Allowed: allowed,
		Source:  t.CQISource(),
	}
}

// CQIWithin is the highest CQI whose efficiency is not above the one given (bits
// for each resource element and layer): index 0, out of range, if even CQI 1 is
// above it.
func (t MCSTable) CQIWithin(efficiency float64) CQI {
	best := CQI{Table: t}
	if t.valid() {
		for _, c := range loadMCS()[t].cqi {
			if float64(c.Qm*c.Rate2048) <= efficiency*2048 && c.Qm*c.Rate2048 > best.Qm*best.Rate2048 {
				best = c
			}
		}
	}
	return best
}
