package rf

import (
	"slices"
	"strings"

	"spectally/bands"
	"spectally/data"
)

// StationClass is the class of a base station by the distance to its UEs.
type StationClass string

// The classes of TS 38.104 clause 4.4.
const (
	WideArea    StationClass = "wide-area"
	MediumRange StationClass = "medium-range"
	LocalArea   StationClass = "local-area"
)

var stationTables = data.Lazy("bs_refsens")

// Station is the reference sensitivity of a base station: the power of one instance of its
// reference channel at an antenna connector.
type Station struct {
	Class          StationClass
	Spacing, Width bands.Frequency
	Level          bands.DB // dBm
	// Channel names the reference measurement channel, which may be narrower than Width.
	Channel string
	Source  bands.Source
	// Bands says for which bands the row is: "n104", or "all", or those with "but" before
	// bands that it is not for.
	Bands string
}

// StationIn lists the reference sensitivity of base stations in a band (TS 38.104 clause
// 7.2.2, TS 36.104 Table 7.2.1-1); every row for the zero ID. A width may stand with several
// reference channels.
func StationIn(id bands.ID) []Station {
	var list []Station
	for _, t := range stationTables() {
		if rat := bands.NR; id.RAT != 0 && (t.Spec == "TS 36.104") == (id.RAT == rat) {
			continue
		}
		for _, row := range t.Rows {
			if id.RAT != 0 && !covers(row[0], id) {
				continue
			}
			for _, f := range figures(row[3]) {
				level, channel, _ := strings.Cut(f.value, ":")
				list = append(list, Station{StationClass(row[1]), kilohertz(row[2]), must(bands.ParseMHz(f.key)), decibels(level), channel, t.Source, row[0]})
			}
		}
	}
	return list
}

// covers tells whether a list of bands has a band: "all", "n96,n102", "but,n104".
func covers(list string, id bands.ID) bool {
	names := strings.Split(list, ",")
	switch has := slices.Contains(names, id.String()); names[0] {
	case "all":
		return true
	case "but":
		return !has
	default:
		return has
	}
}
