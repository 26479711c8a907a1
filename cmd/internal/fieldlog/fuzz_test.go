package fieldlog

import (
	"reflect"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/badfiles"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/quantity"
)

// FuzzRead: the reader never panics; what it refuses comes with problems on lines of
// the file, in order and each on one line; what it takes can be analysed, twice alike.
func FuzzRead(f *testing.F) {
	f.Add([]byte(Demo()))
	f.Add([]byte(Template()))
	for _, b := range badfiles.Read(f, badLogsFile) {
		f.Add([]byte(b.Text))
	}
	for _, h := range hostile {
		f.Add([]byte("title = '''" + h + "'''\n[[network]]\nname = 'n'\ncarriers = 'n78:20'\n"))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := Read("fuzz.toml", data)
		if err != nil {
			if l != nil {
				t.Fatalf("a log beside the error %v", err)
			}
			badfiles.CheckProblems(t, "fuzz", err, string(data))
			return
		}
		r := Analyse(l)
		checkReport(t, r)
		if !reflect.DeepEqual(r, Analyse(l)) {
			t.Fatal("analysed twice with different results")
		}
	})
}

// FuzzAnalyse: whatever carriers the standard may not allow, together they can be
// analysed, and a rate that fits under a ceiling has a scheme that reaches it.
func FuzzAnalyse(f *testing.F) {
	f.Add("B3:20@1300,pci=7 + n78:100@640000,pci=7", uint32(612_000), uint32(58_400), uint16(21), "8T8R")
	f.Add("B42:20,pattern=2/7 + B42:20", uint32(99_000), uint32(0), uint16(1), "2T2R")
	f.Add("n78:100,layers=8,qam=1024 + n258:400,pattern=DDDSU/10:2:2", uint32(9_000_000), uint32(500_000), uint16(900), "64T64R")
	f.Add("n75:20 + n1:20,rsrp=-80,sinr=20 + n80:20 + n78:10,rsrp=-110", uint32(1), uint32(1), uint16(7), "1T1R")
	f.Add("B46:20 + B32:20 + B3:1.4/0", uint32(70_000), uint32(3_000), uint16(55), "4T2R")
	f.Fuzz(func(t *testing.T, carriers string, down, up uint32, idle uint16, ports string) {
		c, err := ca.Parse(carriers)
		if err != nil || len(c) > 6 {
			return
		}
		transmit, receive, ok := parsePorts(ports)
		l := &Log{Title: "t", Networks: []Network{{
			Name: "n", Carriers: c,
			Runs: []Run{{
				Down: quantity.NewDecimal(int64(down), 3), Up: quantity.NewDecimal(int64(up), 3),
				Idle: quantity.NewDecimal(int64(idle)+1, 0), LoadedDown: quantity.NewDecimal(int64(idle)+9, 0),
			}},
		}}}
		if ok {
			l.Networks[0].Radios = []Radio{{Transmit: transmit, Receive: receive}}
		}
		l.Claims = []Claim{
			{Claim: claim.Claim{TotalMHz: quantity.NewDecimal(int64(down)+1, 3)}, OtherNetwork: -1},
			{Claim: claim.Claim{Rate: quantity.NewDecimal(int64(up)+1, 3), Direction: bands.Uplink}, OtherNetwork: -1},
			{Claim: claim.Claim{SameSite: true}, OtherNetwork: -1},
		}
		r := Analyse(l)
		checkReport(t, r)
		if len(r.Claims) != len(l.Claims) {
			t.Fatalf("%d claims of %d judged", len(r.Claims), len(l.Claims))
		}
		for _, m := range []*Reached{r.Networks[0].Runs[0].Down, r.Networks[0].Runs[0].Up} {
			if m.Implied != nil && m.Implied.Lowest == nil && m.OfMax != nil && *m.OfMax <= 0.1 {
				t.Fatalf("%s: a tenth of the maximum implies more than there is: %+v", carriers, m)
			}
		}
	})
}
