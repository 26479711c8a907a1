package frames

import (
	"encoding/csv"
	"encoding/json"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commandtest"
	"spectally/throughput/nr"
)

// frameFields are the fields of the answer, in a form of the test's own.
type frameFields struct {
	Pattern string      `json:"pattern"`
	RAT     string      `json:"rat"`
	SCS     json.Number `json:"scs_khz"`
	Slots   []struct {
		Kind    string  `json:"kind"`
		DL      int     `json:"dl_symbols"`
		Guard   int     `json:"guard_symbols"`
		UL      int     `json:"ul_symbols"`
		Symbols *string `json:"symbols"`
		Format  *int    `json:"slot_format"`
	} `json:"slots"`
	Shares map[string]struct {
		Exact string  `json:"exact"`
		Share float64 `json:"share"`
	} `json:"shares"`
	Spans []struct {
		MS      json.Number `json:"ms"`
		Slots   int         `json:"slots"`
		D       int         `json:"d"`
		S       int         `json:"s"`
		U       int         `json:"u"`
		DL      int         `json:"dl_symbols"`
		Guard   int         `json:"guard_symbols"`
		UL      int         `json:"ul_symbols"`
		Drawing string      `json:"drawing"`
	} `json:"spans"`
	Periods []struct {
		SCS   json.Number   `json:"scs_khz"`
		Total json.Number   `json:"total_ms"`
		Parts []json.Number `json:"periods_ms"`
		Holds bool          `json:"holds"`
	} `json:"periods"`
	SpecialAssumed bool     `json:"special_assumed"`
	Valid          bool     `json:"valid"`
	Assumptions    []string `json:"assumptions"`
	Findings       []struct {
		Rule string `json:"rule"`
	} `json:"findings"`
}

func readFrames(t *testing.T, args ...string) (frameFields, int) {
	t.Helper()
	status, out, errs := commandtest.Run(Command(), append([]string{"frames", "--format", "json"}, args...)...)
	if errs != "" {
		t.Fatalf("%v: %s", args, errs)
	}
	var f frameFields
	if err := json.Unmarshal([]byte(out), &f); err != nil {
		t.Fatal(err)
	}
	return f, status
}

// Patterns of TS 38.101-4 V19.2.2 Annex A with their slots written out by hand.
func TestFramesOfNR(t *testing.T) {
	for _, test := range []struct {
		pattern, scs, letters string
		period                string // ms
		dl, guard, ul         int64  // symbols, by hand
	}{
		{"DDDSU/10:2:2", "30", "DDDSU", "2.5", 52, 2, 16},
		{"7DS2U/6:4:4", "30", "DDDDDDDSUU", "5", 104, 4, 32},
		{"DDSU/11:3:0", "120", "DDSU", "0.5", 39, 3, 14},
		{"14D2S4U/12:8:8", "480", "DDDDDDDDDDDDDDSSUUUU", "0.625", 208, 8, 64},
		{"dsuu/12:2:0", "30", "DSUU", "2", 26, 2, 28},
		{"DDDSU/10:2:2-DDSUU/10:2:2", "30", "DDDSUDDSUU", "5", 90, 4, 46},
	} {
		f, status := readFrames(t, test.pattern, "--scs", test.scs)
		letters := ""
		for _, s := range f.Slots {
			letters += s.Kind
			if s.DL+s.Guard+s.UL != 14 || *s.Symbols != strings.Repeat("D", s.DL)+strings.Repeat("F", s.Guard)+strings.Repeat("U", s.UL) {
				t.Errorf("%s: slot %+v", test.pattern, s)
			}
			if s.Format != nil { // TS 38.213 V19.3.0 Table 11.1.1-1, read back
				format, err := nr.SlotFormat(*s.Format)
				if err != nil || format != *s.Symbols {
					t.Errorf("%s: slot format %d is %s, %v, not %s", test.pattern, *s.Format, format, err, *s.Symbols)
				}
			}
		}
		if letters != test.letters || !f.Valid || status != command.Good || f.RAT != "NR" || f.SCS.String() != test.scs {
			t.Errorf("%s: %s, status %d, %+v", test.pattern, letters, status, f)
		}
		all := test.dl + test.guard + test.ul
		for part, symbols := range map[string]int64{"dl": test.dl, "guard": test.guard, "ul": test.ul} {
			want := big.NewRat(symbols, all)
			if got := f.Shares[part]; got.Exact != want.RatString() {
				t.Errorf("%s: %s has %s of the time, want %s", test.pattern, part, got.Exact, want.RatString())
			} else if v, _ := want.Float64(); got.Share < v-1e-6 || got.Share > v+1e-6 {
				t.Errorf("%s: %s has %v of the time, want %v", test.pattern, part, got.Share, v)
			}
		}
		if f.Spans[0].MS.String() != test.period {
			t.Errorf("%s: a period of %s ms, want %s", test.pattern, f.Spans[0].MS, test.period)
		}
		for _, s := range f.Spans {
			drawn := strings.ReplaceAll(s.Drawing, " ", "")
			want := strings.Repeat(test.letters, s.Slots/len(test.letters)+1)[:s.Slots]
			count := func(letter string) int { return strings.Count(want, letter) }
			if drawn != want || s.D != count("D") || s.S != count("S") || s.U != count("U") {
				t.Errorf("%s in %s ms: %+v", test.pattern, s.MS, s)
			}
			periods := int64(s.Slots / len(test.letters))
			if int64(s.DL) != periods*test.dl || int64(s.Guard) != periods*test.guard || int64(s.UL) != periods*test.ul {
				t.Errorf("%s in %s ms: %+v symbols, want %d periods", test.pattern, s.MS, s, periods)
			}
		}
	}
}

