package ca_test

import (
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands"
	"spectally/ca"
)

func nr(number uint16) bands.ID  { return bands.ID{RAT: bands.NR, Number: number} }
func lte(number uint16) bands.ID { return bands.ID{RAT: bands.LTE, Number: number} }

const mhz = bands.MHz

func TestParse(t *testing.T) {
	n78 := ca.Carrier{Band: nr(78), Downlink: 80 * mhz, Uplink: 80 * mhz}
	b3 := ca.Carrier{Band: lte(3), Downlink: 20 * mhz, Uplink: 20 * mhz}
	with := func(c ca.Carrier, change func(c *ca.Carrier)) ca.Combination {
		change(&c)
		return ca.Combination{c}
	}
	for _, test := range []struct {
		texts []string
		want  ca.Combination
	}{
		{[]string{"n78:80", "N78:80", " n78 : 80 ", "n78:80/80", "n78:80MHz", "n78:80 mhz", "n78:80.0", "1xn78:80", "n78:080", "\tn78:80\n", "n\u00a078:80"}, ca.Combination{n78}},
		{[]string{"B3:20", "b3:20", "3:20", "3:20.000000", "1x3:20", "1X B3 : 20"}, ca.Combination{b3}},
		{[]string{"2xn78:80", "2Xn78:80", "2×n78:80", "2 x n78:80", "n78:80+n78:80", "02xn78:80", "2 × n78 : 80 / 80"}, ca.Combination{n78, n78}},
		{[]string{"2x3:20+n78:80", "B3:20 + 3:20 + N78:80"}, ca.Combination{b3, b3, n78}},
		{[]string{"32x3:20"}, slices.Repeat(ca.Combination{b3}, 32)},
		{[]string{"n78:80/0", "n78:80MHz/0MHz"}, with(n78, func(c *ca.Carrier) { c.Uplink = 0 })},
		{[]string{"n78:0/80"}, with(n78, func(c *ca.Carrier) { c.Downlink = 0 })},
		{[]string{"B3:1.4/3", "3:1.40/3.0"}, with(b3, func(c *ca.Carrier) { c.Downlink, c.Uplink = 1400*bands.KHz, 3*mhz })},
		{[]string{"n78:80@640000", "n78:80 @ 640000", "n78:80@00640000"}, with(n78, func(c *ca.Carrier) { c.Channel, c.HasChannel = 640000, true })},
		{[]string{"n78:80@0"}, with(n78, func(c *ca.Carrier) { c.HasChannel = true })},
		{[]string{"n78:80@3540.96MHz", "n78:80@3540.96 mhz", "n78:80@3.54096GHz", "n78:80@3540960kHz", "n78:80@3540960000Hz"},
			with(n78, func(c *ca.Carrier) { c.Centre = 3540_960 * bands.KHz })},
		{[]string{"n78:80,scs=30", "n78:80,SCS=30", "n78:80,scs=30kHz", "n78:80, scs = 30 KHz"}, with(n78, func(c *ca.Carrier) { c.SCS = 30 * bands.KHz })},
		{[]string{"n78:80,layers=4,ullayers=2,qam=256,ulqam=64", "n78:80,ulqam=64,QAM=256,UlLayers=2,LAYERS=4"}, with(n78, func(c *ca.Carrier) {
			c.Layers, c.UplinkLayers, c.QAM, c.UplinkQAM = 4, 2, 256, 64
		})},
		{[]string{"n78:80,ssb=640000", "n78:80,SSB=3600MHz", "n78:80, ssb = 3.6 GHz"}, with(n78, func(c *ca.Carrier) { c.SSB = 640000 })},
		{[]string{"n78:80,rb=25"}, with(n78, func(c *ca.Carrier) { c.RB = 25 })},
		{[]string{"n78:80,ulqam=2"}, with(n78, func(c *ca.Carrier) { c.UplinkQAM = 2 })},
		{[]string{"n78:80,scale=0.75", "n78:80,scale=0.750"}, with(n78, func(c *ca.Carrier) { c.Scale = 75 })},
		{[]string{"n78:80,scale=1", "n78:80,scale=1.0"}, with(n78, func(c *ca.Carrier) { c.Scale = 100 })},
		{[]string{"n78:80,pattern=dddsu/10:2:2", "n78:80,pattern=DDDSU/10:2:2"}, with(n78, func(c *ca.Carrier) { c.Pattern = "DDDSU/10:2:2" })},
		{[]string{"n78:80,ul=1"}, with(n78, func(c *ca.Carrier) { c.Transmit = ca.Yes })},
		{[]string{"n78:80,ul=0"}, with(n78, func(c *ca.Carrier) { c.Transmit = ca.No })},
		{[]string{"n78:80,role=PSCell", "n78:80,role=pscell"}, with(n78, func(c *ca.Carrier) { c.Role = ca.PSCell })},
		{[]string{"n78:80,pci=0"}, with(n78, func(c *ca.Carrier) { c.HasPCI = true })},
		{[]string{"n78:80,pci=1007"}, with(n78, func(c *ca.Carrier) { c.PCI, c.HasPCI = 1007, true })},
		{[]string{"3:20,pci=503"}, with(b3, func(c *ca.Carrier) { c.PCI, c.HasPCI = 503, true })},
		{[]string{"n78:80,rsrp=-85.5,sinr=0", "n78:80,rsrp=-85.50dBm,sinr=0.00 dB", "n78:80,sinr=-0,rsrp=\u221285.5"}, with(n78, func(c *ca.Carrier) {
			c.RSRP, c.SINR = ca.LevelOf(-8550), ca.LevelOf(0)
		})},
		{[]string{"n78:80,rsrp=-156,sinr=40"}, with(n78, func(c *ca.Carrier) { c.RSRP, c.SINR = ca.LevelOf(-15600), ca.LevelOf(4000) })},
		{[]string{"n78:80,rsrp=-31,sinr=-23"}, with(n78, func(c *ca.Carrier) { c.RSRP, c.SINR = ca.LevelOf(-3100), ca.LevelOf(-2300) })},
	} {
		for _, text := range test.texts {
			got, err := ca.Parse(text)
			if err != nil {
				t.Errorf("%q: %v", text, err)
			} else if !slices.Equal(got, test.want) {
				t.Errorf("%q is %+v, want %+v", text, got, test.want)
			}
		}
	}
}

