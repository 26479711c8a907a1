// Package userfile reads files that users write, up to a limit of size.
package userfile

import (
	"errors"
	"io"
	"os"

	"spectally/bands"
	"spectally/cmd/internal/tomlfile"
)

func Unreadable(name string, err error) error {
	if path, ok := errors.AsType[*os.PathError](err); ok {
		err = path.Err
	}
	return &bands.ValueError{Param: "file", Got: name, Allowed: "a file that can be read; " + err.Error()}
}

// ReadLimited reads as much as a file of a user may have, and one byte more if it has
// more, which its reader then refuses.
func ReadLimited(r io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(r, tomlfile.MaxSize+1))
}
