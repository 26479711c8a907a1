package render

import (
	"bytes"
	"encoding/csv"
	"fmt"
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
	return w.WriteAll(t.Rows)
}
