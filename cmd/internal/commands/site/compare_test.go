package site

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"spectally/cmd/internal/commandtest"
	"spectally/cmd/internal/siteplan"
)

type sideBySideJSON struct {
	Plans []struct {
		Name     string
		Settings []string
		DL       struct {
			Busy float64 `json:"busy_hour_mbps"`
		}
		Backhaul struct {
			DL struct {
				Enough bool
			}
		}
	}
}

func compared(t *testing.T, args ...string) sideBySideJSON {
	t.Helper()
	var v sideBySideJSON
	if err := json.Unmarshal([]byte(commandtest.Must(t, Command(Many{}), append(args, "--format", "json")...)), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func TestSettings(t *testing.T) {
	v := compared(t, "site", "--demo", "--set", "sector.town.load_percent=35", "--set", "backhaul.link=10 Gbit/s; load_percent=50")
	if len(v.Plans) != 3 || v.Plans[1].DL.Busy >= v.Plans[0].DL.Busy || v.Plans[0].Backhaul.DL.Enough || !v.Plans[2].Backhaul.DL.Enough || len(v.Plans[2].Settings) != 2 {
		t.Errorf("%+v", v)
	}
}

func TestFiles(t *testing.T) {
	folder := t.TempDir()
	var names []string
	for name, load := range map[string]string{"a.toml": "70", "b.toml": "90"} {
		text, err := siteplan.Vary(siteplan.Demo(), "sector.town.load_percent="+load)
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, filepath.Join(folder, name))
		if err := os.WriteFile(names[len(names)-1], []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if v := compared(t, append([]string{"site"}, names...)...); len(v.Plans) != 2 || v.Plans[0].DL.Busy == v.Plans[1].DL.Busy {
		t.Errorf("%+v", v)
	}
	for args, want := range map[string]string{
		strings.Join(append([]string{"site", "--set", "load_percent=5"}, names...), " "): "not with several",
		"site --demo --set load":                         "KEY=VALUE",
		"site --demo --set sector.twon.count=2":          "town",
		"site --demo --set sector.town.load_percent=200": "load_percent",
		"site " + names[0] + " " + folder + "/none":      "none",
	} {
		if status, _, errs := commandtest.Run(Command(Many{}), strings.Fields(args)...); status != 2 || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, %q, want %q", args, status, errs, want)
		}
	}
}

// Options of the demo stand in its answer, with the month when the sectors are full.
func TestOptionsAndGrowth(t *testing.T) {
	var v struct {
		Options []struct{ Name string }
		Growth  struct {
			Percent float64 `json:"percent_a_year"`
			Sectors []struct {
				Sector, First, Month, Option string
				Months                       *int
			}
		}
	}
	if err := json.Unmarshal([]byte(commandtest.Must(t, Command(Many{}), "site", "--demo", "--format", "json")), &v); err != nil {
		t.Fatal(err)
	}
	// A load of 70 % that grows by 35 % a year is full after ln(1/0.7)/ln(1.35) years.
	if len(v.Options) != 3 || len(v.Growth.Sectors) != 2 || *v.Growth.Sectors[0].Months != 14 || v.Growth.Sectors[0].Month != "2032-08" {
		t.Errorf("%+v", v)
	}
}

// Every table of the answer can be a sheet: figures are numbers, words run no formula.
func TestSheets(t *testing.T) {
	_, _, errs := commandtest.Run(Command(Many{}), "site", "--demo", "--format", "csv", "--table", "?")
	_, list, ok := strings.Cut(errs, "must be ")
	names := strings.Split(strings.TrimSpace(list), ", ")
	if !ok || len(names) < 15 {
		t.Fatalf("%d tables: %s", len(names), errs)
	}
	for _, name := range names {
		rows, err := csv.NewReader(strings.NewReader(commandtest.Must(t, Command(Many{}), "site", "--demo", "--format", "csv", "--table", name))).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Errorf("%s: %d rows, %v", name, len(rows), err)
			continue
		}
		keys := make(map[string]bool)
		for i, key := range rows[0] {
			if key == "" || keys[key] {
				t.Errorf("%s: column %d is %q", name, i+1, key)
			}
			keys[key] = true
			for _, row := range rows[1:] {
				_, err := strconv.ParseFloat(row[i], 64)
				if row[i] != "" && err != nil && (strings.HasSuffix(key, "_mbps") || strings.HasSuffix(key, "_db") || strings.ContainsAny(row[i][:1], "=+-@")) {
					t.Errorf("%s, %s: %q", name, key, row[i])
				}
			}
		}
	}
}
