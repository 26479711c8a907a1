package render

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"iter"
	"slices"
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
	return StreamCSV(b, t.Columns, slices.Values(t.Rows))
}

// StreamCSV writes rows as CSV, each as it comes, so that a table of any length takes no
// more room than one of its rows. A row has a cell for each column.
func StreamCSV(out io.Writer, columns []Column, rows iter.Seq[[]string]) error {
	w := csv.NewWriter(bufio.NewWriterSize(out, 1<<16))
	w.UseCRLF = true
	cells := make([]string, len(columns))
	for i, c := range columns {
		cells[i] = c.Key
	}
	if err := w.Write(cells); err != nil {
		return err
	}
	for row := range rows {
		copy(cells, row)
		for c := range cells {
			if columns[c].Typed {
				cells[c] = clean(asText(cells[c]))
			}
		}
		if err := w.Write(cells); err != nil {
			return err
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
