package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"spectally/bands"
	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
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

// siteRows is a run of the command over many sites.
type siteRows struct {
	p      *program
	cmd    *cobra.Command
	output *command.File
	name   string // of the input
	file   *siterows.File
	size   int64 // of the input; 0 if it is not known
	check  bool  // fail if a link is too small
	ctx    context.Context

	progress batch.Progress
	faults   []siterows.Fault
	hidden   int64 // faults beyond those
	short    int64 // sites whose link is too small
	counts   siterows.Counts
	elapsed  time.Duration
	err      error // why the run ended early
}

// sites plans the sites of a CSV file; "-" is standard input.
func (p *program) sites(cmd *cobra.Command, args []string, f *siteFlags) error {
	switch {
	case p.keeps:
		return command.At("--csv", errors.New("not here: many sites are answered on the command line alone"))
	case len(args) > 0:
		return command.At("--csv", errors.New("not beside a FILE: it brings its own sites"))
	case f.demo:
		return command.Conflict("csv", "demo", "they bring different sites")
	case f.template:
		return command.Conflict("csv", "template", "a template is a plan of one site")
	}
	in, info, closeInput, err := openRows(cmd, f.csv)
	if err != nil {
		return err
	}
	defer closeInput()
	defer boundMemory()()
	if there, err := os.Stat(f.output.Name); err == nil && info != nil && os.SameFile(there, info) {
		return command.At("--output", &bands.ValueError{Param: "file", Got: f.output.Name, Allowed: "another file than that of --csv"})
	}
	r := &siteRows{p: p, cmd: cmd, output: &f.output, name: in.Name, size: in.Size, check: f.check}
	unpacked, release, err := in.Open(&r.progress)
	if err != nil {
		return command.At(in.Name, err)
	}
	defer release()
	if r.file, err = siterows.Open(unpacked); err != nil {
		return command.At(in.Name, err)
	}
	ctx, stop := interruptible() // before anything is written, and until it has its name
	defer stop()
	r.ctx = ctx
	switch format := r.format(); format {
	case render.JSON, render.CSV:
		return r.stream(format)
	}
	return r.document()
}

// openRows opens a file of rows, or standard input.
func openRows(cmd *cobra.Command, path string) (in batch.Input, info fs.FileInfo, closeInput func(), err error) {
	if path == "-" {
		return batch.Input{Name: "standard input", Reader: cmd.InOrStdin()}, nil, func() {}, nil
	}
	file, err := os.Open(path)
	if err != nil {
		return in, nil, nil, command.At("--csv", fileFault(path, err))
	}
	info, err = file.Stat()
	if err == nil && info.IsDir() {
		err = errors.New("a directory: allowed is a file")
	}
	if err != nil {
		file.Close()
		return in, nil, nil, command.At("--csv", fileFault(path, err))
	}
	in = batch.Input{Name: path, Reader: file, Packed: batch.CompressionOf(path)}
	if info.Mode().IsRegular() {
		in.Size = info.Size()
	}
	return in, info, func() { file.Close() }, nil
}

// format is that of the answer: by the ending of the file where none is asked for.
func (r *siteRows) format() render.Format {
	f := r.p.options().Format
	if by, ok := endings[strings.ToLower(filepath.Ext(r.output.Name))]; ok && !r.cmd.Flags().Changed("format") {
		f = by
	}
	return f
}

// errStopped ends a run whose answer cannot be written any further.
var errStopped = errors.New("stopped")

