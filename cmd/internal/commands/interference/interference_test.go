package interference

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"spectally/cmd/internal/commandtest"
)

// answered has the fields of the contract in a form of its own, so that a renamed or
// retyped field is noticed.
type answered struct {
	Products []struct {
		Kind    string `json:"kind"`
		Order   int    `json:"order"`
		Sources []struct {
			Carrier     int `json:"carrier"`
			Coefficient int `json:"coefficient"`
		} `json:"sources"`
		Low           json.Number `json:"low_mhz"`
		High          json.Number `json:"high_mhz"`
		Victim        int         `json:"victim"`
		ReceiverOrder int         `json:"receiver_order"`
		Hit           string      `json:"hit"`
		Places        string      `json:"places"`
		Distance      json.Number `json:"distance_mhz"`
		Offset        json.Number `json:"offset_mhz"`
		Listed        []struct {
			Table      string      `json:"table"`
			Order      int         `json:"order"`
			MSD        json.Number `json:"msd_db"`
			PowerClass string      `json:"power_class"`
			DL         json.Number `json:"dl_mhz"`
		} `json:"listed"`
	} `json:"products"`
	Single    *bool `json:"single_uplink_allowed"`
	Valid     bool  `json:"valid"`
	Avoid     []struct{ First, Last int32 }
	Proposals []struct {
		Remedy string `json:"remedy"`
		Left   int    `json:"hits_left"`
	} `json:"proposals"`
}

func ask(t *testing.T, args ...string) answered {
	t.Helper()
	var a answered
	out := commandtest.Must(t, Command(), append([]string{"interference", "--format", "json"}, args...)...)
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	return a
}

