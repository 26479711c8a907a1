package render

import (
	"strconv"
	"strings"
	"unicode"
)

// Sheets lists the tables of a document that have a title, for CSV, by names for
// programs in the order in which they stand: "backhaul-with-26-overhead" only once, the
// next of the same title with a number behind.
func Sheets(doc []Block) (names []string, tables []*Table) {
	seen := make(map[string]int)
	for _, b := range doc {
		t, ok := b.(*Table)
		if !ok || t.Title == "" || len(t.Rows) == 0 {
			continue
		}
		name := slug(t.Title, '-')
		if seen[name]++; seen[name] > 1 {
			name += "-" + strconv.Itoa(seen[name])
		}
		names, tables = append(names, name), append(tables, t.sheet())
	}
	return names, tables
}

// unitKeys are units as they stand in the keys of columns.
var unitKeys = map[string]string{"Mbit/s": "mbps", "bit/s/Hz": "bps_hz", "%": "percent", "MHz": "mhz", "kHz": "khz", "GB": "gb", "dB": "db", "dBm": "dbm", "dBi": "dbi", "m": "m"}

// sheet is the table as CSV shows it: each column with a key, which is its header and
// unit where it has none, and no cell of words that runs as a formula.
func (t *Table) sheet() *Table {
	s := *t
	s.Columns = make([]Column, len(t.Columns))
	seen := make(map[string]int)
	before := ""
	for i, c := range t.Columns {
		if c.Key == "" {
			c.Key = slug(c.Header, '_')
			unit, known := unitKeys[c.Unit]
			if !known {
				unit = slug(c.Unit, '_')
			}
			if unit != "" {
				c.Key += "_" + unit
			}
			if seen[c.Key] > 0 && before != "" { // a second "up" belongs to what stands before it
				c.Key = before + "_" + c.Key
			}
		}
		if seen[c.Key]++; seen[c.Key] > 1 {
			c.Key += "_" + strconv.Itoa(seen[c.Key])
		}
		if c.Align == Words {
			c.Typed = true
		} else {
			before, _, _ = strings.Cut(c.Key, "_down")
		}
		s.Columns[i] = c
	}
	return &s
}

// slug writes words in small letters and digits with a separator between them.
func slug(s string, between rune) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(s) {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			gap = b.Len() > 0
			continue
		}
		if gap {
			b.WriteRune(between)
			gap = false
		}
		b.WriteRune(r)
	}
	return b.String()
}
