package cli

import (
	"encoding/csv"
	"encoding/json"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/command"
	"spectally/data/pace"
)

// totalFields and the types below are the fields of the contract, in a form of the
// test's own, so that a renamed or retyped field is noticed.
type totalFields struct {
	DL         json.Number `json:"dl_mhz"`
	UL         json.Number `json:"ul_mhz"`
	Occupied   json.Number `json:"occupied_mhz"`
	Equivalent json.Number `json:"dl_equivalent_mhz"`
}

type placeFields struct {
	Width   json.Number `json:"width_mhz"`
	SCS     json.Number `json:"scs_khz"`
	Channel *int        `json:"channel"`
	Centre  json.Number `json:"centre_mhz"`
	Low     json.Number `json:"low_mhz"`
	High    json.Number `json:"high_mhz"`
	RB      *int        `json:"n_rb"`
}

type caFields struct {
	Carriers []struct {
		Band      string       `json:"band"`
		DL        *placeFields `json:"dl"`
		UL        *placeFields `json:"ul"`
		Transmits bool         `json:"transmits"`
		Role      *string      `json:"role"`
		PCI       *int         `json:"pci"`
	} `json:"carriers"`
	Kind           string `json:"kind"`
	Configurations []struct {
		ID         string   `json:"id"`
		Listed     bool     `json:"listed"`
		FallbackOf []string `json:"fallback_of"`
		Sets       []int    `json:"bandwidth_sets"`
		Parts      []struct {
			ID   string `json:"id"`
			Sets []int  `json:"bandwidth_sets"`
		} `json:"parts"`
		Uplinks []string `json:"uplinks"`
		Source  struct {
			Spec    string `json:"spec"`
			Version string `json:"version"`
			Table   string `json:"table"`
		} `json:"source"`
	} `json:"configurations"`
	Findings []struct {
		Severity string `json:"severity"`
		Rule     string `json:"rule"`
		Carrier  *int   `json:"carrier"`
		Message  string `json:"message"`
		Source   struct {
			Spec string `json:"spec"`
		} `json:"source"`
	} `json:"findings"`
	Totals struct {
		totalFields
		ByRAT    map[string]totalFields `json:"by_rat"`
		ByBand   map[string]totalFields `json:"by_band"`
		ByRange  map[string]totalFields `json:"by_range"`
		ByDuplex map[string]totalFields `json:"by_duplex"`
		BySite   map[string]totalFields `json:"by_site"`
	} `json:"totals"`
	Valid       bool     `json:"valid"`
	Assumptions []string `json:"assumptions"`
	Blocks      []struct {
		Band     string      `json:"band"`
		Carriers []int       `json:"carriers"`
		Known    bool        `json:"contiguity_known"`
		Low      json.Number `json:"low_mhz"`
		High     json.Number `json:"high_mhz"`
		Classes  []string    `json:"classes"`
		Spacings []struct {
			Spacing    json.Number `json:"spacing_mhz"`
			Nominal    json.Number `json:"nominal_mhz"`
			Contiguous bool        `json:"contiguous"`
		} `json:"spacings"`
	} `json:"blocks"`
}

// readCA runs the command. The exit status has to tell what "valid" tells.
func readCA(t *testing.T, text string) caFields {
	t.Helper()
	status, out, errs := run(append(strings.Fields("ca "+text), "--format", "json")...)
	if errs != "" {
		t.Fatalf("ca %s: %s", text, errs)
	}
	var c caFields
	if err := json.Unmarshal([]byte(out), &c); err != nil {
		t.Fatal(err)
	}
	if c.Valid != (status == command.Good) || status > command.Refuted {
		t.Errorf("ca %s: valid is %v, exit status %d", text, c.Valid, status)
	}
	return c
}

// id finds a configuration of the answer by its name.
func (c *caFields) id(name string) int {
	for i := range c.Configurations {
		if c.Configurations[i].ID == name {
			return i
		}
	}
	return -1
}

// Two LTE carriers of 20 MHz and two NR carriers of 80 MHz are 200 MHz (common
// practice, no source).
func TestCAOfFourCarriersIs200MHz(t *testing.T) {
	c := readCA(t, "B3:20 + n78:80 + n78:80 + B7:20")
	if !c.Valid || c.Totals.DL != "200" || c.Kind != "en-dc" {
		t.Errorf("valid %v, %s, %s MHz", c.Valid, c.Kind, c.Totals.DL)
	}
	// 20 and 20 paired, 80 and 80 unpaired; the UE sends on the first of each.
	want := map[string]totalFields{"LTE": {"40", "20", "80", "40"}, "NR": {"160", "80", "160", "118.857142"}}
	if diff := cmp.Diff(want, c.Totals.ByRAT); diff != "" {
		t.Error(diff)
	}
	for _, name := range []string{"DC_3A-7A_n78C", "DC_3A-7A_n78(2A)"} {
		if i := c.id(name); i < 0 || !c.Configurations[i].Listed {
			t.Errorf("%s is not listed among %+v", name, c.Configurations)
		}
	}
}

