package fieldlog

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/tomlfile"
)

func mustRead(tb testing.TB, text string) *Log {
	tb.Helper()
	l, err := Read("test.toml", []byte(text))
	if err != nil {
		tb.Fatalf("%v\nin\n%s", err, text)
	}
	return l
}

// compare shows the types with hidden parts by what they print.
var compare = cmp.Options{
	cmp.Comparer(func(a, b quantity.Decimal) bool { return a == b }),
	cmp.Comparer(func(a, b quantity.Size) bool { return a == b }),
	cmp.Comparer(func(a, b ca.Carrier) bool { return a == b }),
	cmp.Comparer(func(a, b ca.Level) bool { return a == b }),
}

func decimal(tb testing.TB, s string) quantity.Decimal {
	tb.Helper()
	d, err := quantity.ParseDecimal(s)
	if err != nil {
		tb.Fatal(err)
	}
	return d
}

func TestRead(t *testing.T) {
	got := mustRead(t, `
title = "A walk"
date = 2031-05-14
place = "The pier"
author = "Someone"
notes = ["One.", "Two."]
[[network]]
name = "First"
device = { name = "phone", receive_antennas = 4, transmit_antennas = 2, qam = 256, ulqam = 64 }
carriers = "B3:20@1300,pci=7"
notes = "Cold."
[[network.radio]]
name = "panel"
ports = "8t4r"
antenna = "Omni"
connected = [1, 2, 7]
bands = ["n78", 3]
notes = "High up."
[[network.radio]]
ports = "2T2R"
connected = 1
[[network.neighbour]]
band = "n78"
channel = 640000
pci = 17
rsrp = -101.5
[[network.run]]
down = 612
up = 58.40
idle_ms = 21
loaded_down_ms = 68
loaded_up_ms = 121
where = "corner"
when = 2031-05-14T18:05:30
notes = "Rain."
[[network.run]]
when = "07:15"
idle_ms = 9
[[network.transfer]]
size = "700 MiB"
seconds = 30.5
direction = "UP"
where = "bench"
when = 18:05:00
[[network]]
name = "Second"
carriers = "n78:100"
[[claim]]
text = "Much"
network = "Second"
about = true
direction = "up"
peak_mbps = 75
[[claim]]
network = "First"
same_site = true
[[claim]]
transfer = "1 GB"
seconds = 30
rate_mbps = 600
`)
	n78, b3 := bands.ID{RAT: bands.NR, Number: 78}, bands.ID{RAT: bands.LTE, Number: 3}
	size := func(s string) quantity.Size {
		z, err := quantity.ParseSize(s)
		if err != nil {
			t.Fatal(err)
		}
		return z
	}
	d := func(s string) quantity.Decimal { return decimal(t, s) }
	want := &Log{
		Title: "A walk", Date: "2031-05-14", Place: "The pier", Author: "Someone", Notes: []string{"One.", "Two."},
		Networks: []Network{{
			Name: "First", Device: Device{Name: "phone", ReceiveAntennas: 4, TransmitAntennas: 2, QAM: 256, UplinkQAM: 64},
			Carriers: ca.Combination{{Band: b3, Downlink: 20 * bands.MHz, Uplink: 20 * bands.MHz, Channel: 1300, HasChannel: true, PCI: 7, HasPCI: true}},
			Radios: []Radio{
				{Name: "panel", Transmit: 8, Receive: 4, Antenna: "omni", Connected: 3, HasConnected: true, Ports: []int{1, 2, 7}, Bands: []bands.ID{n78, b3}, Notes: []string{"High up."}},
				{Transmit: 2, Receive: 2, Connected: 1, HasConnected: true},
			},
			Neighbours: []Neighbour{{ca.Carrier{Band: n78, Channel: 640000, HasChannel: true, PCI: 17, HasPCI: true, RSRP: ca.LevelOf(-10150)}}},
			Runs: []Run{
				{Down: d("612"), Up: d("58.40"), Idle: d("21"), LoadedDown: d("68"), LoadedUp: d("121"), Where: "corner", When: "2031-05-14 18:05", Notes: []string{"Rain."}},
				{Idle: d("9"), When: "07:15"},
			},
			Transfers: []Transfer{{Size: size("700 MiB"), Seconds: d("30.5"), Direction: bands.Uplink, Where: "bench", When: "18:05"}},
			Notes:     []string{"Cold."},
		}, {
			Name: "Second", Carriers: ca.Combination{{Band: n78, Downlink: 100 * bands.MHz, Uplink: 100 * bands.MHz}},
		}},
		Claims: []Claim{
			{Claim: claim.Claim{Text: "Much", About: true, Direction: bands.Uplink, Rate: d("75")}, Network: 1, OtherNetwork: -1},
			{Claim: claim.Claim{SameSite: true}, Network: 0, OtherNetwork: -1},
			{Claim: claim.Claim{Transfer: size("1 GB"), Seconds: d("30"), Rate: d("600")}, Network: -1, OtherNetwork: -1},
		},
	}
	if diff := cmp.Diff(want, got, compare); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestNotationAgrees: carriers in tables and in the notation are the same carriers.
func TestNotationAgrees(t *testing.T) {
	for _, test := range []struct{ notation, tables string }{
		{"n78:100@640000,scs=30,layers=4,ullayers=2,qam=1024,ulqam=256,scale=0.75,pattern=DDDSU/10:2:2,ul=1,role=pscell,pci=1007,rsrp=-92.5,sinr=-3.25 + B3:20/0@1300",
			"band = 'N78'\nwidth = 100\nchannel = 640000\nscs = 30\nlayers = 4\nullayers = 2\nqam = 1024\nulqam = 256\nscale = 0.75\npattern = 'dddsu/10:2:2'\nul = true\nrole = 'PSCell'\npci = 1007\nrsrp = -92.5\nsinr = -3.25\n" +
				"[[network.carrier]]\nband = 'B3'\nwidth = '20/0'\nchannel = 1300\n"},
		{"B42:20@3500MHz,pattern=2/7,ul=0", "band = 42\nwidth = 20.0\nfrequency = 3500\npattern = '2/7'\nul = false\n"},
		{"n1:5@2140.1MHz + n80:20", "band = 'n1'\nwidth = 5\nfrequency = '2.1401 GHz'\n[[network.carrier]]\nband = 'n80'\nwidth = '20 MHz'\n"},
		{"B31:1.4,pci=0", "band = '31'\nwidth = 1.4\npci = +0\n"},
	} {
		const head = "title = 't'\n[[network]]\nname = 'n'\n"
		want := mustRead(t, head+"carriers = '"+test.notation+"'\n").Networks[0].Carriers
		got := mustRead(t, head+"[[network.carrier]]\n"+test.tables).Networks[0].Carriers
		if diff := cmp.Diff(want, got, compare); diff != "" || got.String() != want.String() {
			t.Errorf("%s\n%s", got, diff)
		}
		parsed, err := ca.Parse(test.notation)
		if err != nil || !slices.Equal(parsed, got) {
			t.Errorf("%s is read as %s (%v)", test.notation, got, err)
		}
	}
	parts := "[{ band = 'B3', width = 20 }, { band = 'B7', width = 10 }]"
	if got := mustRead(t, "title = 't'\nnetwork = [{ name = 'n', carrier = "+parts+" }]\n").Networks[0].Carriers.String(); got != "B3:20 + B7:10" {
		t.Errorf("carriers in braces are read as %s", got)
	}
}

// TestAllReported: faults in every part of a log are reported together, each on its
// line.
func TestAllReported(t *testing.T) {
	_, err := Read("pier.toml", []byte(`titel = "x"
date = 2031-13-01
[[network]]
name = "One"
[[network.carrier]]
band = "n77"
width = 300
pci = 1008
[[network.carrier]]
band = "B3"
width = 20
pci = 504
rsrp = 20
[[network.run]]
down = "fast"
idle_ms = -1
[[network.transfer]]
size = "1"
seconds = 0
[[claim]]
total_mhz = 0
`))
	var p tomlfile.Problems
	if !errors.As(err, &p) {
		t.Fatal(err)
	}
	var got []string
	for i := range p {
		got = append(got, fmt.Sprintf("%d %s %s", p[i].Line, p[i].Place, p[i].Key))
	}
	want := []string{
		"1  ", "1  titel", "2  date", "7 network 1, carrier 1 width", "8 network 1, carrier 1 pci", "12 network 1, carrier 2 pci", "13 network 1, carrier 2 rsrp",
		"15 network 1, run 1 down", "16 network 1, run 1 idle_ms", "18 network 1, transfer 1 size", "19 network 1, transfer 1 seconds", "21 claim 1 total_mhz",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s\n%v", diff, p)
	}
}

func TestLimits(t *testing.T) {
	const head = "title = 't'\n"
	net := func(i int) string { return fmt.Sprintf("[[network]]\nname = 'n%d'\ncarriers = 'n78:20'\n", i) }
	many := func(n int, one func(int) string) string {
		var s strings.Builder
		for i := range n {
			s.WriteString(one(i))
		}
		return s.String()
	}
	part := func(s string) func(int) string { return func(int) string { return s } }
	for _, test := range []struct {
		name       string
		most       int
		head, want string
		one        func(int) string
	}{
		{"networks", maxNetworks, head, `network "51 tables": must be at most 50`, net},
		{"carriers", maxCarriers, head + "[[network]]\nname = 'n'\n", `carrier "33 tables": must be at most 32`, part("[[network.carrier]]\nband = 'n78'\nwidth = 20\n")},
		{"radios", maxRadios, head + net(1), `radio "51 tables": must be at most 50`, part("[[network.radio]]\nports = '2T2R'\n")},
		{"neighbours", maxNeighbours, head + net(1), `neighbour "201 tables": must be at most 200`, part("[[network.neighbour]]\nband = 'n78'\nchannel = 640000\npci = 1\n")},
		{"runs", maxRuns, head + net(1), `run "501 tables": must be at most 500`, part("[[network.run]]\ndown = 1\n")},
		{"transfers", maxTransfers, head + net(1), `transfer "201 tables": must be at most 200`, part("[[network.transfer]]\nsize = '1 GB'\nseconds = 1\n")},
		{"claims", maxClaims, head + net(1), `claim "201 tables": must be at most 200`, part("[[claim]]\ntotal_mhz = 20\n")},
	} {
		if _, err := Read("x", []byte(test.head+many(test.most, test.one))); err != nil {
			t.Errorf("%d %s: %v", test.most, test.name, err)
		}
		if _, err := Read("x", []byte(test.head+many(test.most+1, test.one))); err == nil || !strings.HasSuffix(err.Error(), test.want) {
			t.Errorf("%d %s: %v, want %s", test.most+1, test.name, err, test.want)
		}
	}
	filler := strings.Repeat("#", tomlfile.MaxSize)
	if _, err := Read("x", []byte(filler[:tomlfile.MaxSize-len(Demo())-1]+"\n"+Demo())); err != nil {
		t.Errorf("a log of 1 MiB: %v", err)
	}
	if _, err := Read("x", []byte(filler+"\n"+Demo())); err == nil || strings.Contains(err.Error(), "\n") {
		t.Errorf("a log above 1 MiB: %v", err)
	}
}

// hostile strings could harm a page, a terminal, a table or a shell if a renderer
// did not mind them. The reader hands them on as they are.
var hostile = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `'; DROP TABLE runs; --`, `</title><svg/onload=alert(1)>`, `&lt;&amp;&#x27;`,
	`| a | b |`, "`code` **bold** [link](javascript:alert(1))", `=HYPERLINK("x")`, `$(rm -rf x) %s %n {{.Title}} ${x}`, `]]><!--`, "javascript:alert(1)", `\u003cscript\u003e`,
	`..\..\x`, "ﷺ 漢字 🗼 e\u0301", strings.Repeat("W", tomlfile.MaxText),
}

