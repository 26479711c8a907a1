package cli

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"spectally/cmd/internal/tomlfile"
	"spectally/cmd/internal/words"
)

// reportError writes an error on one line, or each problem of a file on a line of its
// own that begins with its place, and returns the exit status.
func reportError(stderr io.Writer, cmd *cobra.Command, err error) int {
	if problems, ok := errors.AsType[tomlfile.Problems](err); ok {
		for i := range problems {
			fmt.Fprintln(stderr, words.OneLine(problems[i].Error()))
		}
		return statusUnusable
	}
	fmt.Fprintln(stderr, errorLine(cmd, err))
	if _, ok := errors.AsType[*unsaid](err); ok {
		return statusUnsaid
	}
	return statusUnusable
}

// errorLine is the one line that tells of an error.
func errorLine(cmd *cobra.Command, err error) string {
	return words.OneLine(cmd.CommandPath() + ": " + err.Error())
}
