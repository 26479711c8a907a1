// Package commands lists the commands that answer a question with one answer: what the
// command line, the pages and every other way to ask have in common.
package commands

import (
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commands/bands"
	"spectally/cmd/internal/commands/channel"
	"spectally/cmd/internal/commands/frames"
	"spectally/cmd/internal/commands/importing"
	"spectally/cmd/internal/commands/sources"
	"spectally/cmd/internal/commands/tbs"
)

// All lists the commands in the order in which help lists them.
func All() []*command.Command {
	return []*command.Command{
		bands.Command(),
		channel.Command(),
		tbs.Command(),
		frames.Command(),
		importing.Command(),
		sources.Command(),
	}
}
