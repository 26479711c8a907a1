package rf

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/data/factfile"
)

func facts(t *testing.T, name string, rows int) []factfile.Fact {
	t.Helper()
	return factfile.Read(t, "../../testdata/facts/"+name+".csv", rows)
}

func band(t *testing.T, f *factfile.Fact) bands.ID {
	t.Helper()
	id, err := bands.ParseID(f.Text("band"))
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func dB(t *testing.T, f *factfile.Fact, column string) bands.DB {
	t.Helper()
	d, err := bands.ParseDB(f.Text(column))
	if err != nil {
		t.Fatalf("%v: %v", f, err)
	}
	return d
}

func mhz(f *factfile.Fact, column string) bands.Frequency {
	return bands.Frequency(math.Round(f.Number(column) * 1e6))
}

func khz(f *factfile.Fact) bands.Frequency { return bands.Frequency(f.Int("scs_khz")) * bands.KHz }

// matched fails for every fact that no row answers, and unless there are as many rows.
func matched[T any](t *testing.T, list []factfile.Fact, all []T, find func(f *factfile.Fact) bool) {
	t.Helper()
	for i := range list {
		if !find(&list[i]) {
			t.Errorf("%v: not there", &list[i])
		}
	}
	if len(all) != len(list) {
		t.Errorf("%d rows in the package, want %d", len(all), len(list))
	}
}

var none bands.ID

// TS 38.101-1 V19.5.0 Tables 7.3.2-1a, -1b, 7.3F.2-1, TS 38.101-5 V19.4.0 Table 7.3.2-1.
func TestSensitivities(t *testing.T) {
	list := slices.Concat(facts(t, "refsens_fr1", 711), facts(t, "refsens_shared", 30), facts(t, "refsens_satellite", 61))
	matched(t, list, Sensitivities(none), func(f *factfile.Fact) bool {
		return slices.ContainsFunc(Sensitivities(band(t, f)), func(s Sensitivity) bool {
			if s.Spacing != khz(f) || s.Width != mhz(f, "bw_mhz") || s.Level != dB(t, f, "refsens_dbm") || s.Source != f.Source {
				return false
			}
			if f.Source.Table == "7.3.2-1a" {
				return strings.ReplaceAll(s.Notes, ",", " ") == f.Text("note_or_formula")
			}
			return f.Source.Table != "7.3.2-1b" || f.Text("note_or_formula") == "" && s.PerBlocks == 0 || s.PerBlocks > 0 && strings.HasSuffix(f.Text("note_or_formula"), "log10(N_RB/"+itoa(s.PerBlocks)+")")
		})
	})
}

func itoa(n int) string { return strconv.Itoa(n) }

// The values of TS 38.101-1 V19.5.0 Table 7.3.2-1b are those of its formula, with the N_RB of
// Table 5.3.2-1, which another package has.
func TestFormula(t *testing.T) {
	checked := 0
	for _, s := range Sensitivities(none) {
		if s.PerBlocks == 0 {
			continue
		}
		b, err := bands.Lookup(s.Band)
		if err != nil {
			t.Fatal(err)
		}
		w, ok := b.Width(s.Spacing, s.Width)
		if !ok {
			t.Errorf("%+v: the band has no such width", s)
			continue
		}
		want := s.Base.Float() + 10*math.Log10(float64(w.ResourceBlocks)/float64(s.PerBlocks))
		if math.Abs(want-s.Level.Float()) > 0.0501 {
			t.Errorf("%+v: %.2f by the formula", s, want)
		}
		checked++
	}
	if checked < 300 {
		t.Errorf("%d values checked", checked)
	}
}

// TS 38.101-1 V19.5.0 Tables 7.3.2-2, -2aa, -2a.
func TestMorePorts(t *testing.T) {
	matched(t, facts(t, "refsens_more_ports", 55), MorePorts(none), func(f *factfile.Fact) bool {
		return slices.Contains(MorePorts(band(t, f)), Ports{band(t, f), f.Int("ports"), dB(t, f, "delta_db"), f.Text("form"), f.Source})
	})
}

// TS 38.101-1 V19.5.0 Tables 7.3.2-1c, -1d, TS 38.101-5 V19.4.0 Tables 7.3.2-1a to -1d.
func TestClassLosses(t *testing.T) {
	matched(t, facts(t, "refsens_power_class", 244), ClassLosses(none), func(f *factfile.Fact) bool {
		return slices.ContainsFunc(ClassLosses(band(t, f)), func(c ClassLoss) bool {
			return c.Class == f.Text("power_class") && c.Transmitters == f.Int("transmitters") && c.Width == mhz(f, "bw_mhz") && c.Loss == dB(t, f, "add_db") &&
				strings.ReplaceAll(c.Notes, ",", " ") == f.Text("note") && c.Source == f.Source
		})
	})
}

// TS 38.101-1 V19.5.0 Tables 7.3.2-3, 7.3I.2-4, TS 38.101-5 V19.4.0 Table 7.3.2-2.
func TestAllocations(t *testing.T) {
	matched(t, facts(t, "refsens_uplink_blocks", 815), Allocations(none), func(f *factfile.Fact) bool {
		return slices.Contains(Allocations(band(t, f)), UplinkBlocks{band(t, f), khz(f), mhz(f, "bw_mhz"), f.Int("ul_rb"), f.Source})
	})
}

// TS 38.101-1 V19.5.0 Tables 7.3I.2-1b, -2, -3, TS 38.101-5 V19.4.0 clause 7.3I.2.
func TestRedCaps(t *testing.T) {
	matched(t, facts(t, "refsens_redcap", 440), RedCaps(none), func(f *factfile.Fact) bool {
		return slices.Contains(RedCaps(band(t, f)), RedCap{band(t, f), f.Int("rx_ports"), khz(f), mhz(f, "bw_mhz"), dB(t, f, "refsens_dbm"), f.Text("mode") == "FD-FDD PC2", f.Source})
	})
}

// TS 38.101-1 V19.5.0 Table 6.2.1-1, TS 38.101-5 V19.4.0 Table 6.2.1-1.
func TestPowers(t *testing.T) {
	satellite := facts(t, "power_class_satellite", 11)
	matched(t, append(facts(t, "power_class", 113), satellite...), Powers(none), func(f *factfile.Fact) bool {
		notes := ""
		if f.Source.Spec == "TS 38.101-1" {
			notes = strings.ReplaceAll(f.Text("notes"), " ", "")
		}
		return slices.Contains(Powers(band(t, f)), Power{f.Text("band"), f.Text("power_class"), dB(t, f, "max_dbm"), notes, f.Source})
	})
}

// TS 38.101-1 V19.5.0 Tables 6.2A.1.1-1, 6.2A.1.2-1, 6.2A.1.3-1, 6.2B.1.3-1, TS 38.101-3 V19.5.0
// Table 6.2B.1.3-1.
func TestCombinationPowers(t *testing.T) {
	matched(t, facts(t, "power_class_combinations", 856), CombinationPowers(""), func(f *factfile.Fact) bool {
		return slices.Contains(CombinationPowers(f.Text("config")), Power{f.Text("config"), f.Text("power_class"), dB(t, f, "max_dbm"), f.Text("note"), f.Source})
	})
}

// TS 38.101-2 V19.4.0 clauses 6.2.1, 7.3.2 and 7.3.4.
func TestRadiated(t *testing.T) {
	words := map[string]string{"min peak EIRP": "least-peak-EIRP", "max TRP": "greatest-TRP", "max EIRP": "greatest-EIRP", "min EIRP over the sphere": "least-EIRP-over-sphere"}
	list := slices.Concat(facts(t, "eis_peak", 129), facts(t, "eis_sphere", 129), facts(t, "eirp", 132))
	matched(t, list, RadiatedIn(none), func(f *factfile.Fact) bool {
		r := Radiated{Band: band(t, f), Class: f.Text("power_class"), What: "EIS", Source: f.Source}
		switch {
		case strings.HasPrefix(f.Source.Table, "6.2"):
			r.What, r.Percentile, r.Level = words[f.Text("what")], f.Int("percentile"), dB(t, f, "dbm")
		case strings.HasPrefix(f.Source.Table, "7.3.4"):
			r.Percentile, r.Width, r.Level = f.Int("percentile"), mhz(f, "bw_mhz"), dB(t, f, "eis_dbm")
		default:
			r.Width, r.Level = mhz(f, "bw_mhz"), dB(t, f, "refsens_dbm")
		}
		return slices.Contains(RadiatedIn(r.Band), r)
	})
}

// TS 38.104 V19.4.0 Tables 7.2.2-1 to -3c, TS 36.104 Table 7.2.1-1 (Release 18 edition).
func TestStations(t *testing.T) {
	of := map[string]bands.ID{
		"all but n46 n96 n102 n104": {RAT: bands.NR, Number: 78}, "all but n104": {RAT: bands.NR, Number: 3}, "n104": {RAT: bands.NR, Number: 104},
		"n46": {RAT: bands.NR, Number: 46}, "n96 n102": {RAT: bands.NR, Number: 102}, "all": {RAT: bands.LTE, Number: 3},
	}
	matched(t, facts(t, "refsens_base_station", 274), StationIn(none), func(f *factfile.Fact) bool {
		return slices.ContainsFunc(StationIn(of[f.Text("bands")]), func(s Station) bool {
			return string(s.Class) == strings.ReplaceAll(f.Text("class"), " ", "-") && s.Spacing == khz(f) && s.Width == mhz(f, "bw_mhz") &&
				s.Level == dB(t, f, "refsens_dbm") && s.Channel == f.Text("channel") && s.Source == f.Source
		})
	})
	for _, s := range StationIn(bands.ID{RAT: bands.NR, Number: 104}) {
		if strings.HasPrefix(s.Bands, "but") && strings.Contains(s.Bands, "n104") {
			t.Errorf("%+v is not for n104", s)
		}
	}
}

// The change histories of TS 38.101-1 V19.5.0, TS 38.101-2, TS 38.101-5 and TS 38.104 V19.4.0.
func TestSince(t *testing.T) {
	for _, f := range facts(t, "nr_releases", 92) {
		r, ok := Since(band(t, &f))
		if !ok || r.Release != f.Int("release") || r.Edition != f.Text("version") || r.Date != f.Text("date") || r.Evidence.String() != f.Text("evidence") || r.Source != f.Source {
			t.Errorf("%v: %+v", &f, r)
		}
	}
	if _, ok := Since(bands.ID{RAT: bands.LTE, Number: 3}); ok {
		t.Error("something is known of B3")
	}
}
