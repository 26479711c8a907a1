// Package render writes the answer of a command in one of the output formats.
//
// An [Answer] is a value: what JSON shows, the blocks a person reads, and the
// table that CSV shows. There is one renderer for each format, and none of them
// knows a command.
package render

import (
	"bytes"
	"fmt"
	"iter"
	"slices"
)

// Answer is all that a command has to say, free of any format.
type Answer struct {
	// Value makes what JSON shows: a value that encoding/json can write. It is
	// called for JSON alone.
	Value func() any
	// Values takes the place of Value where that is a list that may be long: it
	// makes the elements one by one.
	Values iter.Seq[any]
	// Document is shown by text, Markdown and HTML.
	Document []Block
	// Whole takes the place of Document wherever that is not to be short: in Markdown,
	// in HTML and with [Options.Full]. It is nil for most.
	Whole []Block
	// Data is shown by CSV. It may stand in the document too.
	Data *Table
	// Raw takes the place of all that, in every format: a file to be filled in.
	Raw string
	// Refuted says that the thing checked does not hold.
	Refuted bool
}

// Options say how an answer is to look. They never change what it says.
type Options struct {
	Format Format
	// Width is the room for text, in terminal cells.
	Width int
	// Color lets text use colours.
	Color bool
	// Full shows all of the answer, [Details] included. Markdown and HTML always do.
	Full bool
	// Explain shows all, the working, and the source beside each fact. HTML always has
	// the working and folds it; with Explain it is unfolded.
	Explain bool
	// Quiet leaves out notes, assumptions and sources. Cautions and findings
	// stay.
	Quiet bool
	// Link gives the address to which a cell of a table leads in HTML; empty for none.
	// It may be nil.
	Link func(header, cell string) string
}

// working tells whether the format has room for the working.
func (o *Options) working() bool { return o.Explain || o.Format == HTML }

// whole tells whether all of the answer is shown.
func (o *Options) whole() bool { return o.Full || o.Explain || o.Format != Text }

// Render writes an answer whole. The result ends with a newline unless the
// answer is empty.
func Render(a *Answer, o Options) ([]byte, error) {
	if a.Raw != "" {
		return []byte(a.Raw), nil
	}
	var b bytes.Buffer
	a = a.Shown(o)
	var err error
	switch o.Format {
	case Text:
		err = writeDocument(a, &o, newTextWriter(&b, &o))
	case Markdown:
		err = writeDocument(a, &o, &markdownWriter{out: &b, explain: o.Explain})
	case HTML:
		err = writePage(&b, a, &o)
	case JSON:
		if a.Values != nil {
			err = Stream(&b, a.Values)
		} else {
			err = writeJSON(&b, a.Value)
		}
	case CSV:
		err = writeCSV(&b, a.Data)
	default:
		err = fmt.Errorf("render: no renderer for %v", o.Format)
	}
	if err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Shown is the answer with the document that is shown: short, or with its [Details].
func (a *Answer) Shown(o Options) *Answer {
	b := *a
	b.Whole = nil
	switch {
	case o.whole() && a.Whole != nil:
		b.Document = a.Whole
	case a.Whole != nil:
		b.Document = append(slices.Clone(a.Document), more{})
	}
	b.Document = unfold(b.Document, o.whole())
	return &b
}

// unfold puts the blocks of details in their place, or says that there are some.
func unfold(list []Block, whole bool) []Block {
	if !slices.ContainsFunc(list, func(b Block) bool { _, ok := b.(Details); return ok }) {
		return list
	}
	var flat []Block
	for _, b := range list {
		d, ok := b.(Details)
		l, _ := b.(List)
		switch {
		case whole && l.Kind == Assumed && !ok: // the whole list is among the details
		case !ok:
			flat = append(flat, b)
		case whole:
			flat = append(append(append(flat, folds(true)), d()...), folds(false))
		}
	}
	if !whole {
		flat = append(flat, more{})
	}
	return flat
}

func writeDocument(a *Answer, o *Options, w blockWriter) error {
	for _, b := range a.Document {
		if !b.shown(o) {
			continue
		}
		if c, ok := b.(interface{ check() error }); ok {
			if err := c.check(); err != nil {
				return err
			}
		}
		if t, ok := b.(*Table); ok && !o.Explain {
			b = t.brief()
		}
		b.write(w)
	}
	return nil
}
