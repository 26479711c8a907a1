package cli

import (
	"os"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/term"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
)

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
		v, offers := f.Value.(interface{ Offers(word string) []string })
		switch {
		case err != nil:
		case offers:
			err = cmd.RegisterFlagCompletionFunc(f.Name, func(_ *cobra.Command, _ []string, word string) ([]string, cobra.ShellCompDirective) {
				return v.Offers(word), cobra.ShellCompDirectiveNoFileComp
			})
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
	o := p.flags.Options()
	o.Width, o.Color = p.width(), p.color()
	return o
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
	switch p.flags.Color.Index {
	case command.ColorAlways:
		return true
	case command.ColorNever:
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
