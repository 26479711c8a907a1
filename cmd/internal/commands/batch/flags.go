package batch

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/rowrun"
	"spectally/cmd/internal/words"
	"spectally/data"
)

// options are the flags of the command batch.
type options struct {
	given      func(flag string) bool
	settings   batch.Settings
	rows       flags.Choice
	separator  separatorFlag
	columns    string
	mapping    mapFlag
	prefix     prefixFlag
	workers    workersFlag
	output     string
	rejects    string
	force      bool
	resume     bool
	checkpoint timeFlag
}

func newOptions() *options {
	return &options{rows: flags.Choice{Param: "form of rows", Names: batch.Forms[1:], Index: -1}, mapping: mapFlag{}, checkpoint: timeFlag(5 * time.Second)}
}

func (f *options) add(set *pflag.FlagSet) {
	f.given = set.Changed
	set.StringVarP(&f.output, "output", "o", "", "write the rows to a `FILE`, whole or not at all, in place of standard output")
	set.StringVar(&f.rejects, "rejects", "", "write rows that cannot be used to a `FILE`, with line number and reason")
	set.BoolVar(&f.force, "force", false, "replace files that are there, and drop what a broken run has left")
	set.BoolVar(&f.resume, "resume", false, "go on with a run that was broken off, if there is one")
	set.BoolVar(&f.settings.Strict, "strict", false, "end at the first row that cannot be used")
	set.Var(&f.mapping, "map", "read a field (carriers, down, up, latency) from a column of another name; may be repeated")
	set.Var(&f.rows, "rows", "what the rows are, if neither the name of the file nor its first mark tells")
	set.Var(&f.separator, "separator", "what stands between the fields of CSV")
	set.StringVar(&f.columns, "columns", "", "the names of the columns of CSV that has no header, as a `HEADER` would have them: site,carriers,down")
	set.Var(&f.prefix, "prefix", "put this before the names of the columns that are added")
	set.Var(&f.workers, "workers", "how many rows are answered at once, if not one for each core")
	set.Var(&f.checkpoint, "checkpoint", "the time between checkpoints of a run with --output")
}

// open opens the input. What is known of the file is nil if it is no regular one.
func (f *options) open(input io.Reader, args []string) (in batch.Input, info fs.FileInfo, closeInput func(), err error) {
	if f.settings.Strict && f.rejects != "" {
		return in, nil, nil, command.At("--rejects", fmt.Errorf("not with --strict, which ends at the first row that cannot be used"))
	}
	for name, value := range map[string]string{"--output": f.output, "--rejects": f.rejects} {
		if value == "" && f.given(name[2:]) {
			return in, nil, nil, command.At(name, &bands.ValueError{Param: "file", Got: value, Allowed: "the name of a file"})
		}
	}
	if f.output == "-" {
		f.output = ""
	}
	if f.output == "" && f.resume {
		return in, nil, nil, command.At("--resume", fmt.Errorf("only a run with --output can be resumed"))
	}
	f.settings.Separator, f.settings.Map = f.separator.value, f.mapping
	f.settings.Prefix, f.settings.Workers = string(f.prefix), int(f.workers)
	f.settings.Compress, f.settings.CompressRejects = batch.CompressionOf(f.output), batch.CompressionOf(f.rejects)
	if f.rows.Given() {
		f.settings.Rows = batch.Form(f.rows.Index + 1)
	}
	if f.given("columns") {
		if f.settings.Columns, err = f.columnNames(); err != nil {
			return in, nil, nil, command.At("--columns", err)
		}
	}
	if len(args) == 0 || args[0] == "-" {
		in = batch.Input{Name: "standard input", Reader: input}
		if file, isFile := in.Reader.(*os.File); isFile {
			if info, err := file.Stat(); err == nil && info.Mode().IsRegular() {
				if at, err := file.Seek(0, io.SeekCurrent); err == nil { // the shell may have read a part
					in.Size = info.Size() - at
				}
				return in, info, func() {}, nil
			}
		}
		f.settings.Prompt = f.output == ""
		return in, nil, func() {}, nil
	}
	in, info, closeInput, err = rowrun.Open(args[0])
	if err != nil {
		return in, nil, nil, command.At(command.Argument(0), err)
	}
	if !f.rows.Given() {
		form, separator := batch.FormOf(args[0])
		f.settings.Rows = form
		if f.settings.Separator == 0 {
			f.settings.Separator = separator
		}
	}
	return in, info, closeInput, nil
}

// columnNames are the names of --columns, with the separator of the rows or, if there is
// none of that among them, a comma between them.
func (f *options) columnNames() ([]string, error) {
	separator := f.separator.value
	if strings.IndexByte(f.columns, max(separator, 1)) < 0 {
		separator = ','
	}
	names, err := batch.HeaderNames(f.columns, separator)
	if err != nil {
		return nil, &bands.ValueError{Param: "columns", Got: f.columns, Allowed: "the names of the columns as in a header row, such as site,carriers,down"}
	}
	return names, nil
}

