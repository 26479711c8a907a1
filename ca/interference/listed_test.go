package interference

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/data/factfile"
)

func facts(t *testing.T, name string, rows int) []factfile.Fact {
	t.Helper()
	return factfile.Read(t, "../../testdata/facts/"+name, rows)
}

func decibels(tb testing.TB, text string) bands.DB {
	tb.Helper()
	d, err := bands.ParseDB(text)
	if err != nil {
		tb.Fatal(err)
	}
	return d
}

// The tables of intermodulation, every row, out of what the package lists for the product
// of its test point: TS 38.101-1 V19.5.0 Tables 7.3A.5-1, -1a, -1b, -2, -2a, -2b and
// TS 38.101-3 V19.5.0 Tables 7.3B.2.3.5.1-1, -1a, 7.3B.2.3.5.2-1, -1a, 7.3B.2.3.5.4-1. The
// carriers are those of the row with the bands of a configuration for which it is printed.
func TestListedIntermodulation(t *testing.T) {
	byBands := 0
	for _, f := range facts(t, "msd_intermodulation.csv", 2335) {
		carriers := point(t, &f)
		found := Find(carriers, Options{Order: f.Int("order"), Misses: true})
		i := slices.IndexFunc(found, func(p Product) bool {
			return p.Uplinks == 2 && slices.Equal(p.Sources(), opposed([]Source{{0, int8(f.Int("coef1"))}, {1, int8(f.Int("coef2"))}}, p.Sources()))
		})
		if i < 0 {
			t.Fatalf("%v: no product", &f)
		}
		p := found[i]
		p.Hit = Direct // one row is printed 55 MHz off
		if !slices.ContainsFunc(strings.Split(f.Text("configs"), "|"), func(name string) bool {
			return listsRow(t, slices.Clone(carriers), &p, &f, name)
		}) {
			t.Errorf("%v: not listed", &f)
		}
		if listsRow(t, carriers, &p, &f, "") {
			byBands++
		}
	}
	if byBands < 2200 { // the others print n77 for a configuration with n78, or the like
		t.Errorf("%d rows are listed for the very bands that they print", byBands)
	}
}

// carriersOf are the carriers of a band in a name, and the number of a note behind them.
var carriersOf = regexp.MustCompile(`\([0-9A-Z-]+\)[0-9]*`)

// misprints are names with the number of a note behind a band, and without an n.
var misprints = map[string]string{
	"CA_n5-n784": "CA_n5-n78", "CA_n5-n772": "CA_n5-n77", "CA_n40-n41-n7714": "CA_n40-n41-n77", "CA_n3-n28-75": "CA_n3-n28-n75", "CA_n3-40-n41": "CA_n3-n40-n41",
}

// printedBands lists the bands of a configuration as printed; none of "".
func printedBands(name string) []bands.ID {
	if name == "" {
		return nil
	}
	if right := misprints[name]; right != "" {
		name = right
	}
	return bandsOf(carriersOf.ReplaceAllString(name, ""))
}

// listsRow tells whether the row is listed for its product with the bands of a
// configuration: each of the row that it does not have is one of the same number, or of
// the same spectrum, there.
func listsRow(t *testing.T, carriers []Carrier, p *Product, f *factfile.Fact, name string) bool {
	own := printedBands(name)
	for i := range carriers {
		id := carriers[i].Band
		if name == "" || slices.Contains(own, id) {
			continue
		}
		at := slices.IndexFunc(own, func(o bands.ID) bool { return o.Number == id.Number })
		if at < 0 {
			at = slices.IndexFunc(own, func(o bands.ID) bool {
				b, err := bands.Lookup(o)
				c := carriers[i]
				return err == nil && !slices.ContainsFunc(carriers, func(c Carrier) bool { return c.Band == o }) &&
					(c.Uplink.IsZero() && b.Downlink.Contains(c.Downlink.Centre.Low) || c.Downlink.IsZero() && b.Uplink.Contains(c.Uplink.Centre.Low))
			})
		}
		if at >= 0 {
			for j := range carriers {
				if carriers[j].Band == id {
					carriers[j].Band = own[at]
				}
			}
		}
	}
	for _, id := range own {
		carriers = append(carriers, Carrier{Band: id})
	}
	for _, e := range Listed(carriers, p, PowerClass(f.Text("power_class"))) {
		if e.Rule != (bands.Source{}) || e.Source != f.Source || e.MSD != decibels(t, f.Text("msd_db")) || e.Order != f.Int("order") {
			continue
		}
		same := func(a Allocation, n string) bool {
			return a.Centre == hertz(f.Number("ul"+n+"_fc_mhz")) && a.Width == hertz(f.Number("ul"+n+"_bw_mhz")) && a.Blocks == f.Int("ul"+n+"_rb") &&
				(a.First >= 0) == (f.Text("ul"+n+"_rb_start") != "") && max(0, a.First) == f.Int("ul"+n+"_rb_start")
		}
		if same(e.Uplinks[0], "1") && same(e.Uplinks[1], "2") && e.Downlink.Centre == hertz(f.Number("dl_fc_mhz")) && e.Downlink.Width == hertz(f.Number("dl_bw_mhz")) {
			return true
		}
	}
	return false
}

