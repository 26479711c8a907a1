package tbs

import (
	"strconv"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/render"
	"spectally/throughput/nr"
)

// nrCommand describes the command.
func nrCommand() *command.Command {
	return &command.Command{
		Name:  "nr",
		Short: "the size of a transport block of NR, by the steps of TS 38.214",
		Long: "Works out a transport block of NR (PDSCH, or PUSCH with --direction ul): TS 38.214 clauses 5.1.3.2 and 6.1.4.2, code blocks, base graph and CRC by TS 38.212. " +
			"The scheme is an index of an MCS table, or a code rate with a modulation order. " +
			"N_DMRS is given with --dmrs-re, with the CDM groups without data counted, or follows from --dmrs.\n\n" +
			"More than four layers are two codewords: tbs_bits, n_info and code_blocks are then sums over both, and the figures of each are listed.",
		Examples: "spectally tbs nr --prb 273 --symbols 12 --dmrs-re 24 --layers 4 --mcs-table 256qam --mcs 27   # an index of a table\n" +
			"spectally tbs nr --prb 52 --symbols 12 --dmrs-re 12 --rate 490/1024 --qm 6 --xoverhead 6   # a code rate\n" +
			"spectally tbs nr --prb 66 --symbols 12 --start 2 --dmrs pos=1,groups=2 --mcs 13 --explain   # N_DMRS counted, and every step\n" +
			"spectally tbs nr --prb 25 --dmrs-re 36 --mcs-table 64qam-tp --mcs 0 --qm 1   # uplink with pi/2-BPSK\n" +
			"spectally tbs nr --prb 24 --dmrs-re 24 --mcs 4 --slots 2 --format json   # one block over two slots",
		Answers: []any{nrBlockValue{}},
		New: func(set *pflag.FlagSet) command.Answer {
			f := newNRBlockFlags()
			f.add(set)
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if len(args) > 0 {
					return nil, command.TooMany(args, 0, "flags alone")
				}
				b, err := findNRBlock(f)
				if err != nil {
					return nil, err
				}
				return b.answer(), nil
			}
		},
		Offers: command.None,
	}
}

// nrBlockFlags are the flags of the command.
type nrBlockFlags struct {
	prb, layers, symbols, start, dmrsRE, mcs, qm flags.Whole
	xOverhead, table, slots, scaling, direction  flags.Choice
	rate                                         rateFlag
	dmrs                                         flags.DMRS
}

var (
	nrTables     = []string{"64qam", "256qam", "64qam-lowse", "1024qam", "64qam-tp", "64qam-lowse-tp"}
	nrBlockSlots = []string{"1", "2", "4", "8"}
	nrScalings   = []string{"00", "01", "10"}
)

func newNRBlockFlags() *nrBlockFlags {
	return &nrBlockFlags{
		prb:       flags.Whole{Param: "resource blocks", Least: 1, Most: 275, Value: -1},
		layers:    flags.Whole{Param: "layers", Least: 1, Most: 8, Value: 1},
		symbols:   flags.Whole{Param: "symbols", Least: 1, Most: 14, Value: 14},
		start:     flags.Whole{Param: "first symbol", Least: 0, Most: 13, Value: 0},
		dmrsRE:    flags.Whole{Param: "DM-RS resource elements", Least: 0, Most: 167, Value: -1},
		mcs:       flags.Whole{Param: "MCS index", Least: 0, Most: 31, Value: -1},
		qm:        flags.Whole{Param: "modulation order", Least: 1, Most: 10, Value: -1},
		xOverhead: flags.Choice{Param: "xOverhead", Names: flags.XOverheads},
		table:     flags.Choice{Param: "MCS table", Names: nrTables, Index: -1},
		slots:     flags.Choice{Param: "slots of the block", Names: nrBlockSlots},
		scaling:   flags.Choice{Param: "TB scaling field", Names: nrScalings},
		direction: flags.NewDirection(),
	}
}

