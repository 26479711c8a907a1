package holdings

import (
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"spectally/ca"
	"spectally/cmd/internal/commandtest"
)

// answer is the part of the JSON that scripts rely on.
type answer struct {
	Networks []struct {
		Name   string
		Blocks []struct {
			DL, UL  *span
			Layouts []struct {
				Band     string
				Carriers []struct {
					Carrier string
					DL, UL  *struct {
						span
						Channel int
						MHz     float64
					}
				}
				NRB    int     `json:"n_rb"`
				Unused float64 `json:"unused_mhz"`
			}
		}
		Best []struct {
			Technology, By, Configuration string
			Carriers                      []string
			DLMHz                         float64 `json:"dl_mhz"`
			ULMHz                         float64 `json:"ul_mhz"`
			DL, UL                        struct {
				Scheduled float64 `json:"scheduled_mbps"`
				Max       float64 `json:"max_rate_mbps"`
			}
			LimitedBy []string `json:"limited_by"`
			Proven    bool
		}
		Changes []struct {
			Kind string
			Gain float64 `json:"gain_mbps"`
		}
	}
}

type span struct {
	Low  float64 `json:"low_mhz"`
	High float64 `json:"high_mhz"`
}

func read(t *testing.T, args ...string) answer {
	t.Helper()
	var a answer
	if err := json.Unmarshal([]byte(commandtest.Must(t, Command(), append(args, "--format", "json")...)), &a); err != nil {
		t.Fatal(err)
	}
	return a
}

func TestJSON(t *testing.T) {
	n := read(t, "holdings", "1805-1825/1710-1730, 3410-3500, 758-768/703-713").Networks[0]
	if len(n.Blocks) != 3 || n.Blocks[0].UL.High != 1730 || n.Blocks[1].UL != nil {
		t.Errorf("blocks %+v", n.Blocks)
	}
	for _, b := range n.Blocks {
		for _, l := range b.Layouts {
			for _, c := range l.Carriers {
				if c.DL != nil && (c.DL.Low < b.DL.Low || c.DL.High > b.DL.High) {
					t.Errorf("%s lies outside %v", c.Carrier, b.DL)
				}
			}
		}
	}
	found := make(map[string]bool)
	for _, b := range n.Best {
		found[b.Technology+" "+b.By] = true
		c, err := ca.Parse(strings.Join(b.Carriers, " + "))
		if err != nil || !ca.Assess(c).Valid() {
			t.Errorf("%s: %v is not allowed, %v", b.Configuration, b.Carriers, err)
		}
		if !b.Proven || b.DLMHz == 0 || b.DL.Scheduled <= 0 || b.DL.Max < b.DL.Scheduled*0.5 {
			t.Errorf("%+v", b)
		}
	}
	if len(found) != 12 {
		t.Errorf("%d of 12 bests: %v", len(found), found)
	}
	if len(n.Changes) == 0 || n.Changes[0].Gain <= 0 {
		t.Errorf("changes %+v", n.Changes)
	}
}

// The short answer is a screen.
func TestShort(t *testing.T) {
	if n := strings.Count(commandtest.Must(t, Command(), "holdings", "--demo"), "\n"); n > 24 {
		t.Errorf("%d lines", n)
	}
}

// Every table can be a sheet: one heading a column, each figure a number, no formula.
func TestTables(t *testing.T) {
	for _, table := range []string{"layouts", "best", "networks", "changes"} {
		out := commandtest.Must(t, Command(), "holdings", "--demo", "--format", "csv", "--table", table)
		rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil || len(rows) < 5 {
			t.Errorf("%s: %d rows, %v", table, len(rows), err)
			continue
		}
		for _, row := range rows[1:] {
			for i, cell := range row {
				_, err := strconv.ParseFloat(cell, 64)
				key := rows[0][i]
				if number := strings.HasSuffix(key, "_mhz") || strings.HasSuffix(key, "_mbps") || strings.HasSuffix(key, "_percent"); number && cell != "" && err != nil {
					t.Errorf("%s, %s: %q is no number", table, key, cell)
				}
				if err != nil && cell != "" && strings.ContainsAny(cell[:1], "=+-@") {
					t.Errorf("%s, %s: %q runs as a formula", table, key, cell)
				}
			}
		}
	}
}

func TestFaults(t *testing.T) {
	for args, want := range map[string]string{
		"holdings":                              "no FILE given",
		"holdings nowhere.toml":                 "nowhere.toml",
		"holdings 1805-1825,1820-1830":          "overlaps",
		"holdings 100-200":                      "spectrum of a band",
		"holdings --demo 3410-3500":             "not with blocks",
		"holdings 3410-3500 --tolerance 5MHz":   "at most 500 kHz",
		"holdings 3410-3500 --carriers 0":       "1 to 32",
		"holdings 3410-3500 --device none.toml": "none.toml",
		"holdings 3410-3500 --table sums":       "layouts",
	} {
		if status, _, errs := commandtest.Run(Command(), strings.Fields(args)...); status != 2 || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, %q, want %q", args, status, errs, want)
		}
	}
}

func TestLimits(t *testing.T) {
	for _, b := range read(t, "holdings", "--demo", "--carriers", "2", "--width", "100", "--layers", "2").Networks[0].Best {
		if len(b.Carriers) > 2 || b.DLMHz > 100 {
			t.Errorf("%s has %d carriers and %g MHz", b.Configuration, len(b.Carriers), b.DLMHz)
		}
	}
	template := commandtest.Must(t, Command(), "holdings", "--template")
	if status, _, errs := commandtest.Feed(Command(), template, "holdings", "-"); status != 0 {
		t.Error(errs)
	}
	with := commandtest.Must(t, Command(), "holdings", "3410-3500", "--tolerance", "10kHz")
	if !strings.Contains(with, "n78: 90 ") {
		t.Errorf("no carrier of 90 MHz in\n%s", with)
	}
}
