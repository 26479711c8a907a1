package rf

import (
	"strings"

	"spectally/bands"
	"spectally/data"
)

var sensitivityTables = data.Lazy("nr_refsens")

// Sensitivity is the reference sensitivity of a UE with two receive ports.
type Sensitivity struct {
	Band           bands.ID
	Spacing, Width bands.Frequency
	Level          bands.DB // dBm
	// Base and PerBlocks are set where the table prints Base + 10 log10(N_RB/PerBlocks), of
	// which Level is the value, rounded to 0.1 dB.
	Base      bands.DB
	PerBlocks int
	// Notes holds the numbers of the notes of the table, with commas between them.
	Notes  string
	Source bands.Source
}

// Sensitivities lists the reference sensitivity of an NR band in FR1 by subcarrier spacing
// and width, of shared spectrum and of satellite bands too (TS 38.101-1 Tables 7.3.2-1a, -1b
// and 7.3F.2-1, TS 38.101-5 Table 7.3.2-1); of every band for the zero ID. Band n71 has two
// values for 30 and 35 MHz, by what the UE supports: see the notes.
func Sensitivities(id bands.ID) []Sensitivity {
	var list []Sensitivity
	for _, t := range tables(sensitivityTables(), "formula") {
		rows(t, id, func(row data.Row) {
			s := Sensitivity{Band: must(bands.ParseID(row[0])), Spacing: kilohertz(row[1]), Source: t.Source}
			if base, per, ok := strings.Cut(row[2], "/"); ok {
				s.Base, s.PerBlocks = decibels(base), number(per)
			}
			for _, f := range figures(row[3]) {
				s.Width, s.Level, s.Notes = must(bands.ParseMHz(f.key)), decibels(f.value), f.note
				list = append(list, s)
			}
		})
	}
	return list
}

// Ports is what more receive ports than two add to the reference sensitivity.
type Ports struct {
	Band  bands.ID
	Ports int
	Delta bands.DB
	// Form is "handheld" or "FWA" (fixed wireless access) where the table tells them apart.
	Form   string
	Source bands.Source
}

// MorePorts lists what 4, 6 and 8 receive ports add in a band (TS 38.101-1 Tables 7.3.2-2,
// -2aa, -2a); of every band for the zero ID.
func MorePorts(id bands.ID) []Ports {
	var list []Ports
	for _, t := range tables(sensitivityTables(), "delta") {
		rows(t, id, func(row data.Row) {
			list = append(list, Ports{must(bands.ParseID(row[0])), number(row[1]), decibels(row[2]), row[3], t.Source})
		})
	}
	return list
}

// ClassLoss is what a UE of a higher power class may lose of its reference sensitivity.
type ClassLoss struct {
	Band         bands.ID
	Class        string
	Transmitters int
	Width        bands.Frequency
	Loss         bands.DB
	Notes        string
	Source       bands.Source
}

// ClassLosses lists what UEs of power classes 2 and 1 may lose in a paired band (TS 38.101-1
// Tables 7.3.2-1c, -1d, TS 38.101-5 Tables 7.3.2-1a to -1d); in every band for the zero ID.
func ClassLosses(id bands.ID) []ClassLoss {
	var list []ClassLoss
	for _, t := range tables(sensitivityTables(), "transmitters") {
		rows(t, id, func(row data.Row) {
			for _, f := range figures(row[3]) {
				list = append(list, ClassLoss{must(bands.ParseID(row[2])), row[0], number(row[1]), must(bands.ParseMHz(f.key)), decibels(f.value), f.note, t.Source})
			}
		})
	}
	return list
}

// UplinkBlocks is the uplink allocation with which a reference sensitivity has to be met.
type UplinkBlocks struct {
	Band           bands.ID
	Spacing, Width bands.Frequency
	Blocks         int
	Source         bands.Source
}

// Allocations lists the uplink allocations of a band (TS 38.101-1 Tables 7.3.2-3 and, for
// RedCap in half duplex, 7.3I.2-4, TS 38.101-5 Table 7.3.2-2); of every band for the zero ID.
func Allocations(id bands.ID) []UplinkBlocks {
	var list []UplinkBlocks
	for _, t := range sensitivityTables() {
		if len(t.Columns) != 3 {
			continue // only these have no more than band, spacing and values
		}
		rows(t, id, func(row data.Row) {
			for _, f := range figures(row[2]) {
				list = append(list, UplinkBlocks{must(bands.ParseID(row[0])), kilohertz(row[1]), must(bands.ParseMHz(f.key)), number(f.value), t.Source})
			}
		})
	}
	return list
}

// RedCap is the reference sensitivity of a RedCap UE.
type RedCap struct {
	Band           bands.ID
	Ports          int
	Spacing, Width bands.Frequency
	Level          bands.DB // dBm
	// FullDuplex tells of a UE of power class 2 in full-duplex FDD; else it is half duplex.
	FullDuplex bool
	Source     bands.Source
}

// fullDuplex is the table of RedCap UEs of power class 2 in full-duplex FDD.
const fullDuplex = "7.3I.2-1b"

// RedCaps lists the reference sensitivity of RedCap UEs in a band (TS 38.101-1 Tables
// 7.3I.2-1b, -2, -3, TS 38.101-5 clause 7.3I.2); of every band for the zero ID.
func RedCaps(id bands.ID) []RedCap {
	var list []RedCap
	for _, t := range tables(sensitivityTables(), "ports") {
		if t.Column("ports") != 0 {
			continue
		}
		rows(t, id, func(row data.Row) {
			for _, f := range figures(row[3]) {
				list = append(list, RedCap{must(bands.ParseID(row[1])), number(row[0]), kilohertz(row[2]), must(bands.ParseMHz(f.key)), decibels(f.value), t.Table == fullDuplex, t.Source})
			}
		})
	}
	return list
}
