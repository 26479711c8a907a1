package batch

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/klauspost/compress/zstd"
)

// Compression is how a file is packed.
type Compression uint8

// The ways to pack a file. The zero Compression is none.
const (
	Gzip Compression = iota + 1
	Zstd
)

// Extension is the end of the names of files that are packed so.
func (c Compression) Extension() string {
	switch c {
	case Gzip:
		return ".gz"
	case Zstd:
		return ".zst"
	}
	return ""
}

// CompressionOf tells by its name how a file is packed.
func CompressionOf(file string) Compression {
	name := strings.ToLower(file)
	for _, c := range [...]Compression{Gzip, Zstd} {
		if strings.HasSuffix(name, c.Extension()) {
			return c
		}
	}
	return 0
}

// maxWindow is the largest window of zstd that is unpacked: what RFC 8878 clause
// 3.1.1.1.2 asks every decoder to support.
const maxWindow = 8 << 20

// Unpack reads what is packed. The second result gives up its memory.
func Unpack(r io.Reader, c Compression) (io.Reader, func(), error) {
	switch c {
	case Gzip:
		m := &gzipMembers{r: bufio.NewReaderSize(r, memberBuffer)}
		if err := m.next(); err != nil {
			return nil, nil, unpackFault(c, err)
		}
		return &unpacked{m, c}, func() {}, nil
	case Zstd:
		z, err := zstd.NewReader(r, zstd.WithDecoderConcurrency(1), zstd.WithDecoderLowmem(true), zstd.WithDecoderMaxWindow(maxWindow))
		if err != nil {
			return nil, nil, unpackFault(c, err)
		}
		return &unpacked{z, c}, z.Close, nil
	}
	return r, func() {}, nil
}

// gzipMembers reads the members of a gzip file one after the other (RFC 1952 clause 2.2).
// Zeros behind the last are padding, as on tapes.
type gzipMembers struct {
	r *bufio.Reader
	g *gzip.Reader
}

const memberBuffer = 32 << 10

func (m *gzipMembers) Read(b []byte) (int, error) {
	for {
		n, err := m.g.Read(b)
		if err != io.EOF {
			return n, err
		}
		if n > 0 {
			return n, nil
		}
		if err := m.pad(); err != nil {
			return 0, err
		}
		if err := m.next(); err != nil {
			return 0, err
		}
	}
}

// pad reads over zeros. It is the end of the file if nothing follows.
func (m *gzipMembers) pad() error {
	padded := false
	for {
		b, err := m.r.Peek(1)
		switch {
		case err != nil:
			return err
		case b[0] == 0:
			padded = true
			if _, err := m.r.Discard(1); err != nil {
				return err
			}
		case padded:
			return errors.New("something follows the zeros behind their end")
		default:
			return nil
		}
	}
}

// next begins the next member.
func (m *gzipMembers) next() (err error) {
	if m.g == nil {
		m.g, err = gzip.NewReader(m.r)
	} else {
		err = m.g.Reset(m.r)
	}
	if err == nil {
		m.g.Multistream(false)
	}
	return err
}

// unpacked says in plain words what is wrong with packed data.
type unpacked struct {
	r io.Reader
	c Compression
}

func (u *unpacked) Read(b []byte) (int, error) {
	n, err := u.r.Read(b)
	if err != nil && err != io.EOF {
		err = unpackFault(u.c, err)
	}
	return n, err
}

func unpackFault(c Compression, err error) error {
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		return fmt.Errorf("the %s data end too early: the file is cut off", c.Extension()[1:])
	case errors.Is(err, zstd.ErrWindowSizeExceeded), errors.Is(err, zstd.ErrDecoderSizeExceeded):
		return errors.New("the zst data need a window of more than 8 MiB: pack them without a long window")
	}
	return fmt.Errorf("the %s data cannot be read: %w", c.Extension()[1:], err)
}

// packer packs the output of chunks, each by itself: one after the other they are a
// file that every program can unpack (RFC 1952 clause 2.2, RFC 8878 clause 3.1).
type packer struct {
	format Compression
	gzip   *gzip.Writer
	zstd   *zstd.Encoder
	buf    bytes.Buffer // what gzip has written
	out    []byte       // what zstd has
}

// pack returns b packed; it holds until the next call, for which b may be used again.
func (p *packer) pack(b []byte) ([]byte, error) {
	switch p.format {
	case Gzip:
		p.buf.Reset()
		if p.gzip == nil {
			var err error
			if p.gzip, err = gzip.NewWriterLevel(&p.buf, gzip.BestSpeed); err != nil {
				return nil, err
			}
		} else {
			p.gzip.Reset(&p.buf)
		}
		if _, err := p.gzip.Write(b); err != nil {
			return nil, err
		}
		if err := p.gzip.Close(); err != nil {
			return nil, err
		}
		return append(b[:0], p.buf.Bytes()...), nil
	case Zstd:
		if p.zstd == nil {
			var err error
			if p.zstd, err = zstd.NewWriter(nil, zstd.WithEncoderConcurrency(1), zstd.WithEncoderLevel(zstd.SpeedFastest), zstd.WithWindowSize(encoderWindow), zstd.WithLowerEncoderMem(true)); err != nil {
				return nil, err
			}
		}
		p.out = p.zstd.EncodeAll(b, p.out[:0])
		return append(b[:0], p.out...), nil
	}
	return b, nil
}

// encoderWindow is more than a chunk's output is long as a rule.
const encoderWindow = 256 << 10
