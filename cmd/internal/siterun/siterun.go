// Package siterun answers for the many sites of a file of rows, one by one.
package siterun

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"os"
	"strings"
	"time"

	"spectally/bands"
	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commands/site"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/rowrun"
	"spectally/cmd/internal/savefile"
	"spectally/cmd/internal/sitereport"
	"spectally/cmd/internal/siterows"
	"spectally/cmd/internal/words"
)

// Limits of what is kept of a run over many sites.
const (
	shownSites  = 500  // rows of the table for people
	shownFaults = 1000 // lines about rows that cannot be used
)

// rows is a run of the command over many sites.
type rows struct {
	env   *command.Env
	name  string // of the input
	file  *siterows.File
	size  int64 // of the input; 0 if it is not known
	check bool  // fail if a link is too small
	ctx   context.Context

	progress batch.Progress
	faults   []siterows.Fault
	hidden   int64 // faults beyond those
	short    int64 // sites whose link is too small
	counts   siterows.Counts
	elapsed  time.Duration
	err      error // why the run ended early
}

// Many is what the command is given.
func Many() site.Many { return site.Many{Columns: columns(), Run: run} }

// run plans the sites of a CSV file; "-" is standard input.
func run(env *command.Env, path string, check bool) (*render.Answer, error) {
	in, closeInput := batch.Input{Name: "standard input", Reader: env.Input}, func() {}
	if path != "-" {
		var info fs.FileInfo
		var err error
		if in, info, closeInput, err = rowrun.Open(path); err != nil {
			return nil, command.At("--csv", err)
		}
		if there, err := os.Stat(env.File.Name); err == nil && os.SameFile(there, info) {
			closeInput()
			return nil, command.At("--output", &bands.ValueError{Param: "file", Got: env.File.Name, Allowed: "a file other than that of --csv"})
		}
	}
	defer closeInput()
	defer rowrun.BoundMemory()()
	r := &rows{env: env, name: in.Name, size: in.Size, check: check}
	unpacked, release, err := in.Open(&r.progress)
	if err != nil {
		return nil, command.At(in.Name, err)
	}
	defer release()
	if r.file, err = siterows.Open(unpacked); err != nil {
		return nil, command.At(in.Name, err)
	}
	ctx, stop := rowrun.Interruptible() // before anything is written, and until it has its name
	defer stop()
	r.ctx = ctx
	switch format, err := env.Format(); {
	case err != nil:
		return nil, err
	case format == render.JSON, format == render.CSV:
		return nil, r.stream(format)
	}
	return r.document()
}

// errStopped ends a run whose answer cannot be written any further.
var errStopped = errors.New("stopped")

// run hands each site to a function until that returns false.
func (r *rows) run(take func(*siterows.Site) bool) {
	finished := rowrun.Show(r.env, &r.progress, r.size)
	defer finished()
	began := time.Now()
	r.counts, r.err = r.file.Run(r.ctx, siterows.Settings{
		Site: func(s *siterows.Site) error {
			if !sitereport.Carried(s.Capacity) {
				r.short++
			}
			if !take(s) {
				return errStopped
			}
			return nil
		},
		Fault: func(f *siterows.Fault) {
			if len(r.faults) < shownFaults {
				r.faults = append(r.faults, *f)
			} else {
				r.hidden++
			}
		},
	}, &r.progress)
	r.elapsed = time.Since(began)
}

// stream writes the sites one by one, as they are worked out.
func (r *rows) stream(format render.Format) error {
	out := r.env.Output
	var file *savefile.File
	if r.env.File.Name != "" {
		var err error
		if file, err = savefile.Create(r.env.File.Name, r.env.File.Force); err != nil {
			return savefile.Fault(&r.env.File, err)
		}
		out = file
	}
	written := &countingWriter{w: out}
	var err error
	if format == render.JSON {
		err = render.Stream(written, sitesOf(r, func(s *siterows.Site) any { return sitereport.SiteValue(s.Line, s.Capacity) }))
	} else {
		err = render.StreamCSV(written, sitereport.SiteColumns(), sitesOf(r, func(s *siterows.Site) []string { return sitereport.SiteCells(s.Line, s.Capacity) }))
	}
	if file != nil {
		if err != nil || r.err != nil {
			_ = file.Discard() // what has gone wrong before is what matters
		} else if err = file.Commit(); err != nil {
			return savefile.Fault(&r.env.File, err)
		}
	}
	if err != nil && r.err == nil || errors.Is(r.err, errStopped) {
		r.err = &batch.WriteError{Path: r.env.File.Name, Err: err}
	}
	if err := r.report(); err != nil {
		return err
	}
	if !r.env.Look.Quiet {
		if file != nil {
			fmt.Fprintf(r.env.Output, "%s is written, %d kB.\n", words.OneLine(r.env.File.Name), (written.n+999)/1000)
		}
		r.say("%s", r.line())
	}
	if r.refuted() {
		return command.Ended(command.Refuted)
	}
	return nil
}

