package command

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/tomlfile"
	"spectally/cmd/internal/words"
)

// Placed is an error with the place in the input where it stands: "argument 2",
// "--width", "log.toml:12".
type Placed struct {
	place string
	err   error
}

func (e *Placed) Error() string { return e.place + ": " + e.err.Error() }

// Unwrap is the error without its place.
func (e *Placed) Unwrap() error { return e.err }

// Place is where in the input the error stands.
func (e *Placed) Place() string { return e.place }

// At gives an error its place.
func At(place string, err error) error {
	if err == nil {
		return nil
	}
	return &Placed{place, err}
}

// Argument names the place of an argument, counted from 0.
func Argument(i int) string { return "argument " + strconv.Itoa(i+1) }

// Absent says that an argument is missing.
func Absent(what, allowed string) error {
	return fmt.Errorf("no %s given: must be %s", what, allowed)
}

// AbsentFlag says that a flag has to be given.
func AbsentFlag(flag, allowed string) error { return Absent("--"+flag, allowed) }

// Conflict says that two flags cannot stand together.
func Conflict(flag, other, why string) error {
	return At("--"+flag, errors.New("not with --"+other+": "+why))
}

// TooMany says that a command got more arguments than it takes.
func TooMany(args []string, most int, allowed string) error {
	return At(Argument(most), &bands.ValueError{Param: "argument", Got: args[most], Allowed: "left out: the command takes " + allowed})
}

// WithNearest puts a nearest choice into an error about a value, if there is one.
func WithNearest(err error, nearest string) error {
	e, ok := errors.AsType[*bands.ValueError](err)
	if nearest == "" || !ok {
		return err
	}
	better := *e
	better.Nearest = nearest
	return &better
}

// FlagError says in this program's words what is wrong with a flag.
func FlagError(set *pflag.FlagSet, err error) error {
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
		return unknownFlag(set, name)
	case errors.As(err, &syntax):
		return unknownFlag(set, syntax.GetSpecifiedFlag())
	case errors.As(err, &empty):
		f := empty.GetFlag()
		return At("--"+f.Name, fmt.Errorf("no value given: the flag takes %s", flags.Allowed(f)))
	case errors.As(err, &invalid):
		return At("--"+invalid.GetFlag().Name, valueError(invalid))
	}
	return err
}

func valueError(e *pflag.InvalidValueError) error {
	if known, ok := errors.AsType[*bands.ValueError](e); ok {
		return known
	}
	allowed := flags.Allowed(e.GetFlag())
	switch e.GetFlag().Value.Type() {
	case "bool":
		allowed = "true or false"
	case "int", "uint":
		allowed = "a whole number"
	}
	return &bands.ValueError{Param: "value", Got: e.GetValue(), Allowed: allowed}
}

func unknownFlag(set *pflag.FlagSet, name string) error {
	var names []string
	set.VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, "--"+f.Name)
		}
	})
	slices.Sort(names)
	return &bands.ValueError{Param: "flag", Got: name, Allowed: strings.Join(names, ", "), Nearest: words.Nearest(name, names)}
}

// Lines tells of an error on one line that begins with the name of the command, or of
// each problem of a file on a line of its own that begins with its place.
func Lines(name string, err error) []string {
	if problems, ok := errors.AsType[tomlfile.Problems](err); ok {
		lines := make([]string, len(problems))
		for i := range problems {
			lines[i] = words.OneLine(problems[i].Error())
		}
		return lines
	}
	return []string{words.OneLine(name + ": " + err.Error())}
}
