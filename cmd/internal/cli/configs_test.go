package cli

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/ca"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commands/configs"
)

// configFields are the fields of the contract.
type configFields struct {
	ID     string       `json:"id"`
	Kind   string       `json:"kind"`
	Listed bool         `json:"listed"`
	Uplink []string     `json:"uplink"`
	MaxDL  *json.Number `json:"max_dl_mhz"`
	Sets   []struct {
		BCS        int          `json:"bcs"`
		Max        *json.Number `json:"max_aggregated_mhz"`
		Components []struct {
			Band     string          `json:"band"`
			Carriers [][]json.Number `json:"carriers"`
			Ref      string          `json:"ref"`
		} `json:"components"`
	} `json:"sets"`
	Source struct {
		Spec    string `json:"spec"`
		Version string `json:"version"`
		Table   string `json:"table"`
	} `json:"source"`
	Carriers     int    `json:"carriers"`
	Note         string `json:"note"`
	Doubts       string `json:"doubts"`
	SingleUplink string `json:"single_ul_allowed"`
	Details      []struct {
		Uplink   string   `json:"uplink"`
		Powers   []string `json:"power_class"`
		Switched bool     `json:"switched_only"`
		Must     bool     `json:"must_support"`
		Sets     []int    `json:"bcs"`
	} `json:"uplink_details"`
	FallbackOf []string `json:"fallback_of"`
	Nearest    []string `json:"nearest"`
}

func readConfigs(t *testing.T, want int, args ...string) []configFields {
	t.Helper()
	status, out, errs := run(append([]string{"configs", "--format", "json"}, args...)...)
	if status != want || errs != "" {
		t.Fatalf("configs %q: exit status %d, %s", args, status, errs)
	}
	var list []configFields
	if err := json.Unmarshal([]byte(out), &list); err != nil {
		t.Fatal(err)
	}
	return list
}

