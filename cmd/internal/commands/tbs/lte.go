package tbs

import (
	"slices"
	"strconv"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput/lte"
)

// lteCommand describes the command.
func lteCommand() *command.Command {
	return &command.Command{
		Name:  "lte",
		Short: "the size of a transport block of LTE, by the tables of TS 36.213",
		Long: "Looks up a transport block of LTE (PDSCH, or PUSCH with --direction ul): TS 36.213 clauses 7.1.7 and 8.6, code blocks by TS 36.212. The index is I_MCS of an MCS table, or I_TBS itself. " +
			"More than one layer are two codewords with the same index: tbs_bits and code_blocks are sums over both, and the figures of each are listed. A size that the standard does not give is an error.\n\n" +
			"Where a subframe is said (--subframe, --special) or what it keeps back (--frame, --rb, --control-symbols, --crs-ports, --uers, --system-information), the resource elements that are left for data are counted, and the effective code rate with them.",
		Examples: "spectally tbs lte --prb 100 --layers 2 --mcs-table 64qam --mcs 28   # an index of a table\n" +
			"spectally tbs lte --prb 50 --itbs 33A   # an index of the size table\n" +
			"spectally tbs lte --prb 100 --layers 2 --mcs 26 --subframe 0 --control-symbols 2 --explain   # with the code rate in a subframe\n" +
			"spectally tbs lte --prb 100 --mcs 28 --special 7   # in a special subframe\n" +
			"spectally tbs lte --prb 96 --mcs 28 --direction ul --format json   # uplink",
		Answers: []any{lteBlockValue{}},
		New: func(set *pflag.FlagSet) command.Answer {
			f := newLTEBlockFlags()
			f.add(set)
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if len(args) > 0 {
					return nil, command.TooMany(args, 0, "flags alone")
				}
				b, err := findLTEBlock(f)
				if err != nil {
					return nil, err
				}
				return b.answer(), nil
			}
		},
		Offers: command.None,
	}
}

// lteBlockFlags are the flags of the command.
type lteBlockFlags struct {
	prb, layers, mcs, qm, subframe, special, rb, control, ports, systemInformation flags.Whole
	table, direction, scaling                                                      flags.Choice
	itbs                                                                           flags.ITBS
	frame                                                                          flags.LTEFrame
	uers                                                                           bool
}

var (
	lteTables   = []string{"64qam", "256qam", "1024qam", "6bit"}
	lteScalings = []string{"0.5", "0.625", "0.75", "0.875", "1"}
)

func newLTEBlockFlags() *lteBlockFlags {
	none := func(param string, least, most int) flags.Whole {
		return flags.Whole{Param: param, Least: least, Most: most, Value: -1}
	}
	return &lteBlockFlags{
		prb:               none("resource blocks", 1, 110),
		layers:            flags.Whole{Param: "layers", Least: 1, Most: 8, Value: 1},
		mcs:               none("I_MCS", 0, 63),
		qm:                none("modulation order", 2, 10),
		subframe:          none("subframe", 0, 9),
		special:           none("special subframe configuration", 0, 10),
		rb:                none("resource blocks of the carrier", 6, 110),
		control:           none("control symbols", 1, 4),
		ports:             none("CRS ports", 1, 4),
		systemInformation: none("resource blocks of system information", 0, 110),
		table:             flags.Choice{Param: "MCS table", Names: lteTables, Index: -1},
		direction:         flags.NewDirection(),
		scaling:           flags.Choice{Param: "altMCS-Table-scaling", Names: lteScalings, Index: -1},
	}
}

