package cli

import (
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commands"
	"spectally/cmd/internal/commands/batch"
	"spectally/cmd/internal/commands/pages"
	"spectally/cmd/internal/commands/schema"
	"spectally/cmd/internal/commands/serve"
	"spectally/cmd/internal/siterun"
	"spectally/cmd/internal/walkrun"
)

// described lists the commands that describe themselves: those that can be asked, and
// those that work on for as long as they are let.
func described() []*command.Command {
	return append(commands.All(siterun.Many(), walkrun.Files()), batch.Command(), serve.Command(Ask), pages.Command(), schema.Command(described))
}
