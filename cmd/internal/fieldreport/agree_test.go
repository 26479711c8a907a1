package fieldreport

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/net/html"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/render"
)

// tables reads the tables of a page.
func tables(root *html.Node) map[string][][]string {
	found := make(map[string][][]string)
	for _, t := range htmlcheck.Find(root, "table") {
		name := strings.TrimSuffix(htmlcheck.Text(htmlcheck.Find(t, "caption")[0]), " in numbers")
		found[name] = append(found[name], htmlcheck.Rows(t)...)
	}
	return found
}

// scaleColumn is what text and Markdown add to a table for which a page has a drawing.
var scaleColumn = regexp.MustCompile(`one block = [0-9.]+ \S+`)

// The numbers of text, Markdown and the page are the same, in the same order, but for
// the scale of the bars that text and Markdown draw of letters.
func TestNumbersAgree(t *testing.T) {
	for name, log := range map[string]string{"demo": fieldlog.Demo(), "odd": odd, "template": fieldlog.Template()} {
		t.Run(name, func(t *testing.T) {
			a := Answer(read(t, log))
			page, err := html.Parse(bytes.NewReader(show(t, a, render.Options{Format: render.HTML, Explain: true})))
			if err != nil {
				t.Fatal(err)
			}
			want := htmlcheck.Numerals(htmlcheck.Reading(page))
			if len(want) < 150 {
				t.Errorf("only %d numbers", len(want))
			}
			text := string(show(t, a, render.Options{Format: render.Text, Explain: true, Width: 2000}))
			if diff := cmp.Diff(inOrder(want), inOrder(htmlcheck.Numerals(scaleColumn.ReplaceAllString(text, "")))); diff != "" {
				t.Errorf("text (-page +text):\n%s", diff)
			}
			markdown := string(show(t, a, render.Options{Format: render.Markdown, Explain: true}))
			markdown = regexp.MustCompile(`(?m)^1\. `).ReplaceAllString(markdown, "") // the numbers of the steps of a working
			if diff := cmp.Diff(want, htmlcheck.Numerals(scaleColumn.ReplaceAllString(markdown, ""))); diff != "" {
				t.Errorf("Markdown (-page +Markdown):\n%s", diff)
			}
			checkDrawings(t, page)
		})
	}
}

// inOrder sorts numbers: text breaks cells over lines, so theirs is another order.
func inOrder(list []string) []string { return slices.Sorted(slices.Values(list)) }

// checkDrawings checks that drawings have no number that the table below them lacks.
func checkDrawings(t *testing.T, page *html.Node) {
	t.Helper()
	for _, figure := range htmlcheck.Find(page, "figure") {
		known := make(map[string]bool)
		for _, n := range htmlcheck.Numerals(htmlcheck.Reading(htmlcheck.Find(figure, "table")[0])) {
			known[n] = true
		}
		for _, svg := range htmlcheck.Find(figure, "svg") {
			described := htmlcheck.Numerals(htmlcheck.Find(svg, "desc")[0].FirstChild.Data)
			for _, n := range described {
				if !known[n] {
					t.Errorf("%q is described with %s, which its table lacks", htmlcheck.Find(svg, "title")[0].FirstChild.Data, n)
				}
			}
			for _, text := range htmlcheck.Find(svg, "text") {
				if class := htmlcheck.Attribute(text, "class"); class != "middle name" && class != "middle tick" && class != "value" {
					continue // a scale, or a name
				}
				for _, n := range htmlcheck.Numerals(text.FirstChild.Data) {
					if !slices.Contains(described, n) {
						t.Errorf("%q is drawn, but not described", text.FirstChild.Data)
					}
				}
			}
		}
	}
}

// field is a figure of JSON by its path: "comparison.0.dl_mhz".
func field(t *testing.T, root any, path string) any {
	t.Helper()
	x := root
	for key := range strings.SplitSeq(path, ".") {
		switch v := x.(type) {
		case map[string]any:
			x = v[key]
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i >= len(v) {
				t.Fatalf("%s: no %s", path, key)
			}
			x = v[i]
		default:
			return nil
		}
	}
	return x
}

