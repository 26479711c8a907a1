package cli

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"spectally/cmd/internal/command"
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

// What the commands that are still here call these.
var (
	at          = command.At
	argument    = command.Argument
	absent      = command.Absent
	missing     = command.AbsentFlag
	conflict    = command.Conflict
	tooMany     = command.TooMany
	withNearest = command.WithNearest
	nearest     = words.Nearest
	counted     = words.Counted
	joinWords   = words.And
	oneLine     = words.OneLine

	alternatives  = words.Or
	nearestNumber = words.NearestNumber
)
