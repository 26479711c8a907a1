package geojson

import (
	"encoding/json"
	"reflect"
	"testing"

	"spectally/cmd/internal/geodesic"
)

// same fails unless a value is written as the JSON text, white space aside.
func same(t *testing.T, value any, want string) {
	t.Helper()
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	var a, b any
	if err := json.Unmarshal(text, &a); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(want), &b); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(a, b) {
		t.Errorf("%s\nwant %s", text, want)
	}
}

// TestExamples holds values against the examples of RFC 7946: clause 1.5 (the point and
// the line of its FeatureCollection), Appendix A.1 and A.2, and clause 3.1.9, where a
// line crosses the antimeridian.
func TestExamples(t *testing.T) {
	same(t, NewCollection([]Feature{
		NewFeature(Point(geodesic.Point{Lat: 0.5, Lon: 102}), map[string]any{"prop0": "value0"}),
		NewFeature(Lines([]geodesic.Point{{Lat: 0, Lon: 102}, {Lat: 1, Lon: 103}, {Lat: 0, Lon: 104}, {Lat: 1, Lon: 105}}), map[string]any{"prop0": "value0", "prop1": 0.0}),
	}), `{"type": "FeatureCollection", "features": [
		{"type": "Feature", "geometry": {"type": "Point", "coordinates": [102.0, 0.5]}, "properties": {"prop0": "value0"}},
		{"type": "Feature", "geometry": {"type": "LineString", "coordinates": [[102.0, 0.0], [103.0, 1.0], [104.0, 0.0], [105.0, 1.0]]}, "properties": {"prop0": "value0", "prop1": 0.0}}]}`)
	same(t, Point(geodesic.Point{Lat: 0, Lon: 100}), `{"type": "Point", "coordinates": [100.0, 0.0]}`)
	same(t, Lines([]geodesic.Point{{Lat: 0, Lon: 100}, {Lat: 1, Lon: 101}}), `{"type": "LineString", "coordinates": [[100.0, 0.0], [101.0, 1.0]]}`)
	same(t, Lines([]geodesic.Point{{Lat: 45, Lon: 170}, {Lat: 45, Lon: -170}}),
		`{"type": "MultiLineString", "coordinates": [[[170.0, 45.0], [180.0, 45.0]], [[-180.0, 45.0], [-170.0, 45.0]]]}`)
	same(t, Lines([]geodesic.Point{{Lat: -10, Lon: -179}, {Lat: 10, Lon: 178}}),
		`{"type": "MultiLineString", "coordinates": [[[-179, -10], [-180, -3.3333333]], [[180, -3.3333333], [178, 10]]]}`)
	same(t, NewCollection(nil), `{"type": "FeatureCollection", "features": []}`)
	same(t, NewFeature(Lines(nil), nil), `{"type": "Feature", "geometry": null, "properties": null}`)
}