func TestHostileText(t *testing.T) {
	for _, h := range hostile {
		quoted := "'''" + h + "'''"
		if strings.HasSuffix(h, "'") || strings.Contains(h, "'''") {
			t.Fatalf("%q does not fit between the quotes of the test", h)
		}
		l := mustRead(t, "title = "+quoted+"\nplace = "+quoted+"\nnotes = "+quoted+"\n[[network]]\nname = "+quoted+"\ncarriers = 'n78:20'\n[[network.run]]\ndown = 1\nwhere = "+quoted+"\n[[claim]]\ntext = "+quoted+"\ntotal_mhz = 20\n")
		r := Analyse(l)
		for what, got := range map[string]string{
			"title": r.Title, "place": r.Place, "notes": strings.Join(r.Notes, "\n"), "network": r.Networks[0].Name, "row": r.Comparison[0].Network,
			"where": r.Networks[0].Runs[0].Where, "claim": r.Claims[0].Text, "network of the claim": r.Claims[0].Network,
		} {
			if got != h {
				t.Errorf("%s %q comes out as %q", what, h, got)
			}
		}
	}
	for _, bad := range []string{`a\u0000b`, `a\nb`, `a\rb`, `a\u001b[2J`, `a\u0085b`, `a\u009bb`, `a\u2028b`, `a\u202eb`, `a\u2066b`, `a\tb`, `a\u007f`} {
		for _, key := range []string{"title", "place", "author"} {
			text := key + " = \"" + bad + "\"\n[[network]]\nname = 'n'\ncarriers = 'n78:20'\n"
			if key != "title" {
				text = "title = 't'\n" + text
			}
			if _, err := Read("x", []byte(text)); err == nil || !strings.Contains(err.Error(), key+` "`) || !strings.Contains(err.Error(), "this has U+") {
				t.Errorf("%s %q: %v", key, bad, err)
			}
		}
	}
}

