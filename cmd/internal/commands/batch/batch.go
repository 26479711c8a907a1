// Package batch is the command that answers rows of combinations and measurements.
package batch

import (
	"errors"
	"fmt"

	"github.com/spf13/pflag"

	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/rowrun"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "batch",
		Usage: "[FILE]",
		Short: "answer millions of rows of carriers and measurements",
		Long: "Reads rows of CSV with a header, or of JSON lines, from a file or standard input, and writes the same rows in the same order with columns added: " +
			columnList() + ". Files whose names end in .gz or .zst are unpacked, and packed when they are written. All cores work; memory stays bounded however long the input is.\n\n" +
			"The column carriers holds a combination as for the command ca, or a name of the standard. The columns down and up, measured rates in Mbit/s, and latency in ms may be there or be empty; " +
			"numbers are plain decimals with a point. Map other column names with --map. Rates are those of the command throughput; a share is the measured rate over the peak, and bit/s/Hz is the measured rate over dl_mhz or ul_mhz.\n\n" +
			"A row that cannot be used does not end the run. It goes to the file of --rejects, with its line number and the reason; without that file it is counted and the exit status is 1. --strict ends the run at the first such row. " +
			"A combination that the standard does not allow is no such row: it has valid false, and the rule of its first error.\n\n" +
			"Output files appear whole or not at all. An interrupted run leaves a part file and a checkpoint beside the output, exit status 130, and --resume goes on from there: the result has the same bytes as that of a run that was not interrupted. " +
			"From standard input to standard output the command is a line filter: with JSON lines, or with --columns for CSV without a header, every part of the input can be run by itself.",
		Examples: "spectally batch rows.csv --output answers.csv --rejects rejects.csv   # a file, with a checkpoint every few seconds\n" +
			"spectally batch rows.csv.gz --output answers.csv.gz --resume   # go on where a run was broken off\n" +
			"spectally batch --map carriers=combo --map down=dl_speed rows.jsonl   # other names of columns, to standard output\n" +
			"spectally batch --columns site,carriers,down   # a line filter for CSV without a header",
		Answers: []any{value{}},
		New: func(set *pflag.FlagSet) command.Answer {
			f := newOptions()
			f.add(set)
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if len(args) > 1 {
					return nil, command.TooMany(args, 1, "one file")
				}
				return run(env, args, f)
			}
		},
	}
}

// run runs the command.
func run(env *command.Env, args []string, f *options) (*render.Answer, error) {
	if env.FormatGiven && f.output == "" {
		return nil, command.At("--format", errors.New("only beside --output, for the summary: rows are written as they are read, see --rows"))
	}
	in, info, closeInput, err := f.open(env.Input, args)
	if err != nil {
		return nil, err
	}
	defer closeInput()
	sink, err := f.sink(env, info)
	if err != nil {
		return nil, err
	}
	defer rowrun.BoundMemory()()
	ctx, stop := rowrun.Interruptible()
	defer stop()
	counts := &batch.Progress{}
	finished := rowrun.Show(env, counts, in.Size)
	sum, err := batch.Run(ctx, in, sink, f.settings, counts)
	finished()
	return report(env, f, &sum, err)
}

// report says how the run went.
func report(env *command.Env, f *options, sum *batch.Summary, err error) (*render.Answer, error) {
	say := func(format string, args ...any) { env.Say("batch", format, args...) }
	goOn := ""
	if sum.Resumable {
		goOn = "; --resume goes on from there"
	}
	if ended := rowrun.Ended(say, err, sum.Rows, goOn); ended != nil {
		return nil, ended
	}
	if err != nil {
		if sum.Rows > 0 {
			err = fmt.Errorf("%w, after %s%s", err, rowrun.RowCount(sum.Rows), goOn)
		}
		return nil, err
	}
	incomplete := sum.Rejected > 0 && f.rejects == ""
	if incomplete {
		for i := range sum.Rejects {
			say("%s", sum.Rejects[i].String())
		}
		if more := sum.Rejected - int64(len(sum.Rejects)); more > 0 {
			say("and %s that cannot be used: --rejects keeps them", rowrun.RowCount(more)+" more")
		}
	}
	if f.output != "" {
		a := answer(f, sum)
		a.Refuted = incomplete
		return a, nil
	}
	if !env.Look.Quiet {
		say("%s", line(sum))
	}
	if incomplete {
		return nil, command.Ended(command.Refuted)
	}
	return nil, nil
}
