package channel

import (
	"encoding/json"
	"strings"
	"testing"

	"spectally/cmd/internal/commandtest"
)

// Numbers without a band, by TS 36.101 Table 5.7.3-1 and TS 38.104 Table 5.4.2.1-1: EARFCN
// 1300 is 1805 + 0.1 (1300 - 1200) MHz; NR-ARFCN 501390 is 2506.95 MHz, GSCN 6267
// (1200 * 2089 + 150 kHz) of n41 and n90, and the uplink of n7.
func TestMeanings(t *testing.T) {
	for number, want := range map[string]string{
		"1300":   "B3 dl 1815 true",
		"19300":  "B3 ul 1720 true",
		"501390": "n7 ul 2506.95 false, n41 both 2506.95 true 6267, n90 both 2506.95 true 6267",
		"368500": "n3 dl 1842.5 true",
	} {
		var v struct {
			Meanings []struct {
				Band, Direction string
				MHz             json.Number
				OnRaster        bool `json:"on_raster"`
				GSCN            json.Number
			}
		}
		if err := json.Unmarshal([]byte(commandtest.Must(t, Command(), "channel", number, "--format", "json")), &v); err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, m := range v.Meanings {
			raster := " false"
			if m.OnRaster {
				raster = " true"
			}
			got = append(got, strings.TrimSpace(m.Band+" "+m.Direction+" "+m.MHz.String()+raster+" "+m.GSCN.String()))
		}
		if s := strings.Join(got, ", "); s != want {
			t.Errorf("%s: %s, want %s", number, s, want)
		}
	}
	for args, want := range map[string]string{
		"250000":            "NR-ARFCN 250000, 1250 MHz, in no band",
		"99999999":          `channel number "99999999": must be a number of a band`,
		"640000 --width 80": "--width: not with a number without a band",
		"640000 --gscn":     "--gscn: not with a number without a band",
		"3540MHz":           `band "3540MHz"`,
	} {
		if status, _, errs := commandtest.Run(Command(), append([]string{"channel"}, strings.Fields(args)...)...); status != 2 || !strings.Contains(errs, want) {
			t.Errorf("%s: %d %s, want %s", args, status, errs, want)
		}
	}
}

// Where a carrier lies whose block is known: at 3600.48 MHz (GSCN 7916) the block of 7.2 MHz
// leaves the centre of 217 resource blocks of 30 kHz 35.46 MHz to either side, and a block of
// spectrum of 3560 to 3660 MHz less than that.
func TestBlock(t *testing.T) {
	for args, want := range map[string][6]string{
		"n78 640032 --ssb --width 80":                    {"7916", "3565.02", "3635.94", "3525.02", "3675.94", "3595.94"},
		"n78 3600.48MHz --ssb --width 80":                {"7916", "3565.02", "3635.94", "3525.02", "3675.94", "3595.94"},
		"n78 640032 --ssb --width 80 --within 3560-3660": {"7916", "3600", "3619.995", "3560", "3659.995", "3579.995"},
		"n41 501204 --ssb --width 60":                    {"", "2526", "2533.38", "2496", "2563.38", "2503.38"},
	} {
		var v struct {
			SSB            struct{ GSCN json.Number }
			Low            json.Number `json:"centre_low_mhz"`
			High           json.Number `json:"centre_high_mhz"`
			Edges, Certain edgeFields
		}
		out := commandtest.Must(t, Command(), append([]string{"channel", "--format", "json"}, strings.Fields(args)...)...)
		if err := json.Unmarshal([]byte(out), &v); err != nil {
			t.Fatal(err)
		}
		if got := [6]string{v.SSB.GSCN.String(), v.Low.String(), v.High.String(), v.Edges.Low.String(), v.Edges.High.String(), v.Certain.Low.String()}; got != want {
			t.Errorf("%s: %v, want %v", args, got, want)
		}
	}
	for args, want := range map[string]string{
		"B3 1300 --ssb --width 20":                       "an NR band",
		"n78 640032 --ssb":                               "not without --width",
		"n78 640032 --ssb --width 80 --gscn":             "--ssb: not with --gscn",
		"n78 640032 --within 3560-3660":                  "not without --ssb",
		"n78 640032 --ssb --width 80 --within 3560":      "its edges in MHz",
		"n78 640032 --ssb --width 80 --within 3600-3650": "room in 3600-3650 MHz",
		"n78 640032 --ssb --width 35":                    "--width: n78 downlink width",
	} {
		if status, _, errs := commandtest.Run(Command(), append([]string{"channel"}, strings.Fields(args)...)...); status != 2 || !strings.Contains(errs, want) {
			t.Errorf("%s: %d %s, want %s", args, status, errs, want)
		}
	}
}
