package throughput

import (
	"errors"
	"io"
	"os"
	"strconv"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/devicefile"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/tomlfile"
	"spectally/cmd/internal/userfile"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// options are the flags of the command.
type options struct {
	patterns    flags.Pattern
	control     flags.Whole
	signals     flags.Signals
	lteCell     flags.Cell
	dmrs        flags.DMRS
	xOverhead   flags.Choice
	noBroadcast bool
	airtime     flags.Whole
	sinr        flags.Key
	noiseFigure flags.NoiseFigure
	layers      flags.Key
	ulLayers    flags.Key
	qam         flags.Key
	ulQAM       flags.Key
	device      string
	goodput     bool
	patterned   [bands.NR + 1]bool // technologies of which a carrier took the pattern
}

func (f *options) add(set *pflag.FlagSet) {
	f.control = flags.Whole{Param: "control symbols", Least: 0, Most: 4, Value: -1}
	f.xOverhead = flags.Choice{Param: "xOverhead", Names: flags.XOverheads}
	f.airtime = flags.Whole{Param: "airtime", Least: 1, Most: 100, Value: -1}
	f.sinr = flags.Key{Name: "sinr", Kind: "dB"}
	f.layers = flags.Key{Name: "layers", Kind: "N"}
	f.ulLayers = flags.Key{Name: "ullayers", Kind: "N"}
	f.qam = flags.Key{Name: "qam", Kind: "SIZE"}
	f.ulQAM = flags.Key{Name: "ulqam", Kind: "SIZE"}
	set.Var(&f.patterns, "pattern", "TDD pattern of carriers that give none: DDDSU/10:2:2 for NR, 2/7 for LTE; may be given for both")
	set.Var(&f.layers, "layers", "MIMO layers in the downlink of carriers that give none")
	set.Var(&f.ulLayers, "ullayers", "MIMO layers in the uplink of carriers that give none")
	set.Var(&f.qam, "qam", "constellation size in the downlink of carriers that give none")
	set.Var(&f.ulQAM, "ulqam", "constellation size in the uplink of carriers that give none")
	set.Var(&f.control, "control-symbols", "symbols at the start of a downlink slot or subframe for control; by default 2 in NR (FR2: 1), the fewest in LTE")
	set.Var(&f.signals, "signals", "control and reference signals of NR: an overhead set of TR 37.910, tr37910-1 to tr37910-4, or single ones such as pdcch=1,ssb=8/20,csirs=8/20,trs=20,pucch=1x2,srs=1/10, periods in ms")
	set.Var(&f.lteCell, "lte-cell", "what of LTE cells is not as usual: cp=extended (FDD; TDD patterns end in -ext), mbsfn=6, prs=1/160, uppts=5, crs=, si=, pucch=, srs=")
	set.Var(&f.dmrs, "dmrs", "demodulation reference signals of NR, such as type=1,length=1,pos=2,mapping=A,groups=2; without a key it is 1, 1, 1, A, and as few groups as hold the layers")
	set.Var(&f.xOverhead, "xoverhead", "xOverhead of NR, resource elements that are counted for no data")
	set.BoolVar(&f.noBroadcast, "no-broadcast", false, "leave no slots to synchronisation and broadcast")
	set.Var(&f.airtime, "airtime", "per cent of the time in which the network has the channel of unlicensed bands, both directions together; by default 100")
	set.Var(&f.sinr, "sinr", "SINR of carriers that give none, for the expected rate")
	set.Var(&f.noiseFigure, "noise-figure", "noise figure of the receiver, for rsrp= without sinr=; by default 9")
	set.StringVar(&f.device, "device", "", "`FILE` with what the device can take")
	set.BoolVar(&f.goodput, "goodput", false, "show what is left of the scheduled rate for IP packets and TCP payload")
}

// settings turns the flags into those of a schedule.
func (f *options) settings() throughput.Settings {
	s := throughput.Settings{NoBroadcast: f.noBroadcast, NoiseFigure: f.noiseFigure.Value, SINR: f.sinr.Carrier.SINR, Signals: f.signals.Value, LTE: f.lteCell.Value}
	s.XOverhead, _ = strconv.Atoi(f.xOverhead.String()) // one of its names
	if f.dmrs.IsSet {
		s.DMRS = &f.dmrs.Value
	}
	if f.airtime.Given() {
		s.Airtime = exact.Of(int64(f.airtime.Value), 100)
	}
	switch {
	case f.control.Value == 0:
		s.ControlSymbols = throughput.NoControl
	case f.control.Value > 0:
		s.ControlSymbols = f.control.Value
	}
	return s
}

// fill gives carriers what they do not say and flags do.
func (f *options) fill(list ca.Combination) {
	for i := range list {
		c := &list[i]
		b, err := bands.Lookup(c.Band)
		if err != nil {
			continue // the rules report it
		}
		if c.Pattern == "" && b.Duplex == bands.TDD && !b.LicensedAssisted() {
			c.Pattern = f.patterns.Of(c.Band.RAT)
			f.patterned[c.Band.RAT] = true
		}
		if b.Has(bands.Downlink) {
			c.Layers = either(c.Layers, f.layers.Carrier.Layers)
			c.QAM = either(c.QAM, f.qam.Carrier.QAM)
		}
		if b.Has(bands.Uplink) {
			c.UplinkLayers = either(c.UplinkLayers, f.ulLayers.Carrier.UplinkLayers)
			c.UplinkQAM = either(c.UplinkQAM, f.ulQAM.Carrier.UplinkQAM)
		}
	}
}

func either[T comparable](value, other T) T {
	var none T
	if value == none {
		return other
	}
	return value
}

// readDevice reads the file with the device; nil if none is given.
func (f *options) readDevice() (*throughput.Device, error) {
	if f.device == "" {
		return nil, nil
	}
	file, err := os.Open(f.device)
	if err != nil {
		return nil, command.At("--device", userfile.Unreadable(f.device, err))
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, tomlfile.MaxSize+1))
	if err != nil {
		return nil, command.At("--device", userfile.Unreadable(f.device, err))
	}
	d, err := devicefile.Read(f.device, data)
	if problems, ok := errors.AsType[tomlfile.Problems](err); ok {
		err = &problems[0]
		if more := len(problems) - 1; more > 0 {
			err = &moreProblems{&problems[0], more}
		}
	}
	return d, err
}

// moreProblems is the first of several problems of a file.
type moreProblems struct {
	*tomlfile.Problem
	more int
}

// Error writes the problem on one line.
func (e *moreProblems) Error() string {
	return e.Problem.Error() + " (and " + strconv.Itoa(e.more) + " more)"
}
