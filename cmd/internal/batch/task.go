package batch

import (
	"bytes"
	"fmt"
)

// task is what every worker needs to know.
type task struct {
	form        rowForm
	strict      bool
	pack        Compression
	packRejects Compression
	book        *book
	// settled describes everything that decides the output, for checkpoints.
	settled string
}

// newTask finds out the form of the rows and reads the header.
func newTask(src *source, set *Settings) (*task, error) {
	start := src.atLeast(4)
	if err := checkEncoding(start); err != nil {
		return nil, err
	}
	if bytes.HasPrefix(start, bomUTF8) {
		src.consume(len(bomUTF8))
	}
	form := set.Rows
	if form == None {
		form = CSV
		if len(set.Columns) == 0 && src.firstMark() == '{' {
			form = JSONLines
		}
	}
	separator := set.Separator
	if separator == 0 {
		separator = ','
	}
	s := newStyle(form, separator, set.Prefix)
	t := &task{strict: set.Strict, pack: set.Compress, packRejects: set.CompressRejects, book: newBook(s)}
	var err error
	if form == JSONLines {
		t.form, err = newJSONForm(s, set)
	} else {
		t.form, err = newCSVForm(s, set, separator, src)
	}
	if err != nil {
		return nil, err
	}
	src.form = t.form
	t.settled = fmt.Sprintf("rows %s, separator %q, columns %q, map %q, prefix %q, packed %q %q",
		form, separator, set.Columns, set.Map, set.Prefix, set.Compress.Extension(), set.CompressRejects.Extension())
	return t, nil
}
