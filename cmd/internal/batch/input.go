package batch

import (
	"context"
	"errors"
	"fmt"
	"io"
)

// Input is where rows come from.
type Input struct {
	Name   string // of the file, for errors
	Reader io.Reader
	// Packed is how the rows are packed.
	Packed Compression
	// Size is how many bytes the reader has, as they are stored; 0 if that is not known.
	// An input that ends before it has them is cut short.
	Size int64
}

// Open begins to read the rows, unpacked. The second result gives up the memory that
// this takes.
func (in *Input) Open(p *Progress) (io.Reader, func(), error) {
	return Unpack(&counter{in.Reader, p, in.Size}, in.Packed)
}

// counter counts what is read of the input as it is stored.
type counter struct {
	r    io.Reader
	p    *Progress
	size int64
}

func (c *counter) Read(b []byte) (int, error) {
	n, err := c.r.Read(b)
	if all := c.p.Bytes.Add(int64(n)); err == io.EOF && all < c.size {
		err = fmt.Errorf("cut short while it was read: it had %d bytes and ends after %d", c.size, all)
	}
	return n, err
}

// within waits for f until ctx is done. It leaves f behind then, and returns the cause.
func within(ctx context.Context, f func() error) error {
	done := make(chan error, 1)
	go func() { done <- f() }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return context.Cause(ctx)
	}
}

// place gives an error the place in the input, unless it is not about the input.
func (in *Input) place(err error) error {
	if write, ok := errors.AsType[*WriteError](err); ok {
		return write
	}
	if row, ok := errors.AsType[*RowError](err); ok {
		return fmt.Errorf("%s:%d: %w", in.Name, row.Line, row)
	}
	if errors.Is(err, errRefused) {
		return err
	}
	return fmt.Errorf("%s: %w", in.Name, err)
}
