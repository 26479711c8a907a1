package importing

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spectally/ca"
	"spectally/cmd/internal/commandtest"
	"spectally/cmd/internal/fieldlog"
)

// TestDemo reads the dump of the demo: EARFCN 1300 is 1815 MHz of B3 and 6300 is 806 MHz of
// B20 (TS 36.101 Table 5.7.3-1); 3540 MHz can be centre and block of a 100 MHz carrier.
func TestDemo(t *testing.T) {
	var v struct {
		Networks []struct {
			Text     string
			Carriers []struct {
				Role     string
				PCI      int
				SSB      *int
				NumberIs string  `json:"number_is"`
				RSRP     float64 `json:"rsrp_dbm"`
				SINR     float64 `json:"sinr_db"`
				DL       struct {
					Channel *int
					Low     float64 `json:"centre_low_mhz"`
					High    float64 `json:"centre_high_mhz"`
				}
			}
			Totals struct {
				DL float64 `json:"dl_mhz"`
			}
			Valid bool
		}
		Findings []any
		Log      *string
	}
	if err := json.Unmarshal([]byte(commandtest.Must(t, Command(), "import", "--demo", "--format", "json")), &v); err != nil {
		t.Fatal(err)
	}
	if len(v.Networks) != 1 || len(v.Networks[0].Carriers) != 3 || v.Log == nil || len(v.Findings) != 2 {
		t.Fatalf("%+v", v)
	}
	n := v.Networks[0]
	// The block of 7.2 MHz leaves the centre of 273 resource blocks of 30 kHz 45.54 MHz to either side.
	if c := n.Carriers[2]; c.NumberIs != "open" || *c.SSB != 636000 || c.DL.Channel != nil || c.Role != "pscell" || c.PCI != 412 || c.RSRP != -97 || c.SINR != 14 || c.DL.Low != 3494.46 || c.DL.High != 3585.54 {
		t.Errorf("%+v", c)
	}
	if c := n.Carriers[0]; c.NumberIs != "centre" || *c.DL.Channel != 1300 || c.SSB != nil {
		t.Errorf("%+v", c)
	}
	if n.Totals.DL != 130 || !n.Valid {
		t.Errorf("%v MHz, valid %t", n.Totals.DL, n.Valid)
	}
	if _, err := ca.Parse(n.Text); err != nil {
		t.Error(err)
	}
	for _, format := range []string{"text", "markdown", "csv"} {
		if out := commandtest.Must(t, Command(), "import", "--demo", "--format", format); !strings.Contains(out, "B20") {
			t.Errorf("%s: %s", format, out)
		}
	}
}

// TestInto begins a log, adds to it, and leaves one that it cannot add to as it is.
func TestInto(t *testing.T) {
	file := filepath.Join(t.TempDir(), "walk.toml")
	const ping = "5 packets transmitted, 5 received, 0% packet loss\nrtt min/avg/max/mdev = 20.1/22.4/30.0/2.0 ms\n"
	commandtest.Must(t, Command(), "import", "--demo", "--into", file)
	begun, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if status, _, errs := commandtest.Feed(Command(), ping, "import", "-", "--into", file, "--loaded", "up"); status != 0 {
		t.Fatal(errs)
	}
	now, err := os.ReadFile(file)
	if err != nil || !strings.HasPrefix(string(now), strings.TrimRight(string(begun), "\n")) {
		t.Fatalf("%v: the log changed:\n%s", err, now)
	}
	l, err := fieldlog.Read(file, now)
	if err != nil || l.Networks[0].Runs[0].LoadedUp.String() != "22.4" {
		t.Fatalf("%v\n%s", err, now)
	}
	bad := filepath.Join(t.TempDir(), "bad.toml")
	if err := os.WriteFile(bad, []byte("title = 7\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if status, _, errs := commandtest.Run(Command(), "import", "--demo", "--into", bad); status != 2 || !strings.Contains(errs, "bad.toml:1") {
		t.Errorf("%d %s", status, errs)
	}
	if after, err := os.ReadFile(bad); err != nil || string(after) != "title = 7\n" {
		t.Errorf("%v: %s", err, after)
	}
}

func TestRefuses(t *testing.T) {
	for _, test := range []struct{ input, args, want string }{
		{"", "", "no FILE given: must be a file, - for standard input, or --demo"},
		{"hello", "-", `argument 1: import "5 bytes of something else": must be a telephony registry dump`},
		{"", "nowhere.txt", `argument 1: file "nowhere.txt"`},
		{"", "--demo x", "--demo: not with a FILE"},
		{"", "a b", `argument 2: argument "b"`},
		{"a\n1\n", "- --map dwn=a", `--map: map "dwn": must be down, up`},
		{"a\n1\n", "- --map down=b", `argument 1: column "b"`},
		{"", "--demo --network x", "--network: not without --into"},
		{"", "--demo --toml --into x", "--toml: not with --into"},
		{"", "--demo --loaded sideways", `--loaded: load of a ping "sideways": must be no, down or up`},
		{`{"modem":{"signal":{"lte":{"rsrp":"-90"}}}}`, "- --into new.toml", "--into: import"},
	} {
		args := append([]string{"import"}, strings.Fields(test.args)...)
		status, out, errs := commandtest.Feed(Command(), test.input, args...)
		if status != 2 || out != "" || !strings.Contains(errs, test.want) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: %d %q %q, want %q", args, status, out, errs, test.want)
		}
	}
	if _, err := os.Stat("new.toml"); err == nil {
		t.Error("a log was begun in vain")
	}
}
