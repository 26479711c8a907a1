package imports

import (
	"strings"
	"testing"

	"spectally/cmd/internal/fieldlog"
)

const log = `title = "Pier"   # kept as it is

[[network]]
name = "North"
carriers = "B3:20@1575"

[[network.run]]
down = 90

[[network]]
name = "South"
carriers = "n78:80"
notes = """
[[network]] in a text
"""

[[claim]]
text = "South is quick"
network = "South"
peak_mbps = 1000
`

func imported(t *testing.T, name string) *Import {
	t.Helper()
	for _, e := range corpus(t) {
		if e.name == name {
			m, err := Read([]byte(e.text), options(t, e.options))
			if err != nil {
				t.Fatal(err)
			}
			return m
		}
	}
	t.Fatal(name)
	return nil
}

// Into adds and changes nothing: without the lines that came the log is the old one.
func TestInto(t *testing.T) {
	for _, test := range []struct{ name, network, want string }{
		{"throughput-down", "North", "North 2 0"},
		{"transfer", "North", "North 2 1"},
		{"telephony-present", "", "Network 3 0 0"},
		{"csv-carriers", "", "Network 4 1 0"},
	} {
		out, err := imported(t, test.name).Into("pier.toml", []byte(log), test.network)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		l, err := fieldlog.Read("pier.toml", out)
		if err != nil {
			t.Fatalf("%s: %v\n%s", test.name, err, out)
		}
		found := ""
		for i := range l.Networks {
			n := &l.Networks[i]
			found += n.Name + " " + itoa(len(n.Runs)) + " " + itoa(len(n.Transfers)) + "\n"
		}
		if !strings.Contains(found, test.want+"\n") {
			t.Errorf("%s: %s; want %s", test.name, found, test.want)
		}
		rest := string(out)
		for line := range strings.Lines(log) { // every line is there, in its order
			i := strings.Index(rest, line)
			if i < 0 {
				t.Fatalf("%s: %q is gone from\n%s", test.name, line, out)
			}
			rest = rest[i+len(line):]
		}
	}
}

func TestIntoRefuses(t *testing.T) {
	for _, test := range []struct{ name, network, want string }{
		{"throughput-down", "", `network "": must be one of the log: North or South`},
		{"throughput-down", "Nort", `network "Nort": must be one of the log: North or South; closest is North`},
		// The header in the text of the second network hides where its tables end.
		{"throughput-down", "South", `field log "pier.toml": must be one whose networks stand under headers [[network]], so that what is imported can be added`},
		{"modem-json", "North", `import "modem manager": must be one with carriers, runs or transfers: levels alone are no part of a log`},
	} {
		_, err := imported(t, test.name).Into("pier.toml", []byte(log), test.network)
		if err == nil || err.Error() != test.want {
			t.Errorf("%s into %s: %v, want %s", test.name, test.network, err, test.want)
		}
	}
	if _, err := imported(t, "ping").Into("pier.toml", []byte("title = 1\n"), ""); err == nil || !strings.Contains(err.Error(), "pier.toml:1") {
		t.Errorf("a bad log: %v", err)
	}
}

func TestNewLog(t *testing.T) {
	text, err := imported(t, "telephony-present").NewLog("A \"walk\"")
	if err != nil {
		t.Fatal(err)
	}
	l, err := fieldlog.Read("new.toml", []byte(text))
	if err != nil || l.Title != `A "walk"` || l.Networks[0].Carriers.String() != "B3:20@1575,role=pcell,pci=101,rsrp=-90,sinr=22 + n78:80@640000,ul=0,role=pscell,pci=420,rsrp=-95,sinr=12" {
		t.Errorf("%v\n%s", err, text)
	}
	if _, err := imported(t, "ping").NewLog("x"); err == nil || !strings.Contains(err.Error(), "a log that has a network") {
		t.Errorf("a run without a network: %v", err)
	}
}

func TestParseMap(t *testing.T) {
	for text, want := range map[string]string{
		"down":            `map "down": must be figure=column or figure=column:unit, with the figures down, up, idle_ms, loaded_down_ms, loaded_up_ms, where, when, carriers`,
		"dwn=a":           `map "dwn": must be down, up, idle_ms, loaded_down_ms, loaded_up_ms, where, when, carriers; closest is down`,
		"down=a:knots":    `unit of down "knots": must be Mbit/s, Gbit/s, Tbit/s, kbit/s, bit/s, MB/s, GB/s, kB/s or B/s`,
		"where=a:m":       `unit of where "m": must be no unit`,
		"idle_ms=a:hours": `unit of idle_ms "hours": must be ms, s or us`,
	} {
		if _, err := ParseMap(text); err == nil || err.Error() != want {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
	if c, err := ParseMap("down=a=b:kbit/s"); err != nil || c != (Column{"down", "a=b", "kbit/s"}) {
		t.Errorf("%+v, %v", c, err)
	}
}

// FuzzRead: whatever is read, what comes out is a log that can be read back, and every
// refusal stands on one line.
func FuzzRead(f *testing.F) {
	for _, e := range corpus(f) {
		f.Add([]byte(e.text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, o := range []Options{{}, {Map: []Column{{"down", "dl", ""}, {"where", "place", ""}, {"carriers", "cells", ""}}}} {
			m, err := Read(data, o)
			if err != nil {
				if strings.ContainsAny(err.Error(), "\n\r") {
					t.Fatalf("%q", err)
				}
				continue
			}
			for _, base := range []string{"", "pier.toml"} {
				text := "title = \"x\"\n"
				if base != "" {
					text = "title = \"x\"\n[[network]]\nname = \"North\"\ncarriers = \"B3:20\"\n"
				}
				out, err := m.Into(base, []byte(text), "")
				if err != nil {
					continue
				}
				if _, err := fieldlog.Read("new.toml", out); err != nil {
					t.Fatalf("%v\n%s", err, out)
				}
			}
		}
	})
}
