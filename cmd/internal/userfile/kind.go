package userfile

import (
	"errors"
	"os"

	"github.com/spf13/pflag"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
)

// Kind is a kind of file that a command reads, with one that is built in to show what
// becomes of it, and one to fill in.
type Kind[T any] struct {
	Noun     string // "log"
	Name     string // "field log"
	Flags    string // what may stand in place of the file: "--demo or --template"
	Demo     func() string
	Template func() string
	Read     func(name string, data []byte) (T, error)
}

// Flags choose between a file and what is built in.
type Flags struct{ Demo, Template bool }

// Add adds the flags to a set, with what help says about them.
func (f *Flags) Add(set *pflag.FlagSet, demo, template string) {
	set.BoolVar(&f.Demo, "demo", false, demo)
	set.BoolVar(&f.Template, "template", false, template)
}

// Fill answers with the file to fill in.
func (k *Kind[T]) Fill(env *command.Env, args []string, f *Flags) (*render.Answer, error) {
	switch {
	case len(args) > 0:
		return nil, command.At("--template", errors.New("not with a FILE: it prints a "+k.Noun+" and reads none"))
	case f.Demo:
		return nil, command.Conflict("template", "demo", "they print different things")
	case env.FormatGiven:
		return nil, command.Conflict("template", "format", "a "+k.Noun+" is a TOML file")
	}
	return &render.Answer{Raw: k.Template()}, nil
}

// Open reads the file that the arguments ask for.
func (k *Kind[T]) Open(env *command.Env, args []string, f *Flags) (none T, err error) {
	switch {
	case f.Demo && len(args) > 0:
		return none, command.At("--demo", errors.New("not with a FILE: it has its own "+k.Noun))
	case f.Demo:
		return k.Read("demo", []byte(k.Demo()))
	case len(args) == 0:
		return none, command.Absent("FILE", "a "+k.Name+", - for standard input, "+k.Flags)
	case len(args) > 1:
		return none, command.TooMany(args, 1, "one "+k.Name)
	}
	return k.OpenAt(env, command.Argument(0), args[0])
}

// OpenAt reads a file, or standard input by the name -; place is where its name stands in
// the command line.
func (k *Kind[T]) OpenAt(env *command.Env, place, file string) (none T, err error) {
	name, in := "<stdin>", env.Input
	if file != "-" {
		opened, err := os.Open(file)
		if err != nil {
			return none, command.At(place, Unreadable(file, err))
		}
		defer opened.Close()
		name, in = file, opened
	}
	data, err := ReadLimited(in)
	if err != nil {
		return none, command.At(place, Unreadable(file, err))
	}
	return k.Read(name, data)
}
