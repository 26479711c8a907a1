package walk_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"spectally/cmd/internal/gpx"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
)

// eastward are samples along a line on a plane: a second, ten metres and a row each.
// Cells go A, A, B, A, then nothing for three samples, then B; then a pause of two
// minutes, one sample older than that before, and one 9 km off.
const eastward = `time,x_m,y_m,carriers,pci,rsrp,down
1936720800,0,0,n78:80@640000 + B3:20,1,-80,100
1936720801,10,0,n78:80@640000 + B3:20,1,-81,100
1936720802,20,0,n78:80@640000,2,-82,100
1936720803,30,0,n78:80@640000,1,-83,100
1936720804,40,0,,,,
1936720805,50,0,,,,
1936720806,60,0,n78:80@640000,1,-130,1
1936720807,70,0,n78:80@640000 + B3:20,2,-84,100
1936720927,80,0,n78:80@640000 + B3:20,2,-85,100
1936720920,80,0,n78:80@640000 + B3:20,1,-85,100
1936720928,9000,0,n78:80@640000 + B3:20,1,-85,100
1936720929,90,0,n78:80@640000 + B3:20,1,-60,100
`

func TestWay(t *testing.T) {
	r := read(t, walk.Settings{Site: samples.Place{Kind: samples.Planar, A: 0, B: -40}}, strings.NewReader(eastward))
	if r.Samples != 11 || r.LeftOutCount != 1 || r.LeftOut[0].Line != 12 || r.LeftOut[0].Reason != "8920 m from the sample before in 8.0 s: faster than 150 m/s" {
		t.Fatalf("%d samples, left out %+v", r.Samples, r.LeftOut)
	}
	n := &r.Networks[0]
	var changes []string
	for _, c := range n.Changes {
		changes = append(changes, fmt.Sprintf("%s at %v m: %s to %s, %v to %v, %v", c.Time, *c.Way, c.From, c.To, *c.Before, *c.After, c.PingPong))
	}
	want := `2031-05-16T18:00:02Z at 20 m: n78 640000 PCI 1 to n78 640000 PCI 2, -81 to -82, false
2031-05-16T18:00:03Z at 30 m: n78 640000 PCI 2 to n78 640000 PCI 1, -82 to -83, true
2031-05-16T18:00:07Z at 70 m: n78 640000 PCI 1 to n78 640000 PCI 2, -83 to -84, true
2031-05-16T18:02:09Z at 90 m: n78 640000 PCI 2 to n78 640000 PCI 1, -85 to -60, false`
	if got := strings.Join(changes, "\n"); got != want || n.ChangeCount != 4 || n.PingPongs != 2 {
		t.Errorf("changes\n%s\nwant\n%s", got, want)
	}
	var gaps []string
	for _, g := range n.Gaps {
		gaps = append(gaps, fmt.Sprintf("%s %s %v m %v s, %.1f m from the site", g.Time, g.Kind, *g.Metres, *g.Seconds, *g.Distance))
	}
	want = "2031-05-16T18:00:04Z no-coverage 30 m 3 s, 56.6 m from the site\n2031-05-16T18:00:07Z no-samples 10 m 120 s, 80.6 m from the site"
	if got := strings.Join(gaps, "\n"); got != want || n.GapCount != 2 {
		t.Errorf("gaps\n%s\nwant\n%s", got, want)
	}
	if *n.Way != 90 || *n.Seconds != 129 || n.Backwards != 1 {
		t.Errorf("%v m, %v s, %d out of order", *n.Way, *n.Seconds, n.Backwards)
	}
	var uses []string
	for _, u := range n.Carriers {
		uses = append(uses, fmt.Sprintf("%s %d came %d went %d", u.Carrier, u.Samples, u.Came, u.Went))
	}
	if got, want := strings.Join(uses, "; "), "n78 640000 9 came 1 went 1; B3 6 came 1 went 1"; got != want {
		t.Errorf("carriers %s, want %s", got, want)
	}
}

