package ca

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"spectally/bands"
	"spectally/ca/interference"
	"spectally/data/pace"
)

func configuration(t *testing.T, name string) Configuration {
	t.Helper()
	n, err := ParseName(name)
	if err != nil {
		t.Fatal(err)
	}
	c, ok := Find(n)
	if !ok {
		t.Fatalf("%s is not listed", name)
	}
	return c
}

// The uplinks of TS 36.101 Table 5.6A.1-2, TS 38.101-1 Tables 5.5A.3.1-1 and 5.2C-1,
// TS 38.101-3 Tables 5.5B.4.1-1 and 5.5B.4.2-1.
func TestUplinkBands(t *testing.T) {
	for name, want := range map[string]string{
		"CA_3A-7A":      "[[B3 B7] [B3] [B7]]",
		"DC_3A_n78A":    "[[B3 n78]]",
		"DC_1A-3A_n78A": "[[B1 n78] [B3 n78]]",
		"CA_n1A-n78A":   "[[n1] [n78] [n1 n78]]",
		"CA_n78(2A)":    "[[n78] [n78 n78]]",
		"SUL_n78A-n80A": "[[n78] [n80]]",
		"DC_n78A-n257A": "[[n78 n257]]",
	} {
		if got := fmt.Sprint(configuration(t, name).UplinkBands()); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}

// Known cases: common practice, no source but the ranges of the bands.
func TestMayInterfere(t *testing.T) {
	for name, want := range map[string]bool{
		"DC_3A_n78A":  true,  // 1710-1785 MHz twice is 3420-3570 MHz
		"CA_n1A-n77A": true,  // 1920-1980 MHz twice is 3840-3960 MHz
		"DC_28A_n78A": true,  // 703-748 MHz five times is 3515-3740 MHz
		"CA_n78(2A)":  false, // TDD: it does not receive while it transmits
		"CA_n7B":      false,
	} {
		if got := configuration(t, name).MayInterfere(0); got != want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// Of all configurations that are listed, those in which a multiple of an uplink band
// overlaps a downlink band of another spectrum are told of.
func TestMayInterfereEverywhere(t *testing.T) {
	all, may := 0, 0
	for c := range pace.Some(All(), 17) {
		all++
		got := c.MayInterfere(0)
		if got {
			may++
			continue
		}
		for _, uplinks := range c.UplinkBands() {
			for _, id := range uplinks {
				for n := bands.Frequency(2); n <= 7; n++ {
					for _, k := range c.Name().Components() {
						up, down := lookup(t, id), lookup(t, k.Band)
						if up.Duplex == bands.TDD && down.Duplex == bands.TDD && up.Downlink.Overlaps(down.Downlink) {
							continue
						}
						if multiple := (bands.Span{Low: n * up.Uplink.Low, High: n * up.Uplink.High}); multiple.Overlaps(down.Downlink) {
							t.Errorf("%s: %d times %s is %v, on %s", c.Name(), n, id, multiple, k.Band)
						}
					}
				}
			}
		}
	}
	if pace.Whole && (all < 28000 || may == 0 || may == all) {
		t.Errorf("%d of %d configurations may interfere", may, all)
	}
}

func lookup(t *testing.T, id bands.ID) *bands.Band {
	t.Helper()
	b, err := bands.Lookup(id)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TS 38.101-3 V19.5.0 Table 5.5B.4.1-1, the column of single uplinks.
func TestSingleUplink(t *testing.T) {
	for text, want := range map[string]string{
		"B3:20 + n78:100":           "DC_3A_n78A DC_3_n78 true",
		"B3:20 + n78:100 + n28:10":  "DC_3A_n78A DC_3_n78 true",
		"B1:20 + n3:20":             "DC_1A_n3A DC_1_n3 true",
		"B8:10 + n78:100":           "DC_8A_n78A No false",
		"n1:20,ul=1 + n78:100,ul=1": "  false",
	} {
		a := assess(t, text)
		s := a.SingleUplink()
		allowed, _ := s.Holds()
		name := ""
		if !s.Configuration.IsZero() {
			name = s.Configuration.String()
		}
		if got := fmt.Sprint(name, " ", s.Allowed, " ", allowed); got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}

func assess(t *testing.T, text string) *Assessment {
	t.Helper()
	c, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return Assess(c)
}

// Each proposal leaves as many hits as it says, and fewer than there were.
func TestProposals(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 3))
	centres := map[string][2]float64{"B1": {2120, 2160}, "B3": {1815, 1870}, "n28": {763, 798}, "n78": {3350, 3750}, "B7": {2630, 2680}, "n8": {930, 955}, "n41": {2550, 2640}}
	names := []string{"B1", "B3", "n28", "n78", "B7", "n8", "n41"}
	kinds := make(map[Remedy]int)
	for range 400 {
		r.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
		text := ""
		for _, n := range names[:2+r.IntN(2)] {
			c := centres[n]
			width := "10"
			if n == "n78" || n == "n41" {
				width = "60"
			}
			text += fmt.Sprintf(" + %s:%s@%gMHz,ul=1", n, width, c[0]+float64(r.IntN(int(c[1]-c[0])*5))/5)
		}
		a := assess(t, text[3:])
		now := a.Emissions()
		before := direct(interference.Find(now, interference.Options{}))
		list := a.Proposals(interference.Options{})
		if before == 0 && list != nil {
			t.Errorf("%s: proposals without a hit: %+v", text, list)
		}
		for _, p := range list {
			kinds[p.Remedy]++
			changed := slices.Clone(a.Carriers)
			switch p.Remedy {
			case MoveCarrier:
				c := &changed[p.Carrier]
				moved := c.Carrier
				moved.Channel, moved.HasChannel, moved.Centre = p.Channel, true, 0
				changed = Assess(Combination{moved}).Carriers
				if len(changed) != 1 || changed[0].DownlinkCentre != p.Centre || p.Centre-c.DownlinkCentre != p.By {
					t.Fatalf("%s: %+v moves to %+v", text, p, changed)
				}
				one := changed[0]
				changed = slices.Clone(a.Carriers)
				changed[p.Carrier] = one
			case ChangeUplink:
				for i := range changed {
					changed[i].Transmits = slices.Contains(p.Uplinks, i)
				}
			}
			emissions := (&Assessment{Carriers: changed}).Emissions()
			if p.Remedy == NarrowUplink {
				emissions[p.Carrier].Uplink.Width = p.Width
			}
			if left := direct(interference.Find(emissions, interference.Options{})); left != p.Left || left >= before {
				t.Errorf("%s: %d hits; %+v leaves %d", text, before, p, left)
			}
		}
	}
	if kinds[MoveCarrier] < 50 || kinds[NarrowUplink] < 20 || kinds[ChangeUplink] < 50 {
		t.Errorf("proposals %v: too few to tell", kinds)
	}
}

// A carrier that is placed by its SS/PBCH block alone lies within the range that the block
// leaves it, so that no place outside counts.
func TestEmissionsWithinRange(t *testing.T) {
	a := assess(t, "n78:100,ssb=640032")
	got, within := a.Emissions()[0], a.Carriers[0].Centres
	if within.IsZero() || got.Downlink.Centre != within || got.Uplink.Centre != within {
		t.Errorf("%+v, want the centre in %v", got, within)
	}
}