// All fields are there, and no list is null, whether the answer is good or not.
func TestCAJSONHasEveryField(t *testing.T) {
	for _, text := range []string{"B3:20 + n78:80", "n799:20", "n78:100", "CA_n78(9A)", "CA_3A-7A", "DC_(n)41AA", "B3:20@1300 + B3:20@1498"} {
		_, out, _ := run(append(strings.Fields("ca "+text), "--format", "json")...)
		var c map[string]json.RawMessage
		if err := json.Unmarshal([]byte(out), &c); err != nil {
			t.Fatal(err)
		}
		for _, field := range []string{"carriers", "configurations", "findings", "assumptions", "blocks", "working"} {
			if v := c[field]; len(v) == 0 || v[0] != '[' {
				t.Errorf("%s: %s is %s", text, field, v)
			}
		}
		var totals map[string]json.RawMessage
		if err := json.Unmarshal(c["totals"], &totals); err != nil {
			t.Fatal(err)
		}
		for _, field := range []string{"by_rat", "by_band", "by_range", "by_duplex", "by_site"} {
			if v := totals[field]; len(v) == 0 || v[0] != '{' {
				t.Errorf("%s: %s is %s", text, field, v)
			}
		}
		for field, want := range map[string]string{"configurations": "id kind listed fallback_of bandwidth_sets parts uplinks source",
			"findings": "severity rule carrier message source",
			"carriers": "carrier text band rat duplex range role pci rsrp_dbm sinr_db transmits pattern pattern_assumed dl_share ul_share dl ul"} {
			var list []map[string]json.RawMessage
			if err := json.Unmarshal(c[field], &list); err != nil {
				t.Fatal(err)
			}
			for _, object := range list {
				for key := range strings.FieldsSeq(want) {
					if _, ok := object[key]; !ok {
						t.Errorf("%s: an element of %s has no %s", text, field, key)
					}
				}
			}
		}
	}
}

// Listed configurations with the sets that admit the widths, read off the tables:
// TS 36.101 V19.6.0 Tables 5.6A.1-1 and -2, TS 38.101-1 V19.5.0 Tables 5.5A.1-1,
// 5.5A.2-1 and 5.5A.3.1-1c, TS 38.101-3 V19.5.0 Tables 5.3B.1.2-1 and 5.5B.4.2-1.
func TestCAConfigurations(t *testing.T) {
	for _, test := range []struct {
		text, id, table string
		sets            []int
	}{
		{"B3:20 + B7:20", "CA_3A-7A", "5.6A.1-2", []int{0, 1}},
		{"B3:20 + B7:5", "CA_3A-7A", "5.6A.1-2", []int{1}},
		{"B3:20@1300 + B3:10@1444", "CA_3C", "5.6A.1-1", []int{0}},
		{"n78:100@630000 + n78:100@636664", "CA_n78C", "5.5A.1-1", []int{0, 1, 4, 5}},
		{"n78:80@640000 + n78:70@647000", "CA_n78(2A)", "5.5A.2-1", []int{2, 4, 5}},
		{"n3:40 + n78:70", "CA_n3A-n78A", "5.5A.3.1-1c", []int{1, 4, 5}},
		{"n3:50 + n78:70", "CA_n3A-n78A", "5.5A.3.1-1c", []int{4, 5}},
		{"B3:20 + B7:5 + n78:100", "DC_3A-7A_n78A", "5.5B.4.2-1", []int{1}},
		{"DC_(n)3AA", "DC_(n)3AA", "5.5B.2-1", []int{0}},
	} {
		c := readCA(t, test.text)
		i := c.id(test.id)
		if i < 0 {
			t.Errorf("%s does not form %s: %+v", test.text, test.id, c.Configurations)
			continue
		}
		got := c.Configurations[i]
		if !got.Listed || got.Source.Table != test.table || !c.Valid {
			t.Errorf("%s: %+v, valid %v", test.text, got, c.Valid)
		}
		if diff := cmp.Diff(test.sets, got.Sets); diff != "" {
			t.Errorf("%s, sets of %s (-want +got):\n%s", test.text, test.id, diff)
		}
	}
}

