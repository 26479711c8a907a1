package site

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
)

// TestSiteNames: what has a name says it, and what is none says nothing.
func TestSiteNames(t *testing.T) {
	for want, got := range map[string]string{
		"spectrum": BoundSpectrum.String(), "layers": BoundLayers.String(),
		"published": BasisPublished.String(), "interpolated": BasisBetween.String(), "extrapolated": BasisBelow.String(),
		"held": BasisHeld.String(), "measured": BasisMeasured.String(), "scaled": BasisScaled.String(),
		"indoor-hotspot": IndoorHotspot.String(), "dense-urban": DenseUrban.String(), "rural": Rural.String(),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if s := Bound(0).String() + Bound(9).String() + EfficiencyBasis(0).String() + EfficiencyBasis(9).String() + Environment(0).String() + Environment(9).String(); s != "" {
		t.Errorf("names of none: %q", s)
	}
	if got := PortLadder(); !slices.Equal(got, []int{2, 4, 8, 16, 32, 64}) { // common practice, no source
		t.Errorf("%v", got)
	}
	if got := BuildPorts(); !slices.Equal(got, []int{2, 4, 8, 32, 64}) {
		t.Errorf("%v", got)
	}
}

// TestSiteErrorIs: the fault itself can be taken out of the error.
func TestSiteErrorIs(t *testing.T) {
	_, err := Plan(oneRadio(t, DenseUrban, 0, "n78:100"))
	var v *bands.ValueError
	if !errors.As(err, &v) || v.Param != "transmit ports" || v.Got != "0" || v.Allowed != "1 to 256" {
		t.Errorf("%v: %+v", err, v)
	}
}

// TestSiteTooLarge: more sectors and a larger mean than any site has are refused; as many
// sectors as there may be are not.
func TestSiteTooLarge(t *testing.T) {
	many := func(carrier string, sectors int, change func(r *Radio)) *Site {
		s := oneRadio(t, DenseUrban, 64, carrier)
		change(&s.Sectors[0].Radios[0])
		s.Sectors[0].Count = 100
		for len(s.Sectors)*100 < sectors {
			s.Sectors = append(s.Sectors, s.Sectors[0])
		}
		return s
	}
	same := func(*Radio) {}
	if c := planSite(t, many("B3:20", 1000, same)); c.SectorCount() != 1000 {
		t.Errorf("%d sectors", c.SectorCount())
	}
	over := many("B3:20", 1000, same)
	over.Sectors = append(over.Sectors, over.Sectors[0])
	over.Sectors[10].Count = 1
	if _, err := Plan(over); err == nil || err.Error() != `sectors "1001": must be at most 1000` {
		t.Errorf("%v", err)
	}
	fast := func(r *Radio) {
		r.Layers, r.Measured = 64, Measured{Downlink: exact.Whole(200), Uplink: exact.Whole(2), DownlinkEdge: exact.Of(1, 10), UplinkEdge: exact.Of(1, 20), Origin: "drawn"}
		for range 3 {
			r.Carriers = append(r.Carriers, r.Carriers[0])
		}
	}
	if _, err := Plan(many("n258:400", 1000, fast)); err == nil || !strings.Contains(err.Error(), `must be at most 10000000000000 bit/s: more than any site carries`) {
		t.Errorf("%v", err)
	}
	radios := oneRadio(t, Rural, 4, "B3:20")
	for len(radios.Sectors[0].Radios) < 100 {
		radios.Sectors[0].Radios = append(radios.Sectors[0].Radios, radios.Sectors[0].Radios[0])
	}
	if c := planSite(t, radios); c.Downlink.Width != 2*bands.GHz {
		t.Errorf("%s on 100 radios", c.Downlink.Width)
	}
	radios.Sectors[0].Radios = append(radios.Sectors[0].Radios, radios.Sectors[0].Radios[0])
	if _, err := Plan(radios); err == nil || err.Error() != `sector 1: radios "101": must be 1 to 100` {
		t.Errorf("%v", err)
	}
	layers := oneRadio(t, Rural, 256, "B3:20")
	layers.Sectors[0].Radios[0].Layers = 65
	if _, err := Plan(layers); err == nil || err.Error() != `sector 1, radio 1: downlink layers over all users "65": must be 0 (assumed) or 1 to 64: at most the 256 ports` {
		t.Errorf("%v", err)
	}
}

// TestSiteWords: assumptions and limits name what was given and what was not, once each,
// and nothing about a direction that a site does not have.
func TestSiteWords(t *testing.T) {
	words := func(s *Site) string {
		var b strings.Builder
		c := planSite(t, s)
		for _, a := range c.Assumptions() {
			b.WriteString(line(a) + "\n")
		}
		for _, l := range c.Limits() {
			b.WriteString(string(l.Kind) + " " + l.Direction.String() + ": " + l.Text + "\n")
		}
		return b.String()
	}
	s := oneRadio(t, DenseUrban, 64, "n78:100 + n75:20 + n78:100")
	s.Backhaul = Backhaul{CellPeak: true, Transport: exact.Of(1, 5), Security: exact.Of(3, 25)}
	s.Traffic.BusyHourShare = exact.Of(1, 10)
	text := words(s)
	for _, want := range []string{
		"backhaul-peak cell common-practice\ntransport-overhead 20.0 %\nsecurity-overhead 12.0 %\n",
		"above-builds",
		"spectrum downlink: Bandwidth and spectral efficiency limit the mean on n78:100, n75:20.",
	} {
		if strings.Count(text, want) != 1 {
			t.Errorf("%d times %q in\n%s", strings.Count(text, want), want, text)
		}
	}
	if strings.Contains(text, "n75 uplink") || strings.Contains(text, "busy-hour-share") {
		t.Errorf("too much in\n%s", text)
	}
	if text := words(oneRadio(t, Rural, 4, "n75:20")); strings.Contains(text, "spectrum uplink") || !strings.Contains(text, "spectrum downlink") {
		t.Errorf("a supplementary downlink:\n%s", text)
	}
	own := oneRadio(t, Rural, 8, "B3:20")
	own.Sectors[0].Radios[0].Measured = Measured{Downlink: exact.Whole(2), Uplink: exact.Whole(1), DownlinkEdge: exact.Of(1, 10), UplinkEdge: exact.Of(1, 20), Origin: "counters"}
	text = words(own)
	if strings.Contains(text, "published-builds") || strings.Count(text, "measured counters") != 4 {
		t.Errorf("all of it measured:\n%s", text)
	}
	own.Sectors[0].Radios[0].Measured.TransmitPorts = 4
	if text := words(own); !strings.Contains(text, "scaled counters") {
		t.Errorf("measured with other ports:\n%s", text)
	}
}

// TestBuildsWithoutDownlink: a site that only receives has builds too, with their array
// gain alone.
func TestBuildsWithoutDownlink(t *testing.T) {
	list, err := CompareBuilds(oneRadio(t, Rural, 4, "n80:20"), 8)
	if err != nil || len(list) != 1 || !slices.Equal(list[0].Text, []string{"9.0 dB of array gain over one port at most."}) {
		t.Errorf("%+v, %v", list, err)
	}
	if _, err := CompareBuilds(&Site{}, 8); err == nil {
		t.Error("builds of no site")
	}
}

// TestWhatIfUplink: a link that is short in the uplink alone is made to carry the need
// there, and layers that were given grow with the ports.
func TestWhatIfUplink(t *testing.T) {
	s := oneRadio(t, DenseUrban, 8, "n78:100")
	s.Backhaul = Backhaul{Downlink: exact.Whole(100_000_000_000), Uplink: exact.Whole(1_000_000)}
	s.Sectors[0].Radios[0].Layers, s.Sectors[0].Radios[0].UplinkLayers = 2, 2
	c := planSite(t, s)
	list, err := c.WhatIf()
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, w := range list {
		switch w.Kind {
		case ChangeBackhaul:
			found++
			if !strings.HasSuffix(w.Text, " ul") || strings.Contains(w.Text, " dl") || !w.After.Backhaul.Uplink.Enough || w.UplinkDelivered.Num <= 0 || w.Gain.Num != 0 {
				t.Errorf("%+v", w)
			}
		case ChangePorts:
			found++
			l := &w.After.Sectors[0].Carriers[0]
			if l.Downlink.CellLayers != DefaultCellLayers(bands.Downlink, 16) || l.Uplink.CellLayers < 2 {
				t.Errorf("%d and %d layers with 16 ports", l.Downlink.CellLayers, l.Uplink.CellLayers)
			}
		}
	}
	if found != 2 {
		t.Errorf("%d of the changes in %+v", found, list)
	}
	if list, err := planSite(t, oneRadio(t, Rural, 4, "n80:20")).WhatIf(); err != nil || len(list) == 0 {
		t.Errorf("a site that only receives: %v, %v", list, err)
	}
}

// TestDefaultCellLayers holds the assumption to its words: as many as ports up to four in
// the downlink and two in the uplink, a quarter and an eighth of the ports behind, sixteen
// and eight at most (common practice, no source).
func TestDefaultCellLayers(t *testing.T) {
	for _, c := range []struct{ ports, down, up int }{
		{1, 1, 1}, {2, 2, 2}, {3, 3, 2}, {4, 4, 2}, {8, 4, 2}, {15, 4, 2}, {16, 4, 2}, {20, 5, 2}, {24, 6, 3}, {32, 8, 4}, {64, 16, 8}, {128, 16, 8}, {256, 16, 8},
	} {
		if down, up := DefaultCellLayers(bands.Downlink, c.ports), DefaultCellLayers(bands.Uplink, c.ports); down != c.down || up != c.up {
			t.Errorf("%d ports: %d and %d layers, want %d and %d", c.ports, down, up, c.down, c.up)
		}
	}
}

// TestDownlinkOnly: a carrier that is said to have no uplink, and one of a band of
// licensed-assisted access, count in the downlink alone.
func TestDownlinkOnly(t *testing.T) {
	both, down := planSite(t, oneRadio(t, Rural, 4, "B3:20")), planSite(t, oneRadio(t, Rural, 4, "B3:20/0"))
	if down.Downlink != both.Downlink || down.Uplink != (Capacity{}) || both.Uplink.Width != 20*bands.MHz {
		t.Errorf("%+v, %+v", down.Downlink, down.Uplink)
	}
	laa := planSite(t, oneRadio(t, Rural, 4, "B46:20/0"))
	if laa.Uplink != (Capacity{}) || laa.Downlink.Width != 20*bands.MHz || !laa.Sectors[0].Carriers[0].Uplink.IsZero() {
		t.Errorf("%+v, %+v", laa.Downlink, laa.Uplink)
	}
	if off := planSite(t, oneRadio(t, Rural, 4, "n28:10,ul=0")); off.Uplink != (Capacity{}) || off.Downlink.Width == 0 {
		t.Errorf("an uplink that is off: %+v", off.Uplink)
	}
}
