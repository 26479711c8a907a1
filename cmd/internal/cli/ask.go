package cli

import (
	"spectally/cmd/internal/commands"
	"spectally/cmd/internal/commands/site"

	"io"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
)

// Ask returns what a command line asks for, before it is written, as [command.Ask] does.
func Ask(args []string, input io.Reader) (*render.Answer, error) {
	return command.Ask(commands.All(site.Many{}), args, input)
}
