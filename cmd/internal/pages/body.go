package pages

import (
	"bytes"
	"compress/flate"
	"compress/gzip"
	"io"
	"sync"

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
	// zip packs the text as gzip (RFC 1952) when that is asked for first; nil for a body
	// that is not worth it.
	zip func() []byte
}

// leastZipped is how many bytes a body has at least that is packed to be sent.
const leastZipped = 1 << 10

// zipped makes a body that can be packed.
func zipped(text, packed []byte, length int) Body {
	b := Body{text: text, packed: packed, length: length}
	if length >= leastZipped {
		b.zip = sync.OnceValue(func() []byte {
			var out bytes.Buffer
			w, err := gzip.NewWriterLevel(&out, gzip.BestSpeed)
			if err == nil {
				if _, err = (&Body{text: text, packed: packed}).WriteTo(w); err == nil {
					err = w.Close()
				}
			}
			if err != nil {
				panic(err) // a buffer takes all
			}
			return out.Bytes()
		})
	}
	return b
}

// Gzip is the body packed as gzip; nil if it is not worth it.
func (b *Body) Gzip() []byte {
	if b.zip == nil {
		return nil
	}
	return b.zip()
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
		return zipped(b.text.Bytes(), nil, b.length), nil
	}
	err := b.w.Close()
	return zipped(nil, b.packed.Bytes(), b.length), err
}

// bodyOf is a text as a body.
func bodyOf(text []byte) Body {
	if len(text) < largeBody {
		return zipped(text, nil, len(text))
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

// Size is how many bytes the body takes, with a quarter more for its text once it is packed
// to be sent, and Length how many its text has.
func (b *Body) Size() int   { return len(b.text) + len(b.text)/4 + 2*len(b.packed) }
func (b *Body) Length() int { return b.length }

// Clipped is the body without what its buffer had to spare.
func (b *Body) Clipped() Body {
	return zipped(bytes.Clone(b.text), bytes.Clone(b.packed), b.length)
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
