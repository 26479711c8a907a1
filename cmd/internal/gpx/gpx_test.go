package gpx

import (
	"math"
	"strings"
	"testing"
	"time"
)

// file is a GPX 1.1 file by its schema (elements gpx, trk, trkseg, trkpt, time; from
// memory), with what a reader has to leave aside.
const file = `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">
 <wpt lat="1" lon="1"><time>2031-05-14T10:00:05Z</time></wpt>
 <rte><rtept lat="2" lon="2"><time>2031-05-14T10:00:06Z</time></rtept></rte>
 <trk><name>a &lt;walk&gt;</name>
  <trkseg>
   <trkpt lat="48.0000" lon="9.0000"><ele>500</ele><time>2031-05-14T10:00:00Z</time></trkpt>
   <trkpt lat="48.0010" lon="9.0020"><time>2031-05-14T12:00:10+02:00</time><extensions><x xmlns="urn:x"/></extensions></trkpt>
   <trkpt lat="48.0010" lon="9.0020"></trkpt>
  </trkseg>
  <trkseg>
   <trkpt lat="48.1" lon="179.9"><time>2031-05-14T10:05:00.5Z</time></trkpt>
   <trkpt lat="48.1" lon="-179.9"><time>2031-05-14T10:05:01.5Z</time></trkpt>
  </trkseg>
 </trk>
</gpx>`

func TestTrack(t *testing.T) {
	track, err := Read(strings.NewReader(file))
	if err != nil || track.Points() != 4 || track.Timeless != 1 {
		t.Fatalf("%+v, %v", track, err)
	}
	day := time.Date(2031, 5, 14, 10, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		after    time.Duration
		limit    time.Duration
		lat, lon float64
		ok       bool
	}{
		{0, 0, 48, 9, true},
		{5 * time.Second, 10 * time.Second, 48.0005, 9.001, true},
		{5 * time.Second, 9 * time.Second, 0, 0, false},
		{10 * time.Second, 0, 48.001, 9.002, true},
		{time.Minute, 10 * time.Second, 0, 0, false},
		{5*time.Minute + 1250*time.Millisecond, time.Second, 48.1, -179.95, true},
		{-time.Second, time.Hour, 0, 0, false},
		{time.Hour, time.Hour, 0, 0, false},
	} {
		p, ok := track.At(day.Add(c.after).UnixNano(), c.limit)
		if ok != c.ok || math.Abs(p.Lat-c.lat) > 1e-9 || math.Abs(p.Lon-c.lon) > 1e-9 {
			t.Errorf("after %v, within %v: %v, %v", c.after, c.limit, p, ok)
		}
	}
}

func TestBadTracks(t *testing.T) {
	point := func(s string) string {
		return `<gpx xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>` + s + `</trkseg></trk></gpx>`
	}
	for text, want := range map[string]string{
		"":            "line 1: empty: must be a GPX 1.1 file",
		"<gpx>\n</a>": `line 1: root element " gpx" is not allowed: it must be gpx of GPX 1.1, in the namespace http://www.topografix.com/GPX/1/1`,
		`<gpx xmlns="http://www.topografix.com/GPX/1/0"/>`: "http://www.topografix.com/GPX/1/0 gpx",
		point("\n<trkpt"): "line 2: not XML: ",
		point(""):         "line 1: no track point with a time",
		point(`<trkpt lat="91" lon="0"><time>2031-05-14T10:00:00Z</time></trkpt>`):  `place of a trkpt "91,0"`,
		point(`<trkpt lat="nan" lon="0"><time>2031-05-14T10:00:00Z</time></trkpt>`): `place of a trkpt "nan,0"`,
		point("\n\n" + `<trkpt lat="9" lon="0"><time>yesterday</time></trkpt>`):     `line 3: time of a trkpt "yesterday"`,
		`<!DOCTYPE gpx [<!ENTITY a "b">]>` + point(`<trkpt lat="&a;" lon="0"/>`):    "invalid character entity &a;",
	} {
		_, err := Read(strings.NewReader(text))
		if err == nil || !strings.Contains(err.Error(), strings.Split(want, " is not allowed")[0]) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(file)
	f.Fuzz(func(t *testing.T, text string) {
		track, err := Read(strings.NewReader(text))
		if err != nil {
			return
		}
		for _, p := range track.points {
			if got, ok := track.At(p.at, 0); !ok || math.Abs(got.Lat) > 90 || math.Abs(got.Lon) > 180 {
				t.Fatalf("at %d: %v, %v", p.at, got, ok)
			}
		}
	})
}
