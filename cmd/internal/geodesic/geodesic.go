// Package geodesic measures distances on the ellipsoid of WGS 84, and draws small areas
// of it on a plane.
package geodesic

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
)

// The ellipsoid of WGS 84 (NGA.STND.0036, Table 3.1; from memory).
const (
	semiMajor  = 6378137.0 // metres
	flattening = 1 / 298.257223563
	semiMinor  = semiMajor * (1 - flattening)
	ecc2       = flattening * (2 - flattening) // first eccentricity, squared
	secondEcc2 = ecc2 / (1 - ecc2)
)

// Point is a place in degrees, latitude north and longitude east.
type Point struct{ Lat, Lon float64 }

// Valid tells whether the point is on the earth.
func (p Point) Valid() bool {
	return math.Abs(p.Lat) <= 90 && math.Abs(p.Lon) <= 180
}

// shortest is the chord in metres up to which a distance is worked out from the chord.
const shortest = 200_000

// straight is the chord in metres below which the arc is no more than 0.01 mm longer.
const straight = 2000

// Distance is the length in metres of the shortest line between two points on the
// ellipsoid. Up to 200 km it is within a millimetre, beyond within a micrometre.
func Distance(a, b Point) float64 {
	p, q := a.cartesian(), b.cartesian()
	if c := p.chord(&q); c <= shortest {
		return p.arc(&q, c)
	}
	return inverse(a, b)
}

// Place is a point prepared for short distances to many others.
type Place struct {
	Point
	at cartesian
}

// At prepares a point.
func At(p Point) Place { return Place{p, p.cartesian()} }

// Distance is that to another place, as the function of that name has it.
func (p *Place) Distance(q *Place) float64 {
	if c := p.at.chord(&q.at); c <= shortest {
		return p.at.arc(&q.at, c)
	}
	return inverse(p.Point, q.Point)
}

// cartesian is a place in metres from the centre of the earth, with the radius of
// curvature there along the meridian and across it.
type cartesian struct{ x, y, z, along, across float64 }

func (p Point) cartesian() cartesian {
	sinLat, cosLat := math.Sincos(radians(p.Lat))
	sinLon, cosLon := math.Sincos(radians(p.Lon))
	w := 1 - ecc2*sinLat*sinLat
	n := semiMajor / math.Sqrt(w)
	return cartesian{n * cosLat * cosLon, n * cosLat * sinLon, n * (1 - ecc2) * sinLat, n * (1 - ecc2) / w, n}
}

func (p *cartesian) chord(q *cartesian) float64 {
	x, y, z := p.x-q.x, p.y-q.y, p.z-q.z
	return math.Sqrt(x*x + y*y + z*z)
}

// arc is the length of a short line on the surface above its chord: that of a circle
// with the mean of the two ends' radii of curvature in the direction of the line
// (Euler's formula).
func (p *cartesian) arc(q *cartesian, chord float64) float64 {
	if chord < straight {
		return chord
	}
	// The part of the chord along the meridian, from its rise: dz = ds cos(lat) cos(azimuth).
	x, y, z := p.x+q.x, p.y+q.y, (p.z+q.z)/(1-ecc2)
	rr := x*x + y*y
	north2 := 1.0
	if cos2 := rr / (rr + z*z); cos2 > 1e-12 {
		north2 = min(1, (p.z-q.z)*(p.z-q.z)/(chord*chord*cos2))
	}
	along, across := (p.along+q.along)/2, (p.across+q.across)/2
	curvature := north2/along + (1-north2)/across
	h := chord * curvature / 2
	h *= h
	return chord * (1 + h*(1.0/6+h*(3.0/40+h*(15.0/336)))) // the series of the arc sine
}

func radians(deg float64) float64 { return deg * math.Pi / 180 }