// TestTrack takes places from a track; two samples are beyond it.
func TestTrack(t *testing.T) {
	track, err := gpx.Read(strings.NewReader(`<gpx xmlns="` + gpx.Namespace + `"><trk><trkseg>
<trkpt lat="31.5" lon="-41.25"><time>2031-05-16T18:00:00Z</time></trkpt>
<trkpt lat="31.501" lon="-41.25"><time>2031-05-16T18:00:10Z</time></trkpt>
<trkpt lat="31.502" lon="-41.25"><time>2031-05-16T18:05:00Z</time></trkpt></trkseg></trk></gpx>`))
	if err != nil {
		t.Fatal(err)
	}
	set := walk.Settings{Track: track, Site: samples.Place{Kind: samples.Geographic, A: 31.5, B: -41.25}}
	r := read(t, set, strings.NewReader("time,rsrp\n1936720805,-90\n1936720810,-91\n1936720900,-92\n1936730000,-93\n"))
	n := &r.Networks[0]
	if r.Unjoined != 2 || len(n.Points) != 2 || math.Abs(n.Points[0].Place.A-31.5005) > 1e-9 || math.Abs(n.Points[1].Distance-110.87) > 0.1 {
		t.Errorf("%d without a place, points %+v", r.Unjoined, n.Points)
	}
	set.TrackLimit = 10 * time.Minute
	if r := read(t, set, strings.NewReader("time,rsrp\n1936720805,-90\n1936720900,-92\n1936730000,-93\n")); r.Unjoined != 1 {
		t.Errorf("with a longer limit %d without a place", r.Unjoined)
	}
}

// TestBandsCompared: two bands of one site, the higher 15 dB below the lower at every
// distance; frequency alone makes 20 log10(3600/1842.5) = 5.82 dB of it (common practice,
// no source).
func TestBandsCompared(t *testing.T) {
	var b strings.Builder
	b.WriteString("distance_m,carriers\n")
	for i := range 40 {
		d := 50 * math.Pow(20, float64(i)/39)
		level := -70 - 35*math.Log10(d/100)
		fmt.Fprintf(&b, "%.3f,\"B3:20@1575,rsrp=%.2f + n78:80@640000,rsrp=%.2f\"\n", d, level, level-15)
	}
	n := &read(t, walk.Settings{}, strings.NewReader(b.String())).Networks[0]
	if len(n.Offsets) != 1 {
		t.Fatalf("offsets %+v", n.Offsets)
	}
	o := n.Offsets[0]
	if o.Band != "n78" || o.Reference != "B3" || math.Abs(o.Offset+15) > 0.01 || math.Abs(o.Expected+20*math.Log10(3600/1842.5)) > 1e-3 || !o.Within {
		t.Errorf("%+v", o)
	}
	f := n.Bands[0].Fit
	if math.Abs(f.Slope+35) > 0.01 || math.Abs(f.Intercept+105) > 0.01 || f.Reference != 1000 || f.Sigma > 0.01 {
		t.Errorf("fit %+v", f)
	}
	for _, r := range n.Bands[0].Reach { // -70 - 35 log10(d/100) = level
		if want := 100 * math.Pow(10, (-70-r.Level)/35); math.Abs(r.Median-want) > 0.002*want || r.Extrapolated != (want > 1000) {
			t.Errorf("reach %+v, want %v", r, want)
		}
	}
}

// A rate above the maximum of assumed layers and modulation is kept and said: 20 MHz of
// LTE yield 150.752 Mbit/s with 2 layers of 64QAM, 391.632 with 4 of 256QAM (TS 36.213
// V19.2.0 Tables 7.1.7.2.1-1, 7.1.7.2.2-1 and 7.1.7.2.5-1).
func TestAboveAssumed(t *testing.T) {
	r := read(t, walk.Settings{}, strings.NewReader("carriers,rsrp,down\nB3:20,-80,310\nB3:20,-81,391\nB3:20,-85,110\n"))
	if r.Samples != 3 || r.LeftOutCount != 0 || len(r.Notes) != 1 || !strings.HasPrefix(r.Notes[0], "2 rates above the maximum that is assumed of B3:20:") {
		t.Errorf("%d samples, %d left out, notes %q", r.Samples, r.LeftOutCount, r.Notes)
	}
	r = read(t, walk.Settings{}, strings.NewReader("carriers,rsrp,down\n\"B3:20,layers=4,qam=256\",-80,310\n"))
	if r.Samples != 1 || len(r.Notes) != 0 {
		t.Errorf("%d samples, notes %q", r.Samples, r.Notes)
	}
}
