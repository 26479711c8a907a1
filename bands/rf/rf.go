// Package rf has radio requirements of the standard that belong to a band: reference
// sensitivity of UEs and base stations, output power by power class, and the release in
// which the band came in.
//
// Reference sensitivity (REFSENS) is a conducted test figure: QPSK at 95 % of the throughput
// of a reference channel, without MIMO, at the antenna connector; in FR2 the radiated
// equivalent (EIS). It is no coverage figure by itself.
package rf

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/data"
)

// Caution says what reference sensitivity is.
const Caution = "REFSENS is a conducted test figure (QPSK, 95 % of the reference channel's throughput, no MIMO): no coverage promise."

// figure is a field such as "100=-85.5(9)": a key, what it stands for, and the number of a
// note of the table.
type figure struct{ key, value, note string }

func figures(text string) []figure {
	list := make([]figure, 0, strings.Count(text, "=")+1)
	for field := range strings.FieldsSeq(text) {
		var f figure
		f.key, f.value, _ = strings.Cut(field, "=")
		f.value, f.note, _ = strings.Cut(strings.TrimSuffix(f.value, ")"), "(")
		list = append(list, f)
	}
	return list
}

// rows yields the rows of a table, from the column of the band on, that are about a band;
// of all bands for the zero ID.
func rows(t *data.Table, id bands.ID, yield func(row data.Row)) {
	at := t.Column("band")
	name := id.String()
	for _, row := range t.Rows {
		if id == (bands.ID{}) || row[at] == name {
			yield(row)
		}
	}
}

func tables(list []*data.Table, column string) []*data.Table {
	return slices.DeleteFunc(slices.Clone(list), func(t *data.Table) bool { return !slices.Contains(t.Columns, column) })
}

// must unwraps a value read from an embedded table, which no input can make faulty.
func must[T any](v T, err error) T {
	if err != nil {
		panic("rf: embedded table: " + err.Error())
	}
	return v
}

func number(text string) int {
	if text == "" {
		return 0
	}
	return must(strconv.Atoi(text))
}

func kilohertz(text string) bands.Frequency { return bands.Frequency(number(text)) * bands.KHz }

func decibels(text string) bands.DB { return must(bands.ParseDB(text)) }
