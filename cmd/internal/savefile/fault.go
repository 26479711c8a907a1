package savefile

import (
	"errors"
	"fmt"
	"os"

	"spectally/bands"
	"spectally/cmd/internal/command"
)

// Fault says in this program's words why a file is not written.
func Fault(o *command.File, err error) error {
	switch {
	case errors.Is(err, ErrExists):
		return command.At("--output", &bands.ValueError{Param: "file", Got: o.Name, Allowed: "a name that nothing has yet; --force replaces the file"})
	case errors.Is(err, ErrNotFile):
		return command.At("--output", &bands.ValueError{Param: "file", Got: o.Name, Allowed: "the name of a file; " + err.Error()})
	}
	if path, ok := errors.AsType[*os.PathError](err); ok {
		err = path.Err
	}
	return &command.Unsaid{Err: command.At("--output", fmt.Errorf("%q could not be written: %w", o.Name, err))}
}
