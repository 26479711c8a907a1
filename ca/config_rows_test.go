package ca

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
)

// setText writes a set on one line: its number, what adds up to at most, which
// technology is lower, and the components as the tables print them.
func setText(s Set) string {
	var b strings.Builder
	b.WriteString(strconv.Itoa(s.BCS) + ":")
	if s.Lower != 0 {
		b.WriteString(" " + s.Lower.String() + " lower,")
	}
	for i, k := range s.Components {
		if i > 0 {
			b.WriteString(" +")
		}
		b.WriteString(" " + k.Band.InName())
		switch {
		case k.Ref != "":
			b.WriteString(" " + k.Ref)
		case k.All:
			b.WriteString(" ALL")
		default:
			for j, list := range k.Carriers {
				if j > 0 {
					b.WriteString(" /")
				}
				for _, f := range list {
					b.WriteString(" " + f.MHz())
					for _, l := range k.Limits {
						if l.Width == f {
							b.WriteString(" (" + l.Limit.String() + ")")
						}
					}
				}
			}
		}
	}
	if s.MaxAggregated != 0 {
		b.WriteString(", at most " + s.MaxAggregated.MHz())
	}
	return b.String()
}

// TestRows compares hand-picked configurations with the rows of their tables: TS
// 36.101 V19.6.0, TS 38.101-1 V19.5.0, TS 38.101-2 V19.4.0, TS 38.101-3 V19.5.0.
func TestRows(t *testing.T) {
	for _, c := range []struct {
		name, source string
		sets         []string
	}{
		{"CA_3C", "TS 36.101 V19.6.0 Table 5.6A.1-1", []string{
			"0: 3 5 10 15 / 20, at most 40", "0: 3 20 / 5 10 15 20, at most 40"}},
		{"CA_40F", "TS 36.101 V19.6.0 Table 5.6A.1-1", []string{
			"0: 40 15 20 / 15 20 / 15 20 / 20 / 20, at most 100"}},
		{"CA_1A-3A", "TS 36.101 V19.6.0 Table 5.6A.1-2", []string{
			"0: 1 5 10 15 20 + 3 5 10 15 20, at most 40", "1: 1 5 10 15 20 + 3 3 5 10 15 20, at most 40"}},
		{"CA_39A-41C", "TS 36.101 V19.6.0 Table 5.6A.1-2", []string{
			"0: 39 10 15 20 + 41 20 / 20, at most 60"}},
		{"CA_2A-2A-4A", "TS 36.101 V19.6.0 Table 5.6A.1-2", []string{
			"0: 2 CA_2A-2A_BCS0 + 4 5 10 15 20, at most 60"}},
		{"CA_n77(2A)", "TS 38.101-1 V19.5.0 Table 5.5A.2-1", []string{
			"0: n77 20 40 80 100 / 20 40 80 100, at most 200",
			"1: n77 10 15 20 25 30 40 50 60 70 80 90 100 / 10 15 20 25 30 40 50 60 70 80 90 100, at most 200",
			"4: n77 ALL, at most 200", "5: n77 ALL, at most 200"}},
		{"CA_n41(2A-C)", "TS 38.101-1 V19.5.0 Table 5.5A.2-2", []string{
			"0: n41 CA_n41(2A)_BCS3 + n41 CA_n41C_BCS1", "4: n41 CA_n41(2A)_BCS4 + n41 CA_n41C_BCS4", "5: n41 CA_n41(2A)_BCS5 + n41 CA_n41C_BCS5"}},
		{"CA_n7A-n78A", "TS 38.101-1 V19.5.0 Table 5.5A.3.1-1e", []string{
			"0: n7 5 10 15 20 + n78 10 15 20 40 50 60 80 90 100",
			"1: n7 5 10 15 20 25 30 40 50 + n78 10 15 20 25 30 40 50 60 70 80 90 100",
			"4: n7 ALL + n78 ALL", "5: n7 ALL + n78 ALL"}},
		{"CA_n260(A-3O-Q)", "TS 38.101-2 V19.4.0 Table 5.5A.2-2", []string{
			"0: n260 ALL + n260 CA_n260O_BCS0 + n260 CA_n260O_BCS0 + n260 CA_n260O_BCS0 + n260 CA_n260Q_BCS0, at most 1400"}},
		{"CA_n1A-n257D", "TS 38.101-3 V19.5.0 Table 5.5A.1.1-1a", []string{
			"0: n1 5 10 15 20 + n257 CA_n257D_BCS0"}},
		{"DC_(n)41AB", "TS 38.101-3 V19.5.0 Table 5.3B.1.2-1", []string{
			"0: LTE lower, 41 10 + n41 20 / 20, at most 70", "0: NR lower, 41 10 + n41 20 / 20, at most 70",
			"0: LTE lower, 41 20 + n41 10 / 20, at most 70", "0: NR lower, 41 20 + n41 10 / 20, at most 70",
			"0: LTE lower, 41 20 + n41 20 / 30, at most 70", "0: NR lower, 41 20 + n41 20 / 30, at most 70"}},
		{"DC_n1A-n77A", "TS 38.101-1 V19.5.0 Table 5.5A.3.1-1a", nil},
		{"SUL_n80A-n104A", "TS 38.101-1 V19.5.0 Table 5.5C-1", []string{
			"4: n80 ALL + n104 ALL", "5: n80 ALL + n104 ALL"}},
	} {
		sets := listed(t, c.name).Sets()
		var got []string
		for _, s := range sets {
			if s.Source.String() != c.source {
				t.Errorf("%s: %v, want %s", c.name, s.Source, c.source)
			}
			got = append(got, setText(s))
		}
		if c.sets == nil {
			// NR-DC has the sets of CA of the same bands.
			for _, s := range listed(t, "CA"+strings.TrimPrefix(c.name, "DC")).Sets() {
				c.sets = append(c.sets, setText(s))
			}
		}
		if !slices.Equal(got, c.sets) || len(got) == 0 {
			t.Errorf("%s:\n got %s\nwant %s", c.name, strings.Join(got, "\n     "), strings.Join(c.sets, "\n     "))
		}
	}
}

