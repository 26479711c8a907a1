package cli

import (
	"errors"

	"github.com/spf13/cobra"

	"spectally/cmd/internal/command"
)

// version is the version of the program; the versions of the tables are those
// that the command "sources" lists.
const version = "0.1.0"

// errVersion ends a run that only asks for the version.
var errVersion = errors.New("version")

func (p *program) root() *cobra.Command {
	var measured measuredFlags
	root := &cobra.Command{
		Short: "what mobile-radio carriers are, and what they can yield",
		Long: "Ask a question (spectally B3:20 + n78:80) or give a command. " +
			"Answers come from the tables of 3GPP, built in: nothing is fetched.",
		Use: "spectally",
		Example: "spectally B3:20 + n78:80 --down 612 --up 58   # a short answer about carriers, held against a test\n" +
			"spectally n78   # about a band; 640000, 3540MHz, 3410-3500MHz, DDDSU, CA_3A-7A, 1 GB in 30 s\n" +
			"spectally ca B3:20 + n78:80   # whether carriers may be aggregated, and what they add up to\n" +
			"spectally throughput B3:20 + n78:80   # what they can yield\n" +
			"spectally configs --with n78,3   # which configurations the standard lists\n" +
			"spectally field --demo   # the report of a field log: measured against possible, claims judged",
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return p.question(cmd, args, &measured)
			}
			return p.help(cmd)
		},
		Args: cobra.ArbitraryArgs,
		PersistentPreRunE: func(*cobra.Command, []string) error {
			if !p.flags.Version {
				return nil
			}
			p.answer.WriteString("spectally " + version + "\n")
			return errVersion
		},
	}
	p.flags.Add(root.PersistentFlags())
	measured.add(root.Flags())
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error { return command.FlagError(cmd.Flags(), err) })
	root.SetHelpFunc(func(cmd *cobra.Command, _ []string) {
		if err := p.help(cmd); err != nil {
			panic(err) // a help page is built in: it renders, or the build is at fault
		}
	})
	root.SetHelpCommand(helpCommand(p))
	for _, c := range described() {
		root.AddCommand(p.make(c))
	}
	root.AddCommand(completionCommand(p), manCommand(p))
	return root
}
