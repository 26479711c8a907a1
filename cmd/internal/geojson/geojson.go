// Package geojson makes values that encoding/json writes as GeoJSON (RFC 7946).
package geojson

import (
	"spectally/cmd/internal/geodesic"
)

// Collection is a FeatureCollection (RFC 7946 clause 3.3).
type Collection struct {
	Type     string    `json:"type"`
	Features []Feature `json:"features"`
}

// NewCollection makes a collection of features.
func NewCollection(features []Feature) Collection {
	if features == nil {
		features = []Feature{}
	}
	return Collection{"FeatureCollection", features}
}

// Feature is a Feature (RFC 7946 clause 3.2).
type Feature struct {
	Type       string         `json:"type"`
	Geometry   *Geometry      `json:"geometry"` // null where there is none
	Properties map[string]any `json:"properties"`
}

// NewFeature makes a feature.
func NewFeature(g *Geometry, properties map[string]any) Feature {
	return Feature{"Feature", g, properties}
}

// Geometry is a Geometry object (RFC 7946 clause 3.1).
type Geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

// position is longitude and latitude, in this order (RFC 7946 clause 3.1.1), rounded to
// a centimetre (clause 11.2 warns of more).
func position(p geodesic.Point) [2]float64 { return [2]float64{rounded(p.Lon), rounded(p.Lat)} }

func rounded(degrees float64) float64 {
	const unit = 1e7
	if degrees < 0 {
		return float64(int64(degrees*unit-0.5)) / unit
	}
	return float64(int64(degrees*unit+0.5)) / unit
}

// Point is a Point (RFC 7946 clause 3.1.2).
func Point(p geodesic.Point) *Geometry { return &Geometry{"Point", position(p)} }

// Lines are the line strings of points. One that crosses the antimeridian is cut there,
// as RFC 7946 clause 3.1.9 has it: a LineString, or a MultiLineString if there are
// several. It is nil where there are fewer than two points.
func Lines(points []geodesic.Point) *Geometry {
	if len(points) < 2 {
		return nil
	}
	lines := [][][2]float64{{position(points[0])}}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if d := b.Lon - a.Lon; d > 180 || d < -180 {
			edge := 180.0
			if a.Lon < 0 {
				edge = -180
			}
			over := b.Lon + 2*edge // b as seen from a
			part := 0.5
			if over != a.Lon {
				part = (edge - a.Lon) / (over - a.Lon)
			}
			lat := a.Lat + part*(b.Lat-a.Lat)
			last := len(lines) - 1
			lines[last] = append(lines[last], position(geodesic.Point{Lat: lat, Lon: edge}))
			lines = append(lines, [][2]float64{position(geodesic.Point{Lat: lat, Lon: -edge})})
		}
		last := len(lines) - 1
		lines[last] = append(lines[last], position(b))
	}
	if len(lines) == 1 {
		return &Geometry{"LineString", lines[0]}
	}
	return &Geometry{"MultiLineString", lines}
}