// What is wrong, and with which carrier.
func TestCAFindings(t *testing.T) {
	for _, test := range []struct {
		text, severity, rule string
		carrier              int // 0 for the whole
	}{
		{"B3:20 + n78:35", "error", "width-allowed", 2},
		{"B3:20 + n799:20", "error", "band-exists", 2},
		{"n78:80@640000 + n78:80@640668", "error", "overlap", 2},
		{"n78:80 + n28:10 + n78:80@700000", "error", "channel-number", 3},
		{"n78:80@651000", "error", "in-band", 1},
		{"n3:20@368001", "error", "on-raster", 1},
		{"n80:20", "error", "supplementary-alone", 1},
		{"B3:20 + n1:20 + n2:20", "error", "configuration-listed", 0},
		{"B1:20 + B3:20 + B7:20 + B8:10 + B20:5", "error", "bandwidth-set", 0},
		{"2xn78:80", "note", "contiguity-unknown", 0},
		{"B7:20 + B38:20", "note", "configuration-listed", 0},
		{"CA_3A-7A", "note", "upper-bound", 0},
		{"n46:20 + n78:20", "note", "shared-spectrum", 1},
		{"DC_n8A_1A-3A", "note", "upper-bound", 0},
		{"CA_n5A-n25(2A)-n41A", "warning", "bandwidth-set", 0},
		{"CA_46A-46A-46A", "warning", "primary-cell", 0},
		{"CA_n3A-n999A", "error", "band-exists", 0},
	} {
		c := readCA(t, test.text)
		found := false
		for _, f := range c.Findings {
			at := 0
			if f.Carrier != nil {
				at = *f.Carrier
			}
			if f.Severity == test.severity && f.Rule == test.rule && at == test.carrier {
				found = true
				if f.Message == "" || strings.Contains(f.Message, "\n") {
					t.Errorf("%s: message %q", test.text, f.Message)
				}
			}
		}
		if !found {
			t.Errorf("%s: no %s %s of carrier %d in %+v", test.text, test.severity, test.rule, test.carrier, c.Findings)
		}
		if c.Valid == (test.severity == "error") {
			t.Errorf("%s: valid is %v", test.text, c.Valid)
		}
	}
}

// A fallback names the configurations that bring it: CA_7A-38A is not in TS 36.101
// V19.6.0 Table 5.6A.1-2, CA_1A-7A-38A is in Table 5.6A.1-2a.
func TestCAFallback(t *testing.T) {
	c := readCA(t, "B38:20 + B7:20")
	i := c.id("CA_7A-38A")
	if i < 0 || c.Configurations[i].Listed || len(c.Configurations[i].FallbackOf) == 0 || c.Configurations[i].FallbackOf[0] != "CA_1A-7A-38A" {
		t.Errorf("%+v", c.Configurations)
	}
}

// Places: the edges of one carrier are centre ± width/2; those of the aggregated
// channel of two carriers of 100 MHz at 3450 and 3549.96 MHz are 3400 and 3599.9 MHz
// by TS 38.101-1 V19.5.0 clause 5.3A.3 with N_RB = 135 and a guard band of 1.37 MHz
// at 60 kHz (Tables 5.3.2-1 and 5.3.3-1), worked out by hand.
func TestCAPlaces(t *testing.T) {
	c := readCA(t, "n78:100@630000 + n78:100@636664 + B3:20@19300")
	if d := c.Carriers[0].DL; d.Low != "3400" || d.High != "3500" || *d.RB != 273 {
		t.Errorf("%+v", c.Carriers[0])
	}
	// EARFCN 19300 is an uplink: 1710 + 0.1 (19300 − 19200) MHz, downlink 95 MHz above.
	if b3 := c.Carriers[2]; b3.UL.Centre != "1720" || b3.DL.Centre != "1815" || *b3.DL.Channel != 1300 {
		t.Errorf("%+v", b3)
	}
	found := false
	for _, b := range c.Blocks {
		if b.Band == "n78" {
			found = true
			if !b.Known || b.Low != "3400" || b.High != "3599.9" || len(b.Classes) != 1 || b.Classes[0] != "C" ||
				len(b.Spacings) != 1 || b.Spacings[0].Spacing != "99.96" || b.Spacings[0].Nominal != "99.96" || !b.Spacings[0].Contiguous {
				t.Errorf("%+v", b)
			}
		}
	}
	if !found {
		t.Errorf("%+v", c.Blocks)
	}
}