func (f *lteBlockFlags) add(set *pflag.FlagSet) {
	set.Var(&f.prb, "prb", "allocated resource blocks (required)")
	set.Var(&f.layers, "layers", "MIMO layers: 1 to 8, in the uplink 1 to 4")
	set.Var(&f.table, "mcs-table", "MCS table of --mcs; 64qam if none is given, 6bit for the six-bit field")
	set.Var(&f.mcs, "mcs", "I_MCS, the index of the MCS table")
	set.Var(&f.itbs, "itbs", "I_TBS, the index of the size table, in place of --mcs")
	set.Var(&f.qm, "qm", "modulation order beside --itbs, for the code rate: 2, 4, 6, 8 or 10")
	set.Var(&f.direction, "direction", "downlink or uplink; dl if none is given")
	set.Var(&f.subframe, "subframe", "subframe in the frame; 0 and 5 have synchronisation signals")
	set.Var(&f.frame, "frame", "frame structure: FDD, or uplink-downlink and special subframe configuration such as 2/7")
	set.Var(&f.special, "special", "special subframe configuration: the block is in a special subframe")
	set.Var(&f.rb, "rb", "resource blocks of the carrier; as many as the block has if none are given")
	set.Var(&f.control, "control-symbols", "symbols of the control region; the fewest if none are given")
	set.Var(&f.ports, "crs-ports", "antenna ports of the cell-specific reference signal: 1, 2 or 4; as many as the layers need if none are given")
	set.BoolVar(&f.uers, "uers", false, "transmit with UE-specific reference signals, as more than four layers always do")
	set.Var(&f.systemInformation, "system-information", "resource blocks of subframe 5 that carry system information")
	set.Var(&f.scaling, "scaling", "altMCS-Table-scaling of the number of resource blocks, for rows of the table 6bit that ask for it")
}

// counts tells whether the resource elements are to be counted.
func (f *lteBlockFlags) counts() bool {
	return f.uers || f.frame.IsSet || slices.ContainsFunc([]flags.Whole{f.subframe, f.special, f.rb, f.control, f.ports, f.systemInformation}, func(w flags.Whole) bool { return w.Given() })
}

// lteBlock is a transport block of LTE with what it follows from.
type lteBlock struct {
	grant   lte.Grant
	table   lte.MCSTable // none where I_TBS was given
	mcs     int
	counted bool // resource elements were counted
	qm      int  // 0 where it is not known
	result  lte.Transport
	assumed []string
}

func findLTEBlock(f *lteBlockFlags) (*lteBlock, error) {
	if !f.prb.Given() {
		return nil, command.AbsentFlag("prb", "1 to 110 resource blocks")
	}
	b := &lteBlock{counted: f.counts()}
	b.grant = lte.Grant{Direction: bands.Downlink, PRB: f.prb.Value, Layers: f.layers.Value}
	if d := f.direction.Direction(); d != 0 {
		b.grant.Direction = d
	}
	if err := b.readIndex(f); err != nil {
		return nil, err
	}
	if err := b.readPlace(f); err != nil {
		return nil, err
	}
	if b.counted {
		b.grant.Qm = b.qm
	}
	var err error
	b.result, err = b.grant.Transport()
	return b, err
}

