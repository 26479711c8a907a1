// Package site is the command that works out what a site can carry.
package site

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
	"spectally/cmd/internal/sitereport"
	"spectally/cmd/internal/userfile"
	"spectally/cmd/internal/words"
)

// Many answers for the many sites of a file of rows. It is given to the command by
// the command line, which alone can write them while they are worked out.
type Many struct {
	Columns string // of the file, for help
	// Run answers for a file, or for standard input by the name -. With check a link that
	// does not carry what a site needs refutes the answer.
	Run func(env *command.Env, file string, check bool) (*render.Answer, error)
}

// Command describes the command. The zero manySites leaves rows to others.
func Command(many Many) *command.Command {
	return &command.Command{
		Name:  "site",
		Usage: "FILE …",
		Short: "what a site carries: peaks, busy hour, users, backhaul, reach",
		Long: "Reads a site plan and works out, for each carrier, each sector and the site, what one phone and the cell can have at most, the mean of the busy hour with the efficiency it rests on and where that is from, and the rate at the cell edge; then how many users that serves, how much data it moves, what the backhaul needs, what limits, and what single changes would add. The same spectrum with 2, 4, 8, 32 and 64 ports stands side by side, and with a [coverage] table how far each carrier reaches.\n\n" +
			"FILE is a TOML file, or - for standard input. --template prints one to fill in, with every key explained. If something is wrong with it, every problem is reported on a line of its own, with the line of the file, and there is no answer.\n\n" +
			"Several files stand side by side, with what each has more than the first, and so does one plan with itself under --set KEY=VALUE, once for each variant: load_percent=80, backhaul.link=10 Gbit/s, sector.NAME.carriers=n78:100, sector.NAME.radio.NAME.ports=8T8R; several settings of one variant have a semicolon between them. A plan may keep its variants as [[option]] tables, and with [growth] it says when each sector is full.\n\n" +
			"--csv reads many sites from rows of CSV with a header, a carrier of a sector in each and the rows of a site together. Its columns are " + many.Columns + ": the keys of a plan, and an empty field repeats what the rows before say of the site or sector, their names too. " +
			"Each site becomes a row; CSV and JSON are written as they are worked out. Rejected rows are reported with their line number, their sites are left out, and the exit status is 1.\n\n" +
			"It is a planning estimate, no licence to transmit and no assessment of safety. The exit status is 0 as soon as there is an answer; with --check it is 1 if the link does not carry what the site needs.",
		Examples: "spectally site --demo   # the plan of an invented site\n" +
			"spectally site --demo --format html   # the same as a page\n" +
			"spectally site --template   # a plan to fill in\n" +
			"spectally site --demo --set sector.town.load_percent=90   # the plan with and without a setting\n" +
			"spectally site --demo --explain --format markdown   # with the working",
		Saves:   true,
		Answers: sitereport.Answers(),
		New: func(set *pflag.FlagSet) command.Answer {
			var f userfile.Flags
			f.Add(set, "answer for the plan of an invented site with three sectors", "print a plan to fill in, in place of an answer")
			rows := set.String("csv", "", "answer for the many sites of a CSV `FILE`, or - for standard input")
			check := set.Bool("check", false, "exit with status 1 if the link does not carry what the site needs")
			table := set.String("table", "", "the table of the answer that CSV has, by its `TITLE` in small letters: capacity, users-in-the-busy-hour; the usual one has a row for each carrier, each sector and the site")
			var settings settings
			set.Var(&settings, "set", "compare the plan with itself under settings, such as sector.town.carriers=n78:100; may be given several times")
			plan := userfile.Kind[*siteplan.Plan]{
				Noun: "plan", Name: "site plan", Flags: "--demo, --template or --csv",
				Demo: siteplan.Demo, Template: siteplan.Template, Read: siteplan.Read,
			}
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if set.Changed("csv") {
					return many.answer(env, args, *rows, *check, &f)
				}
				if f.Template {
					return plan.Fill(env, args, &f)
				}
				answer, err := (*render.Answer)(nil), error(nil)
				if len(args) > 1 || len(settings.list) > 0 {
					answer, err = sideBySide(&plan, env, args, &f, settings.list)
				} else {
					var read *siteplan.Plan
					if read, err = plan.Open(env, args, &f); err == nil {
						answer, err = planAnswer(read, *check)
					}
				}
				if err == nil && *table != "" {
					err = choose(answer, *table)
				}
				if err != nil {
					return nil, err
				}
				return answer, nil
			}
		},
		Offers: command.OneFile("toml"),
	}
}

// choose makes a table of the document the one that CSV shows.
func choose(a *render.Answer, name string) error {
	names, tables := render.Sheets(a.Shown(render.Options{Full: true}).Document)
	i := slices.Index(names, strings.ToLower(name))
	if i < 0 {
		return command.At("--table", &bands.ValueError{Param: "table", Got: name, Allowed: strings.Join(names, ", "), Nearest: words.Nearest(name, names)})
	}
	a.Data = tables[i]
	return nil
}

// errSet is told where settings and several plans are asked for.
var errSet = errors.New("not with several FILEs: it makes variants of one plan")

func planAnswer(plan *siteplan.Plan, check bool) (*render.Answer, error) {
	answer, err := sitereport.Answer(plan)
	if err != nil || !check {
		return answer, err
	}
	enough, err := sitereport.Enough(plan)
	answer.Refuted = !enough
	return answer, err
}

// answer answers for rows, if the flags ask for nothing else.
func (m *Many) answer(env *command.Env, args []string, file string, check bool, f *userfile.Flags) (*render.Answer, error) {
	switch {
	case m.Run == nil:
		return nil, command.At("--csv", errors.New("not here: many sites are answered on the command line alone"))
	case len(args) > 0:
		return nil, command.At("--csv", errors.New("not with a FILE: it has its own sites"))
	case f.Demo:
		return nil, command.Conflict("csv", "demo", "they have different sites")
	case f.Template:
		return nil, command.Conflict("csv", "template", "a template is a plan of one site")
	}
	return m.Run(env, file, check)
}
