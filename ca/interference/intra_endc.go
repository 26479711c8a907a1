package interference

import (
	"slices"
	"sync"

	"spectally/bands"
	"spectally/data"
)

var intraTables = data.Lazy("msd_intra_endc")

// GapLoss is what the downlink of one technology may lose in non-contiguous EN-DC within a
// band while the other transmits alone, by the gap between the two (TS 38.101-3 clause
// 7.3B.3.2).
type GapLoss struct {
	Configuration string
	// Transmits is the technology of the uplink, and Uplink its width; Downlink is the
	// width of the carrier that suffers.
	Transmits        bands.RAT
	Uplink, Downlink bands.Frequency
	// The gap is above Above and at most To.
	Above, To bands.Frequency
	// Blocks counts the uplink resource blocks of the test point from First on, -1 where
	// the table does not say.
	Blocks, First int
	Loss          bands.DB
	Source        bands.Source
}

var gapLosses = sync.OnceValue(func() []GapLoss {
	var list []GapLoss
	for _, t := range intraTables() {
		if !slices.Contains(t.Columns, "delta") {
			continue
		}
		r := newReader(t)
		for _, row := range t.Rows {
			r.row = row
			g := GapLoss{
				Configuration: r.text("configuration"), Transmits: bands.NR, Uplink: r.mhz("width1"), Downlink: r.mhz("width2"),
				Above: r.mhz("above"), To: r.mhz("to"), Blocks: r.number("blocks"), First: -1, Source: t.Source,
			}
			if r.text("uplink") == "LTE" {
				g.Transmits = bands.LTE
			}
			if r.text("first") != "" {
				g.First = r.number("first")
			}
			g.Loss, _ = r.decibels("delta")
			list = append(list, g)
		}
	}
	return list
})

// GapLosses lists the rows for a configuration such as "DC_3A_n3A"; all rows for "".
func GapLosses(configuration string) []GapLoss {
	return slices.DeleteFunc(slices.Clone(gapLosses()), func(g GapLoss) bool {
		return configuration != "" && g.Configuration != configuration
	})
}

// IntraPoint is one of the two carriers of a test point of EN-DC within one band (TS 38.101-3
// clauses 7.3B.2.1 and 7.3B.2.2).
type IntraPoint struct {
	Configuration string
	Band          bands.ID
	// Uplink and Downlink are the carrier centres; the uplink is zero where it does not
	// transmit. Blocks counts its resource blocks, at the start or the end of the channel
	// or from a number on, as At says.
	Uplink, Downlink, Width bands.Frequency
	Blocks                  int
	At                      string
	// MSD is as printed; Table 7.3B.2.2-1 has the numbers of its notes glued to it.
	MSD    string
	Source bands.Source
}

// IntraPoints lists the carriers of the test points, those of a point after each other.
func IntraPoints() []IntraPoint {
	var list []IntraPoint
	for _, t := range intraTables() {
		if !slices.Contains(t.Columns, "msd") {
			continue
		}
		r := newReader(t)
		for _, row := range t.Rows {
			r.row = row
			list = append(list, IntraPoint{
				Configuration: r.text("configuration"), Band: r.band("band"), Uplink: r.mhz("uplink"), Downlink: r.mhz("downlink"),
				Width: r.mhz("width"), Blocks: r.number("blocks"), At: r.text("at"), MSD: r.text("msd"), Source: t.Source,
			})
		}
	}
	return list
}
