package command

import (
	"errors"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// ErrNoAnswer tells that a command line asks for help or a version.
var ErrNoAnswer = errors.New("this has no answer")

// Ask answers a command line: the name of one of the commands, or of one below it, and
// its flags and arguments. The answer is as the command gives it, before it is written:
// a program that shows answers in its own way has the same. An error is one that the
// command would report; if its place is known, it has a method Place that returns it.
func Ask(list []*Command, args []string, input io.Reader) (*render.Answer, error) {
	c, args, err := Find(list, args)
	if err != nil {
		return nil, err
	}
	a, _, err := c.Ask(args, input)
	return a, err
}

// Find finds the command that the first arguments name, and returns the others.
func Find(list []*Command, args []string) (*Command, []string, error) {
	return find(list, "command", args)
}

// find finds the command that the first arguments name, and returns the others.
func find(list []*Command, chosen string, args []string) (*Command, []string, error) {
	if len(args) == 0 {
		return nil, nil, ErrNoAnswer
	}
	var names []string
	for _, c := range list {
		switch {
		case c.Name == args[0] && len(c.Below) > 0:
			return find(c.Below, c.Chooses, args[1:])
		case c.Name == args[0]:
			return c, args[1:], nil
		}
		names = append(names, c.Name)
	}
	return nil, nil, &bands.ValueError{Param: chosen, Got: args[0], Allowed: strings.Join(names, ", "), Nearest: words.Nearest(args[0], names)}
}

// Ask answers flags and arguments, and says how the flags want the answer to look.
func (c *Command) Ask(args []string, input io.Reader) (*render.Answer, render.Options, error) {
	set := pflag.NewFlagSet(c.Name, pflag.ContinueOnError)
	set.SetOutput(io.Discard)
	var g Globals
	g.Add(set)
	env := Env{Input: input}
	if c.Saves {
		env.File.Add(set)
	}
	answer := c.New(set)
	if err := set.Parse(args); err != nil {
		return nil, env.Look, FlagError(set, err)
	}
	if g.Version || set.Changed("help") {
		return nil, env.Look, ErrNoAnswer
	}
	env.Look, env.FormatGiven = g.Options(), set.Changed("format")
	a, err := answer(&env, set.Args())
	if a == nil && err == nil {
		err = ErrNoAnswer
	}
	return a, env.Look, err
}
