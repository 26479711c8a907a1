// Package importing is the command that reads what phones, modems and tools print.
package importing

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/imports"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/savefile"
	"spectally/cmd/internal/tomlfile"
	"spectally/cmd/internal/userfile"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "import",
		Usage: "FILE",
		Short: "read carriers, levels and tests from phones and tools",
		Long: "Reads what open platforms and general tools state, and writes carriers in the notation, or a field log. FILE, or - for standard input, is recognised by its content: " +
			"the dump of a phone's telephony registry (carriers with role, widths, channel, band and cell identity; levels), a modem manager's JSON (levels), a throughput test's JSON (a run), a ping with its summary (a latency), a transfer's JSON (a transfer), and with --map CSV of any columns.\n\n" +
			"Fields are found by name: unknown ones are ignored, missing ones named. Identities of subscriber, device and network are never read. " +
			"Whether the channel number of NR is that of the carrier centre or of the SS/PBCH block depends on the modem: it stays open, written as ssb=, unless the centre frequency or the raster settles it.\n\n" +
			"--into LOG adds what was read to a field log and changes nothing in it; a log that is not there is begun. --toml prints the tables alone. Columns of CSV are named one by one: --map down=speed:kbit/s --map idle_ms=ping.",
		Examples: "spectally import --demo   # the dump of an invented phone\n" +
			"spectally import --demo --toml   # the same as a table of a field log\n" +
			"spectally import --demo --format json   # with what each channel number is taken for",
		Answers: []any{value{}},
		New: func(set *pflag.FlagSet) command.Answer {
			var f importFlags
			f.add(set)
			return f.answer
		},
		Offers: command.OneFile("txt"),
	}
}

type importFlags struct {
	demo, toml    bool
	maps          []string
	loaded        flags.Choice
	into, network string
}

// The choices of --loaded.
const (
	idle = iota
	loadedDown
	loadedUp
)

func (f *importFlags) add(set *pflag.FlagSet) {
	set.BoolVar(&f.demo, "demo", false, "read the dump of an invented phone")
	set.BoolVar(&f.toml, "toml", false, "print the tables of a field log alone")
	set.StringArrayVar(&f.maps, "map", nil, "read CSV: `FIGURE=COLUMN[:UNIT]`, with "+strings.Join(imports.FigureNames(), ", ")+"; once for each")
	f.loaded = flags.Choice{Param: "load of a ping", Names: []string{idle: "no", loadedDown: "down", loadedUp: "up"}}
	set.Var(&f.loaded, "loaded", "the load under which a ping ran")
	set.StringVar(&f.into, "into", "", "add to the field log `LOG`; nothing in it is changed")
	set.StringVar(&f.network, "network", "", "the `NAME` of the network in LOG that runs belong to")
}

func (f *importFlags) answer(env *command.Env, args []string) (*render.Answer, error) {
	if f.network != "" && f.into == "" {
		return nil, command.At("--network", errors.New("not without --into: it names a network of that log"))
	}
	if f.toml && f.into != "" {
		return nil, command.Conflict("toml", "into", "the tables go to the log")
	}
	options, err := f.options()
	if err != nil {
		return nil, err
	}
	data, place, err := f.input(env.Input, args)
	if err != nil {
		return nil, err
	}
	m, err := imports.Read(data, options)
	if err != nil {
		return nil, command.At(place, err)
	}
	switch {
	case f.toml:
		return nil, f.print(env, m)
	case f.into != "":
		added, err := f.save(m)
		if err != nil {
			return nil, command.At("--into", err)
		}
		return answer(m, added), nil
	}
	return answer(m, ""), nil
}

func (f *importFlags) options() (o imports.Options, err error) {
	for _, text := range f.maps {
		c, err := imports.ParseMap(text)
		if err != nil {
			return o, command.At("--map", err)
		}
		o.Map = append(o.Map, c)
	}
	o.Loaded = [...]bands.Direction{idle: 0, loadedDown: bands.Downlink, loadedUp: bands.Uplink}[f.loaded.Index]
	return o, nil
}

// input reads what the arguments ask for.
func (f *importFlags) input(stdin io.Reader, args []string) (data []byte, place string, err error) {
	switch {
	case f.demo && len(args) > 0:
		return nil, "", command.At("--demo", errors.New("not with a FILE: it has its own dump"))
	case f.demo:
		return []byte(imports.Demo()), "--demo", nil
	case len(args) == 0:
		return nil, "", command.Absent("FILE", "a file, - for standard input, or --demo")
	case len(args) > 1:
		return nil, "", command.TooMany(args, 1, "one file")
	}
	name, place := args[0], command.Argument(0)
	from := stdin
	if name != "-" {
		file, err := os.Open(name)
		if err != nil {
			return nil, "", command.At(place, userfile.Unreadable(name, err))
		}
		defer file.Close()
		from = file
	}
	if data, err = io.ReadAll(io.LimitReader(from, imports.MaxSize+1)); err != nil {
		return nil, "", command.At(place, userfile.Unreadable(name, err))
	}
	return data, place, nil
}

// print writes the tables of a field log.
func (f *importFlags) print(env *command.Env, m *imports.Import) error {
	if env.Output == nil {
		return command.At("--toml", errors.New("must be the command line alone"))
	}
	if env.FormatGiven {
		return command.Conflict("toml", "format", "tables of a field log are TOML")
	}
	text, err := m.Tables()
	if err != nil {
		return command.At("--toml", err)
	}
	_, err = io.WriteString(env.Output, text)
	return err
}

// newTitle is the title of a log that is begun.
const newTitle = "Imported"

// save adds to the log, or begins one, and says what it did.
func (f *importFlags) save(m *imports.Import) (done string, err error) {
	old, err := os.ReadFile(f.into)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		text, err := m.NewLog(newTitle)
		if err != nil {
			return "", err
		}
		return "Begun: " + f.into, savefile.Write(f.into, []byte(text), false)
	case err != nil:
		return "", userfile.Unreadable(f.into, err)
	case len(old) > tomlfile.MaxSize:
		return "", &bands.ValueError{Param: "field log", Got: f.into, Allowed: "a file of a smaller size"}
	}
	text, err := m.Into(f.into, old, f.network)
	if err != nil {
		return "", err
	}
	return "Added to " + f.into, savefile.Write(f.into, text, true)
}
