package claim

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/quantity"
)

func decimal(s string) quantity.Decimal {
	if s == "" {
		return quantity.Decimal{}
	}
	d, err := quantity.ParseDecimal(s)
	if err != nil {
		panic(err)
	}
	return d
}

func size(s string) quantity.Size {
	z, err := quantity.ParseSize(s)
	if err != nil {
		panic(err)
	}
	return z
}

func decimals(list ...string) []quantity.Decimal {
	var out []quantity.Decimal
	for _, s := range list {
		out = append(out, decimal(s))
	}
	return out
}

// evidence is that of carriers; of nothing for an empty text.
func evidence(tb testing.TB, carriers string) Evidence {
	tb.Helper()
	if carriers == "" {
		return Evidence{}
	}
	c, err := ca.Parse(carriers)
	if err != nil {
		tb.Fatal(err)
	}
	e, err := NewEvidence(ca.Assess(c))
	if err != nil {
		tb.Fatal(err)
	}
	return e
}

func mustJudge(tb testing.TB, c Claim, e Evidence) *Judgement {
	tb.Helper()
	j, err := Judge(c, e)
	if err != nil {
		tb.Fatal(err)
	}
	checkJudgement(tb, j)
	return j
}

// checkJudgement checks what holds for every judgement.
func checkJudgement(tb testing.TB, j *Judgement) {
	tb.Helper()
	named, some := false, false
	for _, r := range j.Readings {
		some = some || r.Holds
		named = named || r.Holds && r.Meaning == j.Reading
		switch d := r.Value - r.Claimed; {
		case math.IsNaN(r.Value) || math.IsInf(r.Value, 0):
			tb.Errorf("%s: %s is %v", j.Statement, r.Meaning, r.Value)
		case !r.Holds && r.Low == r.High && (r.Relation == Equal && d == 0 || r.Relation == AtLeast && d >= 0 || r.Relation == AtMost && d <= 0):
			tb.Errorf("%s: %s is %v %s %v and does not hold", j.Statement, r.Meaning, r.Value, r.Relation, r.Claimed)
		}
	}
	switch j.Verdict {
	case Holds:
		if !some || j.Reading == "" || !named && j.Kind != SameSite {
			tb.Errorf("%s holds as %q, which is none of the readings that hold: %+v", j.Statement, j.Reading, j.Readings)
		}
	case Fails, Undecided:
		if j.Reading != "" {
			tb.Errorf("%s: %s, but holds as %q", j.Statement, j.Verdict, j.Reading)
		}
	default:
		tb.Errorf("%s: verdict %q", j.Statement, j.Verdict)
	}
	if j.Summary == "" || j.Statement == "" || j.Kind.String() == "" {
		tb.Errorf("a part is missing: %+v", j)
	}
	for _, s := range j.Working {
		if s.Name == "" || s.Formula == "" || s.Result == "" {
			tb.Errorf("%s: a step without a part: %+v", j.Statement, s)
		}
	}
	if _, err := json.Marshal(j); err != nil {
		tb.Error(err)
	}
}

// 20 + 80 + 80 + 20 MHz of LTE and NR carriers are 200 MHz in the downlink: common
// practice, no source.
func ExampleJudge() {
	c, err := ca.Parse("B3:20 + n78:80 + n78:80 + B7:20")
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := NewEvidence(ca.Assess(c))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, mhz := range []int64{200, 240, 205} {
		j, err := Judge(Claim{TotalMHz: quantity.NewDecimal(mhz, 0)}, e)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(j.Verdict, "-", j.Summary)
	}
	// Output:
	// holds - Holds as total downlink bandwidth: 200 MHz. One phone aggregates them as DC_3A-7A_n78C.
	// undecided - Only as spectrum on the air, not the usual reading, is it 240 MHz; as total downlink bandwidth it is 200 MHz.
	// fails - Fails under every reading; as total downlink bandwidth, the usual one, it is 200 MHz.
}