func (f *nrBlockFlags) add(set *pflag.FlagSet) {
	set.Var(&f.prb, "prb", "allocated resource blocks (required)")
	set.Var(&f.layers, "layers", "MIMO layers; above 4 there are two codewords")
	set.Var(&f.symbols, "symbols", "symbols of the allocation in the slot, those with DM-RS too")
	set.Var(&f.start, "start", "first symbol of the allocation, counted from 0, where N_DMRS is counted")
	set.Var(&f.dmrsRE, "dmrs-re", "N_DMRS: resource elements of a resource block that DM-RS and CDM groups without data take")
	set.Var(&f.dmrs, "dmrs", "in place of --dmrs-re: type=1,length=1,pos=1,mapping=A,groups=2")
	set.Var(&f.xOverhead, "xoverhead", "xOverhead: further resource elements that are counted for no data")
	set.Var(&f.table, "mcs-table", "MCS table of --mcs; 64qam if none is given")
	set.Var(&f.mcs, "mcs", "index of the MCS table")
	set.Var(&f.rate, "rate", "target code rate, with --qm, in place of --mcs")
	set.Var(&f.qm, "qm", "modulation order with --rate: 1, 2, 4, 6, 8 or 10; with --mcs 1 for pi/2-BPSK")
	set.Var(&f.direction, "direction", "downlink or uplink; dl unless a flag is for the uplink alone")
	set.Var(&f.slots, "slots", "slots that one block spans, uplink alone")
	set.Var(&f.scaling, "scaling", "TB scaling field of DCI format 1_0: 00, 01 or 10 for a factor of 1, 1/2 or 1/4")
}

// nrBlock is a transport block of NR with what it follows from.
type nrBlock struct {
	direction   bands.Direction
	alloc       nr.Allocation
	table       nr.MCSTable // none where the code rate was given
	mcs         int
	dmrs        *nr.DMRS // nil where N_DMRS was given
	dmrsSymbols int
	groups      int
	blocks      [2]nr.TransportBlock
	codewords   int
	assumed     []string
}

func findNRBlock(f *nrBlockFlags) (*nrBlock, error) {
	b := &nrBlock{}
	if !f.prb.Given() {
		return nil, command.AbsentFlag("prb", "1 to 275 resource blocks")
	}
	b.alloc = nr.Allocation{PRB: f.prb.Value, Symbols: f.symbols.Value, Layers: f.layers.Value, ScalingField: f.scaling.Index}
	b.alloc.XOverhead, _ = strconv.Atoi(f.xOverhead.String()) // one of the names
	b.alloc.Slots, _ = strconv.Atoi(f.slots.String())
	if err := b.readDirection(f); err != nil {
		return nil, err
	}
	if err := b.readScheme(f); err != nil {
		return nil, err
	}
	if err := b.readDMRS(f); err != nil {
		return nil, err
	}
	if b.table.TransformPrecoding() || b.alloc.Qm == 1 {
		if err := b.alloc.CheckPrecoding(); err != nil {
			flag := "--prb"
			if b.alloc.Layers != 1 {
				flag = "--layers"
			}
			return nil, command.At(flag, err)
		}
	}
	var err error
	b.blocks, b.codewords, err = b.alloc.TransportBlocks()
	return b, err
}