// TestRestrictions reads what the notes of the tables add.
func TestRestrictions(t *testing.T) {
	if c := listed(t, "CA_n28A-n75A"); c.Note() != "n28 only 718-748 MHz UL and 773-803 MHz DL" {
		t.Errorf("%s: note %q (TS 38.101-1 V19.5.0 Table 5.5A.3.1-1g)", c.Name(), c.Note())
	}
	if c := listed(t, "DC_3A_n78A"); c.SingleUplink() != "DC_3_n78" {
		t.Errorf("%s: single uplink %q (TS 38.101-3 V19.5.0 Table 5.5B.4.1-1)", c.Name(), c.SingleUplink())
	}
	if c := listed(t, "DC_(n)71AA"); c.SingleUplink() != "No" {
		t.Errorf("%s: single uplink %q (TS 38.101-3 V19.5.0 Table 5.5B.2-1)", c.Name(), c.SingleUplink())
	}
	if c := listed(t, "CA_40E-42A"); c.Doubt() == "" {
		t.Errorf("%s has no doubt", c.Name())
	}
	limits := map[Limit]int{}
	for c := range All(KindNRCA) {
		for _, s := range c.Sets() {
			for _, k := range s.Components {
				for _, l := range k.Limits {
					limits[l.Limit]++
				}
			}
		}
	}
	// Counted in the tables of TS 38.101-1 V19.5.0 clause 5.5A.3, and 11 in
	// CA_n48(A-B) of Table 5.5A.2-2.
	for l, want := range map[Limit]int{LimitDownlink: 106 + 11, LimitSCell: 8, LimitDownlinkSCell: 712, LimitOptional: 31, LimitUplinkRange: 19} {
		if limits[l] != want {
			t.Errorf("%d widths %s, want %d", limits[l], l, want)
		}
	}
}

