// Package command says what a command is, apart from the program that runs it: its words,
// its flags, and a function from arguments to an answer. The command line makes its
// commands of these descriptions; a page asks them by name.
package command

import (
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// Command describes a command.
type Command struct {
	Name string
	// Usage is what follows the name in a command line: "BAND NUMBER|FREQUENCY".
	Usage string
	Short string
	Long  string
	// Examples are lines of the form "spectally bands n78   # what it shows".
	Examples string
	// Hidden keeps the command out of help.
	Hidden bool
	// Saves says that the answer can go to a file: the command line then has flags for it.
	Saves bool
	// Answers are values of the types that JSON shows; an answer has one of them.
	Answers []any
	// New adds the flags of the command to a set, and returns what answers once they are
	// parsed. Each run has a set of its own.
	New func(flags *pflag.FlagSet) Answer
	// Offers says what a shell may offer in place of the next argument, after those that
	// are there; nil if nothing is known of the arguments.
	Offers func(args []string) Offers
	// Below are the commands that its first argument chooses from. It then answers
	// nothing itself, and Chooses is what the argument is: "technology".
	Below   []*Command
	Chooses string
}

// Answer answers the arguments that flags have left. An error is about the input, with
// its place where that is known, or an [Ended]. A command that has written its answer
// while it worked returns none.
type Answer func(env *Env, args []string) (*render.Answer, error)

// Env is what a command finds around it.
type Env struct {
	// Input is standard input.
	Input io.Reader
	// Output takes what a command writes while it works, and Messages lines about how the
	// work goes. They are nil where only a whole answer can be shown.
	Output, Messages io.Writer
	// Look is how the answer will be shown, as far as the flags tell.
	Look render.Options
	// FormatGiven tells that the format was asked for.
	FormatGiven bool
	// File is where the answer goes in place of Output.
	File File
	// Program is the name of the program and its version.
	Program string
}

// endings are the formats of files by the ending of their names.
var endings = map[string]render.Format{
	".html": render.HTML, ".htm": render.HTML,
	".md": render.Markdown, ".markdown": render.Markdown,
	".json": render.JSON, ".csv": render.CSV, ".txt": render.Text,
}

// Format is that of the answer: by the ending of its file where none was asked for. An
// ending that no format has is an error.
func (e *Env) Format() (render.Format, error) {
	ending := filepath.Ext(e.File.Name)
	if e.FormatGiven || ending == "" {
		return e.Look.Format, nil
	}
	f, ok := endings[strings.ToLower(ending)]
	if !ok {
		return f, At("--output", &bands.ValueError{Param: "ending", Got: ending, Allowed: ".html, .md, .json, .csv or .txt, or any with --format"})
	}
	return f, nil
}

// Say writes a line about how the work of a command goes.
func (e *Env) Say(name, format string, args ...any) {
	fmt.Fprintln(e.Messages, words.OneLine("spectally "+name+": "+fmt.Sprintf(format, args...)))
}

// File is a file that an answer goes to, whole or not at all.
type File struct {
	Name  string // empty for none
	Force bool   // replaces the file if it is there
}

// Add adds the flags to a set.
func (f *File) Add(set *pflag.FlagSet) {
	set.StringVarP(&f.Name, "output", "o", "", "write to a `FILE`, whole or not at all; its ending (.html, .md, .json, .csv, .txt) is the format if --format is not given")
	set.BoolVar(&f.Force, "force", false, "replace the file of --output if it is there")
}

// Offers is what a shell may offer.
type Offers struct {
	// Words may have a remark, after a tab.
	Words []string
	// Endings are the endings of files, without the dot.
	Endings []string
}

// None offers nothing.
func None([]string) Offers { return Offers{} }

// Bands offers bands.
func Bands([]string) Offers { return Offers{Words: spectrum.Offered()} }

// OneFile offers files with an ending as the only argument.
func OneFile(ending string) func(args []string) Offers {
	return func(args []string) Offers {
		if len(args) > 0 {
			return Offers{}
		}
		return Offers{Endings: []string{ending}}
	}
}

// Unsaid is the error that an answer could not be written.
type Unsaid struct{ Err error }

// Error implements error.
func (u *Unsaid) Error() string { return u.Err.Error() }

// Unwrap is why.
func (u *Unsaid) Unwrap() error { return u.Err }

// Ended is the exit status of a run that has said all there is to say.
type Ended int

// Error implements error.
func (e Ended) Error() string { return "exit status " + strconv.Itoa(int(e)) }
