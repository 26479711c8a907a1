package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// help writes the help page of a command.
func (p *program) help(cmd *cobra.Command) error {
	a := &render.Answer{Document: helpPage(cmd)}
	o := p.options()
	if o.Format != render.Markdown && o.Format != render.HTML {
		o.Format = render.Text
	}
	out, err := render.Render(a, o)
	if err != nil {
		return err
	}
	p.answer.Write(out)
	return nil
}

func helpPage(cmd *cobra.Command) []render.Block {
	page := []render.Block{render.Title{Text: cmd.CommandPath(), Detail: cmd.Short}}
	for text := range strings.SplitSeq(cmd.Long, "\n\n") {
		page = append(page, render.Paragraph(text))
	}
	page = append(page, render.Section("Usage"), render.Paragraph(usageLine(cmd)))
	if list := subcommands(cmd); len(list) > 0 {
		page = append(page, render.Section("Commands"), list)
	}
	if list := flagFacts(cmd.LocalNonPersistentFlags()); len(list) > 0 {
		page = append(page, render.Section("Flags"), list)
	}
	page = append(page, render.Section("Flags of every command"), flagFacts(cmd.Root().PersistentFlags()))
	if list := examples(cmd.Example); len(list) > 0 {
		page = append(page, render.Section("Examples"), list)
	}
	if !cmd.HasParent() {
		page = append(page, render.Section("Exit status"), exitStatuses())
	}
	return page
}

func exitStatuses() render.Facts {
	return render.Facts{
		{Name: "0", Value: "the answer is good"},
		{Name: "1", Value: "the thing checked does not hold"},
		{Name: "2", Value: "the input cannot be used; one line on standard error says why"},
		{Name: "3", Value: "the answer could not be written"},
	}
}

func usageLine(cmd *cobra.Command) string {
	if cmd.HasAvailableSubCommands() {
		return cmd.CommandPath() + " COMMAND [flags]"
	}
	return cmd.UseLine()
}

func subcommands(cmd *cobra.Command) render.Facts {
	var list render.Facts
	for _, c := range cmd.Commands() {
		if !c.Hidden {
			list = append(list, render.Fact{Name: c.Name(), Value: c.Short})
		}
	}
	return list
}

func flagFacts(set *pflag.FlagSet) render.Facts {
	var list render.Facts
	set.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		value, usage := pflag.UnquoteUsage(f)
		list = append(list, render.Fact{Name: strings.TrimSpace("--" + f.Name + " " + value), Value: usage})
	})
	return list
}

// examples reads lines of the form "command   # what it shows".
func examples(text string) render.Facts {
	var list render.Facts
	for line := range strings.Lines(text) {
		command, says, _ := strings.Cut(line, "#")
		list = append(list, render.Fact{Name: strings.TrimSpace(command), Value: strings.TrimSpace(says)})
	}
	return list
}

func helpCommand(p *program) *cobra.Command {
	return &cobra.Command{
		Use:     "help [COMMAND ...]",
		Short:   "print the help of a command",
		Long:    "Prints what a command does, its flags, and examples that work as they stand.",
		Example: "spectally help bands   # the same as: spectally bands --help",
		ValidArgsFunction: func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return commandNames(cmd.Root()), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			found, err := findCommand(cmd.Root(), args)
			if err != nil {
				return err
			}
			return p.help(found)
		},
	}
}

// findCommand finds a command by its names, from the root on.
func findCommand(found *cobra.Command, args []string) (*cobra.Command, error) {
	for i, name := range args {
		next := subcommand(found, name)
		if next == nil && i > 0 && !found.HasAvailableSubCommands() {
			return nil, command.TooMany(args, i, "one command")
		}
		if next == nil {
			names := commandNames(found)
			return nil, command.At(command.Argument(i), &bands.ValueError{Param: "command", Got: name, Allowed: strings.Join(names, ", "), Nearest: words.Nearest(name, names)})
		}
		found = next
	}
	return found, nil
}

// subcommand finds a command by its name; nil if there is none.
func subcommand(cmd *cobra.Command, name string) *cobra.Command {
	for _, c := range cmd.Commands() {
		if strings.EqualFold(c.Name(), name) {
			return c
		}
	}
	return nil
}

// commandNames lists the names of the commands in order.
func commandNames(root *cobra.Command) []string {
	var names []string
	for _, c := range root.Commands() {
		if !c.Hidden {
			names = append(names, c.Name())
		}
	}
	slices.Sort(names)
	return names
}
