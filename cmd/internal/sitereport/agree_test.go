package sitereport

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/net/html"

	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
)

// scaleColumn is what text and Markdown add to a table for which a page has a drawing.
var scaleColumn = regexp.MustCompile(`one block = [0-9.]+ \S+`)

// The numbers of text, Markdown and the page are the same, but for the scale of the
// bars that text and Markdown draw of letters.
func TestNumbersAgree(t *testing.T) {
	for name, plan := range map[string]string{"demo": siteplan.Demo(), "template": siteplan.Template(), "odd": odd, "far": far} {
		t.Run(name, func(t *testing.T) {
			a := answer(t, plan)
			page, err := html.Parse(bytes.NewReader(show(t, a, render.Options{Format: render.HTML, Explain: true})))
			if err != nil {
				t.Fatal(err)
			}
			want := slices.Sorted(slices.Values(htmlcheck.Numerals(htmlcheck.Reading(page))))
			if len(want) < 200 {
				t.Errorf("only %d numbers", len(want))
			}
			text := scaleColumn.ReplaceAllString(string(show(t, a, render.Options{Format: render.Text, Explain: true, Width: 2000})), "")
			if diff := cmp.Diff(want, slices.Sorted(slices.Values(htmlcheck.Numerals(text)))); diff != "" {
				t.Errorf("text (-page +text):\n%s", diff)
			}
			markdown := string(show(t, a, render.Options{Format: render.Markdown, Explain: true}))
			markdown = regexp.MustCompile(`(?m)^1\. `).ReplaceAllString(markdown, "") // the numbers of the steps of a working
			markdown = scaleColumn.ReplaceAllString(markdown, "")
			if diff := cmp.Diff(want, slices.Sorted(slices.Values(htmlcheck.Numerals(markdown)))); diff != "" {
				t.Errorf("Markdown (-page +Markdown):\n%s", diff)
			}
		})
	}
}

// tables reads the tables of a page, those of one name in their order.
func tables(root *html.Node) map[string][][][]string {
	found := make(map[string][][][]string)
	for _, t := range htmlcheck.Find(root, "table") {
		name := htmlcheck.Text(htmlcheck.Find(t, "caption")[0])
		found[name] = append(found[name], htmlcheck.Rows(t)[1:])
	}
	return found
}

// checkCell holds a cell against a figure of JSON: it has to be that figure, rounded to
// the digits of the cell.
func checkCell(t *testing.T, root any, path, cell string) {
	t.Helper()
	_, decimals, _ := strings.Cut(cell, ".")
	got, err := strconv.ParseFloat(cell, 64)
	if want := number(t, root, path); err != nil || math.Abs(got-want) > 0.5000001*math.Pow(10, -float64(len(decimals))) {
		t.Errorf("%s is %v, and shown as %q", path, want, cell)
	}
}

// The figures of JSON are those that the page shows.
func TestJSONAgrees(t *testing.T) {
	root := parsed(t, siteplan.Demo())
	page, err := html.Parse(bytes.NewReader(show(t, answer(t, siteplan.Demo()), render.Options{Format: render.HTML})))
	if err != nil {
		t.Fatal(err)
	}
	all := tables(page)
	checked := 0
	for _, test := range []struct {
		table  string
		number int               // of the tables of that name
		rows   []string          // the path to what each row shows
		cells  map[string]string // path by number of the column
	}{
		{"Capacity", 0, []string{"sectors.0.dl", "sectors.0.ul", "sectors.1.dl", "sectors.1.ul", "site.dl", "site.ul"},
			map[string]string{"2": "width_mhz", "3": "scheduled_mbps", "4": "cell_scheduled_mbps", "5": "full_load_mbps", "6": "busy_hour_mbps", "7": "edge_mbps"}},
		{"Users in the busy hour", 0, []string{"sectors.0.users", "sectors.1.users", "site.users"}, map[string]string{"1": "active", "2": "served"}},
		{"Data", 0, []string{"site.volume.busy_hour", "site.volume.day", "site.volume.month"}, map[string]string{"1": "dl_gb", "2": "ul_gb"}},
		{"Backhaul, with 26 % overhead", 0, []string{"site.backhaul.dl", "site.backhaul.ul"},
			map[string]string{"1": "peak_mbps", "2": "busy_hour_mbps", "4": "need_mbps", "5": "link_mbps", "7": "delivered_mbps"}},
		{"Peak of one phone", 1, paths("sectors.1.carriers.%d.%s", 3, "dl", "ul"), map[string]string{"3": "layers", "4": "qam", "5": "max_rate_mbps", "6": "scheduled_mbps"}},
		{"Peak of the cell, with the layers of all its users", 0, paths("sectors.0.carriers.%d.%s", 3, "dl", "ul"), map[string]string{"2": "cell_layers", "3": "cell_max_rate_mbps", "4": "cell_scheduled_mbps"}},
		{"Busy hour", 0, paths("sectors.0.carriers.%d.%s", 3, "dl", "ul"), map[string]string{"2": "effective_mhz", "3": "efficiency.bps_hz", "5": "full_load_mbps", "6": "busy_hour_mbps"}},
		{"Cell edge", 1, paths("sectors.1.carriers.%d.%s", 3, "dl", "ul"), map[string]string{"2": "edge_efficiency.bps_hz", "4": "edge_mbps"}},
		{"Single changes, the best first", 0, paths("what_if.%d%s", 15, ""),
			map[string]string{"2": "dl_delivered_gain_mbps", "3": "dl_gain_mbps", "4": "ul_gain_mbps", "5": "dl_need_gain_mbps"}},
		{"What ports add", 0, paths("builds.%d%s", 5, ""), map[string]string{"0": "ports", "1": "array_gain_db", "4": "dl.scheduled_mbps", "5": "dl.cell_scheduled_mbps"}},
		{"What the site then carries", 0, paths("builds.%d%s", 5, ""), map[string]string{"1": "dl.busy_hour_mbps", "2": "ul.busy_hour_mbps", "3": "users.served", "5": "backhaul.dl.need_mbps"}},
		{"Loss that each link stands", 0, paths("coverage.carriers.%d%s", 6, "", ""), map[string]string{"4": "gain_dbi", "5": "entry_loss_db", "6": "margin_db"}},
		{"Loss that each link stands", 0, paths("coverage.carriers.%d.%s", 6, "dl", "ul"), map[string]string{"3": "max_coupling_loss_db", "7": "max_path_loss_db"}},
		{"Power, and level at 400 m", 0, paths("coverage.carriers.%d%s", 6, ""),
			map[string]string{"2": "frequency_mhz", "4": "eirp_dbm", "5": "element_dbm", "6": "path_loss_db", "7": "rsrp_dbm"}},
	} {
		if len(all[test.table]) <= test.number || len(all[test.table][test.number]) < len(test.rows) {
			t.Errorf("no table %q with %d rows", test.table, len(test.rows))
			continue
		}
		for i, path := range test.rows {
			row := all[test.table][test.number][i]
			for column, key := range test.cells {
				c, err := strconv.Atoi(column)
				if err != nil {
					t.Fatal(err)
				}
				checkCell(t, root, path+"."+key, row[c])
				checked++
			}
		}
	}
	if checked < 200 {
		t.Errorf("only %d figures", checked)
	}
}

