package bands

import (
	"encoding/csv"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commandtest"
	"spectally/cmd/internal/spectrum"
	"spectally/data/pace"
)

// bandFields are the fields of the contract. The test has a form of its own, so
// that a renamed or retyped field is noticed.
type bandFields struct {
	ID         string      `json:"id"`
	RAT        string      `json:"rat"`
	Number     int         `json:"number"`
	Duplex     string      `json:"duplex"`
	Range      string      `json:"range"`
	ULLow      json.Number `json:"ul_low_mhz"`
	ULHigh     json.Number `json:"ul_high_mhz"`
	DLLow      json.Number `json:"dl_low_mhz"`
	DLHigh     json.Number `json:"dl_high_mhz"`
	Separation json.Number `json:"tx_rx_separation_mhz"`
	Names      []string    `json:"names"`
	Widths     []struct {
		SCS      json.Number `json:"scs_khz"`
		MHz      json.Number `json:"mhz"`
		DLOnly   bool        `json:"dl_only"`
		ULOnly   bool        `json:"ul_only"`
		Optional bool        `json:"optional"`
	} `json:"channel_bandwidths"`
	Numbers []struct {
		Direction string      `json:"direction"`
		First     *int        `json:"first"`
		Step      *int        `json:"step"`
		Last      *int        `json:"last"`
		Raster    json.Number `json:"raster_khz"`
	} `json:"channel_numbers"`
	Notes  []string `json:"notes"`
	Source struct {
		Spec    string `json:"spec"`
		Version string `json:"version"`
		Table   string `json:"table"`
	} `json:"source"`
}

func readBands(t *testing.T, args ...string) []bandFields {
	t.Helper()
	text := commandtest.Must(t, Command(), append([]string{"bands", "--format", "json"}, args...)...)
	var list []bandFields
	if err := json.Unmarshal([]byte(text), &list); err != nil {
		t.Fatal(err)
	}
	return list
}

// All fields of the contract are there in every band, and no list is null.
func TestBandsJSONHasEveryField(t *testing.T) {
	var list []map[string]json.RawMessage
	if err := json.Unmarshal([]byte(commandtest.Must(t, Command(), "bands", "--format", "json")), &list); err != nil {
		t.Fatal(err)
	}
	if want := len(bands.All(0)); len(list) != want {
		t.Fatalf("%d bands, want %d", len(list), want)
	}
	for _, b := range list {
		for _, field := range []string{"id", "rat", "number", "duplex", "range", "ul_low_mhz", "ul_high_mhz", "dl_low_mhz", "dl_high_mhz",
			"tx_rx_separation_mhz", "names", "channel_bandwidths", "channel_numbers", "notes", "source"} {
			value, ok := b[field]
			if !ok {
				t.Errorf("%s has no field %s", b["id"], field)
			}
			if list := strings.HasSuffix(field, "s") && field != "tx_rx_separation_mhz"; list && value[0] != '[' {
				t.Errorf("%s: %s is %s, not a list", b["id"], field, value)
			}
		}
	}
}