// TestLimits wants the limit on the width of a carrier with the set that has it.
func TestLimits(t *testing.T) {
	mhz := func(widths ...bands.Frequency) []BlockWidths {
		var blocks []BlockWidths
		for _, w := range widths {
			blocks = append(blocks, BlockWidths{Carriers: []bands.Frequency{w * bands.MHz}})
		}
		return blocks
	}
	n48 := append(mhz(60), BlockWidths{Carriers: []bands.Frequency{10 * bands.MHz, 20 * bands.MHz}})
	for _, c := range []struct {
		name   string
		widths [][]BlockWidths
		want   []CarrierLimit
	}{
		// TS 38.101-1 V19.5.0 Table 5.5A.2-2: 50 MHz and more of the single carrier.
		{"CA_n48(A-B)", [][]BlockWidths{n48}, []CarrierLimit{
			{0, Place{}, 60 * bands.MHz, LimitDownlink}, {1, Place{}, 60 * bands.MHz, LimitDownlink}}},
		{"CA_n48(A-B)", [][]BlockWidths{append(mhz(40), n48[1])}, nil},
		// Table 5.5A.3.1-1d.
		{"CA_n5A-n48A", [][]BlockWidths{mhz(10), mhz(60)}, []CarrierLimit{
			{0, Place{Component: 1}, 60 * bands.MHz, LimitDownlinkSCell}, {1, Place{Component: 1}, 60 * bands.MHz, LimitDownlinkSCell}}},
	} {
		a, err := Admit(named(t, c.name), Widths{Components: c.widths})
		got := slices.DeleteFunc(slices.Clone(a.Limits), func(l CarrierLimit) bool { return l.BCS > 3 })
		if err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%s with %v: limits %v of sets %v, want %v; %v", c.name, c.widths, got, a.Sets, c.want, err)
		}
	}
}

