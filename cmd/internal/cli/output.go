package cli

import (
	"fmt"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/savefile"
	"spectally/cmd/internal/words"
)

// deliver shows an answer, or writes it to the file asked for.
func (p *program) deliver(env *command.Env, a *render.Answer) error {
	o := &env.File
	if o.Name == "" {
		return p.show(a)
	}
	options := env.Look
	options.Color = p.flags.Color.Index == command.ColorAlways
	options.Width = usualWidth
	if a.Raw == "" {
		var err error
		if options.Format, err = env.Format(); err != nil {
			return err
		}
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
		return savefile.Fault(o, err)
	}
	if !p.flags.Quiet {
		fmt.Fprintf(&p.answer, "%s is written, %d kB.\n", words.OneLine(o.Name), (len(data)+999)/1000)
	}
	return nil
}
