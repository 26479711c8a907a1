package fieldlog

import (
	"math"
	"strings"
	"testing"
)

// walked is a log with three runs on a line away from a site: the levels lie on a line
// of 40 dB a decade, and the distances are 100, 200 and 400 m.
const walked = `title = "x"
date = 2031-05-14
site = { lat = 31.5, lon = -41.25 }
[[network]]
name = "A"
carriers = "B3:20@1300,pci=7 + n78:80@640000,pci=417,rsrp=-60"
[[network.run]]
down = 800
when = "18:00"
distance_m = 100
rsrp = -80
sinr = 22
[[network.run]]
down = 500
when = "18:10"
distance_m = 200
rsrp = -92.04
sinr = 12
carriers = [1]
[[network.run]]
down = 100
when = "18:20"
distance_m = 400
rsrp = -104.08
sinr = 4
carriers = [1]
[[network.run]]
down = 90
`

func TestWalkedRuns(t *testing.T) {
	l, err := Read("log.toml", []byte(walked))
	if err != nil {
		t.Fatal(err)
	}
	r := Analyse(l)
	n := &r.Networks[0]
	if n.Walk == nil || n.Walk.Samples != 3 || len(n.Walk.Networks) != 1 {
		t.Fatalf("walk %+v", n.Walk)
	}
	w := &n.Walk.Networks[0]
	if len(w.Bands) != 1 || w.Bands[0].Fit == nil || math.Abs(w.Bands[0].Fit.Slope+40) > 0.01 || w.Bands[0].Fit.N != 3 {
		t.Fatalf("bands %+v", w.Bands)
	}
	if w.GapCount != 0 || len(w.Carriers) != 2 || w.Carriers[1].Carrier != "n78 640000" || w.Carriers[1].Went != 1 {
		t.Errorf("gaps %v, carriers %+v", w.Gaps, w.Carriers)
	}
	if *w.Seconds != 1200 || w.OfExpected == nil || w.OfExpected.N != 3 {
		t.Errorf("seconds %v, of expected %+v", *w.Seconds, w.OfExpected)
	}
	run := &n.Runs[1]
	if *run.Distance != 200 || *run.RSRP != -92.04 || *run.SINR != 12 || len(run.Carriers) != 1 || run.Lat != nil {
		t.Errorf("run %+v", run.SpotReport)
	}
	if plain, err := Read("log.toml", []byte(strings.ReplaceAll(strings.ReplaceAll(walked, "distance_m", "#"), "rsrp = ", "#"))); err != nil {
		t.Error(err)
	} else if w := Analyse(plain).Networks[0].Walk; w == nil || w.Networks[0].Bands[0].Fit != nil {
		t.Errorf("without distances: %+v", w)
	}
}
