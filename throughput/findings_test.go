package throughput

import (
	"fmt"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
	"spectally/throughput/nr"
)

func TestFindings(t *testing.T) {
	for _, test := range []struct {
		carriers, rule string
		severity       ca.Severity
	}{
		{"n78:100", "", 0},
		{"B3:20 + n78:100", "", 0},
		// TS 38.306 V19.2.0 clause 4.1.2: v * Qm * f of at least 4 in standalone operation.
		{"n78:100,layers=1,qam=4", "data-rate-floor", ca.Warning},
		{"n78:100,layers=1,qam=16,scale=0.75", "data-rate-floor", ca.Warning},
		{"n78:100,layers=1,qam=16", "", 0},                 // just 4
		{"B3:20 + n78:100,layers=1,qam=4", "", 0},          // not standalone
		{"n78:100,layers=1,qam=4 + n1:20,layers=4", "", 0}, // not one carrier
		// A UE signals 1, 2, 4 or 8 layers as its most (maxNumberMIMO-LayersPDSCH, TS 38.306
		// V19.2.0 clause 4.2.7.2).
		{"n78:100,layers=3", "layers", ca.Note},
		{"B3:20,layers=6 + n78:100", "layers", ca.Note},
		{"n78:100,layers=8", "", 0},
		// TS 38.214 V19.3.0 clause 5.1.3: a scaling factor lowers DataRate.
		{"n78:100,scale=0.4", "data-rate", ca.Note},
	} {
		r := rate(t, test.carriers)
		found := r.Findings()
		if test.rule == "" {
			if len(found) > 0 {
				t.Errorf("%s: %+v", test.carriers, found)
			}
			continue
		}
		if len(found) == 0 || string(found[0].Rule) != test.rule || found[0].Severity != test.severity || found[0].Carrier != 1 || found[0].Source.Spec == "" {
			t.Errorf("%s: %+v, want %s", test.carriers, found, test.rule)
			continue
		}
		if m := found[0].Message; !strings.HasSuffix(m, ".") || strings.Contains(m, "\n") {
			t.Errorf("%s: %q is no sentence", test.carriers, m)
		}
	}
	if r := rate(t, "n78:100,scale=0.4"); r.Downlink.Scheduled.Cmp(r.Downlink.Max) > 0 {
		t.Errorf("scheduled %v, DataRate %v", r.Downlink.Scheduled, r.Downlink.Max)
	}
}

// The goodput of a link by hand: of n1:20, 19 blocks in 20 ms lose 8 bytes each, and
// of what is left a packet of 1500 bytes has 10 bytes of headers below IP and 40 of
// IP and TCP.
func TestGoodputOfALink(t *testing.T) {
	r := rate(t, "n1:20 + B3:20")
	blocks, err := r.BlockRate(0, bands.Downlink)
	if err != nil || blocks != (exact.Whole(950)) {
		t.Fatalf("%v blocks in a second, %v; want 950", blocks, err)
	}
	g, err := r.Goodput(0, bands.Downlink, &DefaultPacketHeaders, &LTEPacketHeaders)
	if err != nil {
		t.Fatal(err)
	}
	left := r.Carriers[0].Downlink.Scheduled.Add(exact.Whole(-950 * 8 * 8))
	if g.IP.Cmp(left.Mul(exact.Of(1500, 1510))) != 0 || g.TCP.Cmp(left.Mul(exact.Of(1460, 1510))) != 0 {
		t.Errorf("IP %v, TCP %v", g.IP, g.TCP)
	}
	// LTE: two codewords in each of 1000 subframes a second.
	if blocks, err := r.BlockRate(1, bands.Downlink); err != nil || blocks != (exact.Whole(2000)) {
		t.Errorf("%v blocks in a second, %v; want 2000", blocks, err)
	}
	if blocks, err := r.BlockRate(1, bands.Uplink); err != nil || blocks != (exact.Whole(1000)) {
		t.Errorf("%v uplink blocks in a second, %v; want 1000", blocks, err)
	}
	one, err := r.Goodput(1, bands.Downlink, &DefaultPacketHeaders, &LTEPacketHeaders)
	if err != nil {
		t.Fatal(err)
	}
	sum, err := r.GoodputSum(bands.Downlink, &DefaultPacketHeaders, &LTEPacketHeaders)
	if err != nil || sum.IP.Cmp(g.IP.Add(one.IP)) != 0 || sum.TCP.Cmp(g.TCP.Add(one.TCP)) != 0 {
		t.Errorf("sum %+v, %v; parts %+v, %+v", sum, err, g, one)
	}
	none, err := rate(t, "n75:20").GoodputSum(bands.Uplink, &DefaultPacketHeaders, &LTEPacketHeaders)
	if err != nil || none.IP.Num != 0 || none.TCP.Num != 0 {
		t.Errorf("without an uplink: %+v, %v", none, err)
	}
	if _, err := r.Goodput(0, bands.Downlink, &PacketHeaders{}, &LTEPacketHeaders); err == nil {
		t.Error("packets of no bytes are taken")
	}
}

// A supplementary uplink counts unless it is said that the UE does not use it.
func TestSupplementaryUplinkThatIsNotUsed(t *testing.T) {
	r := rate(t, "n78:10,scs=30 + n80:30,ul=0")
	if !r.Carriers[1].Uplink.IsZero() || !r.Carriers[0].Uplink.Counted || r.Uplink.Max.Cmp(r.Carriers[0].Uplink.Max) != 0 {
		t.Errorf("%+v", r.Carriers)
	}
}

// What a schedule leaves out shows in its assumptions.
func TestScheduleAssumptions(t *testing.T) {
	c, err := ca.Parse("B3:20 + n78:100")
	if err != nil {
		t.Fatal(err)
	}
	r, err := Rate(ca.Assess(c))
	if err != nil {
		t.Fatal(err)
	}
	text := func(s Settings) string {
		if err := r.Schedule(s); err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		for _, a := range r.Assumptions() {
			fmt.Fprintln(&b, a.RAT, a.Direction, a.Quantity, a.Value)
		}
		return b.String()
	}
	before := text(Settings{})
	for _, words := range []string{"NR downlink control-symbols \n", "NR downlink broadcast 0\n", "NR none data-rate \n", "NR uplink xoverhead 0\n", "LTE none control-symbols \n", "LTE none broadcast 0\n", "NR none dmrs \n"} {
		if !strings.Contains(before, words) {
			t.Errorf("without settings nothing is said of %q:\n%s", words, before)
		}
	}
	dmrs := nr.DMRS{Type: 2, Length: 1, AdditionalPositions: 2}
	after := text(Settings{ControlSymbols: 3, DMRS: &dmrs, XOverhead: 6, NoBroadcast: true})
	for _, words := range []string{"NR downlink control-symbols 3\n", "NR downlink broadcast \n", "dmrs " + dmrs.String() + "\n", "xoverhead 6\n", "LTE none control-symbols 3\n"} {
		if !strings.Contains(after, words) {
			t.Errorf("with settings nothing is said of %q:\n%s", words, after)
		}
	}
	if none := text(Settings{ControlSymbols: NoControl}); !strings.Contains(none, "NR downlink control-symbols 0\n") {
		t.Error(none)
	}
	// Settings of one run do not stay for the next.
	if again := text(Settings{}); again != before {
		t.Errorf("%s\nis not\n%s", again, before)
	}
}