// Rows as the standards print them: TS 38.101-1 V19.5.0 Tables 5.2-1, 5.3.5-1,
// 5.4.2.3-1 and 5.4.4-1; TS 38.101-2 V19.4.0 Table 5.2-1; TS 36.101 V19.6.0 Tables
// 5.5-1, 5.7.3-1 and 5.7.4-1; TS 38.101-5 V19.4.0 Table 5.2.2-1.
func TestBandsJSONRows(t *testing.T) {
	type row struct {
		ID, RAT, Duplex, Range, ULLow, ULHigh, DLLow, DLHigh, Separation, Spec, Version, Table string
	}
	for _, want := range []row{
		{"n78", "NR", "TDD", "FR1", "3300", "3800", "3300", "3800", "", "TS 38.101-1", "19.5.0", "5.2-1"},
		{"n28", "NR", "FDD", "FR1", "703", "748", "758", "803", "55", "TS 38.101-1", "19.5.0", "5.2-1"},
		{"n24", "NR", "FDD", "FR1", "1626.5", "1660.5", "1525", "1559", "-101.5", "TS 38.101-1", "19.5.0", "5.2-1"},
		{"n29", "NR", "SDL", "FR1", "", "", "717", "728", "", "TS 38.101-1", "19.5.0", "5.2-1"},
		{"n80", "NR", "SUL", "FR1", "1710", "1785", "", "", "", "TS 38.101-1", "19.5.0", "5.2-1"},
		{"n257", "NR", "TDD", "FR2-1", "26500", "29500", "26500", "29500", "", "TS 38.101-2", "19.4.0", "5.2-1"},
		{"n263", "NR", "TDD", "FR2-2", "57000", "71000", "57000", "71000", "", "TS 38.101-2", "19.4.0", "5.2-1"},
		{"n256", "NR", "FDD", "FR1-NTN", "1980", "2010", "2170", "2200", "190", "TS 38.101-5", "19.4.0", "5.2.2-1"},
		{"B3", "LTE", "FDD", "", "1710", "1785", "1805", "1880", "95", "TS 36.101", "19.6.0", "5.5-1"},
		{"B38", "LTE", "TDD", "", "2570", "2620", "2570", "2620", "", "TS 36.101", "19.6.0", "5.5-1"},
		{"B31", "LTE", "FDD", "", "452.5", "457.5", "462.5", "467.5", "10", "TS 36.101", "19.6.0", "5.5-1"},
	} {
		list := readBands(t, want.ID)
		if len(list) != 1 {
			t.Errorf("%s finds %d bands", want.ID, len(list))
			continue
		}
		b := list[0]
		got := row{b.ID, b.RAT, b.Duplex, b.Range, b.ULLow.String(), b.ULHigh.String(), b.DLLow.String(), b.DLHigh.String(), b.Separation.String(),
			b.Source.Spec, b.Source.Version, b.Source.Table}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", want.ID, diff)
		}
	}
}

// Widths and channel numbers in JSON: n78 at 30 kHz and n5 at 15 kHz
// (TS 38.101-1 V19.5.0 Tables 5.3.5-1 and 5.4.2.3-1), B20 (TS 36.101 V19.6.0
// Tables 5.6.1-1 and 5.7.3-1).
func TestBandsJSONWidthsAndNumbers(t *testing.T) {
	for _, test := range []struct{ id, scs, widths, numbers string }{
		{"n78", "30", "10 15 20 25 30 40 50 60 70 80 90 100", "dl 620000:1:653333 15, dl 620000:2:653332 30, ul 620000:1:653333 15, ul 620000:2:653332 30"},
		{"n5", "15", "3o 5 7o 10 15 20 25d", "dl 173800:20:178800 100, ul 164800:20:169800 100"},
		{"B20", "15", "5 10 15 20", "dl 6150:1:6449 100, ul 24150:1:24449 100"},
	} {
		b := readBands(t, test.id)[0]
		var widths []string
		for _, w := range b.Widths {
			if w.SCS.String() != test.scs {
				continue
			}
			text := w.MHz.String()
			if w.DLOnly {
				text += "d"
			}
			if w.ULOnly {
				text += "u"
			}
			if w.Optional {
				text += "o"
			}
			widths = append(widths, text)
		}
		if got := strings.Join(widths, " "); got != test.widths {
			t.Errorf("%s: widths %s, want %s", test.id, got, test.widths)
		}
		for want := range strings.SplitSeq(test.numbers, ", ") {
			found := false
			for _, n := range b.Numbers {
				if n.First != nil {
					run := strconv.Itoa(*n.First) + ":" + strconv.Itoa(*n.Step) + ":" + strconv.Itoa(*n.Last)
					found = found || n.Direction+" "+run+" "+n.Raster.String() == want
				}
			}
			if !found {
				t.Errorf("%s: no run of channel numbers %q in %+v", test.id, want, b.Numbers)
			}
		}
	}
}