// A name stands for the widest widths that are listed: the total is that of the
// command configs, and the configuration holds, whatever else may be said.
func TestCAOfListedNames(t *testing.T) {
	tried := 0
	n := 0
	for k := range ca.All() {
		if n++; n%(97*pace.Step(5)) != 0 {
			continue
		}
		name := k.Name().String()
		c := readCA(t, name)
		if !c.Valid {
			t.Errorf("%s: %v", name, c.Findings)
		}
		if i := c.id(name); i != 0 || !c.Configurations[0].Listed || len(c.Configurations) != 1 {
			t.Errorf("%s: %+v", name, c.Configurations)
		}
		if most := k.MaxDL(); most != 0 && c.Totals.DL.String() != most.MHz() {
			t.Errorf("%s: %s MHz, but a set allows %s", name, c.Totals.DL, most.MHz())
		}
		if c.Kind != k.Kind().String() || len(c.Carriers) < k.Carriers() {
			t.Errorf("%s: kind %s, %d carriers", name, c.Kind, len(c.Carriers))
		}
		tried++
	}
	if tried < pace.Times(290, 5) {
		t.Errorf("only %d names", tried)
	}
}

// Sums of random carriers, added up a second time from the fields of the carriers; the
// parts of each division add up to the whole; CSV has the same carriers.
func TestCATotalsAddUp(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	all := bands.All(0)
	for range pace.Times(150, 5) {
		var words []string
		for range 1 + random.IntN(5) {
			b := all[random.IntN(len(all))]
			widths := b.WidthsIn(bands.Downlink, 0)
			if len(widths) == 0 {
				continue
			}
			words = append(words, b.ID.String()+":"+widths[random.IntN(len(widths))].MHz()+",pci="+strconv.Itoa(random.IntN(3)))
		}
		if len(words) == 0 {
			continue
		}
		text := strings.Join(words, "+")
		c := readCA(t, text)
		var dl, ul float64
		for _, k := range c.Carriers {
			if k.DL != nil {
				dl += number(t, k.DL.Width)
			}
			if k.Transmits {
				ul += number(t, k.UL.Width)
			}
		}
		if near := dl - number(t, c.Totals.DL); near > 1e-6 || near < -1e-6 || ul-number(t, c.Totals.UL) > 1e-6 {
			t.Errorf("%s: %v and %v MHz, not %+v", text, dl, ul, c.Totals.totalFields)
		}
		for name, parts := range map[string]map[string]totalFields{"rat": c.Totals.ByRAT, "band": c.Totals.ByBand, "range": c.Totals.ByRange, "duplex": c.Totals.ByDuplex, "site": c.Totals.BySite} {
			var sum [4]float64
			for _, p := range parts {
				for i, v := range [...]json.Number{p.DL, p.UL, p.Occupied, p.Equivalent} {
					sum[i] += number(t, v)
				}
			}
			for i, v := range [...]json.Number{c.Totals.DL, c.Totals.UL, c.Totals.Occupied, c.Totals.Equivalent} {
				if d := sum[i] - number(t, v); d > 1e-4 || d < -1e-4 {
					t.Errorf("%s: the parts by %s add up to %v, not %s", text, name, sum[i], v)
				}
			}
		}
		_, out, _ := run(append(strings.Fields("ca "+text), "--format", "csv")...)
		rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil || len(rows) != len(c.Carriers)+1 {
			t.Fatalf("%s: %d rows, %v", text, len(rows), err)
		}
		for i, k := range c.Carriers {
			if rows[i+1][1] != k.Band || k.DL != nil && rows[i+1][4] != k.DL.Width.String() {
				t.Errorf("%s: CSV row %q", text, rows[i+1])
			}
		}
	}
}

func number(t *testing.T, n json.Number) float64 {
	t.Helper()
	f, err := n.Float64()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// How the carriers are written does not matter: one argument or many, in capital
// letters or not, with the sign × or x.
func TestCASpelling(t *testing.T) {
	want := mustRun(t, "ca", "B3:20 + 2xn78:80")
	for _, args := range [][]string{{"ca", "B3:20", "+", "2xn78:80"}, {"ca", "3:20+2×N78:80"}, {"ca", "b3:20MHz+2Xn78:80/80"}} {
		if got := mustRun(t, args...); got != want {
			t.Errorf("%q:\n%s", args, cmp.Diff(want, got))
		}
	}
	name := mustRun(t, "ca", "CA_n3A-n78(2A)")
	for _, args := range [][]string{{"ca", "ca_N78(2a)-n3a"}, {"ca", "CA_n78A-n78A-n3A"}} {
		if got := mustRun(t, args...); got != name {
			t.Errorf("%q:\n%s", args, cmp.Diff(name, got))
		}
	}
}

// The command with its answer in text, the tables loaded.
func BenchmarkCA(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if status, _, errs := run("ca", "B3:20 + B7:20 + n78:100@630000 + n78:100@636664"); status != command.Good {
			b.Fatal(errs)
		}
	}
}