// verdicts are claims against measurements, with what must become of them; those on
// carriers alone stand in testdata/claims. TS 36.213 gives 20 MHz LTE with 64QAM 75.376
// Mbit/s a layer.
var verdicts = []struct {
	name     string
	claim    Claim
	carriers string
	edit     func(*Evidence)
	want     Verdict
	reading  string
	summary  string // a part of it
}{

	{name: "measured", claim: Claim{Rate: decimal("612"), Measured: true}, carriers: "n78:100", edit: runs("580", "612", "700"), want: Holds, reading: "the best run"},
	{name: "best of the runs", claim: Claim{Rate: decimal("700"), Measured: true}, edit: runs("580", "612", "700"), want: Holds, reading: "the best run"},
	{name: "never measured", claim: Claim{Rate: decimal("701"), Measured: true}, carriers: "n78:100", edit: runs("580", "612", "700"), want: Fails, summary: "the best run reached 700 Mbit/s"},
	{name: "impossible whatever was measured", claim: Claim{Rate: decimal("2700"), Measured: true}, carriers: "n78:100,layers=4,qam=256", edit: runs("2800"), want: Fails, summary: "a network can send at most"},
	{name: "measured in the uplink", claim: Claim{Rate: decimal("5"), Measured: true, Direction: bands.Uplink}, edit: func(e *Evidence) { e.Up = decimals("5.4") }, want: Holds, reading: "the best run"},

	// A 1 GB file at 600 Mbit/s takes 13.3 s; 30 s mean 267 Mbit/s on average: common
	// practice, no source.
	{name: "transfer against runs", claim: Claim{Transfer: size("1 GB"), Seconds: decimal("14")}, edit: runs("560", "600", "0"), want: Holds, reading: "the time at the best measured rate"},
	{name: "transfer slower than the runs", claim: Claim{Transfer: size("1 GB"), Seconds: decimal("30")}, edit: runs("560", "600"), want: Fails, summary: "13.3 to 14.3 s"},
	{name: "transfer faster than the runs", claim: Claim{Transfer: size("1 GB"), Seconds: decimal("10")}, edit: runs("560", "600"), want: Fails},
	{name: "transfer in the uplink", claim: Claim{Transfer: size("10 MB"), Seconds: decimal("1"), Direction: bands.Uplink}, edit: func(e *Evidence) { e.Up, e.Down = decimals("80"), decimals("1") }, want: Holds, reading: "the time at the best measured rate"},

	{name: "idle latency", claim: Claim{IdleMs: decimal("15")}, edit: latencies, want: Holds, reading: "the median latency without load"},
	{name: "lowest idle latency", claim: Claim{IdleMs: decimal("12")}, edit: latencies, want: Holds, reading: "the lowest latency without load"},
	{name: "idle latency too low", claim: Claim{IdleMs: decimal("10")}, edit: latencies, want: Fails, summary: "the lowest latency without load is 12 ms"},
	{name: "loaded latency", claim: Claim{LoadedMs: decimal("45")}, edit: latencies, want: Holds, reading: "the median latency under download"},
	{name: "loaded latency in the upload alone", claim: Claim{LoadedMs: decimal("45")}, edit: func(e *Evidence) { e.LoadedUp = decimals("90") }, want: Fails},
	{name: "loaded latency too low", claim: Claim{LoadedMs: decimal("30")}, edit: latencies, want: Fails},
	{name: "both latencies", claim: Claim{IdleMs: decimal("14"), LoadedMs: decimal("45")}, edit: latencies, want: Holds, reading: "the median latency without load"},
	{name: "one of both latencies", claim: Claim{IdleMs: decimal("14"), LoadedMs: decimal("20")}, edit: latencies, want: Fails, summary: "the lowest latency under download is 39 ms"},
	// Round trips a minute are 60 000 ms divided by the latency under load: common
	// practice, no source.
	{name: "round trips measured", claim: Claim{RoundTrips: decimal("1400")}, edit: latencies, want: Holds, reading: "the round trips a minute at the median latency under download"},
	{name: "round trips not reached", claim: Claim{RoundTrips: decimal("2000")}, edit: latencies, want: Fails},

	{name: "share of the median", claim: Claim{Share: decimal("50")}, carriers: "B3:20,layers=2,qam=64", edit: runs("70", "75.4", "90"), want: Holds, reading: "the median of the runs as a share of what a network can send at most"},
	{name: "share of the best", claim: Claim{Share: decimal("59.7")}, carriers: "B3:20,layers=2,qam=64", edit: runs("70", "75.4", "90"), want: Undecided, summary: "only the best run as a share"},
	{name: "share that nothing has", claim: Claim{Share: decimal("80")}, carriers: "B3:20,layers=2,qam=64", edit: runs("50"), want: Fails},
}