// readDirection takes the direction that was given, or that other flags ask for.
func (b *nrBlock) readDirection(f *nrBlockFlags) error {
	table, _ := nr.ParseMCSTable(f.table.String()) // none if none was given
	var why string
	switch {
	case table.TransformPrecoding():
		why = "the table " + table.String() + ", which is for the uplink"
	case f.slots.Index > 0:
		why = "--slots, which is for the uplink"
	case f.qm.Value == 1:
		why = "pi/2-BPSK, which is for the uplink"
	}
	b.direction = f.direction.Direction()
	switch {
	case b.direction == bands.Downlink && why != "":
		return command.At("--direction", &bands.ValueError{Param: "direction", Got: "dl", Allowed: "ul beside " + why})
	case b.direction == 0 && why != "":
		b.direction = bands.Uplink
	case b.direction == 0:
		b.direction = bands.Downlink
	}
	if b.direction == bands.Uplink && table == nr.MCS1024QAM {
		return command.At("--mcs-table", &bands.ValueError{Param: "MCS table of the uplink", Got: table.String(), Allowed: "64qam, 256qam, 64qam-lowse, 64qam-tp or 64qam-lowse-tp",
			Source: bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 6.1.4.1"}})
	}
	if b.direction == bands.Uplink && f.scaling.Index > 0 {
		return command.At("--scaling", &bands.ValueError{Param: "TB scaling field", Got: f.scaling.String(), Allowed: "none in the uplink: it is for DCI format 1_0",
			Source: bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3.2"}})
	}
	return nil
}

// readScheme finds modulation order and code rate.
func (b *nrBlock) readScheme(f *nrBlockFlags) error {
	switch {
	case f.rate.of != 0 && f.mcs.Given():
		return command.Conflict("rate", "mcs", "give a code rate or an index")
	case f.rate.of != 0 && f.table.Given():
		return command.Conflict("mcs-table", "rate", "a code rate needs no table")
	case f.rate.of != 0 && !f.qm.Given():
		return command.AbsentFlag("qm", "1, 2, 4, 6, 8 or 10, the modulation order beside --rate")
	case f.rate.of != 0:
		b.alloc.Qm, b.alloc.Rate2048 = f.qm.Value, f.rate.of
		return nil
	case !f.mcs.Given():
		return command.AbsentFlag("mcs", "an index of an MCS table, or --rate with --qm in its place")
	}
	name := f.table.String()
	if name == "" {
		name = nr.MCS64QAM.String()
		b.assumed = append(b.assumed, "MCS table 64qam, which holds where no other is configured (TS 38.214 clauses 5.1.3.1 and 6.1.4.1)")
	}
	table, err := nr.ParseMCSTable(name)
	if err != nil {
		return err
	}
	m, err := table.MCS(f.mcs.Value, f.qm.Value == 1)
	if err != nil {
		return command.At("--mcs", err)
	}
	if f.qm.Given() && f.qm.Value != m.Qm {
		return command.At("--qm", &bands.ValueError{Param: "modulation order", Got: f.qm.String(), Allowed: strconv.Itoa(m.Qm) + " for MCS " + f.mcs.String() + " of table " + name, Source: table.Source()})
	}
	b.alloc, b.table, b.mcs = b.alloc.WithMCS(m), table, f.mcs.Value
	return nil
}

// readDMRS takes N_DMRS as given, or counts it.
func (b *nrBlock) readDMRS(f *nrBlockFlags) error {
	if end := f.start.Value + f.symbols.Value; end > 14 {
		return command.At("--symbols", &bands.ValueError{Param: "symbols", Got: f.symbols.String(), Allowed: "1 to " + strconv.Itoa(14-f.start.Value) + " from symbol " + f.start.String() + " on"})
	}
	if f.dmrsRE.Given() {
		if f.dmrs.IsSet {
			return command.Conflict("dmrs", "dmrs-re", "N_DMRS is given or counted")
		}
		b.alloc.DMRSRE = f.dmrsRE.Value
		return nil
	}
	c := f.dmrs.Value
	if !f.dmrs.IsSet {
		c = nr.DefaultDMRS(b.direction, b.alloc.Layers)
		b.assumed = append(b.assumed, "DM-RS "+c.String()+", since neither --dmrs-re nor --dmrs was given (as in most reference channels)")
	}
	b.dmrs = &c
	var err error
	if b.groups, err = c.CDMGroups(b.alloc.Layers); err != nil {
		return err
	}
	duration := b.alloc.Symbols
	if !c.MappingB {
		duration += f.start.Value
	}
	if b.dmrsSymbols = c.Symbols(b.direction, duration); b.dmrsSymbols == 0 {
		return command.At("--symbols", &bands.ValueError{Param: "symbols", Got: f.symbols.String(), Allowed: "an allocation that is long enough for DM-RS " + c.String(), Source: c.Source(b.direction)})
	}
	b.alloc.DMRSRE = c.RE(b.dmrsSymbols, b.groups)
	return nil
}
