package cli

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
)

// rateFields are the three figures of the contract.
type rateFields struct {
	Max       json.Number  `json:"max_rate_mbps"`
	Scheduled json.Number  `json:"scheduled_mbps"`
	Expected  *json.Number `json:"expected_mbps"`
	MaxHz     *json.Number `json:"max_bps_hz"`
	IP        *json.Number `json:"ip_mbps"`
	TCP       *json.Number `json:"tcp_mbps"`
}

// equal compares what the pointers hold.
func (r rateFields) equal(other rateFields) bool {
	text := func(r rateFields) string {
		b, err := json.Marshal(r)
		if err != nil {
			panic(err)
		}
		return string(b)
	}
	return text(r) == text(other)
}

type linkFields struct {
	rateFields
	Layers  int         `json:"layers"`
	QAM     int         `json:"qam"`
	SCS     json.Number `json:"scs_khz"`
	RB      int         `json:"n_rb"`
	Width   json.Number `json:"width_mhz"`
	Counted bool        `json:"counted"`
}

type peakFields struct {
	Carriers []struct {
		Carrier int         `json:"carrier"`
		Band    string      `json:"band"`
		Frame   string      `json:"pattern"`
		DLShare float64     `json:"dl_share"`
		DL      *linkFields `json:"dl"`
		UL      *linkFields `json:"ul"`
		Quality *struct {
			SINR     float64 `json:"sinr_db"`
			FromRSRP bool    `json:"from_rsrp"`
			CQI      *int    `json:"cqi"`
			MCS      *int    `json:"mcs"`
			Capped   bool    `json:"capped"`
		} `json:"quality"`
	} `json:"carriers"`
	DL         rateFields `json:"dl"`
	UL         rateFields `json:"ul"`
	UpperBound bool       `json:"upper_bound"`
	Totals     struct {
		DL json.Number `json:"dl_mhz"`
		UL json.Number `json:"ul_mhz"`
	} `json:"totals"`
	Device *struct {
		Name  string `json:"name"`
		Takes string `json:"takes"`
		DL    struct {
			Max json.Number `json:"site_max_rate_mbps"`
		} `json:"dl"`
		Limits []struct {
			Carrier *int   `json:"carrier"`
			Item    string `json:"item"`
			Site    string `json:"site"`
			Device  string `json:"device"`
		} `json:"limits"`
	} `json:"device"`
	Assumptions []struct {
		Text     string `json:"text"`
		Carriers []int  `json:"carriers"`
		Source   *struct {
			Spec string `json:"spec"`
		} `json:"source"`
	} `json:"assumptions"`
	Findings []struct {
		Severity string `json:"severity"`
		Rule     string `json:"rule"`
		Carrier  *int   `json:"carrier"`
	} `json:"findings"`
	Notes    []string `json:"notes"`
	Cautions []string `json:"cautions"`
	Working  []struct {
		Name    string `json:"name"`
		Formula string `json:"formula"`
		Numbers string `json:"numbers"`
		Result  string `json:"result"`
		Source  struct {
			Spec string `json:"spec"`
		} `json:"source"`
	} `json:"working"`
}

func readPeak(t testing.TB, args ...string) (peakFields, int) {
	t.Helper()
	status, out, errs := run(append([]string{"throughput", "--format", "json"}, args...)...)
	if errs != "" {
		t.Fatalf("%v: %s", args, errs)
	}
	var p peakFields
	if err := json.Unmarshal([]byte(out), &p); err != nil {
		t.Fatal(err)
	}
	return p, status
}