// TestUplinkMarks reads uplinks with each of the marks.
func TestUplinkMarks(t *testing.T) {
	for _, c := range []struct {
		name string
		want []Uplink
	}{
		{"CA_n7A-n78A", []Uplink{ // TS 38.101-1 V19.5.0 Table 5.5A.3.1-1e
			{Text: "n7", Name: named(t, "n7A"), PowerClasses: []string{"2"}},
			{Text: "n78", Name: named(t, "n78A"), PowerClasses: []string{"2", "1.5"}},
			{Text: "CA_n7A-n78A", Name: named(t, "CA_n7A-n78A"), PowerClasses: []string{"2", "1.5"}}}},
		{"CA_n3B", []Uplink{ // TS 38.101-1 V19.5.0 Table 5.5A.1-1
			{Text: "*", Sets: []int{0, 4, 5}}, {Text: "CA_n3B", Name: named(t, "CA_n3B"), Sets: []int{1}}}},
		{"CA_1A-3A-5A", []Uplink{ // TS 36.101 V19.6.0 Table 5.6A.1-2a
			{Text: "CA_1A-3A", Name: named(t, "CA_1A-3A")},
			{Text: "CA_1A-5A", Name: named(t, "CA_1A-5A"), Must: true},
			{Text: "CA_3A-5A", Name: named(t, "CA_3A-5A")}}},
		{"DC_(n)3AA", []Uplink{ // TS 38.101-3 V19.5.0 Table 5.5B.2-1
			{Text: "DC_(n)3AA", Name: named(t, "DC_(n)3AA"), Switched: true}}},
		{"DC_3A_SUL_n78A-n80A", []Uplink{ // TS 38.101-3 V19.5.0 Table 5.5B.4.2-1
			{Text: "DC_3A_n78A", Name: named(t, "DC_3A_n78A")},
			{Text: "DC_3A_n80A_ULSUP-TDM_n78A", Name: named(t, "DC_3A_n80A_ULSUP-TDM_n78A")}}},
	} {
		got := listed(t, c.name).Uplinks()
		if !slices.EqualFunc(got, c.want, func(a, b Uplink) bool {
			return a.Text == b.Text && a.Name == b.Name && slices.Equal(a.PowerClasses, b.PowerClasses) &&
				slices.Equal(a.Sets, b.Sets) && a.Switched == b.Switched && a.Must == b.Must
		}) {
			t.Errorf("%s: uplinks %+v, want %+v", c.name, got, c.want)
		}
	}
	for _, c := range []struct {
		name, uplink string
		allowed      bool
	}{
		{"CA_n7A-n78A", "n7A", true},
		{"CA_n28A-n75A", "n28A", true},         // a dash: any band alone
		{"CA_1A-3A-5A", "5A", true},            // one carrier may always be alone
		{"CA_n41(2A-C)", "CA_n41(2A)", false},  // not contiguous
		{"CA_n1A-n257D", "CA_n257G", false},    // of another fallback group
		{"DC_3A-7A_n78A", "DC_7A_n78A", true},  // listed
		{"DC_3A-7A_n78A", "3A", true},          // its fallback
		{"DC_3A-7A_n78A", "CA_3A-7A", false},   // not among its uplinks
		{"CA_n3A-n90A", "CA_n3A-n90A", true},   // as n41
		{"CA_n7A-n78A", "CA_n78(2A)", false},   // more carriers
		{"DC_(n)3CA", "DC_3A_n3A", true},       // in Table 5.5B.3-2
		{"CA_n78A_n1A-n80A", "n80A", true},     // part of SUL_n1A-n80A
		{"CA_n78A_n1A-n80A", "n1A", true},      // part of it too
		{"CA_n1A-n3A-n7A-n78A", "n79A", false}, // no such band
	} {
		allowed := false
		for _, l := range FindAll(named(t, c.name)) {
			_, ok := l.AllowsUplink(named(t, c.uplink))
			allowed = allowed || ok
		}
		if allowed != c.allowed {
			t.Errorf("%s with uplink %s: %v, want %v", c.name, c.uplink, allowed, c.allowed)
		}
	}
}

// TestN90 wants a configuration with n41 under its name with n90.
func TestN90(t *testing.T) {
	n := named(t, "CA_n3A-n90C")
	c := listed(t, "CA_n3A-n90C")
	if c.Name() != n || c.Printed() != "CA_n3A-n41C" {
		t.Errorf("%s is %s, printed %s", n, c.Name(), c.Printed())
	}
	if got := setText(c.Sets()[0]); !strings.Contains(got, "n90 CA_n90C_BCS") {
		t.Errorf("%s: set %s", n, got)
	}
	for _, u := range c.Uplinks() {
		if strings.Contains(u.Text, "n41") || strings.Contains(u.Name.String(), "n41") {
			t.Errorf("%s: uplink %s, %s", n, u.Text, u.Name)
		}
	}
	w, ok := Widest(n)
	a, err := Admit(n, w)
	if !ok || err != nil || len(a.Sets) == 0 {
		t.Errorf("%s with %v: %v, %v", n, w, a.Sets, err)
	}
	id := bands.ID{RAT: bands.NR, Number: 90}
	found := Search(Query{With: []bands.ID{id}, Kinds: []Kind{KindNRCA}})
	same := Search(Query{With: []bands.ID{bandN41}, Kinds: []Kind{KindNRCA}})
	if len(found) != len(same) || len(found) == 0 {
		t.Errorf("%d configurations with n90, %d with n41", len(found), len(same))
	}
	for _, c := range found {
		if !slices.ContainsFunc(c.Name().Components(), func(k Component) bool { return k.Band == id }) {
			t.Errorf("%s found for n90", c.Name())
		}
	}
}
