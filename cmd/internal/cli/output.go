package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/savefile"
	"spectally/cmd/internal/words"
)

// endings are the formats of files by the ending of their names.
var endings = map[string]render.Format{
	".html": render.HTML, ".htm": render.HTML,
	".md": render.Markdown, ".markdown": render.Markdown,
	".json": render.JSON, ".csv": render.CSV, ".txt": render.Text,
}

// deliver shows an answer, or writes it to the file asked for.
func (p *program) deliver(env *command.Env, a *render.Answer) error {
	o := &env.File
	if o.Name == "" || p.keeps {
		return p.show(a)
	}
	options := env.Look
	options.Color = p.flags.Color.Index == command.ColorAlways
	options.Width = usualWidth
	if f, ok := endings[strings.ToLower(filepath.Ext(o.Name))]; ok && !env.FormatGiven {
		options.Format = f
	}
	out, err := render.Render(a, options)
	if err != nil {
		return err
	}
	return p.save(o, out)
}

// save writes a file, and says so.
func (p *program) save(o *command.File, data []byte) error {
	if err := savefile.Write(o.Name, data, o.Force); err != nil {
		return saveFault(o, err)
	}
	if !p.flags.Quiet {
		fmt.Fprintf(&p.answer, "%s is written, %d kB.\n", words.OneLine(o.Name), (len(data)+999)/1000)
	}
	return nil
}

// saveFault says in this program's words why a file is not written.
func saveFault(o *command.File, err error) error {
	switch {
	case errors.Is(err, savefile.ErrExists):
		return command.At("--output", &bands.ValueError{Param: "file", Got: o.Name, Allowed: "a name that nothing has yet; --force replaces the file"})
	case errors.Is(err, savefile.ErrNotFile):
		return command.At("--output", &bands.ValueError{Param: "file", Got: o.Name, Allowed: "the name of a file; " + err.Error()})
	}
	if path, ok := errors.AsType[*os.PathError](err); ok {
		err = path.Err
	}
	return &unsaid{command.At("--output", fmt.Errorf("%q could not be written: %w", o.Name, err))}
}

// unsaid is the error that an answer could not be written.
type unsaid struct{ error }

func (u *unsaid) Unwrap() error { return u.error }
