package lte

import (
	"math"
	"math/bits"
	"os"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/internal/printed"
)

// sustained is a channel of testdata/lte_sustained_rate.txt.
type sustained struct {
	name       string
	frame      Frame
	rb, layers int
	qm         int
	mbps       string
	blocks     []sustainedBlock
}

type sustainedBlock struct {
	subframes                            []int
	prb, mcs, bits, codeBlocks, channels int
	rate                                 float64
	rateOdd, codeBlocksOdd               bool // printed, but contradicted by the other columns
}

func readSustained(t *testing.T) []sustained {
	t.Helper()
	text, err := os.ReadFile("../../testdata/lte_sustained_rate.txt")
	if err != nil {
		t.Fatal(err)
	}
	var channels []sustained
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		switch {
		case len(f) == 0 || f[0] == "#":
		case f[0] == "channel":
			width, err := bands.ParseMHz(f[4])
			if err != nil {
				t.Fatal(err)
			}
			rb, err := bands.LTEResourceBlocks(width)
			if err != nil {
				t.Fatal(err)
			}
			channels = append(channels, sustained{
				name: f[1] + " (TS 38.101-4 V19.2.2 Table " + f[2] + ")", frame: frame(t, f[3]), rb: rb,
				layers: printed.Int(f[5]), qm: bits.Len(uint(printed.Int(f[6]))) - 1, mbps: f[7],
			})
		default:
			b := sustainedBlock{prb: printed.Int(f[1]), mcs: printed.Int(f[2]), bits: printed.Int(f[3]), channels: printed.Int(f[5])}
			f[4], b.codeBlocksOdd = strings.CutSuffix(f[4], "*")
			b.codeBlocks = printed.Int(f[4])
			for s := range strings.SplitSeq(f[0], ",") {
				b.subframes = append(b.subframes, printed.Int(s))
			}
			f[6], b.rateOdd = strings.CutSuffix(f[6], "*")
			if b.rate, err = strconv.ParseFloat(f[6], 64); err != nil {
				t.Fatal(err)
			}
			last := &channels[len(channels)-1]
			last.blocks = append(last.blocks, b)
		}
	}
	return channels
}

// Every channel: size, code blocks, channel bits and code rate of each subframe,
// and the throughput of a codeword. Code rates are printed to two digits, some
// rounded up; the throughput may be cut after its last digit.
func TestSustainedRate(t *testing.T) {
	channels, rows := readSustained(t), 0
	for _, c := range channels {
		table, err := MCSTableFor(bands.Downlink, c.qm)
		if err != nil {
			t.Fatal(err)
		}
		frameBits := 0
		cell := Cell{RB: c.rb, Frame: c.frame}
		for _, b := range c.blocks {
			m, err := table.MCS(b.mcs)
			if err != nil {
				t.Fatal(err)
			}
			for _, i := range b.subframes {
				if i == 5 {
					cell.SystemInformation = c.rb - b.prb
				}
				got, err := Grant{
					Direction: bands.Downlink, ITBS: m.ITBS, Qm: m.Qm, PRB: b.prb, Layers: c.layers, Subframe: i, Cell: cell,
				}.Transport()
				if err != nil {
					t.Fatalf("%s, subframe %d: %v", c.name, i, err)
				}
				for _, cw := range got.Codewords {
					rate, _ := cw.CodeRate().Float64()
					if cw.Bits != b.bits || (cw.Segmentation.C != b.codeBlocks) != b.codeBlocksOdd || cw.ChannelBits != b.channels {
						t.Errorf("%s, subframe %d: %+v, want %+v", c.name, i, cw, b)
					}
					if (math.Abs(rate-b.rate) > 0.01) != b.rateOdd {
						t.Errorf("%s, subframe %d: code rate %.4f, printed %.2f", c.name, i, rate, b.rate)
					}
					if !cw.Decodable() {
						t.Errorf("%s, subframe %d: code rate %.4f is above 0.932", c.name, i, rate)
					}
				}
				if got.Bits != 2*b.bits || got.CodeBlocks() != 2*got.Codewords[1].Segmentation.C || got.Column != b.prb {
					t.Errorf("%s, subframe %d: %+v", c.name, i, got)
				}
				frameBits += got.Codewords[0].Bits
				rows++
			}
		}
		want, err := strconv.ParseFloat(c.mbps, 64)
		if err != nil {
			t.Fatal(err)
		}
		_, decimals, _ := strings.Cut(c.mbps, ".")
		unit := math.Pow10(-len(decimals))
		if got := float64(frameRate(frameBits)) / 1e6; math.Abs(got-want) >= unit {
			t.Errorf("%s: %.4f Mbit/s, printed %s", c.name, got, c.mbps)
		}
	}
	if len(channels) != 12 || rows != 2*9+4*10+6*6 {
		t.Errorf("%d channels, %d subframes", len(channels), rows)
	}
}

// A scheduler's most is never below what a published channel sends.
func TestScheduleReachesSustainedRate(t *testing.T) {
	for _, c := range readSustained(t) {
		cell := Cell{RB: c.rb, Frame: c.frame}
		for _, b := range c.blocks {
			if b.subframes[0] == 5 {
				cell.SystemInformation = c.rb - b.prb
			}
		}
		s, err := cell.Schedule(bands.Downlink, c.qm, c.layers)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range c.blocks {
			for _, i := range b.subframes {
				if s.Subframes[i].Bits < 2*b.bits {
					t.Errorf("%s, subframe %d: %d bits, the channel has %d", c.name, i, s.Subframes[i].Bits, 2*b.bits)
				}
			}
		}
	}
}
