// Package walkmodel invents a walk whose truth is known: the demo, and what tests hold
// fits against. Nothing in it was measured; the same seed gives the same samples.
package walkmodel

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"time"

	"spectally/cmd/internal/geodesic"
)

// Site is where the antennas of the scenario stand: at sea, where no site is.
var Site = geodesic.Point{Lat: 31.5, Lon: -41.25}

// Truth is how the level of a band falls with distance.
type Truth struct {
	Network, Band string
	Slope         float64 // dB per decade
	At100         float64 // dBm at 100 m
	Sigma         float64 // dB, independent from sample to sample
}

// Example is the beginning of the demo, for someone who wants to see what samples look
// like.
func Example() string {
	var b strings.Builder
	if err := Write(&b, DemoSeed); err != nil {
		panic(err) // a builder takes all
	}
	lines := strings.SplitAfterN(b.String(), "\n", 42)
	return strings.Join(lines[:41], "")
}

// Truths are those of the scenario: the landing stage of the field log's demo, on foot.
var Truths = []Truth{
	{"Brindlewave", "B3", -34, -71, 6},
	{"Brindlewave", "n78", -37, -78, 7},
	{"Tarrow Mobile", "n28", -31, -70, 5.5},
}

// The scenario: someone walks away from the site for 25 minutes.
const (
	steps   = 1500 // one a second
	pace    = 1.3  // m/s
	nearest = 25.0 // m from the site at the start
)

var began = time.Date(2031, 5, 14, 18, 0, 0, 0, time.UTC)

// DemoSeed is the seed of the demo.
const DemoSeed = 16

// Samples is how many samples of the walk can be used, and Bad how many cannot be.
const (
	Samples = 2 * steps
	Bad     = 3
)

// model is a walk while it is written.
type model struct {
	random *rand.Rand
	plane  geodesic.Plane
	out    *bufio.Writer
	sector [2]int
}

// Write writes the walk as CSV.
func Write(w io.Writer, seed uint64) error {
	m := &model{random: rand.New(rand.NewPCG(seed, 0x77616c6b)), plane: geodesic.NewPlane(Site), out: bufio.NewWriter(w)}
	fmt.Fprintln(m.out, "time,lat,lon,network,carriers,pci,rsrp,rsrq,sinr,down,up,latency")
	for i := range steps {
		m.step(i)
	}
	return m.out.Flush()
}

// step is one second: a sample of each network.
func (m *model) step(i int) {
	d := nearest + pace*float64(i)
	bearing := 0.6 + 0.2*math.Sin(float64(i)/400) + 0.01*math.Sin(float64(i)/41)
	lat, lon := m.place(d, bearing)
	at := began.Add(time.Duration(i) * time.Second).Format(time.RFC3339)
	here := geodesic.Distance(Site, geodesic.Point{Lat: mustFloat(lat), Lon: mustFloat(lon)})
	m.first(i, at, lat, lon, here, bearing)
	m.second(i, at, lat, lon, here, bearing)
}

// place is so far from the site, as degrees to a centimetre or so.
func (m *model) place(d, bearing float64) (lat, lon string) {
	east, north := m.plane.Project(geodesic.Point{Lat: Site.Lat + 1, Lon: Site.Lon + 1})
	return fixed(Site.Lat+d*math.Cos(bearing)/north, 7), fixed(Site.Lon+d*math.Sin(bearing)/east, 7)
}

func (m *model) level(t *Truth, d float64) float64 {
	return t.At100 + t.Slope*math.Log10(d/100) + t.Sigma*m.random.NormFloat64()
}

// first is the network with LTE and NR: NR is lost far out. Two of its samples cannot be.
func (m *model) first(i int, at, lat, lon string, d, bearing float64) {
	lte, nr := m.level(&Truths[0], d), m.level(&Truths[1], d)
	pci := m.chooseSector(0, bearing)
	sinr := m.sinr(lte)
	carriers := fmt.Sprintf("B3:20@1300,pci=%d,rsrp=%s", 211+pci, fixed(lte, 1))
	down := 60 + 4*sinr
	if i < 1150 {
		nrSINR := m.sinr(nr)
		carriers += fmt.Sprintf(" + n78:80@643334,pattern=DDDSU/10:2:2,pci=%d,rsrp=%s,sinr=%s", 417+pci, fixed(nr, 1), fixed(nrSINR, 1))
		down += 260 + 13*nrSINR
	}
	switch i {
	case 300: // what some receivers write for no fix
		m.row(at, "0", "0", "Brindlewave", carriers, "", "", "", sinr, down)
	case 700: // a level that no phone reports
		m.row(at, lat, lon, "Brindlewave", carriers, "", "99", "", sinr, down)
	}
	m.row(at, lat, lon, "Brindlewave", carriers, "", "", fixed(-10+0.15*(sinr-15), 1), sinr, down)
}

// second is the network with one LTE-sized NR carrier, which an underpass cuts off for
// 40 seconds. One of its samples is far off the way.
func (m *model) second(i int, at, lat, lon string, d, bearing float64) {
	level := m.level(&Truths[2], d)
	pci := strconv.Itoa(88 + m.chooseSector(1, bearing))
	if i == 500 {
		far, _ := m.place(60_000, bearing)
		m.row(at, far, lon, "Tarrow Mobile", "n28:10", pci, fixed(level, 1), "", 10, 40)
	}
	if i >= 900 && i < 940 {
		fmt.Fprintf(m.out, "%s,%s,%s,Tarrow Mobile,,,,,,,,\n", at, lat, lon)
		return
	}
	sinr := m.sinr(level)
	m.row(at, lat, lon, "Tarrow Mobile", "n28:10", pci, fixed(level, 1), fixed(-11+0.15*(sinr-12), 1), sinr, 24+1.7*sinr)
}

func (m *model) row(at, lat, lon, network, carriers, pci, rsrp, rsrq string, sinr, down float64) {
	down = max(0.3, down*(0.75+0.25*m.random.Float64()))
	fmt.Fprintf(m.out, "%s,%s,%s,%s,\"%s\",%s,%s,%s,%s,%s,%s,%s\n", at, lat, lon, network, carriers, pci, rsrp, rsrq,
		fixed(sinr, 1), fixed(down, 1), fixed(max(0.1, down/12), 1), fixed(18+14*m.random.ExpFloat64(), 1))
}

// chooseSector keeps the sector of a network until the other is clearly better; near the
// border that goes to and fro.
func (m *model) chooseSector(network int, bearing float64) int {
	lead := 60*(bearing-0.68) + 0.9*m.random.NormFloat64()
	now := &m.sector[network]
	if *now == 0 && lead > 2 {
		*now = 1
	} else if *now == 1 && lead < -2 {
		*now = 0
	}
	return *now
}

// sinr follows the level, with noise, within what phones report.
func (m *model) sinr(level float64) float64 {
	return min(max(24+0.45*(level+80)+2*m.random.NormFloat64(), -8), 30)
}

func fixed(x float64, places int) string { return strconv.FormatFloat(x, 'f', places, 64) }

func mustFloat(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(err) // it was written by fixed
	}
	return x
}
