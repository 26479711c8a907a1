package schema

// Word is a name in JSON and CSV that has one meaning wherever it stands.
type Word struct {
	Name string
	Type string // as JSON Schema names it; "array" of what the name says
	Unit string // empty for none
	What string
}

// String says what the word means, with its unit.
func (w Word) String() string {
	if w.Unit == "" {
		return w.What
	}
	return w.What + ", " + w.Unit
}

// Lookup finds a word of the vocabulary.
func Lookup(name string) (Word, bool) {
	for _, w := range vocabulary {
		if w.Name == name {
			return w, true
		}
	}
	return Word{}, false
}

// Vocabulary lists the words in the order of their names.
func Vocabulary() []Word { return vocabulary[:] }

var vocabulary = [...]Word{
	{"assumptions", "array", "", "what was assumed where the input does not say"},
	{"band", "string", "", "operating band: n78 of NR, B3 of LTE"},
	{"bandwidth_sets", "array", "", "bandwidth combination sets (BCS) that admit the widths"},
	{"base_graph", "integer", "", "LDPC base graph"},
	{"bps_hz", "number", "bit/s/Hz", "rate over the width of the channel"},
	{"bps_hz_layer", "number", "bit/s/Hz", "spectral efficiency of a layer"},
	{"by_band", "object", "", "totals of each band"},
	{"by_duplex", "object", "", "totals of each duplex mode"},
	{"by_range", "object", "", "totals of each frequency range"},
	{"by_rat", "object", "", "totals of each technology"},
	{"by_site", "object", "", "totals of each site, told apart by physical cell identity"},
	{"capped", "boolean", "", "whether the scheduled rate is lower than what the signal supports"},
	{"cautions", "array", "", "what to mind"},
	{"centre_high_mhz", "number", "MHz", "highest centre that the channel may have"},
	{"centre_low_mhz", "number", "MHz", "lowest centre that the channel may have"},
	{"centre_mhz", "number", "MHz", "centre of the channel"},
	{"channel", "integer", "", "channel number of the downlink: NR-ARFCN or EARFCN"},
	{"channel_bits", "integer", "bit", "bits of the channel that carry a transport block"},
	{"code_blocks", "integer", "", "code blocks of a transport block"},
	{"code_rate", "number", "", "information bits over channel bits"},
	{"codewords", "array", "", "the codewords of a transmission"},
	{"contiguous", "boolean", "", "whether neighbours are spaced as contiguous carriers"},
	{"counted", "boolean", "", "whether the link adds to the sum: false for the slower of an uplink and its supplementary uplink"},
	{"cqi", "integer", "", "channel quality indicator that the signal supports"},
	{"crc_bits", "integer", "bit", "check bits of a transport block"},
	{"direction", "string", "", "dl or ul"},
	{"distance_m", "number", "m", "distance"},
	{"dl_equivalent_mhz", "number", "MHz", "downlink bandwidth weighted by the downlink share of time"},
	{"dl_high_mhz", "number", "MHz", "upper edge of the downlink"},
	{"dl_low_mhz", "number", "MHz", "lower edge of the downlink"},
	{"dl_mhz", "number", "MHz", "downlink channel bandwidth, or their sum"},
	{"dl_share", "number", "", "share of time of the downlink"},
	{"duplex", "string", "", "duplex mode: FDD, TDD, SDL, SUL, SDO"},
	{"expected_bps_hz", "number", "bit/s/Hz", "expected rate over the width"},
	{"expected_mbps", "number", "Mbit/s", "rate that the signal supports"},
	{"fallback_of", "array", "", "listed configurations of which this one is a fallback"},
	{"findings", "array", "", "what the check found"},
	{"formula", "string", "", "formula of a step of the working"},
	{"from_rsrp", "boolean", "", "whether the SINR is the ceiling that the RSRP sets"},
	{"high_mhz", "number", "MHz", "upper edge"},
	{"id", "string", "", "name of a band or a configuration"},
	{"ip_mbps", "number", "Mbit/s", "what is left of the scheduled rate for IP packets"},
	{"kind", "string", "", "kind of what is answered"},
	{"layers", "integer", "", "MIMO layers"},
	{"layers_assumed", "boolean", "", "whether the layers were assumed"},
	{"low_mhz", "number", "MHz", "lower edge"},
	{"max_bps_hz", "number", "bit/s/Hz", "maximum rate over the width"},
	{"max_rate_mbps", "number", "Mbit/s", "maximum data rate of the standard"},
	{"mcs", "integer", "", "index of the MCS table"},
	{"mcs_table", "string", "", "MCS table"},
	{"message", "string", "", "finding in one sentence"},
	{"mhz", "number", "MHz", "frequency of a channel, or width of a channel bandwidth"},
	{"min_guard_band_khz", "number", "kHz", "least guard band on each side"},
	{"n_info", "number", "bit", "information bits before quantisation"},
	{"n_rb", "integer", "", "resource blocks of the channel"},
	{"n_re", "integer", "", "resource elements for data"},
	{"note", "string", "", "remark"},
	{"notes", "array", "", "remarks"},
	{"occupied_mhz", "number", "MHz", "spectrum on the air: FDD counts both directions, TDD once"},
	{"pci", "integer", "", "physical cell identity"},
	{"peak_bps_hz", "number", "bit/s/Hz", "peak data rate over the width and the time of the direction, guard time in halves"},
	{"peak_mbps", "number", "Mbit/s", "peak data rate of ITU-R M.2410: every element that the signals leave for data at the highest code rate"},
	{"prb", "integer", "", "resource blocks of an allocation"},
	{"qam", "integer", "", "constellation size: 2 for pi/2-BPSK, 4, 16, 64, 256, 1024"},
	{"qam_assumed", "boolean", "", "whether the constellation was assumed"},
	{"qm", "integer", "bit", "modulation order"},
	{"range", "string", "", "frequency range: FR1, FR2-1 …"},
	{"rat", "string", "", "radio access technology: NR or LTE"},
	{"reason", "string", "", "why"},
	{"refsens_dbm", "number", "dBm", "reference sensitivity that the standard requires: a conducted test figure"},
	{"result", "string", "", "result of a step of the working"},
	{"role", "string", "", "pcell, pscell or scell"},
	{"rows", "integer", "", "number of rows"},
	{"rsrp_dbm", "number", "dBm", "reference signal received power"},
	{"scaling", "number", "", "scaling factor of the maximum rate, or of a transport block"},
	{"schedulable_mbps", "number", "Mbit/s", "the most that any configuration of the standard could schedule: the ceiling of at most"},
	{"scheduled_bps_hz", "number", "bit/s/Hz", "scheduled rate over the width"},
	{"scheduled_mbps", "number", "Mbit/s", "the most a network can schedule in a frame"},
	{"scs_khz", "number", "kHz", "subcarrier spacing"},
	{"seconds", "number", "s", "length of time"},
	{"severity", "string", "", "error, warning or note"},
	{"share", "number", "", "share of time, or of a whole"},
	{"sinr_db", "number", "dB", "signal to interference and noise ratio"},
	{"snr_ceiling_db", "number", "dB", "ceiling of the SINR that the RSRP sets"},
	{"source", "object", "", "where it stands in a standard"},
	{"spec", "string", "", "specification"},
	{"table", "string", "", "table or clause of a specification"},
	{"tbs_bits", "integer", "bit", "size of a transport block"},
	{"tcp_mbps", "number", "Mbit/s", "what is left of the scheduled rate for TCP payload"},
	{"totals", "object", "", "spectrum under each meaning of the word"},
	{"transmits", "boolean", "", "whether the UE transmits on the carrier"},
	{"ul_high_mhz", "number", "MHz", "upper edge of the uplink"},
	{"ul_low_mhz", "number", "MHz", "lower edge of the uplink"},
	{"ul_share", "number", "", "share of time of the uplink"},
	{"version", "string", "", "version of a specification"},
	{"width_mhz", "number", "MHz", "channel bandwidth of a direction"},
	{"working", "array", "", "the working, step by step"},
}