// inverse solves the inverse problem for any two points: of the lines that leave the
// first point, it finds the one that meets the other's meridian at its latitude. On the
// auxiliary sphere (reduced latitudes) the longitude reached rises with the azimuth
// once the points are ordered so that the first is the farther from the equator, and
// south of it; so bisection finds it, nearly antipodal points too. Longitude and
// distance are integrals along the great circle of the sphere, see C. F. F. Karney,
// Algorithms for geodesics, Journal of Geodesy 87 (2013), equations 7 and 8, whose
// integrands are smooth; a Gauss-Legendre rule gives them to the last digits.
func inverse(a, b Point) float64 {
	lat1, lat2 := reduced(a.Lat), reduced(b.Lat)
	if math.Abs(lat1) < math.Abs(lat2) {
		lat1, lat2 = lat2, lat1
	}
	if lat1 > 0 {
		lat1, lat2 = -lat1, -lat2
	}
	apart := math.Abs(math.Remainder(b.Lon-a.Lon, 360)) * math.Pi / 180
	if lat1 == 0 && apart <= (1-flattening)*math.Pi {
		return semiMajor * apart // along the equator
	}
	low, high := 0.0, math.Pi
	var l line
	for range bisections {
		azimuth := (low + high) / 2
		l = newLine(lat1, lat2, azimuth)
		if l.longitude() < apart {
			low = azimuth
		} else {
			high = azimuth
		}
	}
	return l.length()
}

// bisections narrow an azimuth down to the last bit of a float64.
const bisections = 54

// reduced is the latitude on the auxiliary sphere.
func reduced(lat float64) float64 {
	if math.Abs(lat) == 90 {
		return math.Copysign(math.Pi/2, lat)
	}
	return math.Atan((1 - flattening) * math.Tan(radians(lat)))
}

// line is a geodesic from one latitude to another on the auxiliary sphere.
type line struct {
	sinAzimuth0        float64 // where it crosses the equator northwards
	k2                 float64
	sigma1, sigma2     float64 // arcs from that crossing
	spherical1, theta2 float64 // longitudes on the sphere from it
}

func newLine(lat1, lat2, azimuth float64) line {
	sinLat1, cosLat1 := math.Sincos(lat1)
	sinLat2, cosLat2 := math.Sincos(lat2)
	if sinLat1 == 0 {
		sinLat1 = -math.SmallestNonzeroFloat64 // which side of the equator decides the arc
	}
	sin1, cos1 := math.Sincos(azimuth)
	sin0 := sin1 * cosLat1
	cos0 := math.Hypot(cos1, sin1*sinLat1)
	// The other end: cos²(azimuth) follows from Clairaut's relation.
	across := (cosLat2 - cosLat1) * (cosLat2 + cosLat1)
	cos2 := math.Sqrt(max(0, cos1*cosLat1*cos1*cosLat1+across))
	return line{
		sinAzimuth0: sin0,
		k2:          secondEcc2 * cos0 * cos0,
		sigma1:      math.Atan2(sinLat1, cos1*cosLat1),
		sigma2:      math.Atan2(sinLat2, cos2),
		spherical1:  math.Atan2(sin0*sinLat1, cos1*cosLat1),
		theta2:      math.Atan2(sin0*sinLat2, cos2),
	}
}

// longitude is the difference in longitude of the two ends.
func (l *line) longitude() float64 {
	return l.theta2 - l.spherical1 - flattening*l.sinAzimuth0*l.integral(func(root float64) float64 {
		return (2 - flattening) / (1 + (1-flattening)*root)
	})
}

// length is the length in metres.
func (l *line) length() float64 {
	return semiMinor * l.integral(func(root float64) float64 { return root })
}

// integral integrates a function of sqrt(1 + k² sin² sigma) over the line.
func (l *line) integral(of func(root float64) float64) float64 {
	middle, half := (l.sigma1+l.sigma2)/2, (l.sigma2-l.sigma1)/2
	rule := legendre()
	sum := 0.0
	for i, x := range rule.x {
		s := math.Sin(middle + half*x)
		sum += rule.weight[i] * of(math.Sqrt(1+l.k2*s*s))
	}
	return half * sum
}

type rule struct{ x, weight []float64 }

// legendre is a Gauss-Legendre rule over -1 to 1.
var legendre = sync.OnceValue(func() rule {
	const points = 20
	r := rule{make([]float64, points), make([]float64, points)}
	quad.Legendre{}.FixedLocations(r.x, r.weight, -1, 1)
	return r
})
