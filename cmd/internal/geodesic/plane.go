package geodesic

import "math"

// Plane is a local projection: metres east and north of its origin along the parallel
// and the meridian there. Within 20 km of the origin and 60 degrees of the equator it
// is true to about half a per cent, enough for a drawing.
type Plane struct {
	origin      Point
	east, north float64 // metres for a degree
}

// NewPlane is the plane about a point.
func NewPlane(origin Point) Plane {
	c := origin.cartesian()
	return Plane{origin, c.across * math.Cos(radians(origin.Lat)) * math.Pi / 180, c.along * math.Pi / 180}
}

// Project is where a point lies on the plane, in metres.
func (p *Plane) Project(q Point) (east, north float64) {
	return math.Remainder(q.Lon-p.origin.Lon, 360) * p.east, (q.Lat - p.origin.Lat) * p.north
}
