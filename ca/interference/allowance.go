package interference

import (
	"slices"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
)

// Effect tells what an allowance is about.
type Effect uint8

// The effects. The zero Effect is none.
const (
	// Sensitivity is ΔR_IB: what is added to the reference sensitivity of a band.
	Sensitivity Effect = iota + 1
	// OutputPower is ΔT_IB: what the maximum output power in a band may be lower by.
	OutputPower
)

// String names the effect as the standard does: "ΔR_IB", "ΔT_IB".
func (e Effect) String() string {
	switch e {
	case Sensitivity:
		return "ΔR_IB"
	case OutputPower:
		return "ΔT_IB"
	}
	return "none"
}

// Allowance is what a band may lose because the UE supports a combination, whatever it
// transmits: its filters have to tell more bands apart.
type Allowance struct {
	Effect Effect
	Band   bands.ID
	Value  bands.DB
	// Applies is the part of the band for which the value holds; none for all of it.
	Applies bands.Span
	// NotApplicable tells that the table says N/A, as for the output power of a band
	// without an uplink.
	NotApplicable bool
	// Note holds the number of a note of the table, mostly empty.
	Note string
	// Configurations holds the configurations of the row, as printed, with "|" between
	// them; those that differ from one of them in carriers alone, not in bands, are left out.
	Configurations string
	Source         bands.Source
}

var allowanceTables = data.Lazy("delta_ib")

var allowanceIndex = sync.OnceValue(func() map[string][]place {
	m := make(map[string][]place)
	for i, t := range allowanceTables() {
		for j, row := range t.Rows {
			for name := range strings.SplitSeq(row[0], "|") {
				key := bandKey(bandsOf(name))
				m[key] = append(m[key], place{i, j})
			}
		}
	}
	return m
})

// bandKey is the same for the same bands in any order.
func bandKey(list []bands.ID) string {
	sorted := slices.Clone(list)
	slices.SortFunc(sorted, bands.ID.Compare)
	var key strings.Builder
	for _, id := range slices.Compact(sorted) {
		key.WriteString(id.String())
	}
	return key.String()
}

// Allowances lists what the bands of a combination lose because the UE supports it, by
// the tables of TS 38.101-1 clauses 6.2A.4.2, 6.2C.2, 7.3A.3.2 and 7.3C.3.2 and of
// TS 38.101-3 clauses 6.2B.4.2.3 and 7.3B.3.3: those with just these bands. A band of which
// there is no word loses nothing. A few configurations with the same bands have different
// values; all are listed.
func Allowances(list []bands.ID) []Allowance {
	var found []Allowance
	for _, at := range allowanceIndex()[bandKey(list)] {
		t := allowanceTables()[at.table]
		found = append(found, allowancesOf(t, t.Rows[at.row])...)
	}
	return found
}

// AllAllowances lists every value of the tables.
func AllAllowances() []Allowance {
	var list []Allowance
	for _, t := range allowanceTables() {
		for _, row := range t.Rows {
			list = append(list, allowancesOf(t, row)...)
		}
	}
	return list
}

// allowancesOf reads a row: values in the order of the bands of the name, or with theirs.
func allowancesOf(t *data.Table, row data.Row) []Allowance {
	name, _, _ := strings.Cut(row[0], "|")
	own := bandsOf(name)
	var list []Allowance
	for field := range strings.FieldsSeq(row[1]) {
		a := Allowance{Effect: OutputPower, Configurations: row[0], Source: t.Source}
		if strings.HasPrefix(t.ID, "rib") {
			a.Effect = Sensitivity
		}
		if band, values, ok := strings.Cut(field, "="); ok {
			a.Band, field = must(bands.ParseID(band)), values
		} else {
			a.Band, own = own[0], own[1:]
		}
		for value := range strings.SplitSeq(field, ";") {
			v := a
			value, part, _ := strings.Cut(value, "@")
			value, note, _ := strings.Cut(value, "(")
			v.Note = strings.TrimSuffix(note, ")")
			if part != "" {
				low, high, _ := strings.Cut(part, "-")
				v.Applies = bands.Span{Low: must(bands.ParseMHz(low)), High: must(bands.ParseMHz(high))}
			}
			if v.NotApplicable = value == "-"; !v.NotApplicable {
				v.Value = must(bands.ParseDB(value))
			}
			list = append(list, v)
		}
	}
	return list
}
