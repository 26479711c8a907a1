package nr

import (
	"strconv"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/internal/printed"
	"spectally/throughput/internal/words"
)

// DMRS is a configuration of demodulation reference signals (TS 38.211
// clauses 7.4.1.1 for PDSCH and 6.4.1.1 for PUSCH). The zero value is invalid;
// [DefaultDMRS] is a start.
type DMRS struct {
	Type   int // configuration type: 1 or 2
	Length int // 1 for single-symbol, 2 for double-symbol DM-RS
	// AdditionalPositions is dmrs-AdditionalPosition: 0 to 3, with double-symbol
	// DM-RS 0 or 1.
	AdditionalPositions int
	MappingB            bool // PDSCH or PUSCH mapping type B instead of A
	// Groups is the number of CDM groups without data: 1 to 2 with type 1, 1 to 3
	// with type 2; 0 takes the fewest that hold the layers.
	Groups int
}

// DefaultDMRS is what this program assumes where nothing else is given: type 1,
// one additional position, mapping type A, as in most reference channels of
// TS 38.101-4 Annex A.3.2; double-symbol above four layers. In the uplink both
// CDM groups go without data, as in the reference channels of TS 38.104 Annex A.
func DefaultDMRS(d bands.Direction, layers int) DMRS {
	c := DMRS{Type: 1, Length: 1, AdditionalPositions: 1}
	if layers > 4 {
		c.Length = 2
	}
	if d == bands.Uplink {
		c.Groups = 2
	}
	return c
}

// Each CDM group holds two ports with single-symbol DM-RS, four with
// double-symbol; it takes 6 (type 1) or 4 (type 2) resource elements of a
// resource block in a symbol (TS 38.211 clauses 7.4.1.1.2 and 6.4.1.1.3).
var dmrsTypes = [...]struct{ groups, elements int }{1: {2, 6}, 2: {3, 4}}

// CDMGroups is the number of CDM groups without data for a number of layers, or
// an error if the configuration cannot hold them.
func (c *DMRS) CDMGroups(layers int) (int, error) {
	e := func(param string, got int, allowed string) error {
		return &bands.ValueError{Param: param, Got: strconv.Itoa(got), Allowed: allowed,
			Source: bands.Source{Spec: "TS 38.211", Table: "clauses 7.4.1.1.2 and 6.4.1.1.3"}}
	}
	switch {
	case c.Type != 1 && c.Type != 2:
		return 0, e("DM-RS type", c.Type, "1 or 2")
	case c.Length != 1 && c.Length != 2:
		return 0, e("DM-RS length", c.Length, "1 (single-symbol) or 2 (double-symbol)")
	case c.AdditionalPositions < 0 || c.AdditionalPositions > 3 || c.Length == 2 && c.AdditionalPositions > 1:
		return 0, e("additional DM-RS positions", c.AdditionalPositions, "0 to 3, with double-symbol DM-RS 0 or 1")
	}
	most := dmrsTypes[c.Type].groups
	need := max(1, (layers+2*c.Length-1)/(2*c.Length))
	if layers < 1 || need > most {
		return 0, e("layers", layers, "1 to "+strconv.Itoa(2*c.Length*most)+" with this DM-RS type and length")
	}
	if c.Groups == 0 {
		return need, nil
	}
	if c.Groups < need || c.Groups > most {
		allowed := strconv.Itoa(need)
		if most > need {
			allowed += " to " + strconv.Itoa(most)
		}
		return 0, e("CDM groups without data", c.Groups, allowed+" for "+words.Plural(layers, "layer"))
	}
	return c.Groups, nil
}

// RE is N_DMRS of TS 38.214 clause 5.1.3.2: the resource elements of each
// resource block that DM-RS and the CDM groups without data take in a number of
// DM-RS symbols.
func (c *DMRS) RE(symbols, groups int) int {
	return symbols * groups * dmrsTypes[c.Type].elements
}

type dmrsTable struct {
	counts [slotSymbols + 1][2][4]uint8 // by duration, mapping type B or not, additional positions
	source bands.Source
}

var (
	dmrsTables = data.Lazy("nr_dmrs")
	// loadDMRS holds the tables by uplink or not, double-symbol or not.
	loadDMRS = sync.OnceValue(func() *[2][2]dmrsTable {
		all := new([2][2]dmrsTable)
		for i, channel := range [...]string{"pdsch", "pusch"} {
			for k, length := range [...]string{"-single", "-double"} {
				t := data.Find(dmrsTables(), channel+length)
				all[i][k] = readDMRS(t)
			}
		}
		return all
	})
)

// readDMRS fills each duration from the last row that begins at or below it.
func readDMRS(t *data.Table) dmrsTable {
	table := dmrsTable{source: t.Source}
	for _, row := range t.Rows {
		for duration := printed.Int(row[0]); duration <= slotSymbols; duration++ {
			for col, field := range row[1:] {
				perType := (len(row) - 1) / 2
				n := 0
				if field != "" {
					n = printed.Int(field)
				}
				table.counts[duration][col/perType][col%perType] = uint8(n)
			}
		}
	}
	return table
}

// Symbols is the number of DM-RS symbols of an allocation; 0 if the tables have
// none for so short a one. The duration is l_d in symbols: with mapping type A
// from the start of the slot to the end of the allocation, with type B that of
// the allocation. There is no frequency hopping in the slot.
//
// The tables behind it (TS 38.211 Tables 7.4.1.1.2-3, -4, 6.4.1.1.3-3, -4) are
// from memory.
func (c *DMRS) Symbols(d bands.Direction, duration int) int {
	if duration < 1 || duration > slotSymbols || c.Length < 1 || c.Length > 2 ||
		c.AdditionalPositions < 0 || c.AdditionalPositions > 3 {
		return 0
	}
	t := &loadDMRS()[oneIf(d == bands.Uplink)][c.Length-1]
	return c.Length * int(t.counts[duration][oneIf(c.MappingB)][c.AdditionalPositions])
}

// Source is the table that [DMRS.Symbols] reads.
func (c *DMRS) Source(d bands.Direction) bands.Source {
	return loadDMRS()[oneIf(d == bands.Uplink)][oneIf(c.Length == 2)].source
}