// The formats agree: what JSON says of a band stands in CSV, and its limits in the
// text and the Markdown.
func TestBandsFormatsAgree(t *testing.T) {
	list := readBands(t)
	rows, err := csv.NewReader(strings.NewReader(commandtest.Must(t, Command(), "bands", "--format", "csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(list)+1 {
		t.Fatalf("%d rows of CSV for %d bands", len(rows)-1, len(list))
	}
	text, markdown := commandtest.Must(t, Command(), "bands"), commandtest.Must(t, Command(), "bands", "--format", "markdown")
	for i, b := range list {
		got := map[string]string{}
		for c, key := range rows[0] {
			got[key] = rows[i+1][c]
		}
		want := map[string]string{
			"id": b.ID, "rat": b.RAT, "number": strconv.Itoa(b.Number), "duplex": b.Duplex, "range": b.Range,
			"ul_low_mhz": b.ULLow.String(), "ul_high_mhz": b.ULHigh.String(), "dl_low_mhz": b.DLLow.String(), "dl_high_mhz": b.DLHigh.String(),
			"tx_rx_separation_mhz": b.Separation.String(), "names": strings.Join(b.Names, "; "), "notes": strings.Join(b.Notes, "; "),
			"spec": b.Source.Spec, "version": b.Source.Version, "table": b.Source.Table,
		}
		for key, value := range want {
			if got[key] != value {
				t.Errorf("%s: %s is %q in JSON and %q in CSV", b.ID, key, value, got[key])
			}
		}
		for _, span := range []string{b.DLLow.String() + "–" + b.DLHigh.String(), b.ULLow.String() + "–" + b.ULHigh.String()} {
			if span != "–" && (!strings.Contains(text, span) || !strings.Contains(markdown, span)) {
				t.Errorf("%s: %s is missing in the text or the Markdown", b.ID, span)
			}
		}
	}
}

// Every band is found by its name in any spelling, by its limits, and by what the
// trade calls it.
func TestEveryBandIsFound(t *testing.T) {
	for b := range pace.Some(slices.Values(bands.All(0)), 6) {
		id := b.ID.String()
		spellings := []string{id, strings.ToUpper(id), strings.ToLower(id), "band " + id, id[:1] + " " + id[1:]}
		if b.ID.RAT == bands.LTE {
			spellings = append(spellings, id[1:], "Band "+id[1:])
		}
		for _, s := range spellings {
			if list := readBands(t, s); len(list) != 1 || list[0].ID != id {
				t.Errorf("%q finds %+v", s, list)
			}
		}
		for _, span := range []bands.Span{b.Downlink, b.Uplink} {
			if span.IsZero() {
				continue
			}
			for _, f := range []bands.Frequency{span.Low, span.High} {
				if !finds(readBands(t, f.String()), id) || !finds(readBands(t, "--at", f.String()), id) {
					t.Errorf("%s does not find %s", f, id)
				}
			}
		}
		for _, name := range spectrum.NameTexts(b) {
			if !finds(readBands(t, "--name", strings.ToUpper(name)), id) {
				t.Errorf("--name %q does not find %s", name, id)
			}
			if f, err := bands.ParseFrequency(name); err == nil && len(bands.At(f)) > 0 {
				continue // "600 MHz" is the frequency first
			}
			if !finds(readBands(t, name), id) || !finds(readBands(t, strings.Fields(name)...), id) {
				t.Errorf("%q does not find %s", name, id)
			}
		}
	}
}

func finds(list []bandFields, id string) bool {
	for _, b := range list {
		if b.ID == id {
			return true
		}
	}
	return false
}

// The filters keep exactly the bands of which they are true, one by one and two at
// a time.
func TestBandFilters(t *testing.T) {
	type filter struct {
		flag, value string
		keeps       func(*bands.Band) bool
	}
	inRange := func(names ...string) func(*bands.Band) bool {
		return func(b *bands.Band) bool {
			for _, n := range names {
				if b.Range.String() == n {
					return true
				}
			}
			return false
		}
	}
	filters := []filter{
		{"--rat", "lte", func(b *bands.Band) bool { return b.ID.RAT == bands.LTE }},
		{"--rat", "NR", func(b *bands.Band) bool { return b.ID.RAT == bands.NR }},
		{"--duplex", "tdd", func(b *bands.Band) bool { return b.Duplex == bands.TDD }},
		{"--duplex", "SDO", func(b *bands.Band) bool { return b.Duplex == bands.SDO }},
		{"--range", "fr1", inRange("FR1")},
		{"--range", "FR2", inRange("FR2-1", "FR2-2")},
		{"--range", "FR1-NTN", inRange("FR1-NTN")},
		{"--width", "100", func(b *bands.Band) bool {
			for _, w := range b.Widths() {
				if w.Width == 100*bands.MHz {
					return true
				}
			}
			return false
		}},
		{"--width", "1.4MHz", func(b *bands.Band) bool {
			for _, w := range b.Widths() {
				if w.Width == 1400*bands.KHz {
					return true
				}
			}
			return false
		}},
		{"--at", "2.6 GHz", func(b *bands.Band) bool {
			f := 2600 * bands.MHz
			return b.Downlink.Low <= f && f <= b.Downlink.High || b.Uplink.Low <= f && f <= b.Uplink.High
		}},
	}
	for _, a := range filters {
		for _, b := range filters {
			if a.flag == b.flag && a.value != b.value {
				continue // the last one of a flag holds
			}
			var want []string
			for _, band := range bands.All(0) {
				if a.keeps(band) && b.keeps(band) {
					want = append(want, band.ID.String())
				}
			}
			status, out, errs := commandtest.Run(Command(), "bands", "--format", "json", a.flag, a.value, b.flag, b.value)
			if good := len(want) > 0; errs != "" || (status == command.Good) != good || (status == command.Refuted) == good {
				t.Errorf("%s %s %s %s: exit status %d for %d bands, %s", a.flag, a.value, b.flag, b.value, status, len(want), errs)
			}
			var list []bandFields
			if err := json.Unmarshal([]byte(out), &list); err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, band := range list {
				got = append(got, band.ID)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s %s %s %s (-want +got):\n%s", a.flag, a.value, b.flag, b.value, diff)
			}
		}
	}
}

// The bands of a channel number are those between whose first and last number it lies:
// for EARFCN TS 36.101 V19.6.0 Table 5.7.3-1, for NR-ARFCN TS 38.101-1 V19.5.0 Table
// 5.4.2.3-1. The edges of those ranges come from the list of all bands.
func TestBandsByChannel(t *testing.T) {
	for _, tt := range []struct{ args, want string }{
		{"--channel=1300 --rat=lte", "B3"},           // 1200 to 1949 in the downlink
		{"--channel=19575 --rat=lte", "B3"},          // 19200 to 19949 in the uplink
		{"--channel=640000 --rat=nr", "n48 n77 n78"}, // 3600 MHz
		{"--channel=640000 --rat=nr --duplex=fdd", ""},
	} {
		var ids []string
		status, out, _ := commandtest.Run(Command(), append([]string{"bands", "--format=json"}, strings.Fields(tt.args)...)...)
		var list []bandFields
		if err := json.Unmarshal([]byte(out), &list); err != nil {
			t.Fatal(err)
		}
		for _, b := range list {
			ids = append(ids, b.ID)
		}
		if got := strings.Join(ids, " "); got != tt.want || (status == command.Refuted) != (got == "") {
			t.Errorf("bands %s: %q, exit status %d; want %q", tt.args, got, status, tt.want)
		}
	}
	all := readBands(t)
	for _, n := range []int{0, 599, 600, 1200, 1949, 1950, 19200, 68935, 422000, 620000, 653333, 653334, 2054166, 3279165} {
		want := map[string]bool{}
		for _, b := range all {
			for _, r := range b.Numbers {
				if r.First != nil && *r.First <= n && n <= *r.Last {
					want[b.ID] = true
				}
			}
		}
		_, out, _ := commandtest.Run(Command(), "bands", "--format=json", "--channel="+strconv.Itoa(n))
		var list []bandFields
		if err := json.Unmarshal([]byte(out), &list); err != nil {
			t.Fatal(err)
		}
		got := map[string]bool{}
		for _, b := range list {
			got[b.ID] = true
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("channel number %d (-first and last of each band, +found):\n%s", n, diff)
		}
	}
}