func TestParseErrors(t *testing.T) {
	entries := readEntries(t, "../testdata/ca/notation_errors.txt")
	if len(entries) < 100 {
		t.Fatalf("%d entries, want 100 and more", len(entries))
	}
	for _, blank := range []string{"", " ", "\t\n", "\u00a0"} {
		entries = append(entries, entry{blank, []string{`carrier 1 "": must be band:width, such as n78:80 or B3:20`}})
	}
	entries = append(entries,
		entry{"B3:20 + \x00\n", []string{`carrier 2 "\x00": must be band:width, such as n78:80 or B3:20`}},
		entry{"\xff:20", []string{`carrier 1 "\xff:20": band "\xff": must be n and a number for NR (n78), B and a number or a number alone for LTE (B3, 3)`}},
	)
	for _, e := range entries {
		c, err := ca.Parse(e.head)
		if err == nil {
			t.Errorf("%q is taken for %v", e.head, c)
			continue
		}
		if diff := cmp.Diff(e.lines, []string{err.Error()}); diff != "" || c != nil {
			t.Errorf("%q: error (-want +got):\n%s", e.head, diff)
		}
		var place *ca.NotationError
		var value *bands.ValueError
		if !errors.As(err, &place) || !errors.As(err, &value) || place.Carrier < 1 || value.Allowed == "" {
			t.Errorf("%q: %#v does not say which carrier or what is allowed", e.head, err)
		}
	}
	whole := &ca.NotationError{Err: errors.New("no good")}
	if whole.Error() != "no good" {
		t.Errorf("an error of the whole text is %q", whole)
	}
}