func runs(list ...string) func(*Evidence) {
	return func(e *Evidence) { e.Down = decimals(list...) }
}

func latencies(e *Evidence) {
	e.Idle, e.LoadedDown, e.LoadedUp = decimals("12", "14", "19"), decimals("39", "42", "51"), decimals("70", "90")
}

func TestVerdicts(t *testing.T) {
	for _, test := range verdicts {
		e := evidence(t, test.carriers)
		if test.edit != nil {
			test.edit(&e)
		}
		j := mustJudge(t, test.claim, e)
		if j.Verdict != test.want || j.Reading != test.reading || !strings.Contains(j.Summary, test.summary) {
			t.Errorf("%s: %s (%s) %q; want %s (%s) with %q\n%+v", test.name, j.Verdict, j.Reading, j.Summary, test.want, test.reading, test.summary, j.Readings)
		}
	}
}

// TestValues checks the figures of readings against ones worked out by hand.
func TestValues(t *testing.T) {
	e := evidence(t, "B3:20 + n78:100,pattern=DDDSU/10:2:2 + n75:20")
	j := mustJudge(t, Claim{TotalMHz: decimal("500")}, e)
	// DDDSU/10:2:2 has 3*14 + 10 of 70 symbols in the downlink: 52/70.
	for meaning, want := range map[string]float64{
		"total downlink bandwidth": 140, "total uplink bandwidth": 120, "downlink and uplink bandwidth together": 260,
		"spectrum on the air": 160, "downlink bandwidth weighted by the downlink share of time": 40 + 74.285714,
		"downlink bandwidth of the LTE carriers alone": 20, "downlink bandwidth of the NR carriers alone": 120,
	} {
		found := false
		for _, r := range j.Readings {
			if r.Meaning == meaning {
				found = true
				if r.Value != want || r.Claimed != 500 || r.Unit != "MHz" || r.Relation != Equal {
					t.Errorf("%+v, want %v MHz", r, want)
				}
			}
		}
		if !found {
			t.Errorf("no reading %q", meaning)
		}
	}
	if len(j.Readings) != 7 || len(j.Working) != 7 {
		t.Errorf("%d readings, %d steps of working", len(j.Readings), len(j.Working))
	}
	if got, want := j.Working[4].Numbers, "20 + 100 * 0.7429 + 20 MHz"; got != want {
		t.Errorf("working %q, want %q", got, want)
	}
	if got, want := j.Working[0].Numbers, "20 + 100 + 20 MHz"; got != want {
		t.Errorf("working %q, want %q", got, want)
	}
}

// One digit leaves no half of the figure open, whatever the unit.
func TestToleranceOfOneDigit(t *testing.T) {
	b := statedAs(decimal("2"), false)
	if got, want := b.tolerance(Equal, "Gbit/s"), "1.9 to 2.1 Gbit/s: 5 % to either side, for its one digit (this program's rule)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := b.tolerance(AtLeast, "Gbit/s"), "from 1.9 Gbit/s: 5 % to either side, for its one digit (this program's rule)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if b.meets(Equal, big.NewRat(12, 10)) || b.meets(AtLeast, big.NewRat(189, 100)) || !b.meets(Equal, big.NewRat(205, 100)) {
		t.Error("2 Gbit/s takes in 1.2 Gbit/s, or not 2.05")
	}
	if bound := b.as(AtLeast); bound.meets(AtLeast, big.NewRat(1999, 1000)) || !bound.meets(AtLeast, big.NewRat(2, 1)) || bound.tolerance(AtLeast, "Gbit/s") != "" {
		t.Error("at least 2 Gbit/s, said so, leaves something open")
	}
}