// lines writes the products on a line each.
func (a *answered) lines() string {
	var b strings.Builder
	for _, p := range a.Products {
		fmt.Fprintf(&b, "%s %d", p.Kind, p.Order)
		for _, s := range p.Sources {
			fmt.Fprintf(&b, " %d*%d", s.Coefficient, s.Carrier)
		}
		fmt.Fprintf(&b, " %s-%s at %d*%d %s%s %s %s", p.Low, p.High, p.ReceiverOrder, p.Victim, p.Hit, p.Places, p.Distance, p.Offset)
		for _, e := range p.Listed {
			fmt.Fprintf(&b, " [%s %d %s dB %s MHz class %s]", e.Table, e.Order, e.MSD, e.DL, e.PowerClass)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// Worked by hand: B3 receives at 1825-1845 MHz and sends at 1730-1750, n78 uses 20 MHz around
// 3549.99. The difference is 3549.99 - 1740 = 1809.99 MHz, 40 MHz wide; the MSD is that of
// TS 38.101-3 V19.5.0 Table 7.3B.2.3.5.1-1. Twice n78 less three times B3 is 1879.98 MHz,
// 100 MHz wide. Twice B3 is 3480 MHz and 40 MHz wide, 39.99 MHz below n78, which in turn lies
// 90.01 MHz below twice 1825.
func TestPlacedCarriers(t *testing.T) {
	a := ask(t, "B3:20@1835MHz + n78:20@636666")
	want := `intermodulation 2 -1*1 1*2 1789.99-1829.99 at 1*1 direct 0 -25.01 [7.3B.2.3.5.1-1 2 26 dB 5 MHz class 3]
intermodulation 5 -3*1 2*2 1829.98-1929.98 at 1*1 direct 0 44.98
`
	if got := a.lines(); got != want {
		t.Errorf("%swant\n%s", got, want)
	}
	if a.Single == nil || !*a.Single || !a.Valid {
		t.Errorf("single uplink %v, valid %v; TS 38.101-3 V19.5.0 Table 5.5B.4.1-1 allows it for DC_3_n78", a.Single, a.Valid)
	}
	if len(a.Proposals) == 0 || a.Proposals[0].Left != 0 {
		t.Errorf("proposals %+v: one uplink alone leaves nothing", a.Proposals)
	}
}

// TS 38.101-3 V19.5.0 Tables 7.3B.2.3.1-1 and 7.3B.2.3.2-1, for two bands as a whole.
func TestBands(t *testing.T) {
	a := ask(t, "B3 + n78")
	got := a.lines()
	for _, want := range []string{
		"harmonic 2 2*1 3420-3570 at 1*2 directsome 0  [7.3B.2.3.1-1 2 23.9 dB 10 MHz class 3] [7.3B.2.3.1-1 2 13.8 dB 100 MHz class 3]",
		"mixing 1 1*2 3300-3800 at 2*1 directsome 0  [7.3B.2.3.2-1 1 5.7 dB 5 MHz class 3] [7.3B.2.3.2-1 1 2.3 dB 20 MHz class 3]",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%slacks\n%s", got, want)
		}
	}
}

// A name stands for each uplink that is listed with it: DC_1A-3A_n78A has one with B1 and one
// with B3, never both (TS 38.101-3 V19.5.0 Table 5.5B.4.2-1).
func TestName(t *testing.T) {
	a := ask(t, "DC_1A-3A_n78A")
	seen := map[int]bool{}
	for _, p := range a.Products {
		if len(p.Sources) > 2 || len(p.Sources) == 2 && p.Sources[1].Carrier != 3 {
			t.Errorf("B1 and B3 at once: %+v", p)
		}
		for _, s := range p.Sources {
			seen[s.Carrier] = true
		}
	}
	if len(seen) != 3 {
		t.Errorf("uplinks %v", seen)
	}
}

// n28 sends anywhere in 703-748 MHz, so that its fifth harmonic is 3515-3740 MHz: n78 with
// 100 MHz avoids it with its centre up to 3465 MHz, NR-ARFCN 631000.
func TestAvoid(t *testing.T) {
	var a struct {
		Avoid []struct {
			Carrier     int
			First, Last int `json:"-"`
			FirstNumber int `json:"first_channel"`
			LastNumber  int `json:"last_channel"`
		}
	}
	if err := json.Unmarshal([]byte(commandtest.Must(t, Command(), "interference", "--format", "json", "n28:10 + n78:100")), &a); err != nil {
		t.Fatal(err)
	}
	if len(a.Avoid) != 1 || a.Avoid[0].Carrier != 2 || a.Avoid[0].FirstNumber != 623334 || a.Avoid[0].LastNumber != 631000 {
		t.Errorf("avoid %+v", a.Avoid)
	}
}

// With --all the misses stand there too: of one FDD carrier six harmonics and ten mixings.
func TestAll(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(commandtest.Must(t, Command(), "interference", "B3:20@1835MHz", "--all", "--format", "csv"))).ReadAll()
	if err != nil || len(rows) != 1+6+10 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
}

func TestFormats(t *testing.T) {
	for _, format := range []string{"text", "markdown", "html"} {
		out := commandtest.Must(t, Command(), "interference", "B3:20@1835MHz + n78:100@3550.02MHz", "--format", format, "--explain")
		for _, want := range []string{"n78 − B3", "7.3B.2.3.5.1-1", "3550.02", "Where the products fall", "A listed MSD is an allowance"} {
			if !strings.Contains(out, want) {
				t.Errorf("%s lacks %q", format, want)
			}
		}
	}
	short := commandtest.Must(t, Command(), "interference", "B3:20@1835MHz + n78:100@3550.02MHz", "--quiet")
	if n := strings.Count(short, "\n"); n > 24 {
		t.Errorf("the short text has %d lines:\n%s", n, short)
	}
}

func TestBadInput(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"", "spectally interference: argument 1: no carriers given: must be " + allowed},
		{"B3+n78 --order 1", "spectally interference: --order: order \"1\": must be a whole number from 2 to 9; closest is 2"},
		{"B3+n78 --power-class 4", "spectally interference: --power-class: power class \"4\": must be 3, 2, 1.5, 1 or 5; closest is 3"},
		{"B3+n600", "spectally interference: argument 1: NR band \"n600\": must be a band of the operating-band tables; closest is n100 (TS 38.101-1 Table 5.2-1)"},
	} {
		status, out, errs := commandtest.Run(Command(), append([]string{"interference"}, strings.Fields(c.args)...)...)
		if status != 2 || out != "" || strings.TrimSpace(errs) != c.want {
			t.Errorf("%q: %d %q %q, want %q", c.args, status, out, errs, c.want)
		}
	}
	if status, out, _ := commandtest.Run(Command(), "interference", "n78:37"); status != 1 || !strings.Contains(out, "width-allowed") {
		t.Errorf("a width that n78 has not: %d\n%s", status, out)
	}
}
