package cli

import (
	"os"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/term"

	"spectally/cmd/internal/render"
)

// globalFlags are the flags that every command has.
type globalFlags struct {
	format  choice
	color   choice
	explain bool
	quiet   bool
	version bool
}

// The values of --color.
const (
	colorAuto = iota
	colorAlways
	colorNever
)

func (g *globalFlags) add(root *cobra.Command) {
	g.format = choice{param: "output format", names: render.FormatNames()}
	g.color = choice{param: "use of colour", names: []string{colorAuto: "auto", colorAlways: "always", colorNever: "never"}}
	f := root.PersistentFlags()
	f.Var(&g.format, "format", "how the answer is written")
	f.BoolVar(&g.explain, "explain", false, "show the working and the sources of each value")
	f.Var(&g.color, "color", "colours in text: auto is where a terminal shows it and NO_COLOR is not set")
	f.BoolVar(&g.quiet, "quiet", false, "leave out notes, assumptions and sources")
	f.BoolVar(&g.version, "version", false, "print the version")
	f.BoolP("help", "h", false, "print the help of a command")
	complete(root, "format", g.format.names)
	complete(root, "color", g.color.names)
}

// The annotations of flags that say what a shell is offered for them.
const (
	offersValues = "offers-values" // these
	offersBands  = "offers-bands"  // lists of bands
)

// complete offers the values of a flag to the shell.
func complete(cmd *cobra.Command, flag string, values []string) {
	offer(cmd, flag, offersValues, values)
}

func offer(cmd *cobra.Command, flag, what string, values []string) {
	f := cmd.Flag(flag)
	if f.Annotations == nil {
		f.Annotations = map[string][]string{}
	}
	f.Annotations[what] = values
}

// registerOffers tells cobra what is offered to a shell. It keeps that for ever, so it
// is told only in a run that asks for it.
func registerOffers(cmd *cobra.Command) error {
	var err error
	register := func(f *pflag.Flag) {
		values, fixed := f.Annotations[offersValues]
		_, list := f.Annotations[offersBands]
		switch {
		case err != nil:
		case fixed:
			err = cmd.RegisterFlagCompletionFunc(f.Name, cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp))
		case list:
			err = cmd.RegisterFlagCompletionFunc(f.Name, completeBandList)
		}
	}
	cmd.LocalFlags().VisitAll(register)
	for _, c := range cmd.Commands() {
		if err == nil {
			err = registerOffers(c)
		}
	}
	return err
}

// options says how answers are to look in this run.
func (p *program) options() render.Options {
	return render.Options{
		Format:  render.Format(p.flags.format.index),
		Width:   p.width(),
		Color:   p.color(),
		Explain: p.flags.explain,
		Quiet:   p.flags.quiet,
	}
}

// usualWidth is the width of text that goes to no terminal.
const usualWidth = 100

// width is the width of the terminal, else COLUMNS, else the usual one.
func (p *program) width() int {
	if fd, ok := p.terminal(); ok {
		if w, _, err := term.GetSize(fd); err == nil && w > 0 {
			return w
		}
	}
	if w, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && w > 0 {
		return w
	}
	return usualWidth
}

// color tells whether to colour text. NO_COLOR with any value but the empty one
// turns colours off unless they are asked for.
func (p *program) color() bool {
	switch p.flags.color.index {
	case colorAlways:
		return true
	case colorNever:
		return false
	}
	_, terminal := p.terminal()
	return terminal && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

// terminal returns the descriptor of the terminal that shows standard output, if
// one does.
func (p *program) terminal() (fd int, ok bool) {
	file, ok := p.stdout.(*os.File)
	if !ok {
		return 0, false
	}
	fd = int(file.Fd())
	return fd, term.IsTerminal(fd)
}
