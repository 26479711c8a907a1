package channel

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commandtest"
)

// channelFields are the fields of the contract.
type channelFields struct {
	Band     string         `json:"band"`
	DL, UL   *centreFields  `json:"-"`
	OnRaster bool           `json:"on_raster"`
	Nearest  []centreFields `json:"nearest"`
	GSCN     []struct {
		GSCN int         `json:"gscn"`
		MHz  json.Number `json:"mhz"`
		SCS  json.Number `json:"scs_khz"`
	} `json:"gscn"`
	Edges    *edgeFields `json:"edges"`
	Findings []struct {
		Severity string `json:"severity"`
		Rule     string `json:"rule"`
		Message  string `json:"message"`
	} `json:"findings"`
}

type centreFields struct {
	Channel *int32      `json:"channel"`
	MHz     json.Number `json:"mhz"`
}

type edgeFields struct {
	Low  json.Number `json:"low_mhz"`
	High json.Number `json:"high_mhz"`
}

func readChannel(t *testing.T, args ...string) (channelFields, int) {
	t.Helper()
	args = append([]string{"channel", "--format", "json"}, args...)
	status, out, errs := commandtest.Run(Command(), args...)
	if errs != "" {
		t.Fatalf("spectally %s: %s", strings.Join(args, " "), errs)
	}
	var c struct {
		channelFields
		DL *centreFields `json:"dl"`
		UL *centreFields `json:"ul"`
	}
	if err := json.Unmarshal([]byte(out), &c); err != nil {
		t.Fatal(err)
	}
	c.channelFields.DL, c.channelFields.UL = c.DL, c.UL
	return c.channelFields, status
}

// Channel numbers at the ends of the ranges of TS 38.101-1 V19.5.0 Table 5.4.2.3-1,
// TS 38.101-2 V19.4.0 Table 5.4.2.3-1 and TS 36.101 V19.6.0 Table 5.7.3-1, with
// frequencies that the formulas of TS 38.104 clause 5.4.2.1 and TS 36.101 clause
// 5.7.3 give, worked out by hand.
func TestChannelNumbers(t *testing.T) {
	for _, test := range []struct {
		band    string
		number  int32
		dl, ul  string // empty where the band has no such direction
		another int32  // the number of the other direction
	}{
		{"n1", 422000, "2110", "1920", 384000},
		{"n1", 396000, "2170", "1980", 434000},
		{"n28", 151600, "758", "703", 140600},
		{"n78", 653333, "3799.995", "3799.995", 653333},
		{"n79", 733333, "4999.995", "4999.995", 733333},
		{"n257", 2054166, "26500.02", "26500.02", 2054166},
		{"n29", 143400, "717", "", 0},
		{"n80", 342000, "", "1710", 0},
		{"B1", 0, "2110", "1920", 18000},
		{"B1", 18599, "2169.9", "1979.9", 599},
		{"B7", 3100, "2655", "2535", 21100},
		{"B38", 38000, "2595", "2595", 38000},
		{"B13", 5230, "751", "782", 23230},
		{"B29", 9715, "722.5", "", 0},
	} {
		c, status := readChannel(t, test.band, fmt.Sprint(test.number))
		if status != command.Good || !c.OnRaster || c.Band != test.band {
			t.Errorf("%s@%d: exit status %d, on the raster %v", test.band, test.number, status, c.OnRaster)
		}
		numbers := map[int32]bool{}
		for direction, want := range map[string]string{"dl": test.dl, "ul": test.ul} {
			got := c.DL
			if direction == "ul" {
				got = c.UL
			}
			switch {
			case want == "" && got != nil:
				t.Errorf("%s@%d has a %s: %+v", test.band, test.number, direction, *got)
			case want != "" && (got == nil || got.MHz.String() != want || got.Channel == nil):
				t.Errorf("%s@%d: %s is %+v, want %s MHz", test.band, test.number, direction, got, want)
			case want != "":
				numbers[*got.Channel] = true
			}
		}
		if !numbers[test.number] || test.ul != "" && test.dl != "" && !numbers[test.another] {
			t.Errorf("%s@%d: channel numbers %v, want %d beside it", test.band, test.number, numbers, test.another)
		}
	}
}