func TestTolerance(t *testing.T) {
	for _, test := range []struct {
		claimed        string
		about          bool
		low, high, say string
	}{
		{"200", false, "399/2", "401/2", "199.5 to 200.5 MHz: half a unit of the last digit stated"},
		{"200.0", false, "3999/20", "4001/20", "199.95 to 200.05 MHz: half a unit of the last digit stated"},
		{"13.3", false, "53/4", "267/20", "13.25 to 13.35 MHz: half a unit of the last digit stated"},
		{"200", true, "180/1", "220/1", "180 to 220 MHz: 10 % to either side of a figure given as rough (this program's rule)"},
		{"2", true, "9/5", "11/5", "1.8 to 2.2 MHz: 10 % to either side of a figure given as rough (this program's rule)"},
	} {
		b := statedAs(decimal(test.claimed), test.about)
		if b.low.String() != test.low || b.high.String() != test.high || b.tolerance(Equal, "MHz") != test.say {
			t.Errorf("%s: %v to %v, %q", test.claimed, b.low, b.high, b.tolerance(Equal, "MHz"))
		}
		for _, x := range []*big.Rat{b.low, b.high, b.claimed} {
			if !b.meets(Equal, x) || !b.meets(AtLeast, x) || !b.meets(AtMost, x) {
				t.Errorf("%s: %v is not within", test.claimed, x)
			}
		}
		tiny := big.NewRat(1, 1_000_000_000)
		below, above := new(big.Rat).Sub(b.low, tiny), new(big.Rat).Add(b.high, tiny)
		if b.meets(Equal, below) || b.meets(AtLeast, below) || !b.meets(AtMost, below) || b.meets(Equal, above) || b.meets(AtMost, above) || !b.meets(AtLeast, above) {
			t.Errorf("%s: the bounds are not sharp", test.claimed)
		}
	}
}

func TestKind(t *testing.T) {
	for _, test := range []struct {
		claim Claim
		want  string // the kind, or a part of the error
	}{
		{Claim{}, `claim "nothing claimed": must be one statement`},
		{Claim{Text: "Fast", About: true}, `claim "nothing claimed"`},
		{Claim{TotalMHz: decimal("5")}, "total-bandwidth"},
		{Claim{Carriers: decimal("5")}, "number-of-carriers"},
		{Claim{Rate: decimal("5")}, "peak-rate"},
		{Claim{Rate: decimal("5"), Measured: true}, "measured-rate"},
		{Claim{Rate: decimal("5"), Transfer: size("1 GB"), Seconds: decimal("5")}, "transfer-time"},
		{Claim{Rate: decimal("5"), Share: decimal("5")}, "share-of-peak"},
		{Claim{IdleMs: decimal("5"), LoadedMs: decimal("5"), RoundTrips: decimal("5")}, "latency"},
		{Claim{SameSite: true}, "same-site"},
		{Claim{SameSite: true, TotalMHz: decimal("5")}, `claim "total-bandwidth and same-site"`},
		{Claim{Rate: decimal("5"), TotalMHz: decimal("5")}, `claim "total-bandwidth and peak-rate"`},
		{Claim{Transfer: size("1 GB"), Share: decimal("3"), Seconds: decimal("5")}, `claim "transfer-time and share-of-peak"`},
		{Claim{Transfer: size("1 GB")}, `transfer "1 GB without a time"`},
		{Claim{Seconds: decimal("5")}, `transfer "seconds without a size"`},
		{Claim{TotalMHz: decimal("0")}, `total bandwidth in MHz "0": must be a number above zero`},
		{Claim{Rate: decimal("-5")}, `rate in Mbit/s "-5": must be a number above zero`},
		{Claim{Transfer: size("1 GB"), Seconds: decimal("0.0")}, `seconds "0.0": must be a number above zero`},
		{Claim{LoadedMs: decimal("0")}, `loaded latency in ms "0"`},
	} {
		k, err := test.claim.Kind()
		got := k.String()
		if err != nil {
			var v *bands.ValueError
			if !errors.As(err, &v) {
				t.Errorf("%+v: %T", test.claim, err)
			}
			got = err.Error()
		}
		if !strings.HasPrefix(got, test.want) {
			t.Errorf("%+v: %s, want %s", test.claim, got, test.want)
		}
		if _, jerr := Judge(test.claim, Evidence{}); (jerr != nil) != (err != nil) {
			t.Errorf("%+v: Judge says %v, Kind %v", test.claim, jerr, err)
		}
	}
	if Kind(99).String() != "" {
		t.Error("a kind that does not exist has a name")
	}
}