// run hands each site to a function until that returns false.
func (r *siteRows) run(take func(*siterows.Site) bool) {
	finished := r.p.showProgress(r.cmd.ErrOrStderr(), &r.progress, r.size)
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
func (r *siteRows) stream(format render.Format) error {
	out := io.Writer(r.p.stdout)
	var file *savefile.File
	if r.output.Name != "" {
		var err error
		if file, err = savefile.Create(r.output.Name, r.output.Force); err != nil {
			return saveFault(r.output, err)
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
			return saveFault(r.output, err)
		}
	}
	if err != nil && r.err == nil || errors.Is(r.err, errStopped) {
		r.err = &batch.WriteError{Path: r.output.Name, Err: err}
	}
	if err := r.report(); err != nil || r.err != nil {
		return err
	}
	if !r.p.flags.Quiet {
		if file != nil {
			fmt.Fprintf(&r.p.answer, "%s is written, %d kB.\n", words.OneLine(r.output.Name), (written.n+999)/1000)
		}
		r.say("%s", r.line())
	}
	return nil
}

// sitesOf is what a run makes of each site.
func sitesOf[T any](r *siteRows, of func(*siterows.Site) T) iter.Seq[T] {
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
func (r *siteRows) document() error {
	many := sitereport.NewMany(shownSites)
	r.run(func(s *siterows.Site) bool {
		many.Add(s.Capacity)
		return true
	})
	if err := r.report(); err != nil || r.err != nil {
		return err
	}
	return r.p.deliver(r.p.env(r.cmd, r.output), &render.Answer{Document: many.Document(r.facts())})
}

func (r *siteRows) facts() render.Facts {
	facts := render.Facts{
		{Name: "rows", Value: grouped(r.counts.Rows)},
		{Name: "refused", Value: grouped(r.counts.Refused), Remark: "rows that cannot be used"},
	}
	if r.counts.Without > 0 {
		facts = append(facts, render.Fact{Name: "left out", Value: grouped(r.counts.Left), Remark: "other rows of " + siteCount(r.counts.Without) + " that " + isOrAre(r.counts.Without) + " not worked out for it"})
	}
	return append(facts, render.Fact{Name: "time", Value: shortDuration(r.elapsed), Remark: grouped(int64(perSecond(r.counts.Rows, r.elapsed))) + " rows a second"})
}

// line tells in a line how the run went.
func (r *siteRows) line() string {
	s := rowCount(r.counts.Rows) + ": " + siteCount(r.counts.Sites) + ", " + rowCount(r.counts.Refused) + " refused"
	if r.counts.Without > 0 {
		s += ", " + rowCount(r.counts.Left) + " of " + siteCount(r.counts.Without) + " left out for it"
	}
	return s + "; " + shortDuration(r.elapsed) + ", " + grouped(int64(perSecond(r.counts.Rows, r.elapsed))) + " rows a second"
}

func siteCount(n int64) string {
	if n == 1 {
		return "1 site"
	}
	return grouped(n) + " sites"
}

func isOrAre(n int64) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func (r *siteRows) say(format string, args ...any) {
	fmt.Fprintln(r.cmd.ErrOrStderr(), words.OneLine(r.cmd.CommandPath()+": "+fmt.Sprintf(format, args...)))
}

// report tells of the rows that cannot be used and of what ended the run, and sets the
// exit status.
func (r *siteRows) report() error {
	for i := range r.faults {
		r.say("%s:%d: %v", r.name, r.faults[i].Line, r.faults[i].Err)
	}
	if r.hidden > 0 {
		r.say("and %s lines like these", grouped(r.hidden))
	}
	if r.counts.Refused > 0 || r.check && r.short > 0 {
		r.p.status = command.Refuted
	}
	if s, ok := errors.AsType[*signalled](r.err); ok {
		r.say("%s after %s", s.signal, rowCount(r.counts.Rows))
		r.p.status = s.status()
		return nil
	}
	if w, ok := errors.AsType[*batch.WriteError](r.err); ok {
		r.say("%v, after %s", w, rowCount(r.counts.Rows))
		r.p.status = command.Unwritten
		return nil
	}
	if r.err != nil {
		return command.At(r.name, fmt.Errorf("%w, after %s", r.err, rowCount(r.counts.Rows)))
	}
	return nil
}

// siteColumns lists the columns of a file of sites, for help.
func siteColumns() string {
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
