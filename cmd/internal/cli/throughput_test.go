package cli

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
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
		Frame   string      `json:"frame"`
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
	if status != statusGood || len(p.Carriers) != 3 {
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

// Scheduled rates of single carriers, put together from published transport blocks
// in TestReferenceChannels: here slots times size, with the counts of slots by hand.
func TestScheduledByHand(t *testing.T) {
	// n1:20 at 15 kHz: 20 slots of 20 ms but slot 0, 106 blocks, 12 symbols, one group of
	// DM-RS in two symbols (12 elements), two layers, MCS 27 of 256qam.
	p, _ := readPeak(t, "n1:20")
	b := readBlock(t, "nr", "--prb", "106", "--symbols", "12", "--dmrs-re", "12", "--layers", "2", "--mcs-table", "256qam", "--mcs", "27")
	if got, want := rateOf(t, p.DL.Scheduled), float64(19*b.TBS)/20e3; math.Abs(got-want) > 1e-6 {
		t.Errorf("n1:20 downlink: %v Mbit/s, want %v", got, want)
	}
	// n78:100 at 30 kHz, DDDSU/10:2:2: of 40 slots 24 D but slot 0, and 8 S with 8 symbols
	// behind the control region; DM-RS in two symbols each, two groups for four layers.
	p, _ = readPeak(t, "n78:100")
	full := readBlock(t, "nr", "--prb", "273", "--symbols", "12", "--dmrs-re", "24", "--layers", "4", "--mcs-table", "256qam", "--mcs", "27")
	special := readBlock(t, "nr", "--prb", "273", "--symbols", "8", "--dmrs-re", "24", "--layers", "4", "--mcs-table", "256qam", "--mcs", "27")
	if got, want := rateOf(t, p.DL.Scheduled), float64(23*full.TBS+8*special.TBS)/20e3; math.Abs(got-want) > 1e-6 {
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
		if status != statusRefuted || !found || len(p.Carriers) == 0 {
			t.Errorf("%s: status %d, findings %+v, want %s", carriers, status, p.Findings, rule)
		}
	}
	p, status := readPeak(t, "n78:100,scale=0.4")
	if status != statusGood || len(p.Findings) == 0 || p.Findings[0].Rule != "data-rate" {
		t.Errorf("a scaling factor of 0.4: status %d, %+v", status, p.Findings)
	}
	if rateOf(t, p.DL.Scheduled) > rateOf(t, p.DL.Max) {
		t.Errorf("scheduled %s above %s", p.DL.Scheduled, p.DL.Max)
	}
	p, status = readPeak(t, "n78:100,layers=1,qam=4")
	if status != statusGood || len(p.Findings) == 0 || p.Findings[0].Rule != "data-rate-floor" || p.Findings[0].Severity != "warning" {
		t.Errorf("v Qm f of 2: status %d, %+v", status, p.Findings)
	}
}

// A name stands for the widest carriers that the standard lists.
func TestThroughputOfNames(t *testing.T) {
	for name, carriers := range map[string]string{"DC_3A_n78A": "B3:20 + n78:100", "CA_3A-7A": "B3:20 + B7:20", "n78A": "n78:100", "ca_n1a-n78a": "n1:50 + n78:100"} {
		p, status := readPeak(t, name)
		q, _ := readPeak(t, carriers)
		if status != statusGood || !p.UpperBound || q.UpperBound || !p.DL.equal(q.DL) || !p.UL.equal(q.UL) {
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

const phone = "../../../testdata/devices/phone.toml"

func TestDeviceLimits(t *testing.T) {
	p, status := readPeak(t, "B3:20 + B7:20,qam=1024 + B20:10 + n78:100 + n78:80 + n28:10", "--device", phone)
	if p.Device == nil || status != statusGood || p.Device.Name != "phone A" {
		t.Fatalf("status %d, %+v, %+v", status, p.Device, p.Findings)
	}
	var limits []string
	for _, l := range p.Device.Limits {
		limits = append(limits, fmt.Sprintf("%d %s %s>%s", *l.Carrier, l.Item, l.Site, l.Device))
	}
	if got := strings.Join(limits, "; "); got != "2 modulation 1024>256; 6 carriers 6>5" {
		t.Errorf("limits: %s", got)
	}
	var numbers []string
	for _, c := range p.Carriers {
		numbers = append(numbers, strconv.Itoa(c.Carrier))
	}
	if got := strings.Join(numbers, " "); got != "1 2 3 4 5" {
		t.Errorf("carriers %s are taken", got)
	}
	if rateOf(t, p.DL.Max) >= rateOf(t, p.Device.DL.Max) {
		t.Errorf("the device reaches %s, the site %s", p.DL.Max, p.Device.DL.Max)
	}
	// What the device takes is what it is when asked for by itself.
	alone, _ := readPeak(t, p.Device.Takes)
	if !alone.DL.equal(p.DL) || !alone.UL.equal(p.UL) {
		t.Errorf("%s: %+v, with the device %+v", p.Device.Takes, alone.DL, p.DL)
	}
	p, status = readPeak(t, "n41:100", "--device", phone)
	if status != statusRefuted || len(p.Carriers) != 0 || p.DL.Max != "0" || p.Findings[0].Rule != "device" {
		t.Errorf("a band that the device lacks: status %d, %+v", status, p)
	}
	p, status = readPeak(t, "n78:100", "--device", phone)
	if status != statusGood || len(p.Device.Limits) != 0 || p.Carriers[0].UL.Layers != 2 {
		t.Errorf("a site that does not say takes what the device has: status %d, %+v", status, p.Carriers[0].UL)
	}
}

// A fault of a device file is one line with file, line, key and what is allowed.
func TestBadDeviceFiles(t *testing.T) {
	dir := t.TempDir()
	for text, want := range map[string]string{
		"[[band]]\nband = \"n78\"\nlayer = 4\n":   `:3: band 1: key "layer": allowed is band, layers, ullayers, qam, ulqam, widest_mhz, downlink_only; the nearest is layers`,
		"carriers = \"5\"\n[[band]]\nband = 3\n":  `:1: carriers "5": allowed is a number of carriers as a number, without quotes`,
		"carriers = 0\ncolour = 1\n[[band]]\n":    `:1: carriers "0": allowed is a number of carriers from 1 to 32 (and 2 more)`,
		"configurations = [\"CA_3A-7A\"\n[[band]": `:2: not TOML: `,
	} {
		file := filepath.Join(dir, "d.toml")
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		status, out, errs := run("throughput", "B3:20", "--device", file)
		if status != statusUnusable || out != "" || !strings.HasPrefix(errs, "spectally throughput: "+file+want) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%q: exit status %d, %q, want %q", text, status, errs, want)
		}
	}
}

// Text, Markdown, CSV and JSON have the same rates.
func TestFormatsOfRatesAgree(t *testing.T) {
	for _, args := range [][]string{
		{"B3:20,sinr=12 + n78:100,sinr=20"}, {"n78:100 + n80:20"}, {"DC_3A-7A_n78A"}, {"B3:20 + n28:10 + n78:100", "--device", phone, "--goodput"}, {"n257:400"},
	} {
		p, _ := readPeak(t, args...)
		status, out, errs := run(append([]string{"throughput", "--format", "csv"}, args...)...)
		if status > statusRefuted {
			t.Fatal(errs)
		}
		rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]int{}
		for i, key := range rows[0] {
			at[key] = i
		}
		found := map[string][]string{}
		for _, row := range rows[1:] {
			found[row[at["carrier"]]+" "+row[at["direction"]]] = row
		}
		_, text, _ := run(append([]string{"throughput"}, args...)...)
		_, markdown, _ := run(append([]string{"throughput", "--format", "markdown"}, args...)...)
		n := 0
		compare := func(key string, r *rateFields) {
			n++
			row := found[key]
			if row == nil {
				t.Fatalf("%v: no row %s in %v", args, key, found)
			}
			expected := ""
			if r.Expected != nil {
				expected = r.Expected.String()
			}
			if row[at["max_rate_mbps"]] != r.Max.String() || row[at["scheduled_mbps"]] != r.Scheduled.String() || row[at["expected_mbps"]] != expected {
				t.Errorf("%v, %s: CSV %v, JSON %+v", args, key, row, r)
			}
			for _, v := range []json.Number{r.Max, r.Scheduled} {
				shown := strconv.FormatFloat(math.Floor(rateOf(t, v)*1000+0.5+1e-9)/1000, 'f', 3, 64)
				if !strings.Contains(text, shown) || !strings.Contains(markdown, shown) {
					t.Errorf("%v, %s: text or Markdown lacks %s", args, key, shown)
				}
			}
		}
		compare("all dl", &p.DL)
		compare("all ul", &p.UL)
		for _, c := range p.Carriers {
			if c.DL != nil {
				compare(strconv.Itoa(c.Carrier)+" dl", &c.DL.rateFields)
			}
			if c.UL != nil {
				compare(strconv.Itoa(c.Carrier)+" ul", &c.UL.rateFields)
			}
		}
		if n != len(rows)-1 {
			t.Errorf("%v: %d rows for %d rates", args, len(rows)-1, n)
		}
	}
}

// The working comes to the figures that the answer gives, and every step has a
// source.
func TestThroughputWorking(t *testing.T) {
	for _, carriers := range []string{"B3:20 + n78:100", "n257:400,layers=8", "B41:20,pattern=1/9 + n1:20,sinr=3", "n78:100,scale=0.75"} {
		p, _ := readPeak(t, carriers)
		results := map[string]string{}
		for _, s := range p.Working {
			if s.Name == "" || s.Formula == "" || s.Result == "" || s.Source.Spec == "" {
				t.Errorf("%s: step %+v", carriers, s)
			}
			results[s.Name] = s.Result
		}
		for _, c := range p.Carriers {
			for direction, l := range map[string]*linkFields{"downlink": c.DL, "uplink": c.UL} {
				if l == nil {
					continue
				}
				width := l.Width.String()
				name := fmt.Sprintf("carrier %d (%s:%s) %s", c.Carrier, c.Band, width, direction)
				if got := results[name+": maximum data rate"]; got != l.Max.String()+" Mbit/s" {
					t.Errorf("%s: maximum %q, want %s", name, got, l.Max)
				}
				if got := results[name+": scheduled"]; got != l.Scheduled.String()+" Mbit/s" {
					t.Errorf("%s: scheduled %q, want %s", name, got, l.Scheduled)
				}
			}
		}
	}
}
