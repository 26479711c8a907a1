package sitereport

import (
	"strings"
	"testing"

	"spectally/bands"
	"spectally/cmd/internal/siteplan"
)

// TestBusyThroughLink: what a plan carries in the busy hour is no more than its link lets
// through, in the summary and beside other plans; and the peak of one phone names what was
// assumed of the carriers.
func TestBusyThroughLink(t *testing.T) {
	const text = "name = 'mast'\nenvironment = 'rural'\n[backhaul]\nlink = '%s'\ntransport_percent = 0\n[[sector]]\n[[sector.radio]]\ncarriers = 'n78:100'\nports = '8T8R'\n"
	var all []Variant
	for _, link := range []string{"100 Mbit/s", "10 Gbit/s"} {
		p, err := siteplan.Read("mast.toml", []byte(strings.Replace(text, "%s", link, 1)))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, Variant{Name: link, Plan: p})
	}
	list, err := compare(all)
	if err != nil {
		t.Fatal(err)
	}
	narrow, wide := list[0].capacity, list[1].capacity
	if got := mbpsText(busy(narrow, bands.Downlink)); got != "100.0" {
		t.Errorf("%s Mbit/s through a link of 100", got)
	}
	if got, want := busy(wide, bands.Downlink), wide.Downlink.Mean; got.Cmp(want) != 0 || want.Cmp(narrow.Downlink.Mean) != 0 {
		t.Errorf("%s, %s through a wide link", got, want)
	}
	if row := comparison("", list, long).Rows[0]; row[1] != "100.0" {
		t.Errorf("%v", row)
	}
	s, err := newStudy(all[0].Plan)
	if err != nil {
		t.Fatal(err)
	}
	facts := s.summary()
	if want := "100.0 Mbit/s in the busy hour through the link (the radio carries " + rateText(narrow.Downlink.Mean) + "); one phone "; !strings.HasPrefix(facts[0].Value, want) {
		t.Errorf("%s, want %s…", facts[0].Value, want)
	}
	if facts[2].Name != "assumed" || facts[2].Value != "n78: 4 layers 256QAM DDDSU/10:2:2 30 kHz" {
		t.Errorf("%+v", facts[2])
	}
}
