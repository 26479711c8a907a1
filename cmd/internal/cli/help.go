package cli

import (
	"bytes"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// mostHelp is how many lines a help page has without --full.
const mostHelp = 40

// help writes the help page of a command: without --full what fits a screen or two.
func (p *program) help(cmd *cobra.Command) error {
	o := p.options()
	if o.Format != render.Markdown && o.Format != render.HTML {
		o.Format = render.Text
	}
	pages := [...]helpPage{{}, {first: true}, {first: true, names: true}, {first: true, names: true, examples: 2}}
	for _, page := range pages {
		out, err := render.Render(&render.Answer{Document: page.of(cmd)}, o)
		if err != nil {
			return err
		}
		if o.Full || o.Format != render.Text || bytes.Count(out, []byte("\n")) <= mostHelp || page == pages[len(pages)-1] {
			p.answer.Write(out)
			return nil
		}
	}
	return nil
}

// helpPage says how much a help page has: of the text its first paragraph alone, of the
// flags their names alone, and so many examples; all of them if that is 0.
type helpPage struct {
	first, names bool
	examples     int
}

func (h helpPage) of(cmd *cobra.Command) []render.Block {
	page := []render.Block{render.Title{Text: cmd.CommandPath(), Detail: cmd.Short}}
	for text := range strings.SplitSeq(cmd.Long, "\n\n") {
		page = append(page, render.Paragraph(text))
		if h.first {
			break
		}
	}
	brief := h.examples > 0 && !cmd.HasParent() // the root has a line for each command
	if !brief {
		page = append(page, render.Section("Usage"), render.Paragraph(usageLine(cmd)))
	}
	if list := subcommands(cmd); len(list) > 0 {
		page = append(page, render.Section("Commands"), list)
	}
	own, all := flagFacts(cmd.LocalNonPersistentFlags()), flagFacts(cmd.Root().PersistentFlags())
	if brief {
		own, all = nil, append(own, all...)
	}
	if h.names {
		page = append(page, flagNames("Flags", own)...)
	} else if len(own) > 0 {
		page = append(page, render.Section("Flags"), own)
	}
	if h.first {
		page = append(page, flagNames(map[bool]string{true: "Flags", false: "Flags of every command"}[brief], all)...)
	} else {
		page = append(page, render.Section("Flags of every command"), all)
	}
	if list := examples(cmd.Example); len(list) > 0 {
		if h.examples > 0 {
			list = list[:min(h.examples, len(list))]
		}
		page = append(page, render.Section("Examples"), list)
	}
	if !cmd.HasParent() && !brief {
		page = append(page, render.Section("Exit status"), exitStatuses())
	}
	if h.first {
		page = append(page, render.Paragraph("All of it: "+strings.Replace(cmd.CommandPath(), cmd.Root().Name(), cmd.Root().Name()+" help", 1)+" --full"))
	}
	return page
}

// flagNames has the names of flags and what they take.
func flagNames(heading string, list render.Facts) []render.Block {
	if len(list) == 0 {
		return nil
	}
	names := make([]string, len(list))
	for i, f := range list {
		names[i] = strings.ReplaceAll(f.Name, " ", "\u00a0") // a flag and its value stay together
	}
	return []render.Block{render.Section(heading), render.Paragraph(strings.Join(names, " "))}
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
