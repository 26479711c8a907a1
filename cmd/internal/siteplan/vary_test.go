package siteplan

import (
	"strings"
	"testing"
)

const small = `name = "Weir"
environment = "rural"
[[sector]]
name = "town"
[[sector.radio]]
name = "upper"
carriers = "B3:20" # one
ports = "4T4R"
[[sector]]
[[sector.radio]]
carriers = "B3:20"
ports = "2T2R"
[[sector.radio]]
carriers = "B7:20"
ports = "2T2R"
`

func TestVary(t *testing.T) {
	for setting, want := range map[string]string{
		"load_percent=80":                  "load_percent = 80\nname = \"Weir\"",
		"name=Mill":                        "name = \"Mill\"\nenvironment",
		"backhaul.link=10 Gbit/s":          "[backhaul]\nlink = \"10 Gbit/s\"",
		"sector.town.count=2":              "[[sector]]\ncount = 2\nname = \"town\"",
		"sector.town.carriers=n78:100":     "name = \"upper\"\ncarriers = \"n78:100\"\nports = \"4T4R\"",
		"sector.2.radio.2.ports=8T8R":      "carriers = \"B7:20\"\nports = \"8T8R\"",
		"sector.town.radio.upper.ports=8T": "ports = \"8T\"\n[[sector]]",
	} {
		got, err := Vary(small, setting)
		if err != nil || !strings.Contains(got, want) {
			t.Errorf("%s: %v\n%s\nwant %q", setting, err, got, want)
		}
	}
	for setting, want := range map[string]string{
		"load":                       "KEY=VALUE",
		"=3":                         "KEY=VALUE",
		"sector.mill.count=2":        "a sector of the plan: town, 2",
		"sector.twn.count=2":         "town",
		"sector.2.carriers=B1:20":    "a radio of the sector",
		"sector.town.radio.x.ports=": "upper",
		"a.b.c.d=1":                  "KEY=VALUE",
	} {
		if _, err := Vary(small, setting); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", setting, err, want)
		}
	}
	whole, err := Vary(Demo(), "sector.town.load_percent=10", "traffic.rate_mbps=5")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Read("varied", []byte(whole)); err != nil {
		t.Error(err)
	}
}
