package cli

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"spectally/throughput"
)

// blockFields are the fields of the contract for one transport block.
type blockFields struct {
	TBS        int          `json:"tbs_bits"`
	RE         *int         `json:"n_re"`
	Info       *float64     `json:"n_info"`
	CodeRate   *json.Number `json:"code_rate"`
	Qm         *int         `json:"qm"`
	CodeBlocks int          `json:"code_blocks"`
	BaseGraph  *int         `json:"base_graph"`
	CRC        *int         `json:"crc_bits"`
	Codewords  []struct {
		Layers        int          `json:"layers"`
		TBS           int          `json:"tbs_bits"`
		Info          float64      `json:"n_info"`
		CodeBlocks    int          `json:"code_blocks"`
		CodeBlockBits any          `json:"code_block_bits"`
		CRC           int          `json:"crc_bits"`
		ChannelBits   int          `json:"channel_bits"`
		CodeRate      *json.Number `json:"code_rate"`
	} `json:"codewords"`
	Assumptions []string `json:"assumptions"`
	Working     []struct {
		Name   string `json:"name"`
		Result string `json:"result"`
	} `json:"working"`
}

func readBlock(t testing.TB, args ...string) blockFields {
	t.Helper()
	args = append([]string{"tbs"}, args...)
	var b blockFields
	if err := json.Unmarshal([]byte(mustRun(t, append(args, "--format", "json")...)), &b); err != nil {
		t.Fatal(err)
	}
	return b
}

