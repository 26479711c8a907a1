package cli

import (
	"errors"
	"io"
	"os"

	"github.com/spf13/cobra"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/fieldreport"
	"spectally/cmd/internal/userfile"
)

// fieldFlags are the flags of the command.
type fieldFlags struct {
	output                command.File
	demo, template, check bool
}

func fieldCommand(p *program) *cobra.Command {
	var f fieldFlags
	cmd := &cobra.Command{
		Use:   "field FILE",
		Short: "the report of a field log: measured against possible, networks compared, claims judged",
		Long: "Reads what was written down at a site and works out what it means: for each network its spectrum, the configuration of the standard, what its carriers can yield and what the tests reached of it, latency under load, transfers, and which carriers may belong together; then the networks side by side, and every claim with its verdict and working.\n\n" +
			"FILE is a TOML file, or - for standard input. --template prints one to fill in, with every key explained. If something is wrong with it, every problem is reported on a line of its own, with the line of the file, and no report is made.\n\n" +
			"With --format html, or --output and a name that ends in .html, the report is one page that holds all it needs: no script, and nothing to load. It prints, and it can be read on a phone. " +
			"The exit status is 0 as soon as there is a report; with --check it is 1 if a claim fails or the standard does not allow what the log has.",
		Example: "spectally field --demo   # the report of an invented scenario\n" +
			"spectally field --demo --format html   # the same as a page\n" +
			"spectally field --template   # a log to fill in\n" +
			"spectally field --demo --format markdown --explain   # with the working of every claim",
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.field(cmd, args, &f)
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	flags := cmd.Flags()
	flags.BoolVar(&f.demo, "demo", false, "report on a log of an invented scenario with three networks")
	flags.BoolVar(&f.template, "template", false, "print a log to fill in, in place of a report")
	flags.BoolVar(&f.check, "check", false, "exit with status 1 if a claim fails or carriers are not allowed")
	f.output.Add(flags)
	return cmd
}

func (p *program) field(cmd *cobra.Command, args []string, f *fieldFlags) error {
	if f.template {
		return p.template(cmd, args, f)
	}
	log, err := f.read(cmd.InOrStdin(), args)
	if err != nil {
		return err
	}
	report := fieldlog.Analyse(log)
	answer := fieldreport.Answer(report)
	answer.Refuted = f.check && !fieldreport.Holds(report)
	if err := p.deliver(p.env(cmd, &f.output), answer); err != nil {
		return err
	}
	if answer.Refuted {
		p.status = command.Refuted
	}
	return nil
}

// template prints the log to fill in.
func (p *program) template(cmd *cobra.Command, args []string, f *fieldFlags) error {
	switch {
	case len(args) > 0:
		return command.At("--template", errors.New("not beside a FILE: it prints a log and reads none"))
	case f.demo:
		return command.Conflict("template", "demo", "they print different things")
	case cmd.Flags().Changed("format"):
		return command.Conflict("template", "format", "a log is a TOML file")
	case f.output.Name != "":
		return p.save(&f.output, []byte(fieldlog.Template()))
	}
	p.answer.WriteString(fieldlog.Template())
	return nil
}

// read reads the log that the arguments ask for.
func (f *fieldFlags) read(stdin io.Reader, args []string) (*fieldlog.Log, error) {
	switch {
	case f.demo && len(args) > 0:
		return nil, command.At("--demo", errors.New("not beside a FILE: it brings its own log"))
	case f.demo:
		return fieldlog.Read("demo", []byte(fieldlog.Demo()))
	case len(args) == 0:
		return nil, command.Absent("FILE", "a field log, - for standard input, --demo or --template")
	case len(args) > 1:
		return nil, command.TooMany(args, 1, "one field log")
	case args[0] == "-":
		data, err := userfile.ReadLimited(stdin)
		if err != nil {
			return nil, command.At(command.Argument(0), userfile.Unreadable("-", err))
		}
		return fieldlog.Read("<stdin>", data)
	}
	file, err := os.Open(args[0])
	if err != nil {
		return nil, command.At(command.Argument(0), userfile.Unreadable(args[0], err))
	}
	defer file.Close()
	data, err := userfile.ReadLimited(file)
	if err != nil {
		return nil, command.At(command.Argument(0), userfile.Unreadable(args[0], err))
	}
	return fieldlog.Read(args[0], data)
}
