package cli

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/tomlfile"
)

// placed is an error with the place in the input where it stands: "argument 2",
// "--width", "log.toml:12".
type placed struct {
	place string
	err   error
}

func (e *placed) Error() string { return e.place + ": " + e.err.Error() }
func (e *placed) Unwrap() error { return e.err }

// Place is where in the input the error stands.
func (e *placed) Place() string { return e.place }

// at gives an error its place.
func at(place string, err error) error {
	if err == nil {
		return nil
	}
	return &placed{place, err}
}

// reportError writes an error on one line, or each problem of a file on a line of its
// own that begins with its place, and returns the exit status.
func reportError(stderr io.Writer, cmd *cobra.Command, err error) int {
	if problems, ok := errors.AsType[tomlfile.Problems](err); ok {
		for i := range problems {
			fmt.Fprintln(stderr, oneLine(problems[i].Error()))
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
	return oneLine(cmd.CommandPath() + ": " + err.Error())
}

// oneLine keeps what a message quotes from breaking the line or steering the
// terminal.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
}

// flagError says in this program's words what is wrong with a flag.
func flagError(cmd *cobra.Command, err error) error {
	var (
		missing *pflag.NotExistError
		empty   *pflag.ValueRequiredError
		invalid *pflag.InvalidValueError
		syntax  *pflag.InvalidSyntaxError
	)
	switch {
	case errors.As(err, &missing):
		name := "--" + missing.GetSpecifiedName()
		if short := missing.GetSpecifiedShortnames(); short != "" {
			name = "-" + short
		}
		return unknownFlag(cmd, name)
	case errors.As(err, &syntax):
		return unknownFlag(cmd, syntax.GetSpecifiedFlag())
	case errors.As(err, &empty):
		f := empty.GetFlag()
		return at("--"+f.Name, fmt.Errorf("no value given: the flag takes %s", valueName(f)))
	case errors.As(err, &invalid):
		return at("--"+invalid.GetFlag().Name, valueError(invalid))
	}
	return err
}

func valueError(e *pflag.InvalidValueError) error {
	var known *bands.ValueError
	if errors.As(e, &known) {
		return known
	}
	allowed := valueName(e.GetFlag())
	switch e.GetFlag().Value.Type() {
	case "bool":
		allowed = "true or false"
	case "int", "uint":
		allowed = "a whole number"
	}
	return &bands.ValueError{Param: "value", Got: e.GetValue(), Allowed: allowed}
}

func unknownFlag(cmd *cobra.Command, name string) error {
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, "--"+f.Name)
		}
	})
	slices.Sort(names)
	return &bands.ValueError{Param: "flag", Got: name, Allowed: strings.Join(names, ", "), Nearest: nearest(name, names)}
}

// valued is a flag value that can say what it takes.
type valued interface{ allowed() string }

// valueName says what a flag takes.
func valueName(f *pflag.Flag) string {
	if v, ok := f.Value.(valued); ok {
		return v.allowed()
	}
	name, _ := pflag.UnquoteUsage(f)
	return name
}

// absent says that an argument is missing.
func absent(what, allowed string) error {
	return fmt.Errorf("no %s given: allowed is %s", what, allowed)
}

// argument names the place of an argument, counted from 0.
func argument(i int) string { return "argument " + strconv.Itoa(i+1) }

// withNearest puts a nearest choice into an error about a value, if there is one.
func withNearest(err error, nearest string) error {
	var e *bands.ValueError
	if nearest == "" || !errors.As(err, &e) {
		return err
	}
	better := *e
	better.Nearest = nearest
	return &better
}
