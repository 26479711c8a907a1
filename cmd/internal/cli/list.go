package cli

import (
	"github.com/spf13/cobra"

	"spectally/cmd/internal/commands/bands"
	"spectally/cmd/internal/commands/channel"
	"spectally/cmd/internal/commands/frames"
	"spectally/cmd/internal/commands/importing"
	"spectally/cmd/internal/commands/sources"
	"spectally/cmd/internal/commands/tbs"
)

// commands lists what builds the commands, in the order in which help lists them. It is
// a function since one of the commands asks the others.
func commands() []func(*program) *cobra.Command {
	return []func(*program) *cobra.Command{
		describedBy(bands.Command),
		describedBy(channel.Command),
		caCommand,
		configsCommand,
		throughputCommand,
		describedBy(tbs.Command),
		describedBy(frames.Command),
		fieldCommand,
		describedBy(importing.Command),
		claimCommand,
		siteCommand,
		batchCommand,
		serveCommand,
		describedBy(sources.Command),
		completionCommand,
		manCommand,
	}
}