// paths lists paths with a number from 0 and each of some ends.
func paths(form string, count int, ends ...string) []string {
	var list []string
	for i := range count {
		for _, end := range ends {
			list = append(list, fmt.Sprintf(form, i, end))
		}
	}
	return list
}

// The cells of CSV are the figures of JSON, with all their digits.
func TestCSVAgrees(t *testing.T) {
	root := parsed(t, siteplan.Demo())
	rows, err := csv.NewReader(bytes.NewReader(show(t, answer(t, siteplan.Demo()), render.Options{Format: render.CSV}))).ReadAll()
	if err != nil || len(rows) != 1+2*3+2+1 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	exact := func(row []string, key, path string) {
		t.Helper()
		c := slices.Index(rows[0], key)
		if c < 0 {
			t.Fatalf("no column %s", key)
		}
		got, err := strconv.ParseFloat(row[c], 64)
		if want := number(t, root, path); err != nil || got != want {
			t.Errorf("%s is %v, and %q in column %s", path, want, row[c], key)
		}
	}
	capacity := []string{"width_mhz", "effective_mhz", "max_rate_mbps", "schedulable_mbps", "scheduled_mbps", "cell_max_rate_mbps", "cell_schedulable_mbps", "cell_scheduled_mbps", "full_load_mbps", "busy_hour_mbps", "edge_mbps"}
	row := 0
	for sector, carriers := range []int{3, 3} {
		for i := range carriers {
			row++
			for _, d := range []string{"dl", "ul"} {
				for _, key := range capacity {
					exact(rows[row], d+"_"+key, fmt.Sprintf("sectors.%d.carriers.%d.%s.%s", sector, i, d, key))
				}
				exact(rows[row], d+"_bps_hz", fmt.Sprintf("sectors.%d.carriers.%d.%s.efficiency.bps_hz", sector, i, d))
				exact(rows[row], d+"_edge_bps_hz", fmt.Sprintf("sectors.%d.carriers.%d.%s.edge_efficiency.bps_hz", sector, i, d))
			}
		}
		row++
		for _, d := range []string{"dl", "ul"} {
			for _, key := range capacity {
				exact(rows[row], d+"_"+key, fmt.Sprintf("sectors.%d.%s.%s", sector, d, key))
			}
			exact(rows[row], d+"_backhaul_need_mbps", fmt.Sprintf("sectors.%d.backhaul.%s.need_mbps", sector, d))
		}
		exact(rows[row], "users_served", fmt.Sprintf("sectors.%d.users.served", sector))
	}
	row++
	for _, d := range []string{"dl", "ul"} {
		for _, key := range capacity {
			exact(rows[row], d+"_"+key, "site."+d+"."+key)
		}
		exact(rows[row], d+"_backhaul_need_mbps", "site.backhaul."+d+".need_mbps")
		exact(rows[row], d+"_day_gb", "site.volume.day."+d+"_gb")
		exact(rows[row], d+"_month_gb", "site.volume.month."+d+"_gb")
	}
	exact(rows[row], "users_active", "site.users.active")
}
