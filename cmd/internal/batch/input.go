package batch

import (
	"errors"
	"fmt"
	"io"
)

// Input is where rows come from.
type Input struct {
	Name   string // of the file, for errors
	Reader io.Reader
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
