package cli

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math/big"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/data/pace"
)

// runWith runs the program with something on standard input.
func runWith(stdin string, args ...string) (status int, stdout, stderr string) {
	var out, errs bytes.Buffer
	status = Run(args, strings.NewReader(stdin), &out, &errs)
	return status, out.String(), errs.String()
}

// batchCarriers writes carriers of all sorts: mostly bands and widths that there are,
// some that there are not, places, keys, names of the standard, and texts that are
// none of these.
func batchCarriers(r *rand.Rand) string {
	if r.IntN(5) == 0 {
		fixed := []string{
			"CA_3A-7A", "DC_3A-7A_n78A", "ca_n78(2a)", "DC_(n)41AA", "SUL_n78A-n80A", "DC_n77A-n257A", "CA_1A-99A", "CA_3Z", "n78A", "CA_1A-3A-5A-7A-8A-20A",
			"n78:80,pattern=DDDSU/10:2:2", "n78:80,pattern=XYZ", "n78:80,layers=8,ullayers=8", "B40:20,pattern=2/7 + B3:20", "B3:20,qam=1024,ulqam=1024", "n80:20 + n78:100",
			"n999:20", "n78:35", "n78", "", "n78:80@3540MHz + n78:80@3620.1MHz", "B3:20,scs=30", "n78:100,scale=0.75", "n78:100,qam=2", "B3:1,4", "n28:10/0 + n78:100,ul=1", "B32:20 + n78:10",
		}
		return fixed[r.IntN(len(fixed))]
	}
	common := []string{"B1", "B3", "B7", "B20", "B28", "B40", "n1", "n3", "n28", "n41", "n77", "n78", "n258", "n80"}
	var parts []string
	for range 1 + r.IntN(4) {
		id, err := bands.ParseID(common[r.IntN(len(common))])
		if err != nil {
			panic(err)
		}
		b, err := bands.Lookup(id)
		if err != nil {
			panic(err)
		}
		widths := b.Widths()
		text := id.String() + ":" + widths[r.IntN(len(widths))].Width.MHz()
		for _, key := range []string{"pci=17", "rsrp=-85.5", "sinr=12", "layers=2", "qam=64", "ul=1", "role=scell"} {
			if r.IntN(12) == 0 {
				text += "," + key
			}
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, " + ")
}

// caAnswer and rateAnswer are what the commands for one combination answer, as far as
// a row has it.
type caAnswer struct {
	Valid    bool
	Findings []struct{ Severity, Rule string }
	Totals   struct {
		DL         json.Number `json:"dl_mhz"`
		UL         json.Number `json:"ul_mhz"`
		Occupied   json.Number `json:"occupied_mhz"`
		Equivalent json.Number `json:"dl_equivalent_mhz"`
	}
	Configurations []caConfiguration
	Interference   struct {
		Hits  json.Number
		Worst string
	}
}

type caConfiguration struct {
	ID     string
	Holds  bool
	Listed bool
	Sets   []int `json:"bandwidth_sets"`
}

type rateAnswer struct {
	DL, UL struct {
		Max         json.Number `json:"max_rate_mbps"`
		Schedulable json.Number `json:"schedulable_mbps"`
		Scheduled   json.Number `json:"scheduled_mbps"`
	}
}

// A row has what the commands ca and throughput answer about its carriers, and shares
// are quotients of its own figures. A row is rejected exactly if ca cannot use the
// carriers, or if they are allowed and throughput cannot.
func TestBatchAnswersAsTheOtherCommands(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 10))
	n := pace.Times(400, 8)
	var table bytes.Buffer
	w := csv.NewWriter(&table)
	rows := [][]string{{"i", "carriers", "down", "up", "latency"}}
	for i := range n {
		rows = append(rows, []string{strconv.Itoa(i), batchCarriers(r), strconv.FormatFloat(900*r.Float64(), 'f', r.IntN(4), 64), strconv.Itoa(r.IntN(90)), strconv.Itoa(1 + r.IntN(60))})
	}
	if err := w.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	rejectFile := filepath.Join(t.TempDir(), "rejects.csv")
	status, out, errs := runWith(table.String(), "batch", "--rejects", rejectFile, "--quiet")
	if status != command.Good || errs != "" {
		t.Fatalf("exit status %d: %s", status, errs)
	}
	answered := map[int]map[string]string{}
	for _, row := range csvMaps(t, out) {
		answered[wholeNumber(t, row["i"])] = row
	}
	kept, err := os.ReadFile(rejectFile)
	if err != nil {
		t.Fatal(err)
	}
	rejected := map[int]string{}
	for _, row := range csvMaps(t, string(kept)) {
		rejected[wholeNumber(t, row["line"])-2] = row["reason"]
	}
	valid, refused := 0, 0
	for i, row := range rows[1:] {
		carriers := row[1]
		check, caOut, _ := run("ca", carriers, "--format", "json")
		rated, rateOut, rateErrs := run("throughput", carriers, "--format", "json")
		got, ok := answered[i]
		if reason, isRejected := rejected[i]; ok == isRejected {
			t.Fatalf("%s: in the output %v, among the rejects %v", carriers, ok, isRejected)
		} else if isRejected {
			if check != command.Unusable && !(check == command.Good && rated == command.Unusable) {
				t.Errorf("%s: rejected (%s), but ca has exit status %d, throughput %d %s", carriers, reason, check, rated, rateErrs)
			}
			refused++
			continue
		}
		var want caAnswer
		if err := json.Unmarshal([]byte(caOut), &want); err != nil {
			t.Fatalf("%s: ca has exit status %d: %v", carriers, check, err)
		}
		if want.Valid {
			valid++
		}
		wanted := map[string]string{
			"i": row[0], "carriers": carriers, "down": row[2], "up": row[3], "latency": row[4],
			"valid": strconv.FormatBool(want.Valid), "first_error": "",
			"dl_mhz": want.Totals.DL.String(), "ul_mhz": want.Totals.UL.String(), "occupied_mhz": want.Totals.Occupied.String(), "dl_equivalent_mhz": want.Totals.Equivalent.String(),
			"configuration": "", "bandwidth_sets": "",
			"interference_hits": want.Interference.Hits.String(), "interference_worst": want.Interference.Worst,
			"dl_max_rate_mbps": "", "ul_max_rate_mbps": "", "dl_schedulable_mbps": "", "ul_schedulable_mbps": "", "dl_scheduled_mbps": "", "ul_scheduled_mbps": "",
		}
		for _, f := range want.Findings {
			if f.Severity == "error" {
				wanted["first_error"] = f.Rule
				break
			}
		}
		best := slices.IndexFunc(want.Configurations, func(c caConfiguration) bool { return c.Holds && c.Listed })
		for k, c := range want.Configurations {
			if best < 0 && c.Holds {
				best = k
			}
		}
		switch {
		case best >= 0:
			c := want.Configurations[best]
			wanted["configuration"], wanted["bandwidth_sets"] = c.ID, strings.Trim(fmt.Sprint(c.Sets), "[]")
		case len(want.Configurations) > 0: // one of those that are refused
			k := slices.IndexFunc(want.Configurations, func(c caConfiguration) bool { return c.ID == got["configuration"] })
			if k < 0 || got["bandwidth_sets"] != strings.Trim(fmt.Sprint(want.Configurations[k].Sets), "[]") {
				t.Errorf("%s: configuration %q with sets %q is none of ca", carriers, got["configuration"], got["bandwidth_sets"])
			}
			wanted["configuration"], wanted["bandwidth_sets"] = got["configuration"], got["bandwidth_sets"]
		case !strings.Contains(carriers, ":"): // the name of one carrier, which needs no configuration
			wanted["configuration"] = got["configuration"]
		}
		if rated != command.Unusable {
			var rates rateAnswer
			if err := json.Unmarshal([]byte(rateOut), &rates); err != nil {
				t.Fatalf("%s: throughput: %v", carriers, err)
			}
			wanted["dl_max_rate_mbps"], wanted["ul_max_rate_mbps"] = rates.DL.Max.String(), rates.UL.Max.String()
			wanted["dl_scheduled_mbps"], wanted["ul_scheduled_mbps"] = rates.DL.Scheduled.String(), rates.UL.Scheduled.String()
			wanted["dl_schedulable_mbps"], wanted["ul_schedulable_mbps"] = rates.DL.Schedulable.String(), rates.UL.Schedulable.String()
		}
		for _, q := range []struct{ column, over, under string }{
			{"dl_bps_hz", "down", "dl_mhz"}, {"ul_bps_hz", "up", "ul_mhz"},
			{"dl_share_of_scheduled", "down", "dl_scheduled_mbps"}, {"ul_share_of_scheduled", "up", "ul_scheduled_mbps"},
		} {
			wanted[q.column] = sixDecimals(wanted[q.over], wanted[q.under])
		}
		wanted["round_trips_per_minute"] = sixDecimals("60000", row[4])
		// The maximum is an exact fraction, of which the column is rounded to a bit per
		// second: the share lies as near.
		for column, over := range map[string]string{"dl_share_of_max": "down", "ul_share_of_max": "up"} {
			wanted[column] = got[column]
			if near := sixDecimals(wanted[over], wanted[strings.Replace(column, "share_of_max", "max_rate_mbps", 1)]); !within(near, got[column], "0.000002") {
				t.Errorf("%s: %s is %s, want about %s", carriers, column, got[column], near)
			}
		}
		for column, value := range wanted {
			if strings.HasSuffix(column, "share_of_scheduled") && within(value, got[column], "0.000002") {
				continue // likewise
			}
			if got[column] != value {
				t.Errorf("%s: %s is %q, want %q", carriers, column, got[column], value)
			}
		}
		if len(wanted) != len(got) {
			t.Errorf("%s: %d columns, of which %d are compared", carriers, len(got), len(wanted))
		}
	}
	if valid < n/10 || valid > n*9/10 || refused < n/40 {
		t.Errorf("%d of %d combinations are allowed, %d rejected", valid, n, refused)
	}
}

