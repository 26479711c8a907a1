package cli

import (
	"errors"
	"fmt"
	"os"
	"runtime/debug"
	"time"

	"github.com/spf13/cobra"

	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/words"
)

func batchCommand(p *program) *cobra.Command {
	f := newBatchFlags()
	cmd := &cobra.Command{
		Use:   "batch [FILE]",
		Short: "check millions of combinations and measurements, a row each",
		Long: "Reads rows of CSV with a header, or of JSON lines, from a file or standard input, and writes the same rows in the same order with columns added: " +
			columnList() + ". Files whose names end in .gz or .zst are unpacked, and packed when they are written. All cores work; memory stays bounded however long the input is.\n\n" +
			"The column carriers holds a combination as for the command ca, or a name of the standard. The columns down and up, measured rates in Mbit/s, and latency in ms may be there or be empty; " +
			"numbers are plain decimals with a point. Columns of other names are told with --map. Rates are those of the command throughput; a share is the measured rate over the peak, and bit/s/Hz is the measured rate over dl_mhz or ul_mhz.\n\n" +
			"A row that cannot be used does not end the run. It goes to the file of --rejects, with its line number and the reason; without that file it is counted and the exit status is 1. --strict ends the run at the first such row. " +
			"A combination that the standard does not allow is no such row: it has valid false, and the rule of its first error.\n\n" +
			"Output files appear whole or not at all. An interrupted run leaves a part file and a checkpoint beside the output, exit status 130, and --resume goes on from there: the result has the same bytes as that of a run that was not interrupted. " +
			"From standard input to standard output the command is a line filter: with JSON lines, or with --columns for CSV without a header, every part of the input can be run by itself.",
		Example: "spectally batch rows.csv --output answers.csv --rejects rejects.csv   # a file, with a checkpoint every few seconds\n" +
			"spectally batch rows.csv.gz --output answers.csv.gz --resume   # go on where a run was broken off\n" +
			"spectally batch --map carriers=combo --map down=dl_speed rows.jsonl   # other names of columns, to standard output\n" +
			"spectally batch --columns site,carriers,down   # a line filter for CSV without a header",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return command.TooMany(args, 1, "one file")
			}
			return p.batch(cmd, args, f)
		},
	}
	f.add(cmd)
	return cmd
}

// batch runs the command.
func (p *program) batch(cmd *cobra.Command, args []string, f *batchFlags) error {
	in, info, closeInput, err := f.open(cmd, args)
	if err != nil {
		return err
	}
	defer closeInput()
	sink, err := f.sink(p.stdout, info)
	if err != nil {
		return err
	}
	defer boundMemory()()
	ctx, stop := interruptible()
	defer stop()
	counts := &batch.Progress{}
	finished := p.showProgress(cmd.ErrOrStderr(), counts, in.Size)
	sum, err := batch.Run(ctx, in, sink, f.settings, counts)
	finished()
	return p.reportBatch(cmd, f, &sum, err)
}

// usualMemory is how much memory a run keeps to, as far as it can: the collector of
// garbage works harder before it goes beyond. The environment variable GOMEMLIMIT goes
// before.
const usualMemory = 40 << 20

// boundMemory sets the limit and returns what takes it back.
func boundMemory() func() {
	if os.Getenv("GOMEMLIMIT") != "" {
		return func() {}
	}
	before := debug.SetMemoryLimit(usualMemory)
	return func() { debug.SetMemoryLimit(before) }
}

// reportBatch says how the run went.
func (p *program) reportBatch(cmd *cobra.Command, f *batchFlags, sum *batch.Summary, err error) error {
	stderr := cmd.ErrOrStderr()
	say := func(format string, args ...any) {
		fmt.Fprintln(stderr, words.OneLine(cmd.CommandPath()+": "+fmt.Sprintf(format, args...)))
	}
	goOn := ""
	if sum.Resumable {
		goOn = "; --resume goes on from there"
	}
	if s, ok := errors.AsType[*signalled](err); ok {
		say("%s after %s%s", s.signal, rowCount(sum.Rows), goOn)
		p.status = s.status()
		return nil
	}
	if w, ok := errors.AsType[*batch.WriteError](err); ok {
		say("%v, after %s%s", w, rowCount(sum.Rows), goOn)
		p.status = command.Unwritten
		return nil
	}
	if err != nil {
		if sum.Rows > 0 {
			err = fmt.Errorf("%w, after %s%s", err, rowCount(sum.Rows), goOn)
		}
		return err
	}
	if sum.Rejected > 0 && f.rejects == "" {
		for i := range sum.Rejects {
			say("%s", sum.Rejects[i].String())
		}
		if more := sum.Rejected - int64(len(sum.Rejects)); more > 0 {
			say("and %s that cannot be used: --rejects keeps them", rowCount(more)+" more")
		}
		p.status = command.Refuted
	}
	if f.output != "" {
		return p.show(batchAnswer(f, sum))
	}
	if !p.flags.Quiet {
		say("%s", batchLine(sum))
	}
	return nil
}

// perSecond is the rate of rows of this run.
func perSecond(rows int64, t time.Duration) float64 {
	if t <= 0 {
		return 0
	}
	return float64(rows) / t.Seconds()
}