// readIndex finds I_TBS and the modulation order.
func (b *lteBlock) readIndex(f *lteBlockFlags) error {
	if f.itbs.Value != 0 {
		switch {
		case f.mcs.Given():
			return command.Conflict("itbs", "mcs", "give one of the two indices")
		case f.table.Given():
			return command.Conflict("mcs-table", "itbs", "I_TBS needs no MCS table")
		case f.scaling.Given():
			return command.Conflict("scaling", "itbs", "only rows of the table 6bit are scaled")
		}
		b.grant.ITBS = f.itbs.Value
		if f.qm.Given() {
			if _, err := lte.MCSTableFor(b.grant.Direction, f.qm.Value); err != nil {
				return command.At("--qm", err)
			}
			b.qm = f.qm.Value
		}
		return nil
	}
	if !f.mcs.Given() {
		return command.AbsentFlag("mcs", "an index of an MCS table, or --itbs in its place")
	}
	name := f.table.String()
	if name == "" {
		name = "64qam"
		b.assumed = append(b.assumed, "MCS table 64qam, which holds where no other is configured (TS 36.213 clauses 7.1.7.1 and 8.6.1)")
	}
	table, err := lte.ParseMCSTable(b.grant.Direction, name)
	if err != nil {
		return command.At("--mcs-table", err)
	}
	m, err := table.MCS(f.mcs.Value)
	if err != nil {
		return command.At("--mcs", err)
	}
	if f.qm.Given() && f.qm.Value != m.Qm {
		return command.At("--qm", &bands.ValueError{Param: "modulation order", Got: f.qm.String(), Allowed: strconv.Itoa(m.Qm) + " for MCS " + f.mcs.String() + " of table " + name, Source: table.Source()})
	}
	switch {
	case m.Scaled && !f.scaling.Given():
		return command.AbsentFlag("scaling", words.Or(lteScalings)+", which MCS "+f.mcs.String()+" of the table 6bit asks for")
	case f.scaling.Given() && !m.Scaled:
		return command.At("--scaling", &bands.ValueError{Param: "altMCS-Table-scaling", Got: f.scaling.String(), Allowed: "none with this MCS: only the upper rows of the table 6bit are scaled", Source: table.Source()})
	case m.Scaled && f.scaling.Index < 4:
		b.grant.Scaling = 4 + f.scaling.Index
	}
	b.grant.ITBS, b.table, b.mcs, b.qm = m.ITBS, table, f.mcs.Value, m.Qm
	return nil
}

// readPlace finds the subframe and what it keeps back.
func (b *lteBlock) readPlace(f *lteBlockFlags) error {
	g := &b.grant
	frame := f.frame.Value
	if f.special.Given() {
		switch {
		case f.frame.IsSet:
			return command.Conflict("special", "frame", "the frame structure has it")
		case g.Direction == bands.Uplink:
			return command.At("--special", &bands.ValueError{Param: "special subframe configuration", Got: f.special.String(), Allowed: "none in the uplink: special subframes carry no user data there"})
		}
		var err error
		if frame, err = lte.NewTDD(2, f.special.Value, false); err != nil {
			return command.At("--special", err)
		}
		if !frame.Subframe(1).Carries(bands.Downlink) {
			return command.At("--special", &bands.ValueError{Param: "special subframe configuration", Got: f.special.String(), Allowed: "one whose downlink part is longer than three symbols and carries data",
				Source: bands.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "4.2-1"}})
		}
		b.assumed = append(b.assumed, "uplink-downlink configuration 2 with normal cyclic prefix, which the size does not depend on")
	}
	g.Subframe = b.usualSubframe(frame, f)
	if f.subframe.Given() {
		g.Subframe = f.subframe.Value
	} else if b.counted {
		b.assumed = append(b.assumed, "subframe "+strconv.Itoa(g.Subframe)+", since none was given")
	}
	g.Cell = lte.Cell{Frame: frame, UERS: f.uers, PUCCH: -1}
	if f.rb.Given() {
		g.Cell.RB = f.rb.Value
	}
	if f.control.Given() {
		g.Cell.ControlSymbols = f.control.Value
	}
	if f.ports.Given() {
		g.Cell.CRSPorts = f.ports.Value
	}
	if f.systemInformation.Given() {
		g.Cell.SystemInformation = f.systemInformation.Value
	}
	return nil
}

// usualSubframe is a special subframe where one was asked for, else one that carries
// data of the direction and, if there is one, no synchronisation signal.
func (b *lteBlock) usualSubframe(frame lte.Frame, f *lteBlockFlags) int {
	if f.special.Given() {
		return 1
	}
	for _, n := range [...]int{1, 2, 3, 4, 7, 8, 9, 6, 0, 5} {
		if sub := frame.Subframe(n); sub.Kind != lte.SpecialSubframe && sub.Carries(b.grant.Direction) {
			return n
		}
	}
	return 1
}