// The rows that arithmetic does not confirm are there as facts: TS 38.101-1 V19.5.0 clause
// 7.3A.5, TS 38.101-3 V19.5.0 clause 7.3B.2.3.5.
func TestUnconfirmedRows(t *testing.T) {
	count := make(map[string]int)
	for _, e := range Intermodulations() {
		if !e.Confirmed() || len(e.Uplinks) == 0 {
			count[fmt.Sprint(e.Source.Table, e.PowerClass, e.Order, e.MSD, e.Downlink.Centre, e.Uplinks[0].Centre)]++
		}
	}
	for _, f := range facts(t, "msd_intermodulation_unconfirmed.csv", 138) {
		msd := bands.DB(0)
		if f.Text("msd_db") != "" {
			msd = decibels(t, f.Text("msd_db"))
		}
		if f.Text("coef1") == "" && count[fmt.Sprint(f.Source.Table, f.Text("power_class"), f.Int("order"), msd, hertz(f.Number("dl_fc_mhz")), hertz(f.Number("ul1_fc_mhz")))] == 0 {
			t.Errorf("%v: not there", &f)
		}
	}
}

// The tables of harmonics and mixing, every row, and those of supplementary uplinks:
// TS 38.101-1 V19.5.0 Tables 7.3A.4-1, -2a, -4, -4a-1, -4b, -4d, 7.3C.2-2, -2a, -6, -6a and
// TS 38.101-3 V19.5.0 Tables 7.3B.2.3.1-1, 7.3B.2.3.2-1, -1a, 7.3B.2.3a.2-1.
func TestListedHarmonics(t *testing.T) {
	all := facts(t, "msd_harmonic.csv", 623)
	for _, f := range facts(t, "msd_sul.csv", 58) {
		if f.Text("kind") != "isolation" {
			all = append(all, f)
		}
	}
	checked := 0
	for _, f := range all {
		second, hit := "msd_2tx_db", "hit_or_source"
		if f.Source.Table[:4] != "7.3C" {
			second, hit = "msd_tx_diversity_db", "hit"
		}
		carriers := []Carrier{
			Of(band(t, f.Text("ul_band")), 0, hertz(f.Number("ul_bw_mhz"))),
			Of(band(t, f.Text("dl_band")), hertz(f.Number("dl_bw_mhz")), 0),
		}
		p := Product{Kind: Harmonic, Order: int8(f.Int("ul_order")), ReceiverOrder: int8(f.Int("dl_order")), Uplinks: 1, Victim: 1, Hit: Direct}
		p.sources[0] = Source{0, p.Order}
		if f.Text(hit) == "near-miss" {
			p.Hit = Near
		}
		if !slices.ContainsFunc(Listed(carriers, &p, PowerClass(f.Text("power_class"))), func(e Entry) bool {
			return e.Source == f.Source && e.Rule == bands.Source{} &&
				e.HasMSD == (f.Text("msd_db") != "") && (!e.HasMSD || e.MSD == decibels(t, f.Text("msd_db"))) &&
				e.Has2Tx == (f.Text(second) != "") && (!e.Has2Tx || e.MSD2Tx == decibels(t, f.Text(second))) &&
				e.Uplinks[0].Width == hertz(f.Number("ul_bw_mhz")) && e.Downlink.Width == hertz(f.Number("dl_bw_mhz")) &&
				e.Uplinks[0].Blocks == f.Int("ul_rb") && e.Uplinks[0].Spacing == bands.Frequency(f.Int("ul_scs_khz"))*bands.KHz
		}) {
			t.Errorf("%v: not listed", &f)
		}
		checked++
	}
	if checked != 623+36+4 || len(Harmonics()) != checked {
		t.Errorf("%d rows, %d in the package", checked, len(Harmonics()))
	}
}

