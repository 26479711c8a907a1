// Package field is the command that reports on a field log.
package field

import (
	"github.com/spf13/pflag"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/fieldreport"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/userfile"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "field",
		Usage: "FILE",
		Short: "report a field log: measured against possible, claims judged",
		Long: "Reads what was written down at a site and works out what it means: for each network its spectrum, the configuration of the standard, what its carriers can yield and what the tests reached of it, latency under load, transfers, and which carriers may belong together; then the networks side by side, and every claim with its verdict and working.\n\n" +
			"FILE is a TOML file, or - for standard input. --template prints one to fill in, with every key explained. If something is wrong with it, every problem is reported on a line of its own, with the line of the file, and no report is made.\n\n" +
			"With --format html, or --output and a name that ends in .html, the report is one page that holds all it needs: no script, and nothing to load. It prints, and it can be read on a phone. " +
			"The exit status is 0 as soon as there is a report; with --check it is 1 if a claim fails or the standard does not allow what the log has.",
		Examples: "spectally field --demo   # the report of an invented scenario\n" +
			"spectally field --demo --format html   # the same as a page\n" +
			"spectally field --template   # a log to fill in\n" +
			"spectally field --demo --format markdown --explain   # with the working of every claim",
		Saves:   true,
		Answers: []any{fieldlog.Report{}},
		New: func(set *pflag.FlagSet) command.Answer {
			var f userfile.Flags
			f.Add(set, "report on a log of an invented scenario with three networks", "print a log to fill in, in place of a report")
			earlier := set.String("earlier", "", "show what has changed since an earlier log, a `FILE`")
			check := set.Bool("check", false, "exit with status 1 if a claim fails or carriers are not allowed")
			log := userfile.Kind[*fieldlog.Log]{
				Noun: "log", Name: "field log", Flags: "--demo or --template",
				Demo: fieldlog.Demo, Template: fieldlog.Template, Read: fieldlog.Read,
			}
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if f.Template {
					return log.Fill(env, args, &f)
				}
				read, err := log.Open(env, args, &f)
				if err != nil {
					return nil, err
				}
				var before *fieldlog.Log
				if *earlier != "" {
					if before, err = log.OpenAt(env, "--earlier", *earlier); err != nil {
						return nil, err
					}
					if err := fieldlog.CheckEarlier(read, before); err != nil {
						return nil, command.At("--earlier", err)
					}
				}
				report := fieldlog.AnalyseBeside(read, before)
				answer := fieldreport.Answer(report)
				answer.Refuted = *check && !fieldreport.Holds(report)
				return answer, nil
			}
		},
		Offers: command.OneFile("toml"),
	}
}