func wholeNumber(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// sixDecimals divides decimals and rounds once; empty where one is empty or zero.
func sixDecimals(over, under string) string {
	a, okA := new(big.Rat).SetString(over)
	b, okB := new(big.Rat).SetString(under)
	if !okA || !okB || b.Sign() == 0 {
		return ""
	}
	return strings.TrimRight(strings.TrimRight(new(big.Rat).Quo(a, b).FloatString(6), "0"), ".")
}

// within tells whether two decimals are as near, or both empty.
func within(a, b, tolerance string) bool {
	x, okX := new(big.Rat).SetString(a)
	y, okY := new(big.Rat).SetString(b)
	if !okX || !okY {
		return a == b
	}
	d := x.Sub(x, y)
	limit, _ := new(big.Rat).SetString(tolerance)
	return d.Abs(d).Cmp(limit) <= 0
}

// csvMaps reads rows by the names of their columns.
func csvMaps(t *testing.T, text string) []map[string]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(rows) == 0 {
		t.Fatalf("%v, %d rows", err, len(rows))
	}
	var list []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = row[i]
		}
		list = append(list, m)
	}
	return list
}

// JSON lines have the same answers as CSV, as values of their kind.
func TestBatchJSONLines(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 11))
	var table, lines bytes.Buffer
	w := csv.NewWriter(&table)
	if err := w.Write([]string{"carriers", "down", "up", "latency"}); err != nil {
		t.Fatal(err)
	}
	for range 300 {
		row := []string{batchCarriers(r), "", strconv.Itoa(r.IntN(90)), strconv.Itoa(1 + r.IntN(60))}
		object := map[string]any{"carriers": row[0], "up": row[2], "latency": json.Number(row[3]), "down": nil, "more": []any{1, "}"}}
		if r.IntN(3) > 0 {
			row[1] = strconv.FormatFloat(900*r.Float64(), 'f', 1, 64)
			object["down"] = json.Number(row[1])
		}
		text, err := json.Marshal(object)
		if err != nil {
			t.Fatal(err)
		}
		lines.Write(append(text, '\n'))
		if err := w.Write(row); err != nil {
			t.Fatal(err)
		}
	}
	w.Flush()
	_, out, _ := runWith(table.String(), "batch", "--quiet")
	_, jsonOut, _ := runWith(lines.String(), "batch", "--quiet")
	rows := csvMaps(t, out)
	d := json.NewDecoder(strings.NewReader(jsonOut))
	d.UseNumber()
	for i, row := range rows {
		var object map[string]any
		if err := d.Decode(&object); err != nil {
			t.Fatalf("row %d: %v", i, err)
		}
		for _, name := range batch.Columns() {
			text := ""
			switch v := object[name].(type) {
			case nil:
			case []any:
				text = strings.Trim(fmt.Sprint(v), "[]")
			default:
				text = fmt.Sprint(v)
			}
			if text != row[name] {
				t.Errorf("%s: %s is %q, in CSV %q", row["carriers"], name, text, row[name])
			}
		}
		if len(object) != 5+len(batch.Columns()) || object["more"] == nil {
			t.Errorf("%s: %d keys", row["carriers"], len(object))
		}
	}
	if d.Decode(new(any)) != io.EOF {
		t.Error("more objects than rows")
	}
}
