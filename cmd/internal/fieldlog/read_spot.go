package fieldlog

import (
	"strconv"

	"spectally/ca"
	"spectally/cmd/internal/geodesic"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/tomlfile"
)

// Spot is where a run was made and what the phone showed there. What was not written down
// is not given.
type Spot struct {
	// Distance is that from the site in metres, if HasDistance.
	Distance    float64
	HasDistance bool
	Place       *geodesic.Point
	// RSRP and SINR of the serving cell.
	RSRP, SINR ca.Level
	// Active are the carriers that were active, counted from 1; all of them if none are
	// named.
	Active []int
}

// given tells whether anything of the spot was written down.
func (s *Spot) given() bool {
	return s.HasDistance || s.Place != nil || s.RSRP.IsGiven() || s.SINR.IsGiven()
}

// metres is the distance from the site; false if it is not known.
func (s *Spot) metres(site *geodesic.Point) (float64, bool) {
	switch {
	case s.HasDistance:
		return s.Distance, true
	case s.Place != nil && site != nil:
		return geodesic.Distance(*site, *s.Place), true
	}
	return 0, false
}

const maxDistance = 1_000_000 // metres

// readSpot reads the keys of a run about the spot. carriers is how many the network has.
func readSpot(t *tomlfile.Table, carriers int) Spot {
	var s Spot
	if d, ok := t.NumberIn("distance_m", tomlfile.Optional, &quantity.Metres, 0, maxDistance, "a distance from the site in metres"); ok {
		s.Distance, s.HasDistance = d.Float(), true
	}
	s.Place = readPlace(t)
	s.RSRP = readLevel(t, "rsrp", samples.LowestRSRP, samples.HighestRSRP, "dBm")
	s.SINR = readLevel(t, "sinr", samples.LowestSINR, samples.HighestSINR, "dB")
	allowed := "numbers of the network's carriers, such as [1, 2]"
	list, _ := t.List("carriers", allowed)
	for _, text := range list {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > carriers {
			t.Refuse("carriers", text, allowed+", 1 to "+strconv.Itoa(carriers))
			break
		}
		s.Active = append(s.Active, n)
	}
	return s
}

// readPlace reads latitude and longitude, which go together.
func readPlace(t *tomlfile.Table) *geodesic.Point {
	lat, hasLat := t.Number("lat", tomlfile.Optional, -90, 90, "degrees north")
	lon, hasLon := t.Number("lon", tomlfile.Optional, -180, 180, "degrees east")
	switch {
	case t.Has("lat") && !t.Has("lon"):
		t.Missing("lon", "degrees east beside lat")
	case t.Has("lon") && !t.Has("lat"):
		t.Missing("lat", "degrees north beside lon")
	case hasLat && hasLon:
		return &geodesic.Point{Lat: lat.Float(), Lon: lon.Float()}
	}
	return nil
}

// readLevel reads a level between two bounds in hundredths of a decibel.
func readLevel(t *tomlfile.Table, key string, low, high int16, unit string) ca.Level {
	d, ok := t.NumberIn(key, tomlfile.Optional, &quantity.Decibels, int64(low)/100, int64(high)/100, "a level in "+unit)
	if !ok {
		return ca.Level{}
	}
	hundredths := d.Float() * 100
	if hundredths < 0 {
		hundredths -= 0.5
	} else {
		hundredths += 0.5
	}
	return ca.LevelOf(int32(hundredths))
}
