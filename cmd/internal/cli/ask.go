package cli

import (
	"bytes"
	"errors"
	"io"

	"spectally/cmd/internal/render"
)

// errNoAnswer tells that a command line asks for help or a version.
var errNoAnswer = errors.New("this has no answer")

// Ask returns what a command line asks for, before it is written: a program that
// shows answers in its own way has the same as the command. An error is one that the
// command would report; if its place is known, it has a method Place that returns it.
func Ask(args []string, stdin io.Reader) (*render.Answer, error) {
	p := &program{stdout: io.Discard, keeps: true}
	root := p.root()
	root.SetArgs(append([]string{}, args...)) // never nil: cobra would read os.Args
	root.SetIn(stdin)
	root.SetOut(&p.answer)
	root.SetErr(&bytes.Buffer{})
	if err := root.Execute(); err != nil {
		return nil, err
	}
	if p.kept == nil {
		return nil, errNoAnswer
	}
	return p.kept, nil
}
