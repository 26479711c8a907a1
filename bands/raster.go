package bands

import (
	"slices"
	"strings"

	"spectally/data"
)

// Raster is a run of channel numbers that a band allows in one direction: the
// positions of carriers.
type Raster struct {
	Direction Direction
	Spacing   Frequency // channel raster ΔF_Raster
	// First, Step and Last are channel numbers; all zero where only a list of
	// numbers holds (n263).
	First, Step, Last int32
	// Listed tells that only the numbers of Band.ListedChannels are used.
	Listed bool
	// Enhanced tells that this is the enhanced 10 kHz raster, on which the
	// minimum guard band must also hold at the band edges.
	Enhanced bool
	// Mandatory tells that every UE of the band supports the enhanced raster.
	Mandatory bool
	Note      string
	Source    Source

	base Frequency // frequency of First, LTE alone
}

// Has tells whether n is a number of the run.
func (r *Raster) Has(n int32) bool {
	return r.Step > 0 && r.First <= n && n <= r.Last && (n-r.First)%r.Step == 0
}

// upTo returns the last number of the run up to n; the first of the run if n lies
// before it.
func (r *Raster) upTo(n int32) int32 {
	n = min(max(n, r.First), r.Last)
	return n - (n-r.First)%r.Step
}

// addRasters adds the rasters of a row of an NR raster table.
func (b *Band) addRasters(row []string, source Source) {
	note := row[4]
	for i, d := range []Direction{Uplink, Downlink} {
		if !b.Has(d) {
			continue
		}
		r := Raster{Direction: d, Spacing: kilohertz(row[1]), Note: note, Source: source, Listed: strings.Contains(note, "the listed")}
		r.setRun(row[2+i])
		b.rasters = append(b.rasters, r)
	}
}

// setRun reads "first:step:last"; an empty field leaves the run empty.
func (r *Raster) setRun(field string) {
	if field == "" {
		return
	}
	first, step, last := cutRun(field)
	r.First, r.Step, r.Last = int32(first), int32(step), int32(last)
}

func cutRun(field string) (first, step, last int) {
	parts := strings.Split(field, ":")
	if len(parts) == 1 {
		return number(field), 1, number(field)
	}
	return number(parts[0]), number(parts[1]), number(parts[2])
}

// Rasters lists the channel rasters of the band: for each, a row of channel
// numbers in each direction. The enhanced raster is apart, see EnhancedRasters.
func (b *Band) Rasters() []Raster { return slices.Clone(b.rasters) }

var enhancedRasters = lazy(func() map[ID][]Raster {
	m := make(map[ID][]Raster)
	for _, id := range []string{"enhanced-fr1", "enhanced-fr1-ntn"} {
		t := data.Find(nrRasterTables(), id)
		for _, row := range t.Rows {
			band := must(ParseID(row[0]))
			for i, d := range []Direction{Uplink, Downlink} {
				if row[2+i] == "" {
					continue
				}
				r := Raster{Direction: d, Spacing: kilohertz(row[1]), Enhanced: true, Mandatory: row[4] == "yes", Note: t.Note, Source: t.Source}
				r.setRun(row[2+i])
				m[band] = append(m[band], r)
			}
		}
	}
	return m
})

// EnhancedRasters lists the enhanced 10 kHz raster of an NR band; empty if the
// band has none (TS 38.101-1 Table 5.4.2.3-5, TS 38.101-5 Table 5.4.2.3-2).
func (b *Band) EnhancedRasters() []Raster {
	return slices.Clone(enhancedRasters()[b.ID])
}

// UplinkShift tells under which condition the network may move the uplink
// reference frequency of the band by +7.5 kHz (TS 38.101-1 and -5 clause
// 5.4.2.1): "any SCS" or "15 kHz SCS only"; empty if it may not.
func (b *Band) UplinkShift() string { return uplinkShifts()[b.ID] }

var uplinkShifts = lazy(func() map[ID]string {
	m := make(map[ID]string)
	for _, id := range []string{"shift-fr1", "shift-fr1-ntn"} {
		for _, row := range data.Find(nrRasterTables(), id).Rows {
			m[must(ParseID(row[0]))] = row[1]
		}
	}
	return m
})

// HasRaster tells whether the band has a channel raster of the given spacing.
func (b *Band) HasRaster(spacing Frequency) bool {
	for i := range b.rasters {
		if b.rasters[i].Spacing == spacing {
			return true
		}
	}
	return false
}
