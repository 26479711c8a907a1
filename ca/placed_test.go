package ca_test

import (
	"fmt"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

func TestPlaces(t *testing.T) {
	const nowhere = "none"
	for _, test := range []struct{ carrier, downlink, uplink string }{
		// By the channel number of either direction (TS 36.101 Table 5.7.3-1, TS 38.101-1
		// Table 5.4.2.3-1) and the default separation (Tables 5.7.4-1 and 5.4.4-1).
		{"B3:20@1300", "1805-1825 MHz", "1710-1730 MHz"},
		{"B3:20@19300", "1805-1825 MHz", "1710-1730 MHz"},
		{"B20:10@6300", "801-811 MHz", "842-852 MHz"},
		{"n28:10@154600", "768-778 MHz", "713-723 MHz"},
		{"n28:10@143600", "768-778 MHz", "713-723 MHz"},
		{"n28:10@773MHz", "768-778 MHz", "713-723 MHz"},
		{"n78:80@640000", "3560-3640 MHz", "3560-3640 MHz"},
		{"n78:80/0@640000", "3560-3640 MHz", nowhere},
		{"B3:20/0@19300", "1805-1825 MHz", nowhere},
		{"n80:20@344000", nowhere, "1710-1730 MHz"},
		{"n80:20@1720MHz", nowhere, "1710-1730 MHz"},
		{"n75:20@288400", "1432-1452 MHz", nowhere},
		{"n78:80", nowhere, nowhere},
		{"n78:80@500000", nowhere, nowhere},
		// Two separations: the one that is possible and allowed (n24: -101.5 or -120.5 MHz,
		// n110: 40 or 42 MHz).
		{"n24:10@306200", "1526-1536 MHz", "1627.5-1637.5 MHz"},
		{"n24:10@326500", "1526-1536 MHz", "1627.5-1637.5 MHz"},
		{"n24:10@330300", "1526-1536 MHz", "1646.5-1656.5 MHz"},
		{"n110:3@286700", "1432-1435 MHz", "1392-1395 MHz"},
		{"n110:3@278700", "1432-1435 MHz", "1392-1395 MHz"},
		{"n110:3@278300", "1432-1435 MHz", "1390-1393 MHz"},
		// Variable duplex: neither direction places the other.
		{"n92:10@289000", "1440-1450 MHz", nowhere},
		{"n92:10@168000", nowhere, "835-845 MHz"},
		// No uplink beside the downlink.
		{"B66:20@67236", "2180-2200 MHz", nowhere},
		{"B66:20@67136", "2170-2190 MHz", nowhere},
		{"B66:20@67036", "2160-2180 MHz", "1760-1780 MHz"},
		// Different widths: the narrower channel may lie anywhere beside the wider one, and
		// is known where the band leaves one place.
		{"n66:20/10@425000", "2115-2135 MHz", nowhere},
		{"n70:25/15@401500", "1995-2020 MHz", "1695-1710 MHz"},
		{"n70:25/15@340500", "1995-2020 MHz", "1695-1710 MHz"},
		// Satellites: a default within a range (TS 38.101-5 Table 5.4.4-1), or a range alone.
		{"n256:10@436000", "2175-2185 MHz", "1985-1995 MHz"},
		{"n250:5@304200", "1518.5-1523.5 MHz", "1668.5-1673.5 MHz"},
		{"n250:5@304600", "1520.5-1525.5 MHz", nowhere},
		{"n250:5@306200", "1528.5-1533.5 MHz", nowhere},
		{"n247:50@1200000", "11975-12025 MHz", nowhere},
	} {
		a := checked(t, test.carrier)
		p := &a.Carriers[0]
		if down, up := p.Span(bands.Downlink).String(), p.Span(bands.Uplink).String(); down != test.downlink || up != test.uplink {
			t.Errorf("%s: downlink %s and uplink %s, want %s and %s", test.carrier, down, up, test.downlink, test.uplink)
		}
	}
}

func TestDefaults(t *testing.T) {
	for _, test := range []struct {
		carrier          string
		scs              bands.Frequency // kHz
		downlink, uplink int             // resource blocks, TS 38.101-1 and -2 Table 5.3.2-1
	}{
		{"B3:20", 15, 100, 100},
		{"B3:1.4", 15, 6, 6},
		{"n3:20", 15, 106, 106},
		{"n3:20,scs=30", 30, 51, 51},
		{"n78:100", 30, 273, 273},
		{"n78:40,scs=15", 15, 216, 216},
		{"n78:100/0", 30, 273, 0},
		{"n40:5 + n40:20", 15, 25, 25}, // 30 kHz does not have 5 MHz
		{"n80:20", 15, 0, 106},
		{"n29:10", 15, 52, 0},
		{"n5:25/20", 15, 133, 106},
		{"n257:400", 120, 264, 264},
		{"n263:1600", 480, 248, 248},
		{"n510:200", 120, 132, 132},
		{"n78:35", 0, 0, 0},
		{"n78:100,scs=15", 15, 0, 0},
	} {
		a := checked(t, test.carrier)
		p := &a.Carriers[0]
		if p.Spacing != test.scs*bands.KHz || p.Blocks(bands.Downlink) != test.downlink || p.Blocks(bands.Uplink) != test.uplink {
			t.Errorf("%s: %v, %d and %d resource blocks; want %d kHz, %d and %d", test.carrier, p.Spacing, p.DownlinkBlocks, p.UplinkBlocks, test.scs, test.downlink, test.uplink)
		}
		if p.Blocks(bands.Downlink) != p.DownlinkBlocks || p.Width(bands.Uplink) != p.UplinkWidth || p.CentreIn(bands.Uplink) != p.UplinkCentre {
			t.Errorf("%s: the methods differ from the fields", test.carrier)
		}
	}
}

// By default the first carrier of each technology transmits; ul, roles, and what a
// band allows change it.
func TestTransmits(t *testing.T) {
	for carriers, want := range map[string]string{
		"B3:20 + B7:20 + n78:100 + n28:10":          "1 3",
		"n78:100 + B3:20":                           "1 2",
		"n29:10 + n66:20":                           "2",
		"n80:20 + n78:100":                          "2",
		"n77:100/0 + n28:10":                        "2",
		"n5:25 + n77:100":                           "2", // 25 MHz are not for the uplink
		"n5:25":                                     "1", // and that is an error
		"n40:5 + n40:20":                            "2",
		"B46:20 + B3:20":                            "2",
		"B66:20@67236 + B2:20":                      "2",
		"B3:20,ul=0 + B7:20":                        "",
		"B3:20 + B7:20,ul=1":                        "1 2",
		"B3:20,ul=0 + B7:20,ul=1":                   "2",
		"B3:20 + B7:20,role=pcell":                  "2",
		"B3:20,role=scell + B7:20":                  "2",
		"B3:20,role=scell + B7:20,role=scell":       "1",
		"n78:100,role=pcell + n257:100,role=pscell": "1 2",
		"n78:100,role=pcell,ul=0 + n28:10":          "",
		"B3:20,role=pcell + n28:10,role=scell + n78:100,role=pscell": "1 3",
		"B64:20 + B3:20":  "2",
		"n80:20 + n29:10": "1",
	} {
		a := checked(t, carriers)
		var list []string
		for i := range a.Carriers {
			if a.Carriers[i].Transmits {
				list = append(list, fmt.Sprint(i+1))
			}
		}
		if got := strings.Join(list, " "); got != want {
			t.Errorf("%s: the UE transmits on %q, want %q", carriers, got, want)
		}
	}
}

func TestKinds(t *testing.T) {
	for carriers, want := range map[string]ca.Kind{
		"B3:20":                                     ca.KindLTE,
		"B3:20 + B7:20":                             ca.KindLTECA,
		"n78:100":                                   ca.KindNR,
		"n78:100 + n28:10":                          ca.KindNRCA,
		"n78:100 + n80:20":                          ca.KindSUL,
		"n78:100 + B3:20":                           ca.KindENDC,
		"n78:100 + B3:20 + n80:20":                  ca.KindENDC,
		"n78:100,role=pcell + B3:20":                ca.KindNEDC,
		"n78:100 + B3:20,role=pscell":               ca.KindNEDC,
		"n78:100,role=pcell + B3:20,role=pcell":     ca.KindENDC,
		"n78:100,role=pscell + B3:20,role=pcell":    ca.KindENDC,
		"n78:100,role=pcell + n257:100,role=pscell": ca.KindNRDC,
		"n78:100,role=pscell":                       ca.KindNR,
		"n78:100 + n64:10":                          ca.KindNRCA,
	} {
		if got := checked(t, carriers).Kind; got != want {
			t.Errorf("%s is %v, want %v", carriers, got, want)
		}
	}
}

// No width is wider than its band: the rules on places rely on it.
func TestWidthsFitTheirBands(t *testing.T) {
	for _, b := range bands.All(0) {
		for _, w := range b.Widths() {
			for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
				if w.Allows(d) && b.Has(d) && w.Width > b.Span(d).Width() {
					t.Errorf("%v has %v in the %v of %v", b.ID, w.Width, d, b.Span(d))
				}
			}
		}
	}
}

// A width that the band does not have has no subcarrier spacing either, so nothing is
// said about the raster for it.
func TestRasterWithoutSpacing(t *testing.T) {
	for _, f := range ca.CheckRules(parsed(t, "n78:83@640000")) {
		if f.Rule == ca.RuleOnRaster {
			t.Errorf("%s", f.Message)
		}
	}
}
