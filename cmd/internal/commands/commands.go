// Package commands lists the commands that answer a question with one answer: what the
// command line, the pages and every other way to ask have in common.
package commands

import (
	"spectally/cmd/internal/commands/ca"
	"spectally/cmd/internal/commands/throughput"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commands/bands"
	"spectally/cmd/internal/commands/channel"
	"spectally/cmd/internal/commands/claim"
	"spectally/cmd/internal/commands/configs"
	"spectally/cmd/internal/commands/field"
	"spectally/cmd/internal/commands/frames"
	"spectally/cmd/internal/commands/holdings"
	"spectally/cmd/internal/commands/importing"
	"spectally/cmd/internal/commands/interference"
	"spectally/cmd/internal/commands/site"
	"spectally/cmd/internal/commands/sources"
	"spectally/cmd/internal/commands/tbs"
	"spectally/cmd/internal/commands/walk"
)

// All lists the commands. Many sites at once are for programs that can write them while
// they are worked out, files of samples for those that have files; the zero values leave
// them out.
func All(many site.Many, files walk.Files) []*command.Command {
	return []*command.Command{
		bands.Command(),
		channel.Command(),
		ca.Command(),
		configs.Command(),
		throughput.Command(),
		tbs.Command(),
		frames.Command(),
		importing.Command(),
		field.Command(),
		claim.Command(),
		site.Command(many),
		interference.Command(),
		walk.Command(files),
		holdings.Command(),
		sources.Command(),
	}
}