// sitesOf is what a run makes of each site.
func sitesOf[T any](r *rows, of func(*siterows.Site) T) iter.Seq[T] {
	return func(yield func(T) bool) {
		r.run(func(s *siterows.Site) bool { return yield(of(s)) })
	}
}

// countingWriter counts what is written.
type countingWriter struct {
	w io.Writer
	n int64
}

func (c *countingWriter) Write(b []byte) (int, error) {
	n, err := c.w.Write(b)
	c.n += int64(n)
	return n, err
}

// document shows the sites to people.
func (r *rows) document() (*render.Answer, error) {
	many := sitereport.NewMany(shownSites)
	r.run(func(s *siterows.Site) bool {
		many.Add(s.Capacity)
		return true
	})
	if err := r.report(); err != nil {
		return nil, err
	}
	return &render.Answer{Document: many.Document(r.facts()), Refuted: r.refuted()}, nil
}

// refuted tells that a row cannot be used, or a link is too small.
func (r *rows) refuted() bool { return r.counts.Refused > 0 || r.check && r.short > 0 }

func (r *rows) facts() render.Facts {
	facts := render.Facts{
		{Name: "rows", Value: words.Grouped(r.counts.Rows)},
		{Name: "refused", Value: words.Grouped(r.counts.Refused), Remark: "rows that cannot be used"},
	}
	if r.counts.Without > 0 {
		facts = append(facts, render.Fact{Name: "left out", Value: words.Grouped(r.counts.Left), Remark: "other rows of " + siteCount(r.counts.Without) + " that " + isOrAre(r.counts.Without) + " not worked out for it"})
	}
	return append(facts, render.Fact{Name: "time", Value: rowrun.ShortDuration(r.elapsed), Remark: words.Grouped(int64(rowrun.PerSecond(r.counts.Rows, r.elapsed))) + " rows a second"})
}

// line tells in a line how the run went.
func (r *rows) line() string {
	s := rowrun.RowCount(r.counts.Rows) + ": " + siteCount(r.counts.Sites) + ", " + rowrun.RowCount(r.counts.Refused) + " refused"
	if r.counts.Without > 0 {
		s += ", " + rowrun.RowCount(r.counts.Left) + " of " + siteCount(r.counts.Without) + " left out for it"
	}
	return s + "; " + rowrun.ShortDuration(r.elapsed) + ", " + words.Grouped(int64(rowrun.PerSecond(r.counts.Rows, r.elapsed))) + " rows a second"
}

func siteCount(n int64) string {
	if n == 1 {
		return "1 site"
	}
	return words.Grouped(n) + " sites"
}

func isOrAre(n int64) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func (r *rows) say(format string, args ...any) { r.env.Say("site", format, args...) }

// report tells of the rows that cannot be used and of what ended the run.
func (r *rows) report() error {
	for i := range r.faults {
		r.say("%s:%d: %v", r.name, r.faults[i].Line, r.faults[i].Err)
	}
	if r.hidden > 0 {
		r.say("and %s lines like these", words.Grouped(r.hidden))
	}
	if ended := rowrun.Ended(r.say, r.err, r.counts.Rows, ""); ended != nil {
		return ended
	}
	if r.err != nil {
		return command.At(r.name, fmt.Errorf("%w, after %s", r.err, rowrun.RowCount(r.counts.Rows)))
	}
	return nil
}

// columns lists the columns of a file of sites, for help.
func columns() string {
	var needed, others []string
	for _, c := range siterows.Columns() {
		if c.Required {
			needed = append(needed, c.Name)
		} else {
			others = append(others, c.Name)
		}
	}
	return strings.Join(needed, ", ") + "; and if wanted " + strings.Join(others, ", ")
}