// The tables of cross-band isolation, every row: TS 38.101-1 V19.5.0 Tables 7.3A.6-1, -1a-1,
// -1b, -1c, -3, 7.3C.2-4, -4a and TS 38.101-3 V19.5.0 Tables 7.3B.2.3.4-1, -1a, 7.3B.2.3a.3-1.
func TestIsolated(t *testing.T) {
	all := facts(t, "msd_isolation.csv", 272)
	for _, f := range facts(t, "msd_sul.csv", 58) {
		if f.Text("kind") == "isolation" {
			all = append(all, f)
		}
	}
	pairs := facts(t, "msd_two_aggressors.csv", 4)
	all = append(all, pairs...)
	for _, f := range all {
		carriers := []Carrier{
			OfBand(band(t, f.Text("ul_band")), true), OfBand(band(t, f.Text("dl_band")), false),
			OfBand(band(t, "n28"), true), OfBand(band(t, "n5"), true), OfBand(band(t, "n26"), true),
		}
		if f.Source.Table != twoUplinks {
			carriers = carriers[:2]
		}
		falls, second := "source", ""
		if f.Source.Table[:4] == "7.3C" {
			falls, second = "hit_or_source", f.Text("msd_2tx_db")
		}
		if !slices.ContainsFunc(Isolated(carriers, PowerClass(f.Text("power_class"))), func(e Isolation) bool {
			return e.Source == f.Source && strings.Contains(e.Falls, f.Text(falls)) && e.MSD == decibels(t, f.Text("msd_db")) && e.Rule == bands.Source{} &&
				e.Has2Tx == (second != "") && (!e.Has2Tx || e.MSD2Tx == decibels(t, second)) &&
				e.Downlink.Centre == hertz(f.Number("dl_fc_mhz")) && e.Downlink.Width == hertz(f.Number("dl_bw_mhz")) &&
				slices.ContainsFunc(e.Uplinks, func(u Allocation) bool {
					return u.Band == band(t, f.Text("ul_band")).ID && u.Centre == hertz(f.Number("ul_fc_mhz")) && u.Width == hertz(f.Number("ul_bw_mhz")) &&
						u.Blocks == f.Int("ul_rb") && u.First == f.Int("ul_rb_start") && u.Spacing == bands.Frequency(f.Int("ul_scs_khz"))*bands.KHz
				})
		}) {
			t.Errorf("%v: not listed", &f)
		}
	}
	if n := len(all) - len(pairs)/2; len(Isolations()) != n {
		t.Errorf("%d rows in the package, want %d", len(Isolations()), n)
	}
}

// ΔR_IB and ΔT_IB, every value under every configuration: TS 38.101-1 V19.5.0 clauses
// 6.2A.4.2, 6.2C.2, 7.3A.3.2, 7.3C.3.2, TS 38.101-3 V19.5.0 clauses 6.2B.4.2.3, 7.3B.3.3.
func TestAllowances(t *testing.T) {
	effects := map[string]Effect{"RIB": Sensitivity, "TIB": OutputPower}
	values := 0
	for _, f := range facts(t, "delta_ib.csv.gz", 23974) {
		value := bands.DB(0) // a dash in the table
		if f.Text("value_db") != "" {
			value = decibels(t, f.Text("value_db"))
		}
		na := f.Text("note") == "N/A" || f.Text("note") == "NA"
		id := band(t, f.Text("band")).ID
		for name := range strings.SplitSeq(f.Text("configs"), "|") {
			values++
			if !slices.ContainsFunc(Allowances(bandsOf(name)), func(a Allowance) bool {
				applies := ""
				if !a.Applies.IsZero() {
					applies = strings.TrimSuffix(a.Applies.String(), " MHz")
				}
				return a.Source == f.Source && a.Effect == effects[f.Text("kind")] && a.Band == id && a.Value == value &&
					a.NotApplicable == (na && f.Text("value_db") == "") && (na || strings.ReplaceAll(a.Note, ",", " ") == f.Text("note")) && applies == f.Text("applies_mhz")
			}) {
				t.Fatalf("%v: not there for %s", &f, name)
			}
		}
	}
	if n := len(AllAllowances()); n != 23974 || values < n {
		t.Errorf("%d values in the package, %d checked", n, values)
	}
}