func TestStatements(t *testing.T) {
	for _, test := range []struct {
		claim Claim
		want  string
	}{
		{Claim{TotalMHz: decimal("200"), About: true}, "about 200 MHz in total"},
		{Claim{Carriers: decimal("4")}, "4 carriers"},
		{Claim{Rate: decimal("2.5")}, "downlink peak of 2.5 Mbit/s"},
		{Claim{Rate: decimal("75"), Direction: bands.Uplink, Measured: true}, "75 Mbit/s measured in the uplink"},
		{Claim{Transfer: size("1 GB"), Seconds: decimal("30"), About: true}, "1 GB in about 30 s"},
		{Claim{Transfer: size("1 GB"), Seconds: decimal("30"), Rate: decimal("600")}, "1 GB in 30 s at 600 Mbit/s"},
		{Claim{IdleMs: decimal("20"), LoadedMs: decimal("60"), RoundTrips: decimal("1000")}, "idle latency 20 ms, latency under load 60 ms, 1000 round trips a minute under load"},
		{Claim{Share: decimal("26")}, "26 % of the downlink peak"},
		{Claim{Share: decimal("26"), Rate: decimal("612")}, "26 % of the downlink peak with 612 Mbit/s"},
		{Claim{SameSite: true}, "all carriers come from one site"},
	} {
		if j := mustJudge(t, test.claim, Evidence{}); j.Statement != test.want {
			t.Errorf("%q, want %q", j.Statement, test.want)
		}
	}
}

func TestWarnings(t *testing.T) {
	j := mustJudge(t, Claim{TotalMHz: decimal("40")}, evidence(t, "B3:20@1300 + B3:20@1350"))
	if j.Verdict != Fails || !strings.Contains(j.Summary, "the same downlink spectrum") {
		t.Errorf("%s %q on carriers that overlap", j.Verdict, j.Summary)
	}
	if j := mustJudge(t, Claim{Rate: decimal("40")}, evidence(t, "B3:20")); len(j.Cautions) != 1 || len(j.Assumptions) == 0 {
		t.Errorf("cautions %q, assumptions %q", j.Cautions, j.Assumptions)
	}
	c, err := ca.Parse("n77:300")
	if err != nil {
		t.Fatal(err)
	}
	e, err := NewEvidence(ca.Assess(c))
	if err == nil || e.Assessment == nil || e.Rates != nil {
		t.Errorf("evidence of n77 with 300 MHz: %+v, %v", e, err)
	}
	if j := mustJudge(t, Claim{Rate: decimal("40")}, e); j.Verdict != Undecided {
		t.Errorf("a peak of carriers that do not exist: %s", j.Verdict)
	}
	if j := mustJudge(t, Claim{TotalMHz: decimal("300")}, e); j.Verdict != Fails {
		t.Errorf("a total of carriers that do not exist: %s", j.Verdict)
	}
}