// sink makes what is written to, which is not to be the input.
func (f *options) sink(env *command.Env, input fs.FileInfo) (batch.Sink, error) {
	if f.output != "" {
		return batch.NewFile(batch.Output{
			Path: f.output, Rejects: f.rejects, Force: f.force, Resume: f.resume, Input: input, Every: time.Duration(f.checkpoint), Program: thisProgram(env.Program),
		})
	}
	inUse := []fs.FileInfo{input}
	if file, ok := env.Output.(*os.File); ok {
		if info, err := file.Stat(); err == nil {
			inUse = append(inUse, info)
		}
	}
	return batch.NewStream(env.Output, f.rejects, f.force, inUse...)
}

// thisProgram tells this program from others. The build is a hash of the program's file,
// for the same sources may make another one with another compiler.
func thisProgram(name string) batch.Program {
	p := batch.Program{Name: name, Tables: data.Hash()}
	path, err := os.Executable()
	if err != nil {
		return p
	}
	if file, err := os.Open(path); err == nil {
		defer file.Close()
		sum := sha256.New()
		if _, err := io.Copy(sum, file); err == nil {
			p.Build = hex.EncodeToString(sum.Sum(nil)[:8])
		}
	}
	return p
}

// mapFlag gathers "field=column".
type mapFlag map[string]string

// Set implements pflag.Value.
func (m mapFlag) Set(s string) error {
	field, column, ok := strings.Cut(s, "=")
	if !ok || column == "" {
		return &bands.ValueError{Param: "mapping", Got: s, Allowed: m.Allowed()}
	}
	if !slices.Contains(batch.Fields(), field) {
		return &bands.ValueError{Param: "field", Got: field, Allowed: words.Or(batch.Fields()), Nearest: words.Nearest(field, batch.Fields())}
	}
	if _, twice := m[field]; twice {
		return &bands.ValueError{Param: "field", Got: field, Allowed: "given once"}
	}
	m[field] = column
	return nil
}

// Allowed implements valued.
func (mapFlag) Allowed() string { return "field=column, such as carriers=combination" }

// String implements pflag.Value.
func (m mapFlag) String() string {
	var list []string
	for _, field := range batch.Fields() {
		if column, ok := m[field]; ok {
			list = append(list, field+"="+column)
		}
	}
	return strings.Join(list, " ")
}

// Type implements pflag.Value.
func (mapFlag) Type() string { return "FIELD=COLUMN" }

// separatorFlag is a mark between fields.
type separatorFlag struct{ value byte }

// Set implements pflag.Value.
func (s *separatorFlag) Set(text string) error {
	switch text {
	case ",", ";", "|", "\t":
		s.value = text[0]
	case "tab", `\t`:
		s.value = '\t'
	default:
		return &bands.ValueError{Param: "separator", Got: text, Allowed: s.Allowed()}
	}
	return nil
}

// Allowed implements valued.
func (*separatorFlag) Allowed() string { return "one of , ; | and tab" }

// String implements pflag.Value.
func (s *separatorFlag) String() string {
	switch s.value {
	case 0:
		return ""
	case '\t':
		return "tab"
	}
	return string(s.value)
}

// Type implements pflag.Value.
func (*separatorFlag) Type() string { return "MARK" }

// prefixFlag is the beginning of names.
type prefixFlag string

// Set implements pflag.Value.
func (p *prefixFlag) Set(s string) error {
	for i := range len(s) {
		if c := s[i]; !('a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '_' || c == '-' || c == '.') {
			return &bands.ValueError{Param: "prefix", Got: s, Allowed: p.Allowed()}
		}
	}
	*p = prefixFlag(s)
	return nil
}

// Allowed implements valued.
func (*prefixFlag) Allowed() string { return "letters, digits, _ - and . such as ca_" }

// String implements pflag.Value.
func (p *prefixFlag) String() string { return string(*p) }

// Type implements pflag.Value.
func (*prefixFlag) Type() string { return "TEXT" }

// workersFlag is a number of workers; 0 is one for each core.
type workersFlag int

// Set implements pflag.Value.
func (w *workersFlag) Set(s string) error {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > batch.MaxWorkers {
		return &bands.ValueError{Param: "number of workers", Got: s, Allowed: w.Allowed()}
	}
	*w = workersFlag(n)
	return nil
}

// Allowed implements valued.
func (*workersFlag) Allowed() string { return "1 to " + strconv.Itoa(batch.MaxWorkers) }

// String implements pflag.Value.
func (w *workersFlag) String() string {
	if *w == 0 {
		return ""
	}
	return strconv.Itoa(int(*w))
}

// Type implements pflag.Value.
func (*workersFlag) Type() string { return "NUMBER" }

// timeFlag is a length of time.
type timeFlag time.Duration

// Set implements pflag.Value.
func (t *timeFlag) Set(s string) error {
	d, err := time.ParseDuration(s)
	if err != nil || d < 0 {
		return &bands.ValueError{Param: "time", Got: s, Allowed: t.Allowed()}
	}
	*t = timeFlag(d)
	return nil
}

// Allowed implements valued.
func (*timeFlag) Allowed() string { return "a number and its unit, such as 5s or 2m" }

// String implements pflag.Value.
func (t *timeFlag) String() string { return time.Duration(*t).String() }

// Type implements pflag.Value.
func (*timeFlag) Type() string { return "TIME" }
