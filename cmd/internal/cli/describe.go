package cli

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// make makes a command of its description.
func (p *program) make(c *command.Command) *cobra.Command {
	made := &cobra.Command{
		Use:    strings.TrimSpace(c.Name + " " + c.Usage),
		Short:  c.Short,
		Long:   c.Long,
		Hidden: c.Hidden,

		Example:           c.Examples,
		Args:              cobra.ArbitraryArgs,
		ValidArgsFunction: offers(c),
	}
	if len(c.Below) > 0 {
		for _, below := range c.Below {
			made.AddCommand(p.make(below))
		}
		made.RunE = func(cmd *cobra.Command, args []string) error {
			names := commandNames(cmd)
			if len(args) == 0 && cmd.Flags().Changed("format") && p.options().Format != render.Text {
				return &bands.ValueError{Param: c.Chooses, Got: "", Allowed: words.Or(names)}
			}
			if len(args) > 0 {
				return command.At(command.Argument(0), &bands.ValueError{Param: c.Chooses, Got: args[0], Allowed: words.Or(names), Nearest: words.Nearest(args[0], names)})
			}
			return p.help(cmd)
		}
		return made
	}
	env := &command.Env{Output: p.stdout, Program: "spectally " + version}
	var answer command.Answer
	if p.mayUse(c) {
		if c.Saves {
			env.File.Add(made.Flags())
		}
		answer = c.New(made.Flags())
	}
	made.RunE = func(cmd *cobra.Command, args []string) error {
		env.Input, env.Messages = cmd.InOrStdin(), cmd.ErrOrStderr()
		env.Look, env.FormatGiven = p.options(), cmd.Flags().Changed("format")
		if c.Saves && env.File.Name == "" && cmd.Flags().Changed("output") {
			return command.At("--output", &bands.ValueError{Param: "file", Got: "", Allowed: "the name of a file"})
		}
		return p.finish(answer, env, args)
	}
	return made
}

// mayUse tells whether a command line can come to run a command, or to show its flags:
// it has its name, or is about the pages of all. The flags of the others are not made,
// which the start of the program would wait for.
func (p *program) mayUse(c *command.Command) bool {
	return len(p.args) == 0 || slices.Contains(p.args, c.Name) || slices.Contains(p.args, "man")
}

// finish lets a command answer, and shows what it says.
func (p *program) finish(answer command.Answer, env *command.Env, args []string) error {
	a, err := answer(env, args)
	if ended, ok := errors.AsType[command.Ended](err); ok {
		p.status = int(ended)
		return nil
	}
	if err != nil || a == nil {
		return err
	}
	if err := p.deliver(env, a); err != nil {
		return err
	}
	if a.Refuted {
		p.status = command.Refuted
	}
	return nil
}

// offers tells cobra what is offered for arguments.
func offers(c *command.Command) cobra.CompletionFunc {
	if c.Offers == nil {
		return nil
	}
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		o := c.Offers(args)
		if len(o.Endings) > 0 {
			return o.Endings, cobra.ShellCompDirectiveFilterFileExt
		}
		return o.Words, cobra.ShellCompDirectiveNoFileComp
	}
}