// Hostile input must cost no more than its size.
func TestParseBound(t *testing.T) {
	if _, err := ca.Parse(strings.Repeat("+", 1<<20)); err == nil {
		t.Error("a million plus signs are taken")
	}
	if n := testing.AllocsPerRun(10, func() { _, _ = ca.Parse(strings.Repeat("+", 1000)) }); n > 20 {
		t.Errorf("%g allocations for nothing but plus signs", n)
	}
	if _, err := ca.Parse(strings.Repeat("32x3:5+", 1000)); err == nil {
		t.Error("32000 carriers are taken")
	}
}

// pick returns one of the values.
func pick[T any](r *rand.Rand, values ...T) T { return values[r.IntN(len(values))] }

// randomCarrier returns a carrier that the notation can hold, allowed or not.
func randomCarrier(r *rand.Rand) ca.Carrier {
	c := ca.Carrier{Band: bands.ID{RAT: pick(r, bands.LTE, bands.NR), Number: uint16(1 + r.IntN(1024))}}
	width := func() bands.Frequency {
		return pick(r, 0, bands.Frequency(r.Int64N(2001))*mhz, 1400*bands.KHz, bands.Frequency(r.Int64N(int64(2*bands.GHz))))
	}
	c.Downlink, c.Uplink = width(), width()
	if r.IntN(2) == 0 || c.Downlink == 0 && c.Uplink == 0 {
		c.Downlink = 5*mhz + width()
		c.Uplink = c.Downlink
	}
	switch r.IntN(4) {
	case 0:
		c.Channel, c.HasChannel = r.Int32(), true
	case 1:
		c.Centre = 1 + bands.Frequency(r.Int64N(int64(1000*bands.GHz)))
	}
	c.SCS = pick[bands.Frequency](r, 0, 0, 15, 30, 60, 120, 480, 960) * bands.KHz
	c.Layers, c.UplinkLayers = uint8(r.IntN(9)), uint8(r.IntN(9))
	c.QAM, c.UplinkQAM = pick[uint16](r, 0, 4, 16, 64, 256, 1024), pick[uint16](r, 0, 2, 4, 16, 64, 256, 1024)
	c.Scale = pick[uint16](r, 0, 0, 100, 80, 75, 40)
	c.Transmit, c.Role = pick(r, ca.Open, ca.Yes, ca.No), pick(r, 0, ca.PCell, ca.PSCell, ca.SCell)
	c.Pattern = pick(r, "", "", "DDDSU/10:2:2", "2/7", "DDDDDDDSUU/6:4:4|DDDDDDDSUU/6:4:4", "A.B-C")
	if r.IntN(2) == 0 {
		c.HasPCI = true
		if c.PCI = uint16(r.IntN(504)); c.Band.RAT == bands.NR {
			c.PCI = uint16(r.IntN(1008))
		}
	}
	if r.IntN(2) == 0 && c.Band.RAT == bands.NR {
		c.SSB, c.RB = bands.ARFCN(1+r.IntN(3279165)), uint16(1+r.IntN(275))
	}
	if r.IntN(2) == 0 {
		c.RSRP = ca.LevelOf(-15600 + r.Int32N(12501))
	}
	if r.IntN(2) == 0 {
		c.SINR = ca.LevelOf(-2300 + r.Int32N(6301))
	}
	return c
}

func TestNotationRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		var want ca.Combination
		for len(want) == 0 || r.IntN(3) > 0 && len(want) < 32 {
			c := randomCarrier(r)
			want = append(want, slices.Repeat(ca.Combination{c}, min(1+r.IntN(3), 32-len(want)))...)
		}
		text := want.String()
		got, err := ca.Parse(text)
		if err != nil || !slices.Equal(got, want) {
			t.Fatalf("%s is read as %v, %v", text, got, err)
		}
		if mixed := strings.ToUpper(strings.ReplaceAll(text, " ", "")); !slices.Equal(parsed(t, mixed), want) {
			t.Fatalf("%s is read as something else in capitals without blanks", mixed)
		}
	}
}