// Number to frequency and back again, at the first, the second and the last number
// of every run of every band; JSON and CSV say the same.
func TestChannelRoundTrip(t *testing.T) {
	tried := 0
	for _, b := range bands.All(0) {
		for _, r := range b.Rasters() {
			if r.Step == 0 || r.Listed {
				continue
			}
			for _, n := range []int32{r.First, r.First + r.Step, r.Last} {
				tried++
				id, number := b.ID.String(), fmt.Sprint(n)
				c, status := readChannel(t, id, number)
				if status != command.Good || !c.OnRaster {
					t.Errorf("%s %s: exit status %d, on the raster %v", id, number, status, c.OnRaster)
				}
				centre := c.DL
				if r.Direction == bands.Uplink {
					centre = c.UL
				}
				if centre == nil || centre.Channel == nil || *centre.Channel != n {
					t.Errorf("%s %s: %+v", id, number, centre)
					continue
				}
				back, _ := readChannel(t, id, centre.MHz.String()+" MHz")
				again := back.DL
				if r.Direction == bands.Uplink {
					again = back.UL
				}
				if again == nil || again.Channel == nil || *again.Channel != n || again.MHz != centre.MHz {
					t.Errorf("%s %s MHz: %+v, want number %d", id, centre.MHz, again, n)
				}
				rows, err := csv.NewReader(strings.NewReader(commandtest.Must(t, Command(), "channel", id, number, "--format", "csv"))).ReadAll()
				if err != nil || len(rows) != 2 || !strings.Contains(strings.Join(rows[1], ","), number+","+centre.MHz.String()) {
					t.Errorf("%s %s: CSV %v, %v", id, number, rows, err)
				}
			}
		}
	}
	if tried < 600 { // 166 bands, most with two directions, three numbers each
		t.Errorf("only %d numbers tried", tried)
	}
}

// Every listed channel is allowed with its width (TS 38.101-1 V19.5.0 Tables
// 5.4.2.3-2 to -4, TS 38.101-2 V19.4.0 Table 5.4.2.3-2, TS 36.104 V19.2.0 Table
// 5.7.3-1), even where it passes the edge of the band.
func TestListedChannelsAreAllowed(t *testing.T) {
	tried := 0
	for _, b := range bands.All(0) {
		for _, l := range b.ListedChannels() {
			args := []string{"channel", b.ID.String(), fmt.Sprint(l.Number), "--width", l.Width.MHz()}
			if status, out, errs := commandtest.Run(Command(), args...); status != command.Good {
				t.Errorf("%v: exit status %d\n%s%s", args, status, out, errs)
			}
			tried++
		}
	}
	if tried < 565 { // the rows of the four NR lists
		t.Errorf("only %d channels", tried)
	}
}

// The SS/PBCH blocks of a carrier lie inside it and are 20 resource blocks wide
// (TS 38.211 clause 7.4.3.1); there is one entry at each step of the raster.
func TestSyncEntriesLieInsideTheCarrier(t *testing.T) {
	c, _ := readChannel(t, "n78", "3600MHz", "--width", "20", "--gscn")
	// Between the guard bands of 805 kHz (TS 38.101-1 V19.5.0 Table 5.3.3-1) the
	// block, 3.615 MHz below SS_REF and 3.585 MHz above it, has room from 3594.42 to
	// 3605.61 MHz; on the 1.44 MHz steps from 3000 MHz that is 3594.72 to 3604.8 MHz.
	var got []string
	for _, e := range c.GSCN {
		got = append(got, e.MHz.String())
	}
	want := "3594.72 3596.16 3597.6 3599.04 3600.48 3601.92 3603.36 3604.8"
	if strings.Join(got, " ") != want {
		t.Errorf("got %v, want %s", got, want)
	}
}
