package throughput

import (
	"math/rand/v2"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// TestSchedulableIsCeiling: no settings let a carrier schedule more than the most that
// the standard admits, and no SINR lets expect more.
func TestSchedulableIsCeiling(t *testing.T) {
	var dmrs []*nr.DMRS
	for _, text := range []string{
		"type=1", "type=1,pos=0", "type=1,length=2,pos=0", "type=2,pos=0", "type=2,length=2,pos=0", "type=1,pos=3,groups=2", "type=1,mapping=B,pos=0", "type=2,pos=0,mapping=B",
	} {
		c, err := nr.ParseDMRS(text)
		if err != nil {
			t.Fatal(err)
		}
		dmrs = append(dmrs, &c)
	}
	signals := []string{"", "tr37910-1", "tr37910-2", "tr37910-3", "tr37910-4", "pdcch=0,ssb=0", "pdcch=0,ssb=0,cce=1,special=1,pucch=0,srs=0", "pdcch=0,pucch=1x1,srs=1/160,special=1,ssb=1/160",
		"ssb=8/5,csirs=32/5,trs=10,ptrs=2,pucch=2,srs=4/5", "ssb=64/20,csirs=12/80"}
	cells := []string{"", "cp=extended", "mbsfn=3", "mbsfn=6,prs=1/160", "prs=6/1280", "uppts=6", "uppts=1,pucch=0", "crs=4,si=8,srs=2", "crs=1,pucch=8"}
	r := rand.New(rand.NewPCG(13, 36213))
	checked := 0
	for _, text := range strings.Fields("n78:100 n78:100,layers=8,qam=1024,pattern=7DS2U/6:4:4 n1:20,layers=2 n28:5,scs=15 n41:40,pattern=DSUUU/12:2:0 n258:400 n258:100,scs=60 " +
		"n80:20 n46:20 n75:50 B3:20 B3:1.4 B7:20,layers=4,qam=256 B1:10,layers=8,qam=1024 B42:20,pattern=1/4 B42:20,pattern=0/10 B42:20,pattern=2/10,layers=8 B38:10,pattern=2/9,layers=1 B3:3,qam=16 B46:20 n1:15,ulqam=2") {
		c, err := ca.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		for range 40 {
			s := Settings{ControlSymbols: r.IntN(5) - 1, XOverhead: 6 * r.IntN(4), NoBroadcast: r.IntN(2) == 0, SINR: ca.LevelOf(int32(100 * r.IntN(40)))}
			if text := signals[r.IntN(len(signals))]; text != "" {
				g, err := nr.ParseSignals(text)
				if err != nil {
					t.Fatal(err)
				}
				s.Signals = g
			}
			if text := cells[r.IntN(len(cells))]; text != "" {
				cell, err := lte.ParseCell(text)
				if err != nil {
					t.Fatal(err)
				}
				s.LTE = cell
			}
			if n := r.IntN(len(dmrs) + 1); n < len(dmrs) {
				s.DMRS = dmrs[n]
			}
			result, err := Rate(ca.Assess(c))
			if err != nil {
				t.Fatal(err)
			}
			if result.Schedule(s) != nil {
				continue // settings that the carrier cannot have
			}
			checked++
			for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
				l := result.Carriers[0].Link(d)
				if l.Schedulable.Cmp(l.Scheduled) < 0 || l.Schedulable.Cmp(l.Expected) < 0 {
					t.Errorf("%s %s, %+v: %s scheduled, %s expected, %s at most", text, d, s, l.Scheduled, l.Expected, l.Schedulable)
				}
			}
		}
	}
	if checked < 400 {
		t.Errorf("%d settings", checked)
	}
}
