package walk

import (
	"math"
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/geodesic"
	"spectally/cmd/internal/samples"
)

// Collector takes samples in, one by one.
type Collector struct {
	set  Settings
	site geodesic.Place // where the site is Geographic
	// place is that of the last sample with degrees, at the same prepared, and far how far
	// it is from the site.
	place    samples.Place
	at       geodesic.Place
	far      float64
	networks map[string]*network
	used     int64
	unjoined int64
	leftOut  []LeftOut
	left     int64
	grounds  grounds
}

// Bounds of what is kept. What is beyond is counted.
const (
	mostListed  = 1000   // left out samples, changes and gaps of a network
	mostCells   = 20_000 // of all networks, with a distribution of their own
	mostUses    = 500    // carriers of a network
	mostPoints  = 1 << 16
	mostColumns = 1024 // of a strip
)

// New makes a collector.
func New(s Settings) *Collector {
	c := &Collector{set: s.withDefaults(), networks: map[string]*network{}}
	if c.set.Site.Kind == samples.Geographic {
		c.site = geodesic.At(c.set.Site.Point())
	}
	return c
}

// network is a network while it is collected.
type network struct {
	name    string
	samples int64
	bands   map[bands.ID]*band
	cells   map[cellKey]*cell
	last    *cell // found last, most often the next as well
	uses    map[string]*CarrierUse
	way     way
}

// band is a band of a network.
type band struct {
	id bands.ID
	use
	// centres is the sum of the carrier centres in hertz, heard of how many they are.
	centres, heard int64
}

type cellKey struct {
	band         bands.ID
	channel, pci int32
}

// cell is a cell of a network.
type cell struct {
	cellKey
	band *band
	gathered
	name string
}

// LeaveOut notes a row that cannot be used.
func (c *Collector) LeaveOut(file string, line int64, reason string) {
	c.left++
	if len(c.leftOut) < mostListed {
		c.leftOut = append(c.leftOut, LeftOut{file, line, reason})
	}
}

// Add takes a sample in; false with the reason where it cannot be.
func (c *Collector) Add(s *samples.Sample) (reason string, ok bool) {
	n := c.networks[s.Network]
	if n == nil {
		n = &network{name: s.Network, bands: map[bands.ID]*band{}, cells: map[cellKey]*cell{}, uses: map[string]*CarrierUse{}}
		c.networks[s.Network] = n
	}
	c.join(s)
	here := spot{s: s}
	if s.Place.Kind == samples.Geographic {
		if s.Place != c.place || c.used == 0 { // the same for several networks at once
			c.place, c.at = s.Place, geodesic.At(s.Place.Point())
			if c.set.Site.Kind == samples.Geographic {
				c.far = c.site.Distance(&c.at)
			}
		}
		here.at = c.at
	}
	step, reason := n.way.jump(&here)
	if reason != "" {
		return reason, false
	}
	c.used++
	n.samples++
	distance, near := c.distance(&here)
	here.distance, here.hasDistance = distance, near
	x := int64(0)
	if near = near && distance >= nearest; near {
		x = logOf(distance)
		c.grounds.distances = true
	}
	serving := c.primary(n, s)
	if serving != nil {
		ours := near && c.ofSite(serving.pci)
		serving.level(s.RSRP, s.SINR, x, ours)
		serving.phone(s)
		serving.band.rate(s)
		if ours && s.RSRP != samples.None {
			serving.band.dot(x, s.RSRP)
		}
		c.others(n, s, x, near)
	}
	n.travel(&here, step, serving, &c.set)
	c.grounds.note(s)
	return "", true
}

// join finds the place of a sample on the track.
func (c *Collector) join(s *samples.Sample) {
	if c.set.Track == nil || s.Place.Kind != samples.Nowhere {
		return
	}
	if s.Timed {
		if p, ok := c.set.Track.At(s.At, c.set.TrackLimit); ok {
			s.Place = samples.Place{Kind: samples.Geographic, A: p.Lat, B: p.Lon}
			return
		}
	}
	c.unjoined++
}

// distance is that from the site in metres; false if it is not known.
func (c *Collector) distance(here *spot) (float64, bool) {
	s := here.s
	switch {
	case s.HasDistance:
		return s.Distance, true
	case s.Place.Kind == samples.Nowhere || s.Place.Kind != c.set.Site.Kind:
		return 0, false
	case s.Place.Kind == samples.Planar:
		return math.Hypot(s.Place.A-c.set.Site.A, s.Place.B-c.set.Site.B), true
	}
	return c.far, true
}

func (c *Collector) ofSite(pci int32) bool {
	return len(c.set.Cells) == 0 || slices.Contains(c.set.Cells, pci)
}

// primary is the serving cell of a sample; nil if the sample has none.
func (c *Collector) primary(n *network, s *samples.Sample) *cell {
	if !s.Seen() && s.Down == samples.Missing && s.Up == samples.Missing && s.Latency == samples.Missing {
		return nil
	}
	key := cellKey{channel: samples.Missing, pci: s.PCI}
	if s.Serving == nil {
		return c.cell(n, key, nil)
	}
	carrier := &s.Serving.Carriers[0]
	key.band, key.channel = carrier.Band, carrier.Channel
	return c.cell(n, key, carrier)
}

// others takes in what the other carriers have of their own.
func (c *Collector) others(n *network, s *samples.Sample, x int64, near bool) {
	if s.Serving == nil {
		return
	}
	for i := 1; i < len(s.Serving.Carriers); i++ {
		carrier := &s.Serving.Carriers[i]
		if carrier.RSRP == samples.None && carrier.SINR == samples.None {
			continue
		}
		other := c.cell(n, cellKey{carrier.Band, carrier.Channel, carrier.PCI}, carrier)
		ours := near && c.ofSite(carrier.PCI)
		other.level(carrier.RSRP, carrier.SINR, x, ours)
		if ours && carrier.RSRP != samples.None {
			other.band.dot(x, carrier.RSRP)
		}
	}
}

// cell finds or makes a cell. Beyond the bound all cells of a band are one.
func (c *Collector) cell(n *network, key cellKey, carrier *samples.Carrier) *cell {
	found := n.last
	if found == nil || found.cellKey != key {
		found = n.cells[key]
	}
	if found == nil && c.grounds.cells >= mostCells {
		c.grounds.merged = true
		key.channel, key.pci = samples.Missing, samples.Missing
		found = n.cells[key]
	}
	if found == nil {
		b := n.bands[key.band]
		if b == nil {
			b = &band{id: key.band, use: newUse()}
			n.bands[key.band] = b
		}
		found = &cell{cellKey: key, band: b, gathered: newGathered(), name: key.String()}
		n.cells[key] = found
		c.grounds.cells++
	}
	n.last = found
	if carrier != nil {
		found.band.centres += int64(carrier.Centre)
		found.band.heard++
	}
	return found
}

// String names a cell: "n78 640000 PCI 417".
func (k cellKey) String() string {
	name := ""
	if k.band != (bands.ID{}) {
		name = k.band.String()
	}
	if k.channel != samples.Missing {
		name += " " + strconv.Itoa(int(k.channel))
	}
	if k.pci != samples.Missing {
		name += " PCI " + strconv.Itoa(int(k.pci))
	}
	if name == "" {
		return "unknown"
	}
	if name[0] == ' ' {
		return name[1:]
	}
	return name
}