// TS 38.101-3 V19.5.0 Tables 7.3B.3.2-1, -2, 7.3B.2.1-1 and 7.3B.2.2-1.
func TestIntraBandENDC(t *testing.T) {
	technologies := map[bands.RAT]string{bands.LTE: "E-UTRA", bands.NR: "NR"}
	for _, f := range facts(t, "delta_rib_intra_endc.csv", 176) {
		if !slices.ContainsFunc(GapLosses(f.Text("config")), func(g GapLoss) bool {
			return g.Source == f.Source && technologies[g.Transmits] == f.Text("uplink_on") && g.Uplink == hertz(f.Number("bw_1_mhz")) && g.Downlink == hertz(f.Number("bw_2_mhz")) &&
				g.Above == hertz(f.Number("gap_from_mhz")) && g.To == hertz(f.Number("gap_to_mhz")) && g.Loss == decibels(t, f.Text("delta_db")) &&
				g.Blocks == f.Int("ul_rb") && max(0, g.First) == f.Int("ul_rb_start")
		}) {
			t.Errorf("%v: not there", &f)
		}
	}
	points := IntraPoints()
	for i, f := range facts(t, "msd_intra_endc.csv", len(points)) {
		p := points[i]
		if p.Source != f.Source || p.Configuration != f.Text("config") || p.Band != band(t, f.Text("band")).ID || p.MSD != f.Text("msd_db") ||
			p.Uplink != hertz(f.Number("ul_fc_mhz")) || p.Downlink != hertz(f.Number("dl_fc_mhz")) || p.Width != hertz(f.Number("bw_mhz")) || p.At != f.Text("rb_at") || p.Blocks != f.Int("ul_rb") {
			t.Errorf("%v: %+v", &f, p)
		}
	}
}

// TS 38.101-1 V19.5.0 Tables 7.3A.2.3.1.1-1, 7.3A.2.3.2.1-1 with 7.3A.2.3.1.1-2, 7.3A.2.3.1.2-1,
// 7.3A.2.3.2.1-2 and clause 7.3A.2.3.2.2: every cell of every column, at both ends of its row.
func TestRaise(t *testing.T) {
	names := map[string]string{
		"harmonic": "harmonic", "harmonic mixing": "mixing", "cross band isolation": "isolation",
		"triple beat of two carriers in a TDD band and one elsewhere": "triple-beat",
	}
	cells := facts(t, "msd_power_class_lookup.csv", 95)
	used := make(map[int]bool)
	for _, column := range facts(t, "msd_power_class_greatest.csv", 27) {
		text := column.Text("source")
		source, orders := names[text], []int{3}
		if source == "" {
			source, orders = "intermodulation", []int{int(text[3] - '0')}
			if strings.Contains(text, "within") {
				source = "within-band"
			}
			if strings.Contains(text, "and up") {
				orders = []int{6, 7, 8, 9}
			}
		}
		lookup := map[string]string{"7.3A.2.3.1.1-2": "7.3A.2.3.1.1-1", "7.3A.2.3.1.2-1": "7.3A.2.3.1.1-1"}[column.Source.Table]
		if lookup == "" {
			lookup = "7.3A.2.3.2.1-1"
		}
		class, tx, _ := strings.Cut(column.Text("power_class"), " with ")
		for i, f := range cells {
			if f.Source.Table != lookup || f.Text("msd_max_db") != column.Text("msd_max_db") {
				continue
			}
			used[i] = true
			msds := []bands.DB{decibels(t, f.Text("pc3_msd_from_db"))}
			if below := f.Text("pc3_msd_below_db"); below != "" {
				msds = append(msds, decibels(t, below)-1)
			} else {
				msds = append(msds, 6000)
			}
			for _, msd := range msds {
				for _, order := range orders {
					transmitters := 1
					if tx == "2 Tx" {
						transmitters = 2
					}
					got, from, ok := Raise(source, order, PowerClass(class), transmitters, msd)
					if want := msd + decibels(t, f.Text("add_db")); !ok || got != want || strings.TrimPrefix(from.Table, "clause ") != column.Source.Table {
						t.Errorf("%s, class %s, order %d, %v dB: %v %v %v, want %v", source, class, order, msd, got, from, ok, want)
					}
				}
			}
		}
	}
	for i, f := range cells {
		// Within one band a column of 15 dB is called for that the look-up does not have, and
		// nothing calls for some columns of the other.
		if !used[i] && f.Source.Table != "7.3A.2.3.2.1-1" {
			t.Errorf("%v: no column leads here", &f)
		}
	}
	if _, _, ok := Raise("harmonic", 2, Class2, 1, 9); ok {
		t.Error("0.09 dB is raised, which is below the look-up")
	}
	if _, _, ok := Raise("harmonic", 2, Class15, 1, 1000); ok {
		t.Error("class 1.5 with one transmitter is raised")
	}
	for _, f := range facts(t, "msd_lower_classes.csv", 8) {
		if !slices.ContainsFunc(LowerMSDs(), func(l LowerMSD) bool {
			return l.Class == f.Text("class") && l.Greatest == decibels(t, f.Text("max_msd_db"))
		}) {
			t.Errorf("%v: not there", &f)
		}
	}
}

