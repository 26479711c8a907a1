package batch

import (
	"bytes"
	"path/filepath"
	"strings"
)

// Form is the form of rows.
type Form uint8

// The forms of rows. None is not known yet.
const (
	None Form = iota
	CSV
	JSONLines
)

// Forms names the forms, those of the constants in order.
var Forms = []string{CSV: "csv", JSONLines: "jsonl"}

// String names the form; empty for None.
func (f Form) String() string {
	if int(f) >= len(Forms) {
		return ""
	}
	return Forms[f]
}

// FormOf is the form and separator that a file name stands for, under any extension
// of a compression: None if it does not tell.
func FormOf(file string) (f Form, separator byte) {
	switch strings.ToLower(filepath.Ext(strings.TrimSuffix(file, CompressionOf(file).Extension()))) {
	case ".csv":
		return CSV, 0
	case ".tsv":
		return CSV, '\t'
	case ".jsonl", ".ndjson":
		return JSONLines, 0
	}
	return None, 0
}

// rowForm knows how rows of one form are cut from the input, read, and answered.
type rowForm interface {
	// cut returns the length of the whole rows at the front of b. At the end of the
	// input, final, what is left belongs to the last row.
	cut(b []byte, final bool) int
	// next takes the first row off b, which holds whole rows: its text without the
	// line end, and its length with it. A text that is nil is no row, but a blank
	// line; a fault is the reason why it cannot be used.
	next(b []byte, r *row) (length int)
	// fields reads the row that next has taken; false if it cannot be used. Marks tell
	// what the rows of the chunk may have in them.
	fields(r *row, m marks) bool
	// answered writes the row with its answer behind it, and a line end.
	answered(dst []byte, r *row, a *answer) []byte
	// rejected writes a row of the rejects.
	rejected(dst []byte, r *Reject) []byte
	// headers are the first lines of the output and of the rejects.
	headers() (output, rejects []byte)
}

// row is a row on its way through a worker. Its slices are parts of the chunk or of
// its own buffers, and hold until the next row.
type row struct {
	text   []byte
	lines  int // line ends in the row, its own among them
	reason string

	carriers []byte
	figures  [figureCount]figure

	spans   []span // of the fields of a CSV row
	scratch [4][]byte
}

// marks tells of bytes whether any row of a chunk has them: to look once is cheaper
// than in every row.
type marks struct{ nul, cr bool }

func marksOf(b []byte) marks {
	return marks{bytes.IndexByte(b, 0) >= 0, bytes.IndexByte(b, '\r') >= 0}
}

// span is where a field stands in a row, its quotes left out.
type span struct {
	begin, end int
	escaped    bool // has doubled quotes
}