// checkFile reads lines of fields from a file of check values, without remarks.
func checkFile(t testing.TB, name string) [][]string {
	t.Helper()
	text, err := os.ReadFile("../../../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var lines [][]string
	for line := range strings.Lines(string(text)) {
		if fields := strings.Fields(line); len(fields) > 0 && fields[0][0] != '#' {
			lines = append(lines, fields)
		}
	}
	return lines
}

// frcCorrections are the values by the clause where a printed one contradicts it.
func frcCorrections(t testing.TB) map[string]string {
	text, err := os.ReadFile("../../../testdata/nr_frc_corrections.txt")
	if err != nil {
		t.Fatal(err)
	}
	list := map[string]string{}
	for line := range strings.Lines(string(text)) {
		if f := strings.Split(strings.TrimSpace(line), " | "); len(f) == 7 {
			list[strings.Join(f[:4], " | ")] = f[5]
		}
	}
	return list
}

// Every reference channel of Annex A of TS 38.101-1 V19.5.0, TS 38.101-2 V19.4.0,
// TS 38.101-4 V19.2.2, TS 38.101-5 V19.4.0 and TS 38.104 V19.4.0, asked for on the
// command line.
func TestReferenceChannels(t *testing.T) {
	corrections := frcCorrections(t)
	var heading []string
	var args []string // of the last channel, without symbols and N_DMRS
	var channel string
	channels, special, values := 0, 0, 0
	check := func(what, printed string, got int) {
		if printed == "-" {
			return
		}
		if strings.HasPrefix(printed, "!") {
			printed = corrections[strings.Join([]string{heading[0] + " " + heading[1], heading[3], channel, what}, " | ")]
		}
		values++
		if strconv.Itoa(got) != printed {
			t.Errorf("%v %s: %s is %d, want %s", heading, channel, what, got, printed)
		}
	}
	block := func(symbols, dmrs string) blockFields {
		return readBlock(t, append(args, "--symbols", symbols, "--dmrs-re", dmrs)...)
	}
	kind := 1
	for _, f := range checkFile(t, "nr_frc.txt") {
		switch {
		case f[0] == "frame":
		case f[0][0] == '[':
			heading = strings.Fields(strings.Trim(strings.Join(f, " "), "[]"))
		case f[0] == "+":
			special, kind = special+1, kind+1
			b := block(f[1], f[2])
			suffix := "_" + strconv.Itoa(kind)
			check("tbs"+suffix, f[3], b.TBS)
			check("crc"+suffix, f[4], *b.CRC)
			check("blocks"+suffix, f[5], b.CodeBlocks)
		default:
			channels, kind, channel = channels+1, 1, f[0]
			args = []string{"nr", "--prb", f[1], "--layers", f[6], "--xoverhead", f[8], "--slots", f[10], "--direction", strings.ToLower(heading[4])}
			switch {
			case f[2] == "-":
				args = append(args, "--rate", f[5]+"/1024", "--qm", f[4])
			case f[4] == "1":
				args = append(args, "--mcs-table", f[2], "--mcs", f[3], "--qm", "1")
			default:
				args = append(args, "--mcs-table", f[2], "--mcs", f[3])
			}
			b := block(f[9], f[7])
			if len(b.Codewords) != 1 || b.Codewords[0].TBS != b.TBS {
				t.Errorf("%v %s: codewords %+v", heading, channel, b.Codewords)
			}
			layers, err := strconv.Atoi(f[6])
			if err != nil {
				t.Fatal(err)
			}
			check("re*layers", f[11], *b.RE*layers)
			check("tbs", f[12], b.TBS)
			check("crc", f[13], *b.CRC)
			check("blocks", f[14], b.CodeBlocks)
			check("graph", f[15], *b.BaseGraph)
			if bits, ok := b.Codewords[0].CodeBlockBits.(float64); !ok {
				t.Errorf("%v %s: code block bits %v", heading, channel, b.Codewords[0].CodeBlockBits)
			} else {
				check("block-bits", f[16], int(bits))
			}
		}
	}
	t.Logf("%d channels, %d further kinds of slot, %d values", channels, special, values)
	if channels != 821 || values < 3000 {
		t.Errorf("%d channels and %d values, want 821 and more than 3000", channels, values)
	}
}

// TS 38.101-4 V19.2.2 Tables A.4-x: each CQI and its transport block.
func TestCQIBlocks(t *testing.T) {
	var h []string
	n := 0
	for _, f := range checkFile(t, "nr_cqi_tbs.txt") {
		if f[0][0] == '[' {
			h = strings.Fields(strings.Trim(strings.Join(f, " "), "[]"))
			continue
		}
		n++
		b := readBlock(t, "nr", "--prb", h[3], "--symbols", h[4], "--layers", h[5], "--dmrs-re", h[6], "--xoverhead", h[7], "--mcs-table", h[2], "--mcs", f[2])
		if strconv.Itoa(b.TBS) != f[5] {
			t.Errorf("%v CQI %s: %d bits, want %s", h, f[0], b.TBS, f[5])
		}
	}
	if n != 128 {
		t.Errorf("%d rows, want 128", n)
	}
}

// Above four layers the sizes are sums, and each codeword has half the layers, the
// first rounded down (TS 38.211 V19.3.0 clause 7.3.1.3).
func TestTwoCodewordsOfNR(t *testing.T) {
	for layers := 5; layers <= 8; layers++ {
		args := []string{"nr", "--prb", "100", "--symbols", "12", "--dmrs-re", "24", "--mcs-table", "256qam", "--mcs", "20", "--layers"}
		b := readBlock(t, append(args, strconv.Itoa(layers))...)
		if len(b.Codewords) != 2 {
			t.Fatalf("%d codewords", len(b.Codewords))
		}
		tbs, blocks, info := 0, 0, 0.0
		for i, want := range []int{layers / 2, layers - layers/2} {
			one := readBlock(t, append(args, strconv.Itoa(want))...)
			c := b.Codewords[i]
			if c.Layers != want || c.TBS != one.TBS || c.CodeBlocks != one.CodeBlocks || c.CRC != *one.CRC || c.Info != *one.Info {
				t.Errorf("%d layers, codeword %d is %+v, want %d layers and %d bits", layers, i, c, want, one.TBS)
			}
			tbs, blocks, info = tbs+one.TBS, blocks+one.CodeBlocks, info+*one.Info
		}
		if b.TBS != tbs || b.CodeBlocks != blocks || *b.Info != info || *b.BaseGraph != 1 || *b.CRC != 24 {
			t.Errorf("%d layers: %+v, want sums %d, %d, %v", layers, b, tbs, blocks, info)
		}
	}
}

// N_DMRS that is counted gives the size that the same N_DMRS gives when it is said.
func TestCountedDMRS(t *testing.T) {
	for _, test := range []struct {
		flags, re string // the second by hand: symbols x groups x 6 (type 1) or 4 (type 2)
	}{
		{"--symbols 12 --start 2 --dmrs type=1,pos=1 --layers 2", "12"},
		{"--symbols 12 --start 2 --dmrs type=1,pos=1,groups=2 --layers 2", "24"},
		{"--symbols 12 --start 2 --dmrs type=2,pos=0 --layers 4", "8"},
		{"--symbols 12 --start 2 --dmrs type=1,length=2,pos=1 --layers 4", "24"},
		{"--symbols 14 --dmrs mapping=B,pos=0,groups=2 --layers 1 --direction ul", "12"},
		{"--symbols 12 --start 2 --layers 2", "12"},
	} {
		args := append([]string{"nr", "--prb", "52", "--mcs-table", "64qam", "--mcs", "16"}, strings.Fields(test.flags)...)
		counted := readBlock(t, args...)
		var plain []string
		for i := 0; i < len(args); i++ {
			if args[i] == "--dmrs" {
				i++
				continue
			}
			plain = append(plain, args[i])
		}
		if said := readBlock(t, append(plain, "--dmrs-re", test.re)...); counted.TBS != said.TBS || *counted.RE != *said.RE {
			t.Errorf("%s: %d bits in %d elements, with --dmrs-re %s %d in %d", test.flags, counted.TBS, *counted.RE, test.re, said.TBS, *said.RE)
		}
	}
}

// The scaling field of TS 38.214 V19.3.0 Table 5.1.3.2-2: 1, 0.5, 0.25.
func TestScalingField(t *testing.T) {
	args := []string{"nr", "--prb", "24", "--symbols", "12", "--dmrs-re", "18", "--mcs-table", "64qam", "--mcs", "5", "--scaling"}
	full := *readBlock(t, append(args, "00")...).Info
	for field, factor := range map[string]float64{"01": 0.5, "10": 0.25} {
		if got := *readBlock(t, append(args, field)...).Info; got != full*factor {
			t.Errorf("scaling %s: N_info %v, want %v", field, got, full*factor)
		}
	}
}

// The sizes of TS 36.213 V19.3.0 Table 7.1.7.2.1-1 by their sums, and Tables
// 7.1.7.2.2-1 and 7.1.7.2.5-1 by the check values of TS 36.306 V19.2.0 Table 4.1-1.
func TestLTEBlocks(t *testing.T) {
	for _, test := range []struct {
		flags string
		bits  int
	}{
		{"--prb 100 --mcs-table 64qam --mcs 28", 75376},
		{"--prb 100 --layers 2 --mcs-table 64qam --mcs 28", 150752}, // category 4
		{"--prb 100 --layers 4 --mcs-table 64qam --mcs 28", 299552}, // category 5
		{"--prb 100 --mcs-table 256qam --mcs 27", 97896},
		{"--prb 100 --layers 4 --mcs-table 256qam --mcs 27", 391632}, // category 11
		{"--prb 100 --itbs 26 --layers 2", 150752},
		{"--prb 100 --direction ul --mcs 28", 75376}, // category 5 and 8, uplink
		{"--prb 100 --mcs 28 --special 7", 55056},    // column 75
		{"--prb 100 --mcs 28 --special 9", 27376},    // column 37
		{"--prb 1 --itbs 0", 16},
	} {
		b := readBlock(t, append([]string{"lte"}, strings.Fields(test.flags)...)...)
		if b.TBS != test.bits || *b.CRC != 24 || b.BaseGraph != nil || b.Info != nil {
			t.Errorf("%s: %+v, want %d bits", test.flags, b, test.bits)
		}
	}
	// The sums of each index over the 110 columns, through the reader of the flags.
	for _, f := range checkFile(t, "lte_tbs_sums.txt") {
		if f[0] != "index" {
			continue
		}
		sum := 0
		for n := 1; n <= throughput.LTEMaxPRB; n++ {
			flags := newLTEBlockFlags()
			for value, err := range map[string]error{f[1]: flags.itbs.Set(f[1]), strconv.Itoa(n): flags.prb.Set(strconv.Itoa(n))} {
				if err != nil {
					t.Fatal(value, err)
				}
			}
			b, err := findLTEBlock(flags)
			if err != nil {
				t.Fatal(err)
			}
			sum += b.value().TBS
		}
		if strconv.Itoa(sum) != f[2] {
			t.Errorf("I_TBS %s: the sizes add up to %d, want %s", f[1], sum, f[2])
		}
	}
}

// The channels of TS 38.101-4 V19.2.2 Tables A.3.2.1.4-x and A.3.2.2.6-x: block,
// code blocks and channel bits of a codeword in each subframe.
func TestLTESustainedChannels(t *testing.T) {
	var channel []string
	n := 0
	for _, f := range checkFile(t, "lte_sustained_rate.txt") {
		if f[0] == "channel" {
			channel = f
			continue
		}
		blocks := map[string]string{"5": "25", "10": "50"}[channel[4]]
		for subframe := range strings.SplitSeq(f[0], ",") {
			args := []string{"lte", "--prb", f[1], "--mcs", f[2], "--mcs-table", channel[6] + "qam", "--layers", channel[5], "--rb", blocks, "--frame", channel[3], "--subframe", subframe}
			if subframe == "5" {
				prb, err := strconv.Atoi(f[1])
				if err != nil {
					t.Fatal(err)
				}
				all, err := strconv.Atoi(blocks)
				if err != nil {
					t.Fatal(err)
				}
				args = append(args, "--system-information", strconv.Itoa(all-prb))
			}
			b := readBlock(t, args...)
			n++
			for _, c := range b.Codewords {
				odd := strings.HasSuffix(f[4], "*")
				if strconv.Itoa(c.TBS) != f[3] || strconv.Itoa(c.ChannelBits) != f[5] || (strconv.Itoa(c.CodeBlocks) != strings.TrimSuffix(f[4], "*")) != odd {
					t.Errorf("%s, subframe %s: %+v, want %v", channel[1], subframe, c, f)
				}
				rate, err := c.CodeRate.Float64()
				if err != nil {
					t.Fatal(err)
				}
				printed, wrong := strings.CutSuffix(f[6], "*")
				want, err := strconv.ParseFloat(printed, 64)
				if err != nil {
					t.Fatal(err)
				}
				if (rate > want+0.01 || rate < want-0.01) != wrong {
					t.Errorf("%s, subframe %s: code rate %v, printed %s", channel[1], subframe, rate, f[6])
				}
			}
			if len(b.Codewords) != 2 || b.TBS != 2*b.Codewords[0].TBS {
				t.Errorf("%s, subframe %s: %+v", channel[1], subframe, b)
			}
		}
	}
	if n != 94 {
		t.Errorf("%d subframes, want 94", n)
	}
}

// Without a subframe nothing is counted; with one the elements are.
func TestLTECountsOnlyWhenAsked(t *testing.T) {
	b := readBlock(t, "lte", "--prb", "50", "--mcs", "10")
	if b.RE != nil || b.CodeRate != nil || b.Qm == nil || *b.Qm != 4 {
		t.Errorf("not counted: %+v", b)
	}
	for _, flags := range []string{"--subframe 3", "--control-symbols 2", "--frame 2/7", "--rb 100", "--crs-ports 2", "--uers", "--system-information 0", "--special 7"} {
		b := readBlock(t, append([]string{"lte", "--prb", "50", "--mcs", "10"}, strings.Fields(flags)...)...)
		if b.RE == nil || *b.RE == 0 || b.CodeRate == nil || len(b.Assumptions) < 2 {
			t.Errorf("%s: %+v", flags, b)
		}
	}
	if b := readBlock(t, "lte", "--prb", "50", "--itbs", "10", "--subframe", "1"); b.RE == nil || b.CodeRate != nil || b.Qm != nil {
		t.Errorf("without a modulation order: %+v", b)
	}
	if b := readBlock(t, "lte", "--prb", "50", "--itbs", "10", "--subframe", "1", "--qm", "4"); b.CodeRate == nil || *b.Qm != 4 {
		t.Errorf("with a modulation order: %+v", b)
	}
}

// Rows of the six-bit table scale the number of blocks (TS 36.213 V19.3.0 clause
// 7.1.7): half of 100 blocks is column 50.
func TestLTEScaledRow(t *testing.T) {
	whole := readBlock(t, "lte", "--prb", "50", "--mcs-table", "6bit", "--mcs", "50", "--scaling", "1")
	half := readBlock(t, "lte", "--prb", "100", "--mcs-table", "6bit", "--mcs", "50", "--scaling", "0.5")
	if whole.TBS != half.TBS || whole.TBS == 0 {
		t.Errorf("50 blocks have %d bits, half of 100 %d", whole.TBS, half.TBS)
	}
}

// Sizes that the standard does not give are an error that names them: 8 layers of 2
// codewords of 4 at the indices without an entry in Table 7.1.7.2.5-1.
func TestLTEGaps(t *testing.T) {
	gaps := 0
	for _, i := range throughput.ITBSValues() {
		for layers := 1; layers <= 8; layers++ {
			_, want := throughput.LTETransportBlock(i, 110, layers)
			status, out, errs := run("tbs", "lte", "--prb", "110", "--itbs", i.String(), "--layers", strconv.Itoa(layers))
			switch {
			case want == nil && status != statusGood:
				t.Errorf("I_TBS %s on %d layers: %s", i, layers, errs)
			case want != nil:
				gaps++
				if status != statusUnusable || out != "" || errs != "spectally tbs lte: "+want.Error()+"\n" || !strings.Contains(errs, "has no entry for") {
					t.Errorf("I_TBS %s on %d layers: exit status %d, %q", i, layers, status, errs)
				}
			}
		}
	}
	t.Logf("%d gaps at 110 blocks", gaps)
}

// Text, JSON and CSV say the same of a block.
func TestFormatsOfBlocksAgree(t *testing.T) {
	for _, args := range []string{
		"nr --prb 273 --symbols 12 --dmrs-re 24 --layers 4 --mcs-table 256qam --mcs 27",
		"nr --prb 10 --symbols 12 --dmrs-re 24 --layers 5 --mcs-table 1024qam --mcs 3",
		"nr --prb 4 --symbols 6 --dmrs-re 12 --rate 120/1024 --qm 2",
		"lte --prb 100 --layers 3 --mcs-table 256qam --mcs 27 --subframe 0",
		"lte --prb 6 --itbs 9",
	} {
		f := strings.Fields(args)
		b := readBlock(t, f...)
		rows, err := csv.NewReader(strings.NewReader(mustRun(t, append([]string{"tbs", "--format", "csv"}, f...)...))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		column := func(key string) int {
			for i, name := range rows[0] {
				if name == key {
					return i
				}
			}
			t.Fatalf("%s: no column %s", args, key)
			return 0
		}
		if len(rows) != 1+len(b.Codewords) {
			t.Fatalf("%s: %d rows for %d codewords", args, len(rows), len(b.Codewords))
		}
		text := mustRun(t, append([]string{"tbs", "--explain"}, f...)...)
		for i, c := range b.Codewords {
			if got := rows[i+1][column("tbs_bits")]; got != strconv.Itoa(c.TBS) {
				t.Errorf("%s: codeword %d has %d bits in JSON and %s in CSV", args, i, c.TBS, got)
			}
			if !strings.Contains(text, fmt.Sprintf("= %d bits\n", c.TBS)) {
				t.Errorf("%s: the working does not come to %d bits", args, c.TBS)
			}
		}
		if !strings.Contains(text, strconv.Itoa(b.TBS)+" ") {
			t.Errorf("%s: the text does not have %d", args, b.TBS)
		}
		for _, step := range b.Working {
			if step.Name == "" || step.Result == "" {
				t.Errorf("%s: step %+v", args, step)
			}
		}
	}
}
