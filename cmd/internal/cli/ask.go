package cli

import (
	"spectally/cmd/internal/commands"
	"spectally/cmd/internal/commands/site"
	"spectally/cmd/internal/commands/walk"

	"io"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
)

// Ask returns what a command line asks for, before it is written, as [command.Ask] does.
func Ask(args []string, input io.Reader) (*render.Answer, error) {
	return command.Ask(commands.All(site.Many{}, walk.Files{}), args, input)
}
