package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/words"
)

// The exit statuses of a run that a signal ended, as shells count them.
const (
	statusInterrupted = 128 + int(syscall.SIGINT)
	statusTerminated  = 128 + int(syscall.SIGTERM)
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
	in, size, closeInput, err := f.open(cmd, args)
	if err != nil {
		return err
	}
	defer closeInput()
	sink, err := f.sink(p.stdout)
	if err != nil {
		return err
	}
	defer boundMemory()()
	ctx, stop := interruptible()
	defer stop()
	counts := &batch.Progress{}
	in.Reader = &countingReader{in.Reader, counts}
	unpacked, release, err := batch.Unpack(in.Reader, batch.CompressionOf(in.Name))
	if err != nil {
		return command.At(in.Name, err)
	}
	defer release()
	in.Reader = unpacked
	finished := p.showProgress(cmd.ErrOrStderr(), counts, size)
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

// signalled is why a run is cancelled.
type signalled struct{ signal os.Signal }

func (s *signalled) Error() string { return s.signal.String() }

func (s *signalled) status() int {
	if s.signal == syscall.SIGTERM {
		return statusTerminated
	}
	return statusInterrupted
}

// interruptible is a context that the first interrupt cancels; the second ends the
// program as ever. A closed pipe becomes an error of the write.
func interruptible() (context.Context, func()) {
	ctx, cancel := context.WithCancelCause(context.Background())
	signals := make(chan os.Signal, 1)
	pipes := make(chan os.Signal, 1) // nobody looks: that there is a channel is what matters
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	signal.Notify(pipes, syscall.SIGPIPE)
	done := make(chan struct{})
	go func() {
		select {
		case s := <-signals:
			signal.Stop(signals)
			cancel(&signalled{s})
		case <-done:
		}
	}()
	return ctx, func() {
		signal.Stop(signals)
		signal.Stop(pipes)
		close(done)
		cancel(nil)
	}
}

// countingReader counts what is read of the input as it is stored.
type countingReader struct {
	r      io.Reader
	counts *batch.Progress
}

func (c *countingReader) Read(b []byte) (int, error) {
	n, err := c.r.Read(b)
	c.counts.Bytes.Add(int64(n))
	return n, err
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