func TestString(t *testing.T) {
	for text, want := range map[string]string{
		"n78:80+n78:80+3:20":                            "2xn78:80 + B3:20",
		"n78:80,pci=1 + n78:80,pci=2":                   "n78:80,pci=1 + n78:80,pci=2",
		"n78:80@640000 + n78:80@640000":                 "n78:80@640000 + n78:80@640000",
		"3:1.4/0@1815000kHz":                            "B3:1.4/0@1815MHz",
		"n78:100@3.54096ghz,SINR=-0.5,scs=30":           "n78:100@3540.96MHz,scs=30,sinr=-0.5",
		"n78:80,rsrp=-85.05,role=PSCELL,ul=1,scale=.8":  "",
		"n78:80,rsrp=-85.05,role=PSCELL,ul=1,scale=0.8": "n78:80,scale=0.8,ul=1,role=pscell,rsrp=-85.05",
	} {
		c, err := ca.Parse(text)
		switch {
		case want == "" && err == nil:
			t.Errorf("%s is taken for %v", text, c)
		case want != "" && (err != nil || c.String() != want):
			t.Errorf("%s is written %v (%v), want %s", text, c, err, want)
		}
	}
	if s := (ca.Combination{}).String(); s != "" {
		t.Errorf("no carriers are written %q", s)
	}
	if s := parsed(t, "n78:80@640000,scs=30")[0].String(); s != "n78:80@640000,scs=30" {
		t.Errorf("a carrier is written %q", s)
	}
}

func TestLevel(t *testing.T) {
	var none ca.Level
	if none.IsGiven() || none.String() != "" || none.Hundredths() != 0 || none.DB() != 0 {
		t.Errorf("no level is %q, %d", none, none.Hundredths())
	}
	for h, want := range map[int32]string{0: "0", 5: "0.05", -5: "-0.05", 50: "0.5", -8550: "-85.5", -8505: "-85.05", 10000: "100", -100: "-1", 1234: "12.34"} {
		l := ca.LevelOf(h)
		if !l.IsGiven() || l.String() != want || l.Hundredths() != h || l.DB() != float64(h)/100 {
			t.Errorf("%d hundredths are %q, %g dB; want %s", h, l, l.DB(), want)
		}
	}
}

func TestRoleString(t *testing.T) {
	for r, want := range map[ca.Role]string{0: "", ca.PCell: "pcell", ca.PSCell: "pscell", ca.SCell: "scell", 9: ""} {
		if r.String() != want {
			t.Errorf("role %d is %q, want %q", r, r, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, e := range readEntries(f, "../testdata/ca/valid.txt") {
		carriers, _, _ := strings.Cut(e.head, " | ")
		f.Add(carriers)
	}
	for _, e := range readEntries(f, "../testdata/ca/notation_errors.txt") {
		f.Add(e.head)
	}
	f.Add("n78:80@3540.96 MHz,scs=30kHz,layers=4,ullayers=2,qam=256,ulqam=2,scale=0.75,pattern=dddsu/10:2:2,ul=1,role=pscell,pci=500,rsrp=-85.5dBm,sinr=\u221223")
	f.Fuzz(func(t *testing.T, s string) {
		first, err := ca.Parse(s)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r") {
				t.Errorf("%q: the error is more than a line: %q", s, err)
			}
			return
		}
		text := first.String()
		second, err := ca.Parse(text)
		if err != nil || !slices.Equal(first, second) || second.String() != text {
			t.Fatalf("%q is %q, read back as %v, %v", s, text, second, err)
		}
	})
}
