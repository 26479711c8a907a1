package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/words"
)

var shells = []struct {
	name  string
	write func(*program, *cobra.Command) error
}{
	{"bash", func(p *program, root *cobra.Command) error { return root.GenBashCompletionV2(&p.answer, true) }},
	{"fish", func(p *program, root *cobra.Command) error { return root.GenFishCompletion(&p.answer, true) }},
	{"powershell", func(p *program, root *cobra.Command) error { return root.GenPowerShellCompletionWithDesc(&p.answer) }},
	{"zsh", func(p *program, root *cobra.Command) error { return root.GenZshCompletion(&p.answer) }},
}

func shellNames() []string {
	names := make([]string, len(shells))
	for i, s := range shells {
		names[i] = s.name
	}
	return names
}

func completionCommand(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "print a completion script for a shell",
		Long:  "Prints a script for bash, fish, powershell or zsh. Let the shell read it when it starts.",
		Example: "spectally completion bash   # for ~/.bashrc: source <(spectally completion bash)\n" +
			"spectally completion fish   # for ~/.config/fish/completions/spectally.fish",
		ValidArgs: shellNames(),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return command.Absent("shell", words.Or(shellNames()))
			}
			if len(args) > 1 {
				return command.TooMany(args, 1, "one shell")
			}
			for _, s := range shells {
				if strings.EqualFold(s.name, args[0]) {
					return s.write(p, cmd.Root())
				}
			}
			return command.At(command.Argument(0), &bands.ValueError{Param: "shell", Got: args[0], Allowed: words.Or(shellNames()), Nearest: words.Nearest(args[0], shellNames())})
		},
	}
}