// Where no row is printed for a higher class, those of class 3 are raised; where one is, they
// are not (TS 38.101-1 V19.5.0 Tables 7.3A.4-1 and 7.3A.4-2a, clause 7.3A.2.3).
func TestListedForHigherClass(t *testing.T) {
	printed, raised := 0, 0
	for _, base := range Harmonics() {
		if base.PowerClass != Class3 || !base.HasMSD {
			continue
		}
		carriers := []Carrier{{Band: base.Uplinks[0].Band}, {Band: base.Downlink.Band}}
		p := Product{Kind: Harmonic, Order: int8(base.Order), ReceiverOrder: int8(base.ReceiverOrder), Uplinks: 1, Victim: 1, Hit: Direct}
		p.sources[0] = Source{0, p.Order}
		source := "harmonic"
		if base.ReceiverOrder > 1 {
			source = "mixing"
		}
		if base.Near {
			p.Hit = Near
		}
		want, from, ok := Raise(source, base.Order, Class2, 1, base.MSD)
		list := Listed(carriers, &p, Class2)
		switch {
		case slices.ContainsFunc(list, func(e Entry) bool { return e.Rule == bands.Source{} }):
			printed++
			if slices.ContainsFunc(list, func(e Entry) bool { return e.Rule != bands.Source{} }) {
				t.Errorf("%+v: printed and raised rows for class 2: %+v", base, list)
			}
		case !ok || shared(base.Uplinks[0].Band):
			if len(list) > 0 && shared(base.Uplinks[0].Band) {
				t.Errorf("%+v: raised in shared spectrum to %+v", base, list)
			}
		case !slices.ContainsFunc(list, func(e Entry) bool {
			return e.MSD == want && e.Rule == from && e.PowerClass == Class2 && e.Downlink == base.Downlink && e.Source == base.Source
		}):
			t.Errorf("%+v: for class 2 %+v, want %v dB by %v", base, list, want, from)
		default:
			raised++
		}
		if got := Listed(carriers, &p, "1"); len(got) != 0 {
			t.Errorf("class 1 has %+v", got)
		}
	}
	if printed < 50 || raised < 50 {
		t.Errorf("%d rows printed, %d raised", printed, raised)
	}
}

// A larger configuration inherits the exceptions of those that it contains: TS 38.101-1
// V19.5.0 clause 7.3A.1.
func TestInherited(t *testing.T) {
	small := []Carrier{placed(t, "n1", 5, 2140), placed(t, "n78", 10, 3710)}
	large := append(slices.Clone(small), placed(t, "n28", 10, 773))
	for _, p := range Find(small, Options{}) {
		if a, b := Listed(small, &p, Class3), Listed(large, &p, Class3); len(a) > len(b) {
			t.Errorf("%+v: %d rows alone, %d in a larger configuration", p, len(a), len(b))
		}
	}
	lacking := []Carrier{small[0]}
	for _, e := range Intermodulations() {
		if strings.Contains(e.Configurations, "n78") && e.within(lacking) && !strings.Contains(e.Configurations, ",") {
			t.Errorf("%+v holds without n78", e)
		}
	}
}

// The bands of the names are bands there are.
func TestNames(t *testing.T) {
	kinds := make(map[string]int)
	for _, e := range Intermodulations() {
		for name := range strings.SplitSeq(e.Configurations, ",") {
			kinds[name[:3]]++
			for _, id := range bandsOf(name) {
				if _, err := bands.Lookup(id); err != nil {
					t.Errorf("%s: %v", name, err)
				}
			}
		}
	}
	if len(kinds) != 2 || kinds["CA_"] == 0 || kinds["DC_"] == 0 {
		t.Errorf("kinds %v", slices.Collect(maps.Keys(kinds)))
	}
}
