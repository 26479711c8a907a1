package tbs

import (
	"strconv"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commandtest"
	"spectally/throughput/lte"
)

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
	for _, f := range commandtest.Values(t, "lte_tbs_sums.txt") {
		if f[0] != "index" {
			continue
		}
		sum := 0
		for n := 1; n <= lte.MaxPRB; n++ {
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
	for _, f := range commandtest.Values(t, "lte_sustained_rate.txt") {
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
	for _, i := range lte.ITBSValues() {
		for layers := 1; layers <= 8; layers++ {
			_, want := lte.TransportBlock(i, 110, layers)
			status, out, errs := commandtest.Run(Command(), "tbs", "lte", "--prb", "110", "--itbs", i.String(), "--layers", strconv.Itoa(layers))
			switch {
			case want == nil && status != command.Good:
				t.Errorf("I_TBS %s on %d layers: %s", i, layers, errs)
			case want != nil:
				gaps++
				if status != command.Unusable || out != "" || errs != "spectally tbs lte: "+want.Error()+"\n" || !strings.Contains(errs, "has no entry for") {
					t.Errorf("I_TBS %s on %d layers: exit status %d, %q", i, layers, status, errs)
				}
			}
		}
	}
	t.Logf("%d gaps at 110 blocks", gaps)
}