// checkFigure holds a cell of a table against a figure of JSON: it has to be that
// figure, rounded to the digits of the cell.
func checkFigure(t *testing.T, root any, path, cell string, factor float64, places int) {
	t.Helper()
	x := field(t, root, path)
	if x == nil {
		if cell != "" {
			t.Errorf("%s is null, and shown as %q", path, cell)
		}
		return
	}
	want, err := strconv.ParseFloat(fmt.Sprint(x), 64)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	got, err := strconv.ParseFloat(cell, 64)
	if err != nil || math.Abs(got-factor*want) > 0.5000001*math.Pow(10, -float64(places)) {
		t.Errorf("%s is %v, and shown as %q", path, x, cell)
	}
}

// The numbers of JSON are those that the page shows.
func TestJSONAgrees(t *testing.T) {
	a := Answer(read(t, fieldlog.Demo()))
	var root any
	if err := json.Unmarshal(show(t, a, render.Options{Format: render.JSON}), &root); err != nil {
		t.Fatal(err)
	}
	page, err := html.Parse(bytes.NewReader(show(t, a, render.Options{Format: render.HTML})))
	if err != nil {
		t.Fatal(err)
	}
	all := tables(page)
	const exactPlaces = 9
	for _, test := range []struct {
		table, paths string // with the column of each figure: "path:factor:places", - for a column of words
		row          string // the path to what a row shows, with %d for its number
	}{
		{"Bandwidth", "- -:carriers dl_mhz ul_mhz dl_equivalent_mhz:1:2", "comparison.%d"},
		{"Rates", "- max_rate_mbps:1:1 schedulable_mbps:1:1 scheduled_mbps:1:1 median_down_mbps:1:1 best_down_mbps:1:1 share_of_max:100:1 bps_hz:1:2 median_up_mbps:1:1", "comparison.%d"},
		{"Latency, medians", "- idle_ms:1:1 loaded_down_ms:1:1 added_down_ms:1:1 round_trips_per_minute:1:0", "comparison.%d"},
		{"Runs", "number - - down.mbps down.share_of_scheduled:100:1 expected.expected_mbps:1:1 - down.share_of_expected:100:1 up.mbps up.share_of_scheduled:100:1", "networks.0.runs.%d"},
		{"Carriers", "carrier - - - dl.width_mhz ul.width_mhz - dl.channel dl.centre_mhz pci rsrp_dbm sinr_db", "networks.0.carriers.%d"},
		{"Latency of each run", "number idle_ms loaded_down_ms added_ms.down:1:1 round_trips_per_minute.down:1:0 loaded_up_ms added_ms.up:1:1 round_trips_per_minute.up:1:0", "networks.0.runs.%d"},
		{"Transfers", "number - - - - seconds mean_mbps:1:1 expected_seconds:1:1 share_of_median:100:1", "networks.0.transfers.%d"},
	} {
		rows := all[test.table]
		if len(rows) < 2 {
			t.Errorf("no table %q", test.table)
			continue
		}
		// Tables of networks stand once for each; the first network comes first.
		for i := range (map[bool]int{true: 3, false: 1})[strings.HasPrefix(test.row, "comparison")] {
			for c, spec := range strings.Fields(test.paths) {
				parts := strings.Split(spec, ":")
				if parts[0] == "-" {
					continue
				}
				factor, places := 1.0, exactPlaces
				if len(parts) == 3 {
					factor, _ = strconv.ParseFloat(parts[1], 64)
					places, _ = strconv.Atoi(parts[2])
				}
				checkFigure(t, root, fmt.Sprintf(test.row, i)+"."+parts[0], rows[i+1][c], factor, places)
			}
		}
	}
	for i, want := range []string{"dl_mhz", "ul_mhz", "occupied_mhz", "dl_equivalent_mhz"} {
		checkFigure(t, root, "networks.0.totals."+want, all["Total bandwidth, by meaning"][i+1][1], 1, 2)
	}
	if !strings.Contains(htmlcheck.Reading(page), "4 hold, 1 fails, 3 are undecided") {
		t.Error("the page does not count the claims")
	}
}
