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

// registerOffers tells cobra what is offered to a shell for the values of flags. It
// keeps that for ever, so it is told only in a run that asks for it.
func registerOffers(cmd *cobra.Command) error {
	var err error
	register := func(f *pflag.Flag) {
		offer, more := func(string) []string { return nil }, cobra.ShellCompDirectiveNoFileComp
		switch v := f.Value.(type) {
		case interface{ Offers(word string) []string }:
			offer = v.Offers
		case interface{ OffersMore(word string) []string }:
			offer, more = v.OffersMore, more|cobra.ShellCompDirectiveNoSpace
		default:
			return
		}
		if err == nil {
			err = cmd.RegisterFlagCompletionFunc(f.Name, func(_ *cobra.Command, _ []string, word string) ([]string, cobra.ShellCompDirective) {
				return offer(word), more
			})
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
