package pages

import (
	"bytes"
	"compress/flate"
	"io"

	"spectally/cmd/internal/render"
)

// largeBody is how many bytes a body has that counts as large, and is kept packed.
const largeBody = 4 << 20

// Body is what a response holds, packed if it is large: a list of all configurations
// takes a tenth of its bytes then.
type Body struct {
	text   []byte // as it is; nil if it is packed
	packed []byte
	length int // of the text
}

// bodyWriter makes a body.
type bodyWriter struct {
	text, packed bytes.Buffer
	w            *flate.Writer // once the text is large
	length       int
}

// Write implements io.Writer.
func (b *bodyWriter) Write(p []byte) (int, error) {
	b.length += len(p)
	if b.w == nil {
		if b.length < largeBody {
			return b.text.Write(p)
		}
		var err error
		if b.w, err = flate.NewWriter(&b.packed, flate.BestSpeed); err != nil {
			return 0, err
		}
		if _, err := b.w.Write(b.text.Bytes()); err != nil {
			return 0, err
		}
		b.text = bytes.Buffer{}
	}
	return b.w.Write(p)
}

func (b *bodyWriter) body() (Body, error) {
	if b.w == nil {
		return Body{text: b.text.Bytes(), length: b.length}, nil
	}
	err := b.w.Close()
	return Body{packed: b.packed.Bytes(), length: b.length}, err
}

// bodyOf is a text as a body.
func bodyOf(text []byte) Body {
	if len(text) < largeBody {
		return Body{text: text, length: len(text)}
	}
	b := bodyWriter{}
	_, err := b.Write(text)
	if err != nil {
		panic(err) // a buffer takes all
	}
	packed, err := b.body()
	if err != nil {
		panic(err)
	}
	return packed
}

// Size is how many bytes the body takes, and Length how many its text has.
func (b *Body) Size() int   { return len(b.text) + len(b.packed) }
func (b *Body) Length() int { return b.length }

// Clipped is the body without what its buffer had to spare.
func (b *Body) Clipped() Body {
	return Body{text: bytes.Clone(b.text), packed: bytes.Clone(b.packed), length: b.length}
}

// WriteTo writes the text of the body.
func (b *Body) WriteTo(w io.Writer) (int64, error) {
	if b.packed == nil {
		n, err := w.Write(b.text)
		return int64(n), err
	}
	return io.Copy(w, flate.NewReader(bytes.NewReader(b.packed)))
}

// listResponse answers with a list in JSON, element by element.
func listResponse(a *render.Answer) (*Response, error) {
	b := bodyWriter{}
	if err := render.Stream(&b, a.Values); err != nil {
		return nil, err
	}
	body, err := b.body()
	return &Response{Status: statusOK, Body: body}, err
}
