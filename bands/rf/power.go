package rf

import (
	"strings"

	"spectally/bands"
	"spectally/data"
)

var powerTables = data.Lazy("nr_power_class")

// Power is the maximum output power of a UE of a power class.
type Power struct {
	// Of is a band, "n78", or a combination of uplinks, "CA_n41C", "DC_3A_n78A".
	Of     string
	Class  string
	Level  bands.DB // dBm
	Notes  string   // numbers of notes of the table
	Source bands.Source
}

// Powers lists the power classes of an NR band in FR1 (TS 38.101-1 and TS 38.101-5 Table
// 6.2.1-1); of every band for the zero ID. Tolerances are left out.
func Powers(id bands.ID) []Power {
	var list []Power
	for _, t := range tables(powerTables(), "band") {
		rows(t, id, func(row data.Row) { list = append(list, powersOf(t, row)...) })
	}
	return list
}

// CombinationPowers lists the power classes of a combination of uplinks by its name as the
// tables print it (TS 38.101-1 Tables 6.2A.1.1-1, 6.2A.1.2-1, 6.2A.1.3-1, TS 38.101-3 Table
// 6.2B.1.3-1); of every combination for "".
func CombinationPowers(name string) []Power {
	var list []Power
	for _, t := range tables(powerTables(), "configuration") {
		for _, row := range t.Rows {
			if name == "" || row[0] == name {
				list = append(list, powersOf(t, row)...)
			}
		}
	}
	return list
}

func powersOf(t *data.Table, row data.Row) []Power {
	var list []Power
	for _, f := range figures(row[1]) {
		list = append(list, Power{row[0], f.key, decibels(f.value), f.note, t.Source})
	}
	return list
}

var radiatedTables = data.Lazy("nr_fr2_radiated")

// Radiated is a radiated requirement of a UE of a power class in FR2 (TS 38.101-2).
type Radiated struct {
	Band  bands.ID
	Class string
	// What it is: "EIS" for sensitivity at the peak or, with a percentile, over a share of
	// the sphere; else "least-peak-EIRP", "greatest-TRP", "greatest-EIRP",
	// "least-EIRP-over-sphere".
	What       string
	Percentile int             // of the sphere; zero at the peak
	Width      bands.Frequency // of an EIS; else zero
	Level      bands.DB        // dBm
	Source     bands.Source
}

// RadiatedIn lists the radiated requirements in an FR2 band; in every band for the zero ID.
func RadiatedIn(id bands.ID) []Radiated {
	var list []Radiated
	for _, t := range radiatedTables() {
		power := strings.Contains(strings.Join(t.Columns, " "), "what")
		rows(t, id, func(row data.Row) {
			r := Radiated{Band: must(bands.ParseID(row[1])), Class: row[0], What: "EIS", Source: t.Source}
			if power {
				r.What, r.Percentile, r.Level = row[2], number(row[3]), decibels(row[4])
				list = append(list, r)
				return
			}
			r.Percentile = number(row[2])
			for _, f := range figures(row[3]) {
				r.Width, r.Level = must(bands.ParseMHz(f.key)), decibels(f.value)
				list = append(list, r)
			}
		})
	}
	return list
}