// Every pattern of the reference channels lasts a period that exists at its
// subcarrier spacing, but for five slots at 480 and 960 kHz, which are shorter than
// the shortest period, 0.5 ms: there the tables name slots and no pattern.
func TestFramesOfReferenceChannels(t *testing.T) {
	n := 0
	for _, f := range commandtest.Values(t, "nr_frc.txt") {
		if f[0] != "frame" || f[4] == "-" {
			continue
		}
		n++
		holds := f[4] != "DDDSU/10:2:2" || f[2] != "480" && f[2] != "960"
		if got, status := readFrames(t, f[4], "--scs", f[2]); (status == command.Good) != holds || got.Valid != holds || len(got.Periods) != 1 || got.Periods[0].Holds != holds {
			t.Errorf("%s at %s kHz: status %d, %+v", f[4], f[2], status, got.Periods)
		}
	}
	if n < 20 {
		t.Errorf("only %d patterns", n)
	}
}

// Where no subcarrier spacing is given all are checked; a pattern of three slots is a
// period of none (TS 38.213 V19.3.0 clause 11.1: 0.5, 0.625, 1, 1.25, 2, 2.5, 3, 4,
// 5, 10 ms, and only those that divide 20 ms alone).
func TestFramesAtEverySpacing(t *testing.T) {
	f, status := readFrames(t, "DDDSU")
	var good []string
	for _, p := range f.Periods {
		if p.Holds {
			good = append(good, p.SCS.String()+"="+p.Total.String())
		}
	}
	if got := strings.Join(good, " "); got != "15=5 30=2.5 60=1.25 120=0.625" || status != command.Good || !f.SpecialAssumed || len(f.Assumptions) != 1 {
		t.Errorf("status %d, %s, %+v", status, got, f)
	}
	if f, status := readFrames(t, "DDU"); status != command.Refuted || f.Valid || len(f.Findings) != 1 || f.Findings[0].Rule != "tdd-period" {
		t.Errorf("DDU: status %d, %+v", status, f)
	}
	if _, status := readFrames(t, "DDU", "--scs", "30"); status != command.Refuted {
		t.Errorf("DDU at 30 kHz: status %d", status)
	}
}

// TS 36.211 V19.3.0 Table 4.2-2, its letters typed from the page, and Table 4.2-1:
// special subframe configuration 7 has ten downlink and two uplink symbols, 21952 and
// 4384 Ts.
func TestFramesOfLTE(t *testing.T) {
	for i, want := range []string{"DSUUUDSUUU", "DSUUDDSUUD", "DSUDDDSUDD", "DSUUUDDDDD", "DSUUDDDDDD", "DSUDDDDDDD", "DSUUUDSUUD"} {
		f, status := readFrames(t, strconv.Itoa(i)+"/7")
		if f.Spans[0].Drawing != want || status != command.Good || f.RAT != "LTE" || len(f.Periods) != 0 {
			t.Errorf("configuration %d is %s, want %s", i, f.Spans[0].Drawing, want)
		}
		d, s, u := int64(strings.Count(want, "D")), int64(strings.Count(want, "S")), int64(strings.Count(want, "U"))
		for part, ts := range map[string]int64{"dl": d*30720 + s*21952, "guard": s * (30720 - 21952 - 4384), "ul": u*30720 + s*4384} {
			if got, exact := f.Shares[part].Exact, big.NewRat(ts, 307200).RatString(); got != exact {
				t.Errorf("configuration %d: %s has %s of the time, want %s", i, part, got, exact)
			}
		}
	}
	if f, _ := readFrames(t, "FDD"); f.Shares["dl"].Exact != "1" || f.Shares["ul"].Exact != "1" || f.Shares["guard"].Exact != "0" {
		t.Errorf("FDD: %+v", f.Shares)
	}
}

func TestFramesFormatsAgree(t *testing.T) {
	for _, args := range [][]string{{"7DS2U/6:4:4", "--scs", "30"}, {"2/5-ext"}, {"30D4S6U/0:56:0", "--scs", "30"}} {
		f, _ := readFrames(t, args...)
		rows, err := csv.NewReader(strings.NewReader(commandtest.Must(t, Command(), append([]string{"frames", "--format", "csv"}, args...)...))).ReadAll()
		if err != nil || len(rows) != 1+len(f.Slots) {
			t.Fatalf("%v: %d rows, %v", args, len(rows), err)
		}
		for i, s := range f.Slots {
			if got, want := strings.Join(rows[i+1][:6], " "), strings.Join([]string{strconv.Itoa(i), s.Kind, strconv.Itoa(s.DL), strconv.Itoa(s.Guard), strconv.Itoa(s.UL), *s.Symbols}, " "); got != want {
				t.Errorf("%v: CSV %s, JSON %s", args, got, want)
			}
		}
		text := commandtest.Must(t, Command(), append([]string{"frames"}, args...)...)
		for _, part := range []string{"dl", "guard", "ul"} {
			if !strings.Contains(text, " "+f.Shares[part].Exact+" ") {
				t.Errorf("%v: the text lacks the share %s", args, f.Shares[part].Exact)
			}
		}
		if !strings.Contains(text, f.Spans[0].Drawing) {
			t.Errorf("%v: the text lacks %s", args, f.Spans[0].Drawing)
		}
	}
}
