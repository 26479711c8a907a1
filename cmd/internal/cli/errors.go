package cli

import (
	"errors"
	"fmt"
	"io"

	"spectally/cmd/internal/command"

	"github.com/spf13/cobra"
)

// reportError writes an error on one line, or each problem of a file on a line of its
// own that begins with its place, and returns the exit status.
func reportError(stderr io.Writer, cmd *cobra.Command, err error) int {
	for _, line := range command.Lines(cmd.CommandPath(), err) {
		fmt.Fprintln(stderr, line)
	}
	if _, ok := errors.AsType[*command.Unsaid](err); ok {
		return command.Unwritten
	}
	return command.Unusable
}
