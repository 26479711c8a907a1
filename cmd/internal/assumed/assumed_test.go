package assumed

import (
	"strings"
	"testing"

	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
	"spectally/throughput/nr"
	"spectally/throughput/site"
)

// said rates carriers and says what that assumes, each statement on a line.
func said(t *testing.T, carriers string, s throughput.Settings) string {
	t.Helper()
	c, err := ca.Parse(carriers)
	if err != nil {
		t.Fatal(err)
	}
	r, err := throughput.Rate(ca.Assess(c))
	if err == nil {
		err = r.Schedule(s)
	}
	if err != nil {
		t.Fatal(err)
	}
	return lines(r.Assumptions())
}

func lines(list []throughput.Assumption) string {
	var b strings.Builder
	for _, s := range Statements(list) {
		b.WriteString(s.String() + "\n")
	}
	return b.String()
}

func has(t *testing.T, text string, want ...string) {
	t.Helper()
	for _, w := range want {
		if strings.Count(text, w) != 1 {
			t.Errorf("%d times %q in\n%s", strings.Count(text, w), w, text)
		}
	}
}

// TestStatements: what holds of a technology stands in one sentence, what carriers assume
// after their bands.
func TestStatements(t *testing.T) {
	has(t, said(t, "B3:20 + n78:100", throughput.Settings{}),
		"The maximum data rate is the standard's ceiling: it counts every symbol for the direction and does not discount TDD.\n",
		"Scheduled, NR downlink: highest MCS of the table in every slot, PDCCH takes 2 symbols of a slot (1 in FR2), slot 0 of every 20 ms is left to SS/PBCH block and broadcast, xOverhead 0.\n",
		"Scheduled, NR uplink: highest MCS, one resource block of PUCCH, SRS, no data in special slots, xOverhead 0.\n",
		"Scheduled, LTE: largest blocks up to code rate 0.932 in what the shortest control region, reference, synchronisation and broadcast signals leave; 2 resource blocks of PUCCH.\n",
		"n78 TDD pattern DDDSU/10:2:2, downlink 74.3 % of the time (as in the TDD patterns of TS 38.101-4 Annex A)\n",
		"n78 subcarrier spacing 30 kHz (common practice, no source)\n", "n78 downlink 4 layers (four receive antenna ports in this band)\n",
		"B3 uplink 64QAM (16QAM for UE categories without 64QAM in the uplink; common practice, no source)\n")
	dmrs := nr.DMRS{Type: 2, Length: 1, AdditionalPositions: 2}
	has(t, said(t, "B3:20 + n78:100", throughput.Settings{ControlSymbols: 3, DMRS: &dmrs, XOverhead: 6, NoBroadcast: true}),
		"PDCCH takes 3 symbols of a slot, no slot is left to broadcast, xOverhead 6.\n", "Scheduled, NR: DM-RS "+dmrs.String()+"; no slot carries",
		"in what a control region of 3 symbols and reference signals leave;")
	has(t, said(t, "n78:100,sinr=12 + n1:20,rsrp=-90", throughput.Settings{ControlSymbols: throughput.NoControl}), "PDCCH takes no symbol", "Expected: truncated Shannon curve", "noise figure 9 dB")
	has(t, said(t, "n78:80 + n80:20 + n1:20,ul=1", throughput.Settings{}), "uplink not added")
	has(t, said(t, "B3:20 + n46:20", throughput.Settings{}), "n46 the network has the channel all of the time")
}

func TestSiteStatements(t *testing.T) {
	plan := func(b site.Backhaul, m site.Measured) string {
		c, err := ca.Parse("n78:100 + B3:20")
		if err != nil {
			t.Fatal(err)
		}
		s, err := site.Plan(&site.Site{Backhaul: b, Sectors: []site.Sector{{Environment: site.Rural, Radios: []site.Radio{{Carriers: c, TransmitPorts: 2, ReceivePorts: 2, Measured: m}}}}})
		if err != nil {
			t.Fatal(err)
		}
		return lines(s.Assumptions())
	}
	has(t, plan(site.Backhaul{}, site.Measured{Uplink: exact.Of(3, 2), Origin: "counters of week 12"}),
		"The mean of the busy hour is the average spectral efficiency times the effective bandwidth", "taken for 32 antenna ports",
		"n78 downlink 2 layers of one phone (at most the ports of the site)\n", "n78 downlink 2 layers over all users with 2 ports (common practice, no source)\n",
		"n78 uplink 1.5 bit/s/Hz on average with 2 ports: the planner's own figure, counters of week 12\n",
		"n78 downlink 0.763 bit/s/Hz on average with 2 ports, rural: extrapolated\n",
		"The backhaul needs the larger of the peak of one phone in a sector and the sum of the means (common practice, no source), with 10.0 % overhead of transport (assumed: common practice, no source) and no overhead of security.\n",
		"7.0 % of the traffic of a day, and a month has 30 days", "Busy hour: all of the resources are in use in both directions (assumed).\n")
	has(t, plan(site.Backhaul{CellPeak: true, Transport: exact.Of(1, 5), Security: exact.Of(3, 25)}, site.Measured{}),
		"the larger of the peak of the cell with the layers of all users and the sum of the means (common practice, no source), with 20.0 % overhead of transport and 12.0 % overhead of security.\n")
}
