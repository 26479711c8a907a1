package throughput

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/cmd/internal/command"
)

// ask asks the command for one carrier and returns its directions as JSON has them.
func ask(t *testing.T, args ...string) (down, up map[string]any) {
	t.Helper()
	a, err := command.Ask([]*command.Command{Command()}, append([]string{"throughput"}, args...), nil)
	if err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	text, err := json.Marshal(a.Value())
	if err != nil {
		t.Fatal(err)
	}
	var v struct {
		Carriers []map[string]json.RawMessage `json:"carriers"`
	}
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	for name, to := range map[string]*map[string]any{"dl": &down, "ul": &up} {
		if err := json.Unmarshal(v.Carriers[0][name], to); err != nil {
			t.Fatal(err)
		}
	}
	return down, up
}

// carrierOf writes a carrier of a row of TR 37.910: in a band that has its width, or in the
// narrowest of a band that is wider, down to its resource blocks. A paired carrier for which
// no band is wide enough stands in a TDD band whose slots are all of its direction.
func carrierOf(t *testing.T, pattern, fr string, scs, width, blocks int, uplink bool) (text string, wide float64) {
	t.Helper()
	spacing := bands.Frequency(scs) * bands.KHz
	for _, duplex := range [...]bands.Duplex{bands.FDD, bands.TDD} {
		if duplex == bands.FDD && pattern != "-" {
			continue
		}
		best, name := bands.Frequency(0), ""
		for _, b := range bands.All(bands.NR) {
			if b.Duplex != duplex || b.Range.IsFR2() != (fr == "FR2") || b.Range == bands.FR22 || b.IsShared() {
				continue
			}
			for _, w := range b.Widths() {
				if w.SCS == spacing && w.ResourceBlocks >= blocks && w.Width >= bands.Frequency(width)*bands.MHz && (best == 0 || w.Width < best) && (!uplink || b.Has(bands.Uplink)) {
					best, name = w.Width, b.ID.String()
				}
			}
		}
		if name == "" {
			continue
		}
		if pattern == "-" && duplex == bands.TDD {
			pattern = strconv.Itoa(scs/15*10) + map[bool]string{true: "U", false: "D"}[uplink]
		}
		text = fmt.Sprintf("%s:%s,scs=%d,rb=%d", name, best.MHz(), scs, blocks)
		if pattern != "-" {
			text += ",pattern=" + pattern
		}
		return text, float64(best) / float64(bands.MHz)
	}
	t.Fatalf("no band for %s %d MHz at %d kHz", fr, width, scs)
	return "", 0
}

// TestSelfEvaluation asks the command for the peak spectral efficiencies and peak rates of
// NR that TR 37.910 V1.0.0 Tables 5.1.1.1-1 to 5.2.1.2-1 print, with the overhead sets by
// name. The lines and what they are checked for are those of testdata/nr_tr37910.txt. In
// paired spectrum set 4 is chosen to meet the overhead of TS 38.306: it is the maximum rate.
func TestSelfEvaluation(t *testing.T) {
	file, err := os.ReadFile("../../../../testdata/nr_tr37910.txt")
	if err != nil {
		t.Fatal(err)
	}
	var heading []string
	checked := make(map[string]int)
	for line := range strings.Lines(string(file)) {
		row := strings.Fields(strings.Trim(strings.TrimSpace(line), "[]"))
		switch {
		case len(row) == 0 || row[0] == "#" || line[0] == '#':
			continue
		case line[0] == '[':
			heading = row
			continue
		}
		check := row[9]
		if check == "left-out" || check == "bound" || strings.HasSuffix(row[0], "+sul") {
			checked[check]++
			continue
		}
		number := func(s string) float64 {
			f, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			return f
		}
		whole := func(s string) int { return int(number(s)) }
		uplink := heading[1] == "UL"
		carrier, wide := carrierOf(t, row[0], row[1], whole(row[2]), whole(row[3]), whole(row[4]), uplink)
		if uplink {
			carrier += ",ullayers=" + row[5] + ",ulqam=256"
		} else {
			carrier += ",layers=" + row[5] + ",qam=256"
		}
		first, last, ranged := strings.Cut(row[6], "-")
		if !ranged {
			last = first
		}
		var got []float64
		gbps := heading[2] == "Gbit/s"
		for set := whole(first); set <= whole(last); set++ {
			var link map[string]any
			key := "peak_bps_hz"
			if set == 4 && row[0] == "-" {
				down, up := ask(t, carrier)
				link, key = map[bool]map[string]any{true: up, false: down}[uplink], "max_bps_hz"
			} else {
				down, up := ask(t, carrier, "--signals", "tr37910-"+strconv.Itoa(set))
				link = map[bool]map[string]any{true: up, false: down}[uplink]
			}
			if gbps {
				got = append(got, link[map[string]string{"peak_bps_hz": "peak_mbps", "max_bps_hz": "max_rate_mbps"}[key]].(float64)/1000)
				continue
			}
			got = append(got, link[key].(float64)*wide/number(row[3]))
		}
		low, high := slices.Min(got), slices.Max(got)
		tolerance := 0.05
		switch {
		case check == "near":
			tolerance = 0.15
		case gbps: // bandwidth times share times an efficiency of one decimal
			tolerance = 0.005 + 0.05*number(row[3])/1000
			if row[7] == row[8] {
				low = high
			}
		}
		tolerance += 1e-4
		checked[check]++
		if check != "upper" && max(low-number(row[7]), number(row[7])-low) > tolerance {
			t.Errorf("Table %s %v (%s): lowest %.4f of %v", heading[0], row, carrier, low, got)
		}
		if check != "lower" && max(high-number(row[8]), number(row[8])-high) > tolerance {
			t.Errorf("Table %s %v (%s): highest %.4f of %v", heading[0], row, carrier, high, got)
		}
	}
	if checked["="] != 116 || checked["near"] != 19 || checked["lower"]+checked["upper"] != 2 {
		t.Errorf("checks are %v", checked)
	}
}