func TestTemplateHasEveryKey(t *testing.T) {
	mustRead(t, Template())
	// An unknown key in every table makes the reader tell which keys there are.
	_, err := Read("x", []byte(`title = "t"
x = 1
[[network]]
name = "n"
x = 1
device = { x = 1 }
[[network.carrier]]
band = "n78"
width = 20
x = 1
[[network.radio]]
ports = "2T2R"
x = 1
[[network.neighbour]]
band = "n78"
channel = 640000
pci = 1
x = 1
[[network.run]]
down = 1
x = 1
[[network.transfer]]
size = "1 GB"
seconds = 1
x = 1
[[claim]]
total_mhz = 20
x = 1
`))
	var p tomlfile.Problems
	if !errors.As(err, &p) || len(p) != 9 {
		t.Fatalf("%v", err)
	}
	for i := range p {
		var v *bands.ValueError
		if !errors.As(p[i].Err, &v) {
			t.Fatalf("%v", p[i].Err)
		}
		for key := range strings.SplitSeq(v.Allowed, ", ") {
			if !strings.Contains(Template(), key+" = ") && !strings.Contains(Template(), "."+key+"]]") && !strings.Contains(Template(), "[["+key+"]]") {
				t.Errorf("%s: the template does not show %q", p[i].Place, key)
			}
		}
	}
}

// TestUnits: figures of a log may have their units, and keep the digits they are stated with.
func TestUnits(t *testing.T) {
	l := mustRead(t, `title = "t"
[[network]]
name = "n"
carriers = "B3:20"
[[network.run]]
down = "0.1 Gbit/s"
up = "2.5 MB/s"
idle_ms = "0.02 s"
distance_m = "1.5 km"
[[network.transfer]]
size = "1 GB"
seconds = "2 min"
[[claim]]
peak_mbps = "1.2 Gbit/s"
[[claim]]
total_mhz = "20 MHz"
`)
	r, n := l.Networks[0].Runs[0], l.Networks[0]
	for got, want := range map[string]string{
		r.Down.String(): "100", r.Up.String(): "20.0", r.Idle.String(): "20", n.Transfers[0].Seconds.String(): "120",
		l.Claims[0].Rate.String(): "1200", l.Claims[1].TotalMHz.String(): "20",
	} {
		if got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	if r.Spot.Distance != 1500 || l.Claims[0].Rate.HalfUnit().String() != "50/1" {
		t.Errorf("%v m, half a unit of %v", r.Spot.Distance, l.Claims[0].Rate.HalfUnit())
	}
}
