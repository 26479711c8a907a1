package walkreport

import (
	"time"

	"spectally/cmd/internal/geodesic"
	"spectally/cmd/internal/geojson"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
)

// Map makes the samples that have a latitude and a longitude features of GeoJSON: the
// way of each network as lines, its samples, cell changes and gaps as points. The
// properties have the names of the report. Beyond 65 536 samples of a network one of so
// many stands for all, as the property one_of of its way tells.
func Map(r *walk.Report) geojson.Collection {
	var list []geojson.Feature
	for i := range r.Networks {
		n := &r.Networks[i]
		var way []geodesic.Point
		var points []geojson.Feature
		for j := range n.Points {
			p := &n.Points[j]
			if p.Place.Kind == samples.Geographic {
				way = append(way, p.Place.Point())
				points = append(points, geojson.NewFeature(geojson.Point(p.Place.Point()), pointProperties(n, p)))
			}
		}
		if line := geojson.Lines(way); line != nil {
			list = append(list, geojson.NewFeature(line, map[string]any{"kind": "way", "network": n.Name, "samples": n.Samples, "one_of": n.Thinned}))
		}
		list = append(list, points...)
		for j := range n.Changes {
			c := &n.Changes[j]
			list = addSpot(list, n, &c.Spot, map[string]any{"kind": "change", "from": c.From, "to": c.To, "rsrp_before": c.Before, "rsrp_after": c.After, "ping_pong": c.PingPong})
		}
		for j := range n.Gaps {
			g := &n.Gaps[j]
			list = addSpot(list, n, &g.Spot, map[string]any{"kind": g.Kind, "length_m": g.Metres, "seconds": g.Seconds})
		}
	}
	if s := r.Site; s != nil && s.Lat != nil {
		list = append(list, geojson.NewFeature(geojson.Point(geodesic.Point{Lat: *s.Lat, Lon: *s.Lon}), map[string]any{"kind": "site"}))
	}
	return geojson.NewCollection(list)
}

func addSpot(list []geojson.Feature, n *walk.Network, s *walk.Spot, properties map[string]any) []geojson.Feature {
	if s.Lat == nil {
		return list
	}
	properties["network"], properties["time"] = n.Name, s.Time
	return append(list, geojson.NewFeature(geojson.Point(geodesic.Point{Lat: *s.Lat, Lon: *s.Lon}), properties))
}

func pointProperties(n *walk.Network, p *walk.Point) map[string]any {
	m := map[string]any{"kind": "sample", "network": n.Name, "cell": p.Cell}
	if p.Timed {
		m["time"] = time.Unix(0, p.At).UTC().Format(time.RFC3339Nano)
	}
	if p.HasDistance {
		m["distance_m"] = float64(int64(10*p.Distance+0.5)) / 10
	}
	for key, level := range map[string]int16{"rsrp": p.RSRP, "rsrq": p.RSRQ, "sinr": p.SINR} {
		if level != samples.None {
			m[key] = float64(level) / 100
		}
	}
	if p.Down != samples.Missing {
		m["down"] = float64(p.Down) / 1000
	}
	return m
}
