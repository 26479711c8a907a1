// Package holdings is the command that says what can be deployed in blocks of spectrum,
// and what a phone can aggregate of it.
package holdings

import (
	"errors"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/devicefile"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/holdingreport"
	"spectally/cmd/internal/holdings"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/userfile"
	"spectally/throughput"
	"spectally/throughput/holding"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "holdings",
		Usage: "FILE|BLOCKS",
		Short: "what fits in blocks of spectrum, and the best one phone gets",
		Long: "Takes blocks of spectrum and works out, for each, the bands of LTE and NR that have it and the carriers that fit inside its edges: on the channel raster, exactly, with guard bands inside the channel, the uplink a separation away, and a place for the SS/PBCH block. " +
			"Across the blocks it finds the configuration of the standard with the highest scheduled rate or the most megahertz that one phone can have, for LTE, NR and EN-DC, what comes next and what it lacks. With --full it has every band and layout, and what more or other spectrum would add.\n\n" +
			"BLOCKS are ranges in MHz with commas between them, downlink before uplink: \"1805-1825/1710-1730, 3410-3500\". FILE is a TOML file with the blocks of one network or several, or - for standard input; --template prints one to fill in.\n\n" +
			"A channel must lie inside its block, to the hertz. Where the raster allows none, --tolerance 10kHz lets it cross an edge by that much; neighbours often agree on that (TS 38.101-1 clause 5.4.1.1 has spacings of carriers a few kilohertz below and above their widths for the same reason).",
		Examples: "spectally holdings 1805-1825/1710-1730, 3410-3500, 758-768/703-713   # a quick question\n" +
			"spectally holdings --demo   # four networks of an invented country\n" +
			"spectally holdings --demo --full --format html   # all of it, with a picture\n" +
			"spectally holdings 3410-3500 --tolerance 10kHz --full   # with the layouts of every band\n" +
			"spectally holdings --template   # a file to fill in",
		Saves:   true,
		Answers: holdingreport.Answers(),
		New:     newAnswer,
		Offers:  command.OneFile("toml"),
	}
}

// question is what the flags ask.
type question struct {
	file      userfile.Flags
	carriers  flags.Whole
	uplinks   flags.Whole
	width     flags.Width
	tolerance flags.Frequency
	pattern   flags.Pattern
	layers    flags.Key
	ullayers  flags.Key
	qam       flags.Key
	ulqam     flags.Key
	table     flags.Choice
	device    *string
}

func newAnswer(set *pflag.FlagSet) command.Answer {
	q := &question{
		carriers: flags.Whole{Param: "number of carriers", Least: 1, Most: 32, Value: -1},
		uplinks:  flags.Whole{Param: "number of uplink carriers", Least: 1, Most: 32, Value: -1},
		layers:   flags.Key{Name: "layers", Kind: "N"}, ullayers: flags.Key{Name: "ullayers", Kind: "N"},
		qam: flags.Key{Name: "qam", Kind: "SIZE"}, ulqam: flags.Key{Name: "ulqam", Kind: "SIZE"},
		table: flags.Choice{Param: "table", Names: holdingreport.Tables()},
	}
	q.file.Add(set, "answer for four networks of an invented country", "print a file to fill in, in place of an answer")
	set.Var(&q.carriers, "carriers", "downlink carriers that the phone takes at most")
	set.Var(&q.uplinks, "uplink-carriers", "carriers on which it transmits at most")
	set.Var(&q.width, "width", "downlink megahertz that it takes at most")
	set.Var(&q.tolerance, "tolerance", "how far a channel may cross an edge of its block, such as 10kHz")
	set.Var(&q.pattern, "pattern", "TDD pattern of NR carriers")
	set.Var(&q.layers, "layers", "downlink layers of every carrier")
	set.Var(&q.ullayers, "ullayers", "uplink layers of every carrier")
	set.Var(&q.qam, "qam", "downlink constellation of every carrier")
	set.Var(&q.ulqam, "ulqam", "uplink constellation of every carrier")
	set.Var(&q.table, "table", "the table that CSV shows")
	q.device = set.String("device", "", "what the phone can take, from a TOML `FILE`")
	return q.answer
}

func (q *question) answer(env *command.Env, args []string) (*render.Answer, error) {
	kind := userfile.Kind[*holdings.Holdings]{
		Noun: "file", Name: "file of holdings", Flags: "blocks such as 1805-1825/1710-1730, --demo or --template",
		Demo: holdings.Demo, Template: holdings.Template, Read: holdings.Read,
	}
	if q.file.Template {
		return kind.Fill(env, args, &q.file)
	}
	limits, err := q.limits()
	if err != nil {
		return nil, err
	}
	var h *holdings.Holdings
	// Blocks come back with the dash that answers write.
	if text := strings.ReplaceAll(strings.Join(args, " "), "–", "-"); isBlocks(text) {
		if q.file.Demo {
			return nil, command.At("--demo", errors.New("not with blocks: it has its own file"))
		}
		if h, err = holdings.ParseBlocks(text); err != nil {
			return nil, command.At(command.Argument(0), err)
		}
	} else if h, err = kind.Open(env, args, &q.file); err != nil {
		return nil, err
	}
	full := env.Look.Full || env.Look.Explain || env.Look.Format == render.HTML
	return holdingreport.Answer(h, limits, holdingreport.Options{Full: full, Table: q.table.Names[max(0, q.table.Index)]})
}

// isBlocks tells whether an argument is meant as blocks, and not as the name of a file.
func isBlocks(s string) bool {
	return s != "" && s != "-" && strings.Trim(strings.ToLower(s), "0123456789.,-/ mhz") == "" && strings.ContainsAny(s[:1], "0123456789")
}

func (q *question) limits() (l holding.Limits, err error) {
	l = holding.Limits{Carriers: max(0, q.carriers.Value), UplinkCarriers: max(0, q.uplinks.Value), Width: q.width.Value,
		Layers: int(q.layers.Carrier.Layers), UplinkLayers: int(q.ullayers.Carrier.UplinkLayers),
		QAM: int(q.qam.Carrier.QAM), UplinkQAM: int(q.ulqam.Carrier.UplinkQAM), Pattern: q.pattern.Of(bands.NR), Tolerance: q.tolerance.Value}
	if l.Tolerance > maxTolerance {
		return l, command.At("--tolerance", &bands.ValueError{Param: "tolerance", Got: l.Tolerance.String(), Allowed: "at most " + maxTolerance.String()})
	}
	if *q.device != "" {
		l.Device, err = readDevice(*q.device)
	}
	return l, err
}

// maxTolerance bounds what passes an edge to what is a matter of rasters.
const maxTolerance = 500 * bands.KHz

func readDevice(name string) (*throughput.Device, error) {
	kind := userfile.Kind[*throughput.Device]{Name: "device file", Read: devicefile.Read}
	d, err := kind.Open(&command.Env{}, []string{name}, &userfile.Flags{})
	if err != nil {
		return nil, command.At("--device", err)
	}
	return d, nil
}
