package command

import (
	"github.com/spf13/pflag"

	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/render"
)

// Globals are the flags that every command has.
type Globals struct {
	Format  flags.Choice
	Color   flags.Choice
	Full    bool
	Explain bool
	Quiet   bool
	Version bool
}

// The values of --color.
const (
	ColorAuto = iota
	ColorAlways
	ColorNever
)

// Add adds the flags to a set.
func (g *Globals) Add(set *pflag.FlagSet) {
	g.Format = flags.Choice{Param: "output format", Names: render.FormatNames()}
	g.Color = flags.Choice{Param: "use of colour", Names: []string{ColorAuto: "auto", ColorAlways: "always", ColorNever: "never"}}
	set.Var(&g.Format, "format", "how the answer is written")
	set.BoolVar(&g.Full, "full", false, "show all of an answer, not a screen of it")
	set.BoolVar(&g.Explain, "explain", false, "show all, the working, and the source of each value")
	set.Var(&g.Color, "color", "colours in text: auto is where a terminal shows it and NO_COLOR is not set")
	set.BoolVar(&g.Quiet, "quiet", false, "leave out notes, assumptions and sources")
	set.BoolVar(&g.Version, "version", false, "print the version")
	set.BoolP("help", "h", false, "print the help of a command")
}

// Options are what the flags say about the look of answers.
func (g *Globals) Options() render.Options {
	return render.Options{Format: render.Format(g.Format.Index), Full: g.Full, Explain: g.Explain, Quiet: g.Quiet}
}
