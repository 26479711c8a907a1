// Package walk is the command that says what the samples of a walk or a drive tell.
package walk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/gpx"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
	"spectally/cmd/internal/walkmodel"
	"spectally/cmd/internal/walkreport"
)

// Files are how files are read: given by a program that has some, and shows how far it
// is with them. The zero value has none but standard input.
type Files struct {
	// Read hands each file to a function, unpacked, in order; - is standard input. The
	// function counts the rows that it has read.
	Read func(env *command.Env, paths []string, take func(name string, in io.Reader, rows *batch.Progress) error) error
	// Bound keeps the memory of a run to a bound, until the function that it returns is
	// called.
	Bound func() func()
	// Track opens the file of a track.
	Track func(path string) (io.ReadCloser, error)
}

// Command describes the command.
func Command(files Files) *command.Command {
	return &command.Command{
		Name:  "walk",
		Usage: "FILE ...",
		Short: "what samples of a walk or drive show: levels, reach, gaps",
		Long: "Reads samples, one a row, from CSV with a header or from JSON lines, packed or not (.gz, .zst), and says by network, band and cell how levels, quality, rates and latency are distributed; what share of the scheduled and the expected rate was reached, by SINR and RSRP; how the level falls with distance and how far it reaches; how bands of one site compare; and where cells change, carriers come and go, and coverage has gaps. Several files count as one. - is standard input.\n\n" +
			"Columns, all optional: " + strings.Join(samples.Fields(), ", ") + ". Units: time in RFC 3339 or seconds since 1970; lat, lon in degrees or x_m, y_m in metres; distance_m from the site; carriers as for the command ca, the serving cell's first; rsrp in dBm, rsrq and sinr in dB; down and up in Mbit/s; latency in ms. " +
			"--map reads a field from a column of another name and unit. --track joins places from a GPX 1.1 track by time.\n\n" +
			"Distances come from distance_m, or from the place and --site. Percentiles are exact up to a million samples of a group, beyond it within 0.1 % for rates and latency. A row that cannot be used, or cannot be (an impossible level, a rate above the carriers' maximum, a place that no vehicle reaches in time), is left out and listed. " +
			"Text is short; --full shows all, as Markdown and HTML do. --geojson, or --output with a name that ends in .geojson, writes a FeatureCollection for a map (RFC 7946).\n\n" +
			"Never read a phone while driving; keep clear of antennas, and respect barriers and private ground.",
		Examples: "spectally walk --demo   # an invented walk\n" +
			"spectally walk --demo --format html   # with drawings, as a page\n" +
			"spectally walk --demo --full --level -105   # all figures, and the reach of -105 dBm\n" +
			"spectally walk --demo --geojson   # for a map",
		Saves:   true,
		Answers: []any{walk.Report{}},
		New: func(set *pflag.FlagSet) command.Answer {
			f := newFlags(set)
			return func(env *command.Env, args []string) (*render.Answer, error) {
				return f.answer(env, args, files)
			}
		},
		Offers: func([]string) command.Offers {
			return command.Offers{Endings: []string{"csv", "tsv", "jsonl", "ndjson", "gz", "zst"}}
		},
	}
}

// answer reads the samples that the arguments ask for.
func (f *flags) answer(env *command.Env, args []string, files Files) (*render.Answer, error) {
	set, err := f.settings(files)
	if err != nil {
		return nil, err
	}
	if files.Bound != nil {
		defer files.Bound()()
	}
	run := &run{collector: walk.New(set), reader: samples.Reader{Map: f.mapping}}
	switch {
	case f.demo && len(args) > 0:
		return nil, command.At("--demo", errors.New("not with a FILE: it has its own samples"))
	case f.demo:
		err = run.demo()
	case len(args) == 0:
		return nil, command.Absent("FILE", "samples as CSV or JSON lines, - for standard input, or --demo")
	case files.Read != nil:
		err = files.Read(env, args, run.take)
	case len(args) == 1 && args[0] == "-":
		err = run.take("standard input", env.Input, new(batch.Progress))
	default:
		return nil, command.At(command.Argument(0), &bands.ValueError{Param: "file", Got: args[0], Allowed: "- for standard input: no files are read here"})
	}
	if err != nil {
		return nil, err
	}
	report := run.collector.Report()
	report.Files = run.names
	if report.Samples == 0 {
		return nil, fmt.Errorf("no sample can be used%s", run.why(report))
	}
	if run.reader.Zoneless {
		report.Assumptions = append(report.Assumptions, "times without a zone are UTC")
	}
	return f.shown(env, report)
}

// shown is the answer in the form that the flags ask for.
func (f *flags) shown(env *command.Env, report *walk.Report) (*render.Answer, error) {
	if f.geojson || strings.HasSuffix(strings.ToLower(env.File.Name), ".geojson") && !env.FormatGiven {
		text, err := render.Render(&render.Answer{Value: func() any { return walkreport.Map(report) }}, render.Options{Format: render.JSON})
		return &render.Answer{Raw: string(text)}, err
	}
	return walkreport.Answer(report), nil
}

// run is samples on their way from files to the collector.
type run struct {
	collector *walk.Collector
	reader    samples.Reader
	names     []string
}

// progressEvery is after how many rows they are counted.
const progressEvery = 512

// take reads a file of samples.
func (r *run) take(name string, in io.Reader, progress *batch.Progress) error {
	r.names = append(r.names, name)
	form, separator := batch.FormOf(name)
	f, err := r.reader.Open(in, form, separator)
	if err != nil {
		return command.At(name, err)
	}
	rows := int64(0)
	for f.Next() {
		if rows++; rows%progressEvery == 0 {
			progress.Rows.Add(progressEvery)
		}
		reason, ok := f.Fault(), false
		if reason == "" {
			reason, ok = r.collector.Add(f.Sample())
		}
		if !ok {
			r.collector.LeaveOut(name, f.Line(), reason)
		}
	}
	if err := f.Err(); err != nil {
		return command.At(name, fmt.Errorf("%w, after line %d", err, f.Line()))
	}
	return nil
}

// demo takes in the invented walk.
func (r *run) demo() error {
	var b bytes.Buffer
	if err := walkmodel.Write(&b, walkmodel.DemoSeed); err != nil {
		return err
	}
	return r.take("demo", &b, new(batch.Progress))
}

// why says what the first row lacks.
func (r *run) why(report *walk.Report) string {
	if len(report.LeftOut) == 0 {
		return ": there are no rows"
	}
	l := &report.LeftOut[0]
	return fmt.Sprintf(": %s:%d: %s", l.File, l.Line, l.Reason)
}

// openTrack reads the track of a flag.
func openTrack(files Files, path string) (*gpx.Track, error) {
	if files.Track == nil {
		return nil, command.At("--track", errors.New("not here: no files are read"))
	}
	in, err := files.Track(path)
	if err != nil {
		return nil, command.At("--track", err)
	}
	defer in.Close()
	track, err := gpx.Read(in)
	if err != nil {
		return nil, command.At("--track", fmt.Errorf("%s: %w", path, err))
	}
	return track, nil
}
