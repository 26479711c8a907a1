package tbs

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"spectally/cmd/internal/commandtest"
)

// frcCorrections are the values by the clause where a printed one contradicts it.
func frcCorrections(t testing.TB) map[string]string {
	text, err := os.ReadFile("../../../../testdata/nr_frc_corrections.txt")
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
	for _, f := range commandtest.Values(t, "nr_frc.txt") {
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
	for _, f := range commandtest.Values(t, "nr_cqi_tbs.txt") {
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
