// Package gpx reads the track of a GPX 1.1 file and tells where it was at a time. The
// format is that of the schema of the namespace http://www.topografix.com/GPX/1/1.
package gpx

import (
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"time"

	"spectally/bands"
	"spectally/cmd/internal/geodesic"
)

// Namespace is that of GPX 1.1.
const Namespace = "http://www.topografix.com/GPX/1/1"

// mostPoints bounds a track.
const mostPoints = 1_000_000

// Track is where a receiver was, in order of time.
type Track struct {
	points []point
	// Timeless counts track points without a time, which are left out.
	Timeless int
}

type point struct {
	at       int64 // nanoseconds since 1970
	lat, lon float64
}

// trackPoint is an element trkpt.
type trackPoint struct {
	Lat  string  `xml:"lat,attr"`
	Lon  string  `xml:"lon,attr"`
	Time *string `xml:"time"`
}

// Read reads the track points of a file, of all its tracks and segments. Routes and
// waypoints are no track. An error says on which line it is.
func Read(r io.Reader) (*Track, error) {
	d := xml.NewDecoder(r)
	t := &Track{}
	err := t.read(d)
	if err != nil {
		line, _ := d.InputPos()
		if syntax, ok := errors.AsType[*xml.SyntaxError](err); ok {
			return nil, fmt.Errorf("line %d: not XML: %s", syntax.Line, syntax.Msg)
		}
		return nil, fmt.Errorf("line %d: %w", line, err)
	}
	slices.SortStableFunc(t.points, func(a, b point) int { return cmp.Compare(a.at, b.at) })
	return t, nil
}

func (t *Track) read(d *xml.Decoder) error {
	root := false
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
		start, ok := token.(xml.StartElement)
		switch {
		case !ok:
		case !root:
			if start.Name != (xml.Name{Space: Namespace, Local: "gpx"}) {
				return &bands.ValueError{Param: "root element", Got: start.Name.Space + " " + start.Name.Local, Allowed: "gpx of GPX 1.1, in the namespace " + Namespace}
			}
			root = true
		case start.Name == xml.Name{Space: Namespace, Local: "trkpt"}:
			var p trackPoint
			if err := d.DecodeElement(&p, &start); err != nil {
				return err
			}
			if err := t.add(&p); err != nil {
				return err
			}
		}
	}
	if !root {
		return errors.New("empty: must be a GPX 1.1 file")
	}
	if len(t.points) == 0 {
		return errors.New("no track point with a time: samples are joined to the track by time")
	}
	return nil
}

func (t *Track) add(p *trackPoint) error {
	lat, errLat := strconv.ParseFloat(p.Lat, 64)
	lon, errLon := strconv.ParseFloat(p.Lon, 64)
	if errLat != nil || errLon != nil || !(geodesic.Point{Lat: lat, Lon: lon}).Valid() || math.IsNaN(lat+lon) {
		return &bands.ValueError{Param: "place of a trkpt", Got: p.Lat + "," + p.Lon, Allowed: "lat from -90 to 90 and lon from -180 to 180 degrees"}
	}
	if p.Time == nil {
		t.Timeless++
		return nil
	}
	at, err := time.Parse(time.RFC3339Nano, *p.Time)
	if err != nil {
		return &bands.ValueError{Param: "time of a trkpt", Got: *p.Time, Allowed: "a date and time such as 2031-05-14T18:05:03Z"}
	}
	if len(t.points) == mostPoints {
		return fmt.Errorf("more than %d track points", mostPoints)
	}
	t.points = append(t.points, point{at.UnixNano(), lat, lon})
	return nil
}

// Points is how many there are.
func (t *Track) Points() int { return len(t.points) }

// At is where the track was at a time, in nanoseconds since 1970: on the straight line
// between the points before and after it. It is false where these are farther apart in
// time than the limit, and before the first point and after the last.
func (t *Track) At(at int64, limit time.Duration) (geodesic.Point, bool) {
	i, exact := slices.BinarySearchFunc(t.points, at, func(p point, at int64) int { return cmp.Compare(p.at, at) })
	if exact {
		return geodesic.Point{Lat: t.points[i].lat, Lon: t.points[i].lon}, true
	}
	if i == 0 || i == len(t.points) {
		return geodesic.Point{}, false
	}
	before, after := t.points[i-1], t.points[i]
	gap := after.at - before.at
	if gap > int64(limit) {
		return geodesic.Point{}, false
	}
	part := float64(at-before.at) / float64(gap)
	lon := before.lon + part*math.Remainder(after.lon-before.lon, 360)
	return geodesic.Point{Lat: before.lat + part*(after.lat-before.lat), Lon: math.Remainder(lon, 360)}, true
}
