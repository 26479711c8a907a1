package cli

import (
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commands"
	"spectally/cmd/internal/commands/batch"
	"spectally/cmd/internal/commands/serve"
	"spectally/cmd/internal/commands/site"
	"spectally/cmd/internal/siterun"
)

// described lists the commands that describe themselves: those that can be asked, and
// those that work on for as long as they are let.
func described() []*command.Command {
	return append(append(commands.All(siterun.Many()), answering()...), batch.Command(), serve.Command(Ask))
}

// askable lists the commands that can be asked.
func askable() []*command.Command { return append(commands.All(site.Many{}), answering()...) }

// answering lists those that are still here.
func answering() []*command.Command {
	return []*command.Command{caCommand(), throughputCommand()}
}
