package batch

import (
	"bytes"
	"errors"
	"hash/crc32"
	"io"
)

const (
	// chunkSize is how much of the input a worker gets at once.
	chunkSize = 32 << 10
	// maxRow is the longest row that is read.
	maxRow     = 256 << 10
	maxRowText = "256 KiB"
	// keptOfRow is how much is kept of one that is longer.
	keptOfRow = 200
	// maxIdleReads is how often a read may return nothing at all.
	maxIdleReads = 100
	// maxBlank is how far the first mark is looked for.
	maxBlank = 4 << 10
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// position is a place in the input, after unpacking: between two rows.
type position struct {
	Bytes int64  `json:"bytes"`
	CRC   uint32 `json:"crc32c"` // of all bytes before it
	Lines int64  `json:"lines"`  // line ends before it
}

// source cuts the input into chunks of whole rows. Where it cuts depends on nothing
// but the bytes of the input, unless it is to be prompt.
type source struct {
	r      io.Reader
	form   rowForm
	prompt bool
	chunk  int    // bytes in a chunk
	buf    []byte // what was read and not handed out is buf[begin:]
	begin  int
	pos    position
	ended  error // why nothing more can be read
}

func newSource(r io.Reader, prompt bool) *source {
	return &source{r: r, prompt: prompt, chunk: chunkSize, buf: make([]byte, 0, maxRow+chunkSize)}
}

// window returns the next n bytes of the input, or fewer at its end. A prompt source
// returns what there is after one more read, if that is less.
func (s *source) window(n int) []byte {
	if s.begin+n > cap(s.buf) {
		s.buf = s.buf[:copy(s.buf[:cap(s.buf)], s.buf[s.begin:])]
		s.begin = 0
	}
	for idle := 0; s.ended == nil && len(s.buf) < s.begin+n; {
		var got int
		got, s.ended = s.r.Read(s.buf[len(s.buf) : s.begin+n]) // no further: what is left over is no whole row
		s.buf = s.buf[:len(s.buf)+got]
		if s.prompt && got > 0 {
			break
		}
		if got > 0 {
			idle = 0
		} else if idle++; idle == maxIdleReads && s.ended == nil {
			s.ended = io.ErrNoProgress
		}
	}
	return s.buf[s.begin:min(len(s.buf), s.begin+n)]
}

// atLeast returns the next n bytes, or fewer only at the end of the input.
func (s *source) atLeast(n int) []byte {
	for {
		if b := s.window(n); len(b) == n || s.ended != nil {
			return b
		}
	}
}

// firstMark is the first byte that is no white space, if it comes soon; else 0.
func (s *source) firstMark() byte {
	for n := 1; n <= maxBlank; n++ {
		b := s.atLeast(n)
		if len(b) < n {
			break
		}
		if c := b[n-1]; c > ' ' {
			return c
		}
	}
	return 0
}

// consume moves the position over the next n bytes.
func (s *source) consume(n int) {
	b := s.buf[s.begin : s.begin+n]
	s.begin += n
	s.pos.Bytes += int64(n)
	s.pos.CRC = crc32.Update(s.pos.CRC, castagnoli, b)
	s.pos.Lines += int64(bytes.Count(b, newline))
}

// atEnd tells whether nothing follows a window.
func (s *source) atEnd(window []byte) bool {
	return s.ended == io.EOF && s.begin+len(window) == len(s.buf)
}

// next fills a chunk; false if there is nothing left. Whole rows that were read
// before an error are handed out first.
func (s *source) next(c *chunk) bool {
	c.line, c.long = s.pos.Lines+1, 0
	if s.prompt { // what came with the header does not wait for more
		b := s.buf[s.begin:min(len(s.buf), s.begin+s.chunk)]
		if whole := s.form.cut(b, s.atEnd(b)); whole > 0 {
			s.hand(c, whole)
			return true
		}
	}
	for size := s.chunk; ; {
		b := s.window(size)
		whole := s.form.cut(b, s.atEnd(b))
		switch {
		case whole > 0:
			s.hand(c, whole)
			return true
		case len(b) == maxRow:
			s.overlong(c, b)
			return true
		case s.ended != nil && s.begin+len(b) == len(s.buf):
			return false // the end of the input, or a fault inside a row
		case len(b) == size:
			size = min(2*size, maxRow)
		}
	}
}

// hand gives a chunk the next n bytes.
func (s *source) hand(c *chunk, n int) {
	if cap(c.in) > 2*chunkSize {
		c.in = nil // one long row must not hold the memory for all that follow
	}
	c.in = append(c.in[:0], s.buf[s.begin:s.begin+n]...)
	s.consume(n)
	c.end = s.pos
}

// overlong takes the first line of a row that is too long: by itself if the line
// ends within the limit, because then it is a quote that makes the row long; else
// all of the line but its beginning is dropped.
func (s *source) overlong(c *chunk, b []byte) {
	if n := bytes.IndexByte(b, '\n') + 1; n > 0 {
		s.hand(c, n)
		return
	}
	c.in = append(c.in[:0], b[:keptOfRow]...)
	for len(b) > 0 {
		n, last := len(b), false
		if end := bytes.IndexByte(b, '\n') + 1; end > 0 {
			n, last = end, true
		}
		c.long += int64(n)
		s.consume(n)
		if last {
			break
		}
		b = s.window(chunkSize)
	}
	c.end = s.pos
}

// fault is why the input ended, unless that is its end.
func (s *source) fault() error {
	if errors.Is(s.ended, io.EOF) {
		return nil
	}
	return s.ended
}

// skip reads up to a position that an earlier run has reached; false if the input is
// not the same up to there.
func (s *source) skip(to position) bool {
	for s.pos.Bytes < to.Bytes {
		b := s.window(chunkSize)
		if len(b) == 0 {
			return false
		}
		s.consume(int(min(int64(len(b)), to.Bytes-s.pos.Bytes)))
	}
	return s.pos == to
}
