package cli

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/words"
)

// version is the version of the program; the versions of the tables are those
// that the command "sources" lists.
const version = "0.1.0"

// errVersion ends a run that only asks for the version.
var errVersion = errors.New("version")

func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "spectally",
		Short: "which spectrum a set of mobile-radio carriers is, and what it can yield",
		Long: "Answers come from the tables of 3GPP, which are built in: nothing is fetched. " +
			"Every answer names the table or clause it rests on, and with --explain shows its working.",
		Example: "spectally bands n78   # what a band is\n" +
			"spectally bands 3540MHz   # which bands hold a frequency\n" +
			"spectally channel n78 640000   # where a channel number lies\n" +
			"spectally ca B3:20 + n78:80   # whether carriers may be aggregated, and what they add up to\n" +
			"spectally throughput B3:20 + n78:80   # what they can yield\n" +
			"spectally configs --with n78,3   # which configurations the standard lists\n" +
			"spectally field --demo   # the report of a field log: measured against possible, claims judged",
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
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

func unknownCommand(root *cobra.Command, name string) error {
	names := commandNames(root)
	e := &bands.ValueError{Param: "command", Got: name, Allowed: strings.Join(names, ", "), Nearest: words.Nearest(name, names)}
	switch {
	case looksLikeSpectrum(name):
		e.Nearest = "bands " + name
	case looksLikeCarriers(name):
		e.Nearest = "ca " + name
	}
	return e
}

// looksLikeCarriers tells whether a word in the place of a command is a carrier, or
// the name of a configuration.
func looksLikeCarriers(word string) bool {
	if _, err := ca.Parse(word); err == nil {
		return true
	}
	_, err := ca.ParseName(word)
	return err == nil
}

// looksLikeSpectrum tells whether a word in the place of a command is a band or
// a frequency.
func looksLikeSpectrum(word string) bool {
	if _, err := bands.ParseID(word); err == nil {
		return true
	}
	_, err := bands.ParseFrequency(word)
	return err == nil
}
