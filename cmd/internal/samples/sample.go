// Package samples reads the samples of a walk or a drive, one a row: when and where a
// phone was, which cells served it, and what it measured. Rows that cannot be used are
// told with their line and the reason.
package samples

import (
	"time"

	"spectally/cmd/internal/geodesic"
)

// Sample is one sample. What was not measured has the value None or Missing.
type Sample struct {
	// At is when, in nanoseconds since 1970 (UTC), if Timed.
	At    int64
	Timed bool
	Place Place
	// Distance is that from the site in metres, as it was written, if HasDistance.
	Distance    float64
	HasDistance bool
	Network     string
	// Serving are the carriers; nil if none are known. PCI is the identity of the cell on
	// the first of them; Missing if it is not known.
	Serving *Serving
	PCI     int32
	// Levels of the cell on the first carrier: RSRP in hundredths of a dBm, RSRQ and SINR
	// in hundredths of a dB.
	RSRP, RSRQ, SINR int16
	// Down and Up are in kbit/s, Latency in microseconds.
	Down, Up, Latency int32
}

// What stands for a level and a number that were not measured.
const (
	None    int16 = -1 << 15
	Missing int32 = -1
)

// Ranges of measured levels in hundredths: RSRP -156 to -31 dBm, RSRQ -43 to 20 dB, SINR
// -23 to 40 dB (TS 38.133 clauses 10.1.6, 10.1.11 and 10.1.16, from memory); LTE reports
// lie within.
const (
	LowestRSRP, HighestRSRP int16 = -15600, -3100
	LowestRSRQ, HighestRSRQ int16 = -4300, 2000
	LowestSINR, HighestSINR int16 = -2300, 4000
)

// Place is where a sample was taken: latitude and longitude in degrees, or easting and
// northing in metres.
type Place struct {
	Kind PlaceKind
	// A is the latitude or the easting, B the longitude or the northing.
	A, B float64
}

// PlaceKind says what the numbers of a place are.
type PlaceKind uint8

// The kinds of places. The zero PlaceKind is no place.
const (
	Nowhere PlaceKind = iota
	Geographic
	Planar
)

// Point is the place on the earth; it is Geographic.
func (p *Place) Point() geodesic.Point { return geodesic.Point{Lat: p.A, Lon: p.B} }

// Time is when the sample was taken.
func (s *Sample) Time() time.Time { return time.Unix(0, s.At).UTC() }

// Seen tells whether a cell was heard at all.
func (s *Sample) Seen() bool {
	return s.Serving != nil || s.PCI != Missing || s.RSRP != None
}

// Empty is a sample of which nothing is known.
func Empty() Sample {
	return Sample{PCI: Missing, RSRP: None, RSRQ: None, SINR: None, Down: Missing, Up: Missing, Latency: Missing}
}