func rateOf(t testing.TB, n json.Number) float64 {
	t.Helper()
	v, err := n.Float64()
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Maximum rates: NR by the formula of TS 38.306 V19.2.0 clause 4.1.2 in exact
// arithmetic, LTE by the largest blocks of TS 36.213 V19.3.0 Tables 7.1.7.2.1-1 to
// 7.1.7.2.5-1, as written.
func TestMaximumRates(t *testing.T) {
	for _, test := range []struct{ carriers, dl, ul string }{
		{"n78:100,scs=30,layers=4,qam=256", "2337.00012", "468.758745"},
		{"n78:100,ullayers=2,ulqam=256", "2337.00012", "1250.02332"},
		{"n1:20,layers=4", "453.70332", "91.004445"},
		{"n78:100,scale=0.8", "1869.600096", "375.006996"},
		{"B3:20", "150.752", "75.376"},
		{"B3:20,layers=1,qam=256", "97.896", "75.376"},
		{"B3:20,layers=4,qam=256,ulqam=256", "391.632", "105.528"},
		{"B3:20 + n78:100", "2487.75212", "544.134745"},
		{"n78:100 + n80:20", "2337.00012", "468.758745"},
		{"n80:20", "0", "91.004445"},
		{"n75:50", "577.8297", "0"},
	} {
		p, _ := readPeak(t, test.carriers)
		if p.DL.Max.String() != test.dl || p.UL.Max.String() != test.ul {
			t.Errorf("%s: %s and %s Mbit/s, want %s and %s", test.carriers, p.DL.Max, p.UL.Max, test.dl, test.ul)
		}
		if p.DL.Expected != nil || p.UL.Expected != nil || p.DL.IP != nil {
			t.Errorf("%s: figures that were not asked for: %+v", test.carriers, p.DL)
		}
	}
}

// The fields of a link, of one carrier and of a direction that it does not have.
func TestThroughputFields(t *testing.T) {
	p, status := readPeak(t, "n78:100,layers=2,qam=64 + n75:20 + n1:10")
	if status != command.Good || len(p.Carriers) != 3 {
		t.Fatalf("status %d, %+v", status, p)
	}
	dl := p.Carriers[0].DL
	if dl.Layers != 2 || dl.QAM != 64 || dl.SCS != "30" || dl.RB != 273 || dl.Width != "100" || !dl.Counted || p.Carriers[0].Frame != "DDDSU/10:2:2" || p.Carriers[0].Band != "n78" {
		t.Errorf("%+v", p.Carriers[0])
	}
	if p.Carriers[1].UL != nil || p.Carriers[2].UL != nil || p.Carriers[0].UL == nil {
		t.Error("n78 alone sends: n75 has no uplink, n1 is a secondary cell")
	}
	if p.Totals.DL != "130" || p.Totals.UL != "100" {
		t.Errorf("%+v", p.Totals)
	}
	var sum float64
	for _, c := range p.Carriers {
		sum += rateOf(t, c.DL.Max)
	}
	if math.Abs(sum-rateOf(t, p.DL.Max)) > 1e-6 {
		t.Errorf("the carriers add up to %f, not %s", sum, p.DL.Max)
	}
	if len(p.Assumptions) == 0 || len(p.Cautions) != 1 || len(p.Working) == 0 {
		t.Errorf("%+v, %+v", p.Assumptions, p.Cautions)
	}
	for _, a := range p.Assumptions {
		if a.Text == "" || a.Carriers == nil {
			t.Errorf("%+v", a)
		}
	}
}

// A flag counts for carriers that leave its key out, and for no others.
func TestThroughputFlags(t *testing.T) {
	scheduled := func(args ...string) float64 {
		p, _ := readPeak(t, args...)
		return rateOf(t, p.DL.Scheduled)
	}
	same := func(a, b []string) {
		t.Helper()
		x, _ := readPeak(t, a...)
		y, _ := readPeak(t, b...)
		if !x.DL.equal(y.DL) || !x.UL.equal(y.UL) {
			t.Errorf("%v: %+v, %+v; %v: %+v, %+v", a, x.DL, x.UL, b, y.DL, y.UL)
		}
	}
	same([]string{"n78:100", "--pattern", "7ds2u/6:4:4"}, []string{"n78:100,pattern=7DS2U/6:4:4"})
	same([]string{"B41:20 + n78:100", "--pattern", "2/7", "--pattern", "DDSUU/10:2:2"}, []string{"B41:20,pattern=2/7 + n78:100,pattern=DDSUU/10:2:2"})
	same([]string{"n78:100,pattern=DDDSU/10:2:2", "--pattern", "DDSUU/10:2:2"}, []string{"n78:100,pattern=DDDSU/10:2:2"})
	same([]string{"n1:20 + B3:20,layers=2", "--layers", "4", "--qam", "64"}, []string{"n1:20,layers=4,qam=64 + B3:20,layers=2,qam=64"})
	same([]string{"n78:100", "--ullayers", "2", "--ulqam", "256"}, []string{"n78:100,ullayers=2,ulqam=256"})
	same([]string{"n75:20 + n1:20", "--ullayers", "2"}, []string{"n75:20 + n1:20,ullayers=2"})
	same([]string{"n78:100", "--control-symbols", "2", "--dmrs", "type=1,groups=2", "--xoverhead", "0"}, []string{"n78:100"})
	for _, test := range []struct {
		carriers string
		notes    int
	}{{"n1:20", 2}, {"n78:100", 1}, {"n78:100,pattern=DDDSU", 2}, {"B41:20 + n78:100", 0}} {
		if p, _ := readPeak(t, test.carriers, "--pattern", "2/7", "--pattern", "DDSUU/10:2:2"); len(p.Notes) != test.notes {
			t.Errorf("%s: notes %q, want %d", test.carriers, p.Notes, test.notes)
		}
	}
	all := scheduled("n78:100")
	for _, less := range [][]string{{"--control-symbols", "3"}, {"--dmrs", "pos=2"}, {"--xoverhead", "6"}} {
		if got := scheduled(append([]string{"n78:100"}, less...)...); got >= all {
			t.Errorf("%v: %v Mbit/s, not less than %v", less, got, all)
		}
	}
	for _, more := range [][]string{{"--control-symbols", "0"}, {"--dmrs", "pos=0"}, {"--no-broadcast"}} {
		if got := scheduled(append([]string{"n78:100"}, more...)...); got <= all {
			t.Errorf("%v: %v Mbit/s, not more than %v", more, got, all)
		}
	}
	p, _ := readPeak(t, "B3:20 + n78:100,sinr=5", "--sinr", "10")
	if p.Carriers[0].Quality.SINR != 10 || p.Carriers[1].Quality.SINR != 5 || p.DL.Expected == nil || len(p.Cautions) != 2 {
		t.Errorf("%+v, %+v", p.Carriers, p.Cautions)
	}
	if p, _ := readPeak(t, "B3:20 + n78:100,sinr=5"); p.DL.Expected != nil {
		t.Errorf("expected %v of a combination with an unknown carrier", *p.DL.Expected)
	}
	quiet, _ := readPeak(t, "B3:20,rsrp=-120", "--noise-figure", "5")
	loud, _ := readPeak(t, "B3:20,rsrp=-120")
	if got := quiet.Carriers[0].Quality.SINR - loud.Carriers[0].Quality.SINR; math.Abs(got-4) > 1e-9 || !loud.Carriers[0].Quality.FromRSRP {
		t.Errorf("4 dB less of noise figure are %v dB more", got)
	}
}

// blockBits is the size of a transport block of NR, as the command tbs has it.
func blockBits(t *testing.T, args ...string) int {
	t.Helper()
	var b struct {
		TBS int `json:"tbs_bits"`
	}
	if err := json.Unmarshal([]byte(mustRun(t, append([]string{"tbs", "nr", "--format", "json"}, args...)...)), &b); err != nil {
		t.Fatal(err)
	}
	return b.TBS
}

// Scheduled rates of single carriers, put together from published transport blocks
// in TestReferenceChannels: here slots times size, with the counts of slots by hand.
func TestScheduledByHand(t *testing.T) {
	// n1:20 at 15 kHz: 20 slots of 20 ms but slot 0, 106 blocks, 12 symbols, one group of
	// DM-RS in two symbols (12 elements), two layers, MCS 27 of 256qam.
	p, _ := readPeak(t, "n1:20")
	b := blockBits(t, "--prb", "106", "--symbols", "12", "--dmrs-re", "12", "--layers", "2", "--mcs-table", "256qam", "--mcs", "27")
	if got, want := rateOf(t, p.DL.Scheduled), float64(19*b)/20e3; math.Abs(got-want) > 1e-6 {
		t.Errorf("n1:20 downlink: %v Mbit/s, want %v", got, want)
	}
	// n78:100 at 30 kHz, DDDSU/10:2:2: of 40 slots 24 D but slot 0, and 8 S with 8 symbols
	// behind the control region; DM-RS in two symbols each, two groups for four layers.
	p, _ = readPeak(t, "n78:100")
	full := blockBits(t, "--prb", "273", "--symbols", "12", "--dmrs-re", "24", "--layers", "4", "--mcs-table", "256qam", "--mcs", "27")
	special := blockBits(t, "--prb", "273", "--symbols", "8", "--dmrs-re", "24", "--layers", "4", "--mcs-table", "256qam", "--mcs", "27")
	if got, want := rateOf(t, p.DL.Scheduled), float64(23*full+8*special)/20e3; math.Abs(got-want) > 1e-6 {
		t.Errorf("n78:100 downlink: %v Mbit/s, want %v", got, want)
	}
}

// Combinations that the standard does not allow are rated, with exit status 1.
func TestThroughputFindings(t *testing.T) {
	for carriers, rule := range map[string]string{
		"n78:100@620000":                "in-band",
		"B1:20 + n258:100 + n8:20":      "configuration-listed",
		"n75:20":                        "supplementary-alone",
		"n78:100@640000 + n78:100@6430": "channel-number",
	} {
		p, status := readPeak(t, carriers)
		found := false
		for _, f := range p.Findings {
			found = found || f.Rule == rule && f.Severity == "error"
		}
		if status != command.Refuted || !found || len(p.Carriers) == 0 {
			t.Errorf("%s: status %d, findings %+v, want %s", carriers, status, p.Findings, rule)
		}
	}
	p, status := readPeak(t, "n78:100,scale=0.4")
	if status != command.Good || len(p.Findings) == 0 || p.Findings[0].Rule != "data-rate" {
		t.Errorf("a scaling factor of 0.4: status %d, %+v", status, p.Findings)
	}
	if rateOf(t, p.DL.Scheduled) > rateOf(t, p.DL.Max) {
		t.Errorf("scheduled %s above %s", p.DL.Scheduled, p.DL.Max)
	}
	p, status = readPeak(t, "n78:100,layers=1,qam=4")
	if status != command.Good || len(p.Findings) == 0 || p.Findings[0].Rule != "data-rate-floor" || p.Findings[0].Severity != "warning" {
		t.Errorf("v Qm f of 2: status %d, %+v", status, p.Findings)
	}
}

// A name stands for the widest carriers that the standard lists.
func TestThroughputOfNames(t *testing.T) {
	for name, carriers := range map[string]string{"DC_3A_n78A": "B3:20 + n78:100", "CA_3A-7A": "B3:20 + B7:20", "n78A": "n78:100", "ca_n1a-n78a": "n1:50 + n78:100"} {
		p, status := readPeak(t, name)
		q, _ := readPeak(t, carriers)
		if status != command.Good || !p.UpperBound || q.UpperBound || !p.DL.equal(q.DL) || !p.UL.equal(q.UL) {
			t.Errorf("%s: status %d, %+v; %s: %+v", name, status, p.DL, carriers, q.DL)
		}
	}
}

func TestGoodputLines(t *testing.T) {
	p, _ := readPeak(t, "B3:20 + n78:100", "--goodput")
	for _, r := range []*rateFields{&p.DL, &p.UL, &p.Carriers[0].DL.rateFields, &p.Carriers[1].UL.rateFields} {
		if tcp, ip, all := rateOf(t, *r.TCP), rateOf(t, *r.IP), rateOf(t, r.Scheduled); !(0.9*all < tcp && tcp < ip && ip < all) {
			t.Errorf("TCP %v, IP %v, scheduled %v", tcp, ip, all)
		}
	}
	headers := 0
	for _, a := range p.Assumptions {
		if strings.HasPrefix(a.Text, "IP and TCP, ") {
			headers++
		}
	}
	if headers != 2 {
		t.Errorf("the headers of %d technologies are stated, want 2", headers)
	}
	q, _ := readPeak(t, "n78:100", "--goodput")
	if sum := rateOf(t, *p.Carriers[1].DL.TCP); math.Abs(sum-rateOf(t, *q.DL.TCP)) > 1e-6 {
		t.Errorf("TCP of n78 is %v in a combination and %s alone", sum, *q.DL.TCP)
	}
}
