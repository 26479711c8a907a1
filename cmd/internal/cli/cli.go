// Package cli is the command line of spectally: it reads arguments, asks the
// libraries, and hands their answers to package render.
package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"strings"

	"github.com/spf13/cobra"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// program is one run of the command line.
type program struct {
	// args are those of the command line; without any, as in tests, every command is
	// made with its flags.
	args   []string
	stdout io.Writer
	flags  command.Globals
	// answer holds all output until it is complete, so that a failure leaves
	// nothing on standard output.
	answer bytes.Buffer
	// values is an answer in JSON that is written piece by piece instead: once it
	// is there nothing can fail but the writing.
	values iter.Seq[any]
	status int
}

// Run runs the program with its arguments, without the program's name, and
// returns its exit status. Errors are one line on stderr.
func Run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	p := &program{args: args, stdout: stdout}
	root := p.root()
	root.SetArgs(append([]string{}, args...)) // never nil: cobra would read os.Args
	root.SetIn(stdin)
	root.SetOut(&p.answer)
	root.SetErr(stderr)
	if len(args) > 0 && strings.HasPrefix(args[0], cobra.ShellCompRequestCmd) {
		if err := registerOffers(root); err != nil {
			fmt.Fprintln(stderr, words.OneLine("spectally: "+err.Error()))
			return command.Unwritten
		}
	}
	cmd, err := root.ExecuteC()
	if err != nil && !errors.Is(err, errVersion) {
		return reportError(stderr, cmd, err)
	}
	if p.values != nil {
		err = render.Stream(stdout, p.values)
	} else {
		_, err = stdout.Write(p.answer.Bytes())
	}
	if err != nil {
		fmt.Fprintln(stderr, words.OneLine("spectally: the answer could not be written: "+err.Error()))
		return command.Unwritten
	}
	return p.status
}

func (p *program) show(a *render.Answer) error {
	o := p.options()
	if o.Format == render.JSON && a.Values != nil {
		p.values = a.Values
		return nil
	}
	out, err := render.Render(a, o)
	if err != nil {
		return err
	}
	p.answer.Write(out)
	return nil
}
