package cli

import (
	"errors"
	"io"
	"os"

	"github.com/spf13/cobra"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/siteplan"
	"spectally/cmd/internal/sitereport"
	"spectally/cmd/internal/userfile"
)

// siteFlags are the flags of the command.
type siteFlags struct {
	output                command.File
	demo, template, check bool
	csv                   string // a file of many sites
}

func siteCommand(p *program) *cobra.Command {
	var f siteFlags
	cmd := &cobra.Command{
		Use:   "site FILE",
		Short: "what a site can carry: peaks, busy hour, users, data, backhaul, builds, coverage",
		Long: "Reads a site plan and works out, for each carrier, each sector and the site, what one phone and the cell can have at most, the mean of the busy hour with the efficiency it rests on and where that is from, and the rate at the cell edge; then how many users that serves, how much data it moves, what the backhaul needs, what limits, and what single changes would add. The same spectrum with 2, 4, 8, 32 and 64 ports stands side by side, and with a [coverage] table how far each carrier reaches.\n\n" +
			"FILE is a TOML file, or - for standard input. --template prints one to fill in, with every key explained. If something is wrong with it, every problem is reported on a line of its own, with the line of the file, and there is no answer.\n\n" +
			"--csv reads many sites from rows of CSV with a header, a carrier of a sector in each and the rows of a site together. Its columns are " + siteColumns() + ": the keys of a plan, and an empty field repeats what the rows before say of the site or sector. " +
			"Each site becomes a row; CSV and JSON are written as they are worked out. A row that cannot be used is told with its line, its site is left out, and the exit status is 1.\n\n" +
			"It is a planning estimate, no licence to transmit and no assessment of safety. The exit status is 0 as soon as there is an answer; with --check it is 1 if the link does not carry what the site needs.",
		Example: "spectally site --demo   # the plan of an invented site\n" +
			"spectally site --demo --format html   # the same as a page\n" +
			"spectally site --template   # a plan to fill in\n" +
			"spectally site --demo --explain --format markdown   # with the working",
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.site(cmd, args, &f)
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	flags := cmd.Flags()
	flags.BoolVar(&f.demo, "demo", false, "answer for the plan of an invented site with three sectors")
	flags.BoolVar(&f.template, "template", false, "print a plan to fill in, in place of an answer")
	flags.StringVar(&f.csv, "csv", "", "answer for the many sites of a CSV `FILE`, or - for standard input")
	flags.BoolVar(&f.check, "check", false, "exit with status 1 if the link does not carry what the site needs")
	f.output.Add(flags)
	return cmd
}

func (p *program) site(cmd *cobra.Command, args []string, f *siteFlags) error {
	if cmd.Flags().Changed("csv") {
		return p.sites(cmd, args, f)
	}
	if f.template {
		return p.siteTemplate(cmd, args, f)
	}
	plan, err := f.read(cmd.InOrStdin(), args)
	if err != nil {
		return err
	}
	answer, err := sitereport.Answer(plan)
	if err != nil {
		return err
	}
	if f.check {
		enough, err := sitereport.Enough(plan)
		if err != nil {
			return err
		}
		answer.Refuted = !enough
	}
	if err := p.deliver(p.env(cmd, &f.output), answer); err != nil {
		return err
	}
	if answer.Refuted {
		p.status = command.Refuted
	}
	return nil
}

// siteTemplate prints the plan to fill in.
func (p *program) siteTemplate(cmd *cobra.Command, args []string, f *siteFlags) error {
	switch {
	case len(args) > 0:
		return command.At("--template", errors.New("not beside a FILE: it prints a plan and reads none"))
	case f.demo:
		return command.Conflict("template", "demo", "they print different things")
	case cmd.Flags().Changed("format"):
		return command.Conflict("template", "format", "a plan is a TOML file")
	case f.output.Name != "":
		return p.save(&f.output, []byte(siteplan.Template()))
	}
	p.answer.WriteString(siteplan.Template())
	return nil
}

// read reads the plan that the arguments ask for.
func (f *siteFlags) read(stdin io.Reader, args []string) (*siteplan.Plan, error) {
	switch {
	case f.demo && len(args) > 0:
		return nil, command.At("--demo", errors.New("not beside a FILE: it brings its own plan"))
	case f.demo:
		return siteplan.Read("demo", []byte(siteplan.Demo()))
	case len(args) == 0:
		return nil, command.Absent("FILE", "a site plan, - for standard input, --demo, --template or --csv")
	case len(args) > 1:
		return nil, command.TooMany(args, 1, "one site plan")
	case args[0] == "-":
		data, err := userfile.ReadLimited(stdin)
		if err != nil {
			return nil, command.At(command.Argument(0), userfile.Unreadable("-", err))
		}
		return siteplan.Read("<stdin>", data)
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
	return siteplan.Read(args[0], data)
}
