package cli

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
)

// Text, Markdown, CSV and JSON have the same rates.
func TestFormatsOfRatesAgree(t *testing.T) {
	for _, args := range [][]string{
		{"B3:20,sinr=12 + n78:100,sinr=20"}, {"n78:100 + n80:20"}, {"DC_3A-7A_n78A"}, {"B3:20 + n28:10 + n78:100", "--device", phone, "--goodput"}, {"n257:400"},
	} {
		p, _ := readPeak(t, args...)
		status, out, errs := run(append([]string{"throughput", "--format", "csv"}, args...)...)
		if status > command.Refuted {
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
