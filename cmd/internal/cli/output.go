package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/savefile"
)

// outputFlags say where an answer goes in place of standard output.
type outputFlags struct {
	file  string
	force bool
}

func (o *outputFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVarP(&o.file, "output", "o", "", "write to a `FILE`, whole or not at all; its ending (.html, .md, .json, .csv, .txt) is the format if --format is not given")
	cmd.Flags().BoolVar(&o.force, "force", false, "replace the file of --output if it is there")
}

// endings are the formats of files by the ending of their names.
var endings = map[string]render.Format{
	".html": render.HTML, ".htm": render.HTML,
	".md": render.Markdown, ".markdown": render.Markdown,
	".json": render.JSON, ".csv": render.CSV, ".txt": render.Text,
}

// deliver shows an answer, or writes it to the file asked for.
func (p *program) deliver(cmd *cobra.Command, a *render.Answer, o *outputFlags) error {
	if o.file == "" || p.keeps {
		return p.show(a)
	}
	options := p.options()
	options.Color = p.flags.color.index == colorAlways
	options.Width = usualWidth
	if f, ok := endings[strings.ToLower(filepath.Ext(o.file))]; ok && !cmd.Flags().Changed("format") {
		options.Format = f
	}
	out, err := render.Render(a, options)
	if err != nil {
		return err
	}
	return p.save(o, out)
}

// save writes a file, and says so.
func (p *program) save(o *outputFlags, data []byte) error {
	if err := savefile.Write(o.file, data, o.force); err != nil {
		return saveFault(o, err)
	}
	if !p.flags.quiet {
		fmt.Fprintf(&p.answer, "%s is written, %d kB.\n", oneLine(o.file), (len(data)+999)/1000)
	}
	return nil
}

// saveFault says in this program's words why a file is not written.
func saveFault(o *outputFlags, err error) error {
	switch {
	case errors.Is(err, savefile.ErrExists):
		return at("--output", &bands.ValueError{Param: "file", Got: o.file, Allowed: "a name that nothing has yet; --force replaces the file"})
	case errors.Is(err, savefile.ErrNotFile):
		return at("--output", &bands.ValueError{Param: "file", Got: o.file, Allowed: "the name of a file; " + err.Error()})
	}
	if path, ok := errors.AsType[*os.PathError](err); ok {
		err = path.Err
	}
	return &unsaid{at("--output", fmt.Errorf("%q could not be written: %w", o.file, err))}
}

// unsaid is the error that an answer could not be written.
type unsaid struct{ error }

func (u *unsaid) Unwrap() error { return u.error }
