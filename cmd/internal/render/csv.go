package render

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"unicode/utf8"
)

// writeCSV writes a header row of keys and then the rows, as RFC 4180 has it:
// lines end in CR LF.
func writeCSV(b *bytes.Buffer, t *Table) error {
	if t == nil {
		return fmt.Errorf("render: the answer has no table for CSV")
	}
	if err := t.check(); err != nil {
		return err
	}
	w := csv.NewWriter(b)
	w.UseCRLF = true
	keys := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		keys[i] = c.Key
	}
	if err := w.Write(keys); err != nil {
		return fmt.Errorf("render: %w", err)
	}
	cells := make([]string, len(t.Columns))
	for _, row := range t.Rows {
		copy(cells, row)
		for c := range cells {
			if t.Columns[c].Typed {
				cells[c] = asText(cells[c])
			}
		}
		if err := w.Write(cells); err != nil {
			return fmt.Errorf("render: %w", err)
		}
	}
	w.Flush()
	return w.Error()
}

// asText puts an apostrophe before what a spreadsheet would read as a formula and
// carry out: text that begins with one of = + - @ or with a control character. A
// number stays as it is.
func asText(cell string) string {
	if cell == "" || isNumber(cell) || cell[0] >= ' ' && !strings.ContainsRune("=+-@＝＋－＠", firstRune(cell)) {
		return cell
	}
	return "'" + cell
}

func firstRune(s string) rune {
	r, _ := utf8.DecodeRuneInString(s)
	return r
}