func TestJSON(t *testing.T) {
	j := mustJudge(t, Claim{Transfer: size("1 GB"), Seconds: decimal("30"), Rate: decimal("600")}, Evidence{})
	data, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	const want = `{"text":"","statement":"1 GB in 30 s at 600 Mbit/s","kind":"transfer-time","verdict":"fails","reading":"",` +
		`"summary":"Fails: at 600 Mbit/s the transfer takes 13.3 s, and 30 s means 266.7 Mbit/s on average.",` +
		`"needs":[],"quote":"As stated: the time that the transfer takes at the speed stated, 13.3 s; “1 GB in 30 s at 600 Mbit/s” does not hold.","tolerance":"29.5 to 30.5 s: half a unit of the last digit stated; 599.5 to 600.5 Mbit/s: half a unit of the last digit stated","readings":[` +
		`{"as":"","meaning":"the time that the transfer takes at the speed stated","value":13.333333333333334,"low":13.333333333333334,"high":13.333333333333334,"claimed":30,"unit":"s","verdict":"fails","holds":false,"relation":"equal"},` +
		`{"as":"","meaning":"the mean rate that the time stated means","value":266.6666666666667,"low":266.6666666666667,"high":266.6666666666667,"claimed":600,"unit":"Mbit/s","verdict":"fails","holds":false,"relation":"equal"}],` +
		`"working":[{"name":"mean rate of the transfer","formula":"bits / seconds","numbers":"1 GB = 8000000000 bit; 8000000000 / 30 s","result":"266.7 Mbit/s","source":{"spec":"","version":"","table":""}},` +
		`{"name":"the time that the transfer takes at the speed stated","formula":"bits / rate","numbers":"8000000000 bit / 600 Mbit/s","result":"13.333 s","source":{"spec":"","version":"","table":""}},` +
		`{"name":"the mean rate that the time stated means","formula":"bits / seconds","numbers":"8000000000 bit / 30 s","result":"266.667 Mbit/s","source":{"spec":"","version":"","table":""}}],` +
		`"assumptions":[],"cautions":[]}`
	if string(data) != want {
		t.Errorf("got %s\nwant %s", data, want)
	}
}

// TestMonotone: what holds of a rate holds of every lower one, and what holds with
// more digits holds with fewer of them and of a rough figure.
func TestMonotone(t *testing.T) {
	e := evidence(t, "B3:20,layers=2,qam=64 + n78:100,layers=4,qam=256,pattern=DDDSU/10:2:2")
	e.Down = decimals("612", "588", "640.5")
	e.Keep()
	for _, measured := range []bool{false, true} {
		held := false
		for tenths := int64(30000); tenths > 0; tenths -= 41 {
			claim := Claim{Rate: quantity.NewDecimal(tenths, 1), Measured: measured}
			holds := mustJudge(t, claim, e).Verdict == Holds
			if held && !holds {
				t.Fatalf("%v Mbit/s does not hold, though more does", claim.Rate)
			}
			held = holds
			claim.About = true
			if holds && mustJudge(t, claim, e).Verdict != Holds {
				t.Fatalf("about %v Mbit/s does not hold, though the figure does", claim.Rate)
			}
		}
		if !held {
			t.Errorf("no rate holds (measured %v)", measured)
		}
	}
	for hundredths := int64(50); hundredths < 30000; hundredths += 37 {
		fine := mustJudge(t, Claim{TotalMHz: quantity.NewDecimal(hundredths, 2)}, e)
		coarse := mustJudge(t, Claim{TotalMHz: quantity.NewDecimal((hundredths+50)/100, 0)}, e)
		if fine.Verdict == Holds && coarse.Verdict != Holds {
			t.Fatalf("%d hundredths of a MHz hold, rounded they don't", hundredths)
		}
	}
}

func TestMedian(t *testing.T) {
	for _, test := range []struct {
		values []string
		want   string
	}{{nil, ""}, {[]string{"5"}, "5/1"}, {[]string{"7", "5"}, "6/1"}, {[]string{"9", "1", "5"}, "5/1"}, {[]string{"1", "2.5", "100", "2"}, "9/4"}} {
		got := ""
		if m := Median(decimals(test.values...)); m != nil {
			got = m.String()
		}
		if got != test.want {
			t.Errorf("median of %v is %s, want %s", test.values, got, test.want)
		}
	}
}

func TestTrim(t *testing.T) {
	for _, test := range []struct {
		r    *big.Rat
		want string
	}{{big.NewRat(200, 1), "200"}, {big.NewRat(-1, 1000), "0"}, {big.NewRat(1, 3), "0.33"}, {big.NewRat(5, 2), "2.5"}, {new(big.Rat), "0"}} {
		if got := trim(test.r, 2); got != test.want {
			t.Errorf("%v is written %s, want %s", test.r, got, test.want)
		}
	}
}