// Everything that is listed: 28834 names, of which 7988 are NR CA, 1907 E-UTRA CA,
// 3714 NR-DC and 133 with a supplementary uplink; 7 entries of EN-DC are of a name
// that stands twice (counted in the tables of TS 36.101 V19.6.0, TS 38.101-1 V19.5.0,
// TS 38.101-2 V19.4.0 and TS 38.101-3 V19.5.0).
func TestConfigsHaveAll(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(mustRun(t, "configs", "--format", "csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	names, kinds := map[string]bool{}, map[string]int{}
	for _, row := range rows[1:] {
		if id, kind := row[0], row[1]; !names[id] {
			names[id] = true
			kinds[kind]++
		}
	}
	if len(rows) != 1+28841 || len(names) != 28834 {
		t.Errorf("%d entries of %d names", len(rows)-1, len(names))
	}
	want := map[string]int{"nr-ca": 7988, "lte-ca": 1907, "nr-dc": 3714, "sul": 133, "en-dc": kinds["en-dc"], "ne-dc": 15092 - kinds["en-dc"]}
	if diff := cmp.Diff(want, kinds); diff != "" {
		t.Errorf("names by kind (-want +got):\n%s", diff)
	}
}

// Every field is there in every kind, and no list is null.
func TestConfigsJSONHasEveryField(t *testing.T) {
	for _, args := range [][]string{{"--kind", "sul,ne-dc"}, {"--with", "n3,n78", "--only"}, {"--with", "3,7", "--only"}, {"--with", "n3,3", "--only"}} {
		var list []map[string]json.RawMessage
		if err := json.Unmarshal([]byte(mustRun(t, append([]string{"configs", "--format", "json"}, args...)...)), &list); err != nil {
			t.Fatal(err)
		}
		if len(list) < 5 {
			t.Errorf("%v: only %d configurations", args, len(list))
		}
		for _, c := range list {
			for _, field := range []string{"uplink", "uplink_details", "sets", "fallback_of", "nearest", "parts"} {
				if v := c[field]; len(v) == 0 || v[0] != '[' {
					t.Errorf("%s: %s is %s", c["id"], field, v)
				}
			}
			for _, field := range []string{"id", "kind", "max_dl_mhz", "source", "note", "doubts", "single_ul_allowed", "carriers", "listed"} {
				if _, ok := c[field]; !ok {
					t.Errorf("%s has no field %s", c["id"], field)
				}
			}
		}
	}
}

// The streamed array is what an array written at once would be.
func TestConfigsAreStreamed(t *testing.T) {
	out := mustRun(t, "configs", "--with", "n3,n78", "--only", "--format", "json")
	var list []json.RawMessage
	if err := json.Unmarshal([]byte(out), &list); err != nil || len(list) < 10 {
		t.Fatalf("%d elements, %v", len(list), err)
	}
	if !strings.HasPrefix(out, "[\n  {\n    \"id\": ") || !strings.HasSuffix(out, "\n  }\n]\n") || strings.Count(out, "\n  },\n  {\n") != len(list)-1 {
		t.Errorf("it is laid out otherwise than an array: %s", out[:200])
	}
	status, out, _ := run("configs", "--with", "n3,n78", "--at-least", "99", "--format", "json")
	if status != command.Refuted || out != "[]\n" {
		t.Errorf("nothing is written %q, exit status %d", out, status)
	}
	var broken brokenPipe
	var errs bytes.Buffer
	if status := Run([]string{"configs", "--format", "json"}, strings.NewReader(""), &broken, &errs); status != command.Unwritten || broken.writes != 1 || errs.Len() == 0 {
		t.Errorf("exit status %d after %d writes, %q", status, broken.writes, errs.String())
	}
}

// Rows of the tables: TS 38.101-1 V19.5.0 Tables 5.5A.1-1 and 5.5A.3.1-1c, TS 36.101
// V19.6.0 Tables 5.6A.1-1 and 5.6A.1-2, TS 38.101-3 V19.5.0 Table 5.5B.2-1.
func TestConfigsRows(t *testing.T) {
	for _, test := range []struct {
		name, kind, table, uplinks, max string
		set                             int // the place of one set in the list
		widths                          string
	}{
		{"CA_3A-7A", "lte-ca", "5.6A.1-2", "CA_3A-7A", "40", 0, "0 40: B3 5 10 15 20; B7 10 15 20"},
		{"CA_7A-3A", "lte-ca", "5.6A.1-2", "CA_3A-7A", "40", 1, "1 40: B3 5 10 15 20; B7 5 10 15 20"},
		{"CA_3C", "lte-ca", "5.6A.1-1", "CA_3C", "40", 0, "0 40: B3 5 10 15 | 20"},
		{"CA_n3A-n78A", "nr-ca", "5.5A.3.1-1c", "n3 n78 CA_n3A-n78A", "150", 0, "0 -: n3 5 10 15 20 25 30; n78 10 15 20 40 50 60 80 90 100"},
		{"CA_n3A-n78C", "nr-ca", "5.5A.3.1-1c", "n78 CA_n78C CA_n3A-n78A CA_n3A-n78C", "250", 0, "0 -: n3 5 10 15 20 25 30; n78 CA_n78C_BCS0 50 60 80 100 | 60 80 100"},
		{"DC_(n)3AA", "en-dc", "5.5B.2-1", "DC_(n)3AA", "50", 0, "0 50: B3 5 10 15 20; n3 5 10 15 20 25 30"},
	} {
		list := readConfigs(t, command.Good, test.name)
		if len(list) != 1 {
			t.Fatalf("%s: %d configurations", test.name, len(list))
		}
		c := list[0]
		if c.Kind != test.kind || c.Source.Table != test.table || strings.Join(c.Uplink, " ") != test.uplinks || c.MaxDL == nil || c.MaxDL.String() != test.max || !c.Listed {
			t.Errorf("%s: %+v", test.name, c)
		}
		s := c.Sets[test.set]
		text := strconv.Itoa(s.BCS) + " -"
		if s.Max != nil {
			text = strconv.Itoa(s.BCS) + " " + s.Max.String()
		}
		for i, k := range s.Components {
			var carriers []string
			for _, widths := range k.Carriers {
				var words []string
				for _, w := range widths {
					words = append(words, w.String())
				}
				carriers = append(carriers, strings.Join(words, " "))
			}
			text += map[bool]string{true: ": ", false: "; "}[i == 0] + strings.Join(strings.Fields(k.Band+" "+k.Ref+" "+strings.Join(carriers, " | ")), " ")
		}
		if text != test.widths {
			t.Errorf("%s: set %q, want %q", test.name, text, test.widths)
		}
	}
}

// The search finds what going through all configurations finds, widest first.
func TestConfigsSearch(t *testing.T) {
	bandsOf := func(c ca.Configuration) (list []string) {
		for _, k := range c.Name().Components() {
			if id := k.Band.String(); !slices.Contains(list, id) {
				list = append(list, id)
			}
		}
		return list
	}
	for _, test := range []struct {
		flags string
		keep  func(ca.Configuration) bool
	}{
		{"--with n78,3", func(c ca.Configuration) bool {
			return slices.Contains(bandsOf(c), "n78") && slices.Contains(bandsOf(c), "B3")
		}},
		{"--with B3 --with n78 --only", func(c ca.Configuration) bool {
			l := bandsOf(c)
			slices.Sort(l)
			return slices.Equal(l, []string{"B3", "n78"})
		}},
		{"--with 7 --without 3,n78 --kind lte-ca,ne-dc", func(c ca.Configuration) bool {
			l := bandsOf(c)
			return slices.Contains(l, "B7") && !slices.Contains(l, "B3") && !slices.Contains(l, "n78") && (c.Kind() == ca.KindLTECA || c.Kind() == ca.KindNEDC)
		}},
		{"--kind SUL --at-least 2 --at-most 3", func(c ca.Configuration) bool {
			return c.Kind() == ca.KindSUL && c.Carriers() >= 2 && c.Carriers() <= 3
		}},
		{"--dl-mhz 1500 --at-most 6", func(c ca.Configuration) bool {
			return c.MaxDL().MHz() >= "1500" && len(c.MaxDL().MHz()) == 4 && c.Carriers() <= 6
		}},
		{"--uplink n78 --with n1 --kind nr-ca --at-most 2", func(c ca.Configuration) bool {
			n, err := ca.ParseName("n78A")
			_, ok := c.AllowsUplink(n)
			return err == nil && ok && slices.Contains(bandsOf(c), "n1") && c.Kind() == ca.KindNRCA && c.Carriers() <= 2
		}},
	} {
		want := map[string]bool{}
		for c := range ca.All() {
			if test.keep(c) {
				want[c.Name().String()] = true
			}
		}
		got := map[string]bool{}
		last := 1e9
		for _, c := range readConfigs(t, command.Good, strings.Fields(test.flags)...) {
			got[c.ID] = true
			if c.MaxDL == nil {
				continue
			}
			if most := number(t, *c.MaxDL); most > last {
				t.Errorf("%s: %s with %v MHz stands behind %v MHz", test.flags, c.ID, most, last)
			} else {
				last = most
			}
		}
		if len(want) == 0 || !cmp.Equal(want, got) {
			t.Errorf("%s: %d found, want %d\n%s", test.flags, len(got), len(want), cmp.Diff(want, got))
		}
	}
}

// A name that is not listed is told with what brings it, or with what is nearest.
func TestConfigsNotListed(t *testing.T) {
	c := readConfigs(t, command.Refuted, "CA_7A-38A")[0]
	if c.Listed || len(c.FallbackOf) == 0 || c.FallbackOf[0] != "CA_1A-7A-38A" || len(c.Nearest) != 0 {
		t.Errorf("%+v", c)
	}
	c = readConfigs(t, command.Refuted, "CA_n78(9A)")[0]
	if c.Listed || len(c.FallbackOf) != 0 || len(c.Nearest) == 0 || c.Nearest[0] != "CA_n78(A-C)" {
		t.Errorf("%+v", c)
	}
	list := readConfigs(t, command.Refuted, "CA_3A-7A", "CA_n78(9A)")
	if len(list) != 2 {
		t.Errorf("one of two is listed: %+v", list)
	}
	// The flags narrow what the names find.
	if list := readConfigs(t, command.Refuted, "CA_3A-7A", "--at-least", "3"); len(list) != 0 {
		t.Errorf("%+v", list)
	}
	if list := readConfigs(t, command.Good, "CA_3A-7A", "CA_1A-3A-7A", "--at-least", "3"); len(list) != 1 || list[0].ID != "CA_1A-3A-7A" {
		t.Errorf("%+v", list)
	}
}

// --limit cuts text always, and JSON and CSV where it is asked for.
func TestConfigsLimit(t *testing.T) {
	if list := readConfigs(t, command.Good, "--with", "n78", "--limit", "7"); len(list) != 7 {
		t.Errorf("%d of 7", len(list))
	}
	all := len(readConfigs(t, command.Good, "--with", "n78"))
	for format, want := range map[string]int{"csv": all + 1, "text": configs.UsualLimit, "markdown": configs.UsualLimit} {
		out := mustRun(t, "configs", "--with", "n78", "--format", format)
		got := 0
		for line := range strings.Lines(out) {
			words := strings.Fields(strings.ReplaceAll(line, "|", " "))
			if format == "csv" || len(words) > 1 && slices.Contains(configs.KindNames(), words[1]) {
				got++
			}
		}
		if got != want {
			t.Errorf("%s has %d lines, want %d", format, got, want)
		}
		if more := strconv.Itoa(all-configs.UsualLimit) + " more configurations"; format != "csv" && !strings.Contains(out, more) {
			t.Errorf("%s does not say %q", format, more)
		}
	}
}

// CSV has a row for every configuration, and with the widths one for every set and
// band.
func TestConfigsCSV(t *testing.T) {
	list := readConfigs(t, command.Good, "--with", "n3,n78", "--kind", "nr-ca", "--only")
	rows, err := csv.NewReader(strings.NewReader(mustRun(t, "configs", "--with", "n3,n78", "--kind", "nr-ca", "--only", "--format", "csv"))).ReadAll()
	if err != nil || len(rows) != len(list)+1 {
		t.Fatalf("%d rows for %d configurations, %v", len(rows), len(list), err)
	}
	sets := 0
	for i, c := range list {
		if rows[i+1][0] != c.ID || rows[i+1][4] != strings.Join(c.Uplink, " ") {
			t.Errorf("row %q, want %s", rows[i+1], c.ID)
		}
		for _, s := range c.Sets {
			sets += len(s.Components)
		}
	}
	rows, err = csv.NewReader(strings.NewReader(mustRun(t, "configs", "--with", "n3,n78", "--kind", "nr-ca", "--only", "--widths", "--format", "csv"))).ReadAll()
	if err != nil || len(rows) != sets+1 {
		t.Errorf("%d rows for %d sets and bands, %v", len(rows), sets, err)
	}
}

// The lists of configurations stand among the sources. The counts are those of the
// printed tables: TS 38.101-1 V19.5.0 Tables 5.5A.3.2-1a and 5.5A.1-1, TS 38.101-3
// V19.5.0 Tables 5.5B.4.1-1 and 5.3B.1.2-1.
func TestSourcesHaveTheLists(t *testing.T) {
	var list []struct {
		Spec           string `json:"spec"`
		Table          string `json:"table"`
		Rows           int    `json:"rows"`
		Configurations int    `json:"configurations"`
		LeftOut        int    `json:"left_out"`
	}
	if err := json.Unmarshal([]byte(mustRun(t, "sources", "--format", "json")), &list); err != nil {
		t.Fatal(err)
	}
	configurations, leftOut := 0, 0
	seen := map[string][3]int{}
	for _, s := range list {
		configurations += s.Configurations
		leftOut += s.LeftOut
		if s.Configurations > 0 || strings.HasPrefix(s.Table, "5.3B") {
			seen[s.Spec+" "+s.Table] = [3]int{s.Rows, s.Configurations, s.LeftOut}
		}
	}
	if configurations != 28841 || leftOut != 80 {
		t.Errorf("%d configurations, %d entries left out", configurations, leftOut)
	}
	for table, want := range map[string][3]int{
		"TS 38.101-1 5.5A.3.2-1a": {3981, 711, 2},
		"TS 38.101-1 5.5A.1-1":    {134, 38, 0},
		"TS 38.101-3 5.5B.4.1-1":  {608, 608, 2},
		"TS 38.101-3 5.3B.1.2-1":  {80, 0, 0},
	} {
		if got := seen[table]; got != want {
			t.Errorf("%s: rows, configurations and left out are %v, want %v", table, got, want)
		}
	}
}

// Everything as JSON: what a program that loads all of it waits for.
func BenchmarkConfigsJSON(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if status, _, errs := run("configs", "--format", "json"); status != command.Good {
			b.Fatal(errs)
		}
	}
}
