package interference

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"spectally/bands"
	"spectally/data/pace"
)

// meeting is a product and a downlink that it hits or comes near, to be compared.
type meeting struct {
	coefficients [5]int
	receiver     int
	victim       int
	hit          Hit
	offset, gap  int64
}

func (m meeting) compare(n meeting) int {
	return cmp.Or(slices.Compare(m.coefficients[:], n.coefficients[:]), m.receiver-n.receiver, m.victim-n.victim)
}

// slowly finds, for carriers whose places are known, what [Find] does, in another way: it
// walks through every vector of coefficients, one for each carrier, and compares edges of
// spectrum with each other.
func slowly(carriers []Carrier, order int) []meeting {
	var list []meeting
	var c [5]int
	var walk func(at, used, uplinks int)
	walk = func(at, used, uplinks int) {
		if at == len(carriers) {
			receivers := 1
			if uplinks == 1 {
				receivers = 5
			}
			for victim := range carriers {
				for r := 1; r <= receivers; r++ {
					if m, ok := meet(carriers, c, r, victim, order); ok {
						list = append(list, m)
					}
				}
			}
			return
		}
		walk(at+1, used, uplinks)
		if uplinks == 3 || carriers[at].Uplink == (Channel{}) {
			return
		}
		most := order - used // of the products of several
		if uplinks == 0 {
			most = max(order, 7)
		}
		for n := 1; n <= most; n++ {
			c[at] = n
			walk(at+1, used+n, uplinks+1)
			c[at] = -n
			walk(at+1, used+n, uplinks+1)
		}
		c[at] = 0
	}
	walk(0, 0, 0)
	slices.SortFunc(list, meeting.compare)
	return list
}

func meet(carriers []Carrier, c [5]int, r, victim, order int) (meeting, bool) {
	var centre, width int64
	uplinks, sum, single := 0, 0, 0
	for i, n := range c {
		if n == 0 {
			continue
		}
		uplinks++
		sum += max(n, -n)
		single = n
		centre += int64(n) * int64(carriers[i].Uplink.Centre.Low)
		width += int64(max(n, -n)) * int64(carriers[i].Uplink.Width)
		if a, b := carriers[i].TDD, carriers[victim].TDD; a.Low < b.High && b.Low < a.High {
			return meeting{}, false
		}
	}
	first := slices.IndexFunc(c[:], func(n int) bool { return n != 0 })
	switch {
	case carriers[victim].Downlink == (Channel{}), uplinks == 0 || uplinks > 3, centre < 0, centre == 0 && c[first] < 0:
		return meeting{}, false
	case uplinks > 1 && (r > 1 || sum > order), uplinks == 1 && r == 1 && (sum < 2 || sum > 7):
		return meeting{}, false
	case r > 1 && sum+r > 7, r > 1 && slices.ContainsFunc([]int{2, 3, 5}, func(p int) bool { return single%p == 0 && r%p == 0 }):
		return meeting{}, false
	}
	own := carriers[victim].Downlink
	low, high := max(0, centre-width/2), centre+width/2
	downLow := int64(r) * (int64(own.Centre.Low) - int64(own.Width)/2)
	downHigh := int64(r) * (int64(own.Centre.Low) + int64(own.Width)/2)
	m := meeting{coefficients: c, receiver: r, victim: victim, hit: Direct, offset: centre - int64(r)*int64(own.Centre.Low)}
	if low >= downHigh || downLow >= high {
		m.hit = Near
		m.gap = max(low-downHigh, downLow-high)
	}
	return m, m.gap < 20_000_000
}

func quickly(carriers []Carrier, order int) []meeting {
	var list []meeting
	for _, p := range Find(carriers, Options{Order: order}) {
		m := meeting{receiver: int(p.ReceiverOrder), victim: p.Victim, hit: p.Hit, offset: int64(p.Offset), gap: int64(p.Distance)}
		for _, s := range p.Sources() {
			m.coefficients[s.Carrier] = int(s.Coefficient)
		}
		list = append(list, m)
	}
	slices.SortFunc(list, meeting.compare)
	return list
}

// draw is a set of carriers of drawn bands, widths and places, some of which transmit.
func draw(r *rand.Rand, all []*bands.Band, size int) []Carrier {
	var list []Carrier
	for len(list) < size {
		b := all[r.IntN(len(all))]
		width := []bands.Frequency{1_400_000, 3_000_000, 5_000_000, 10_000_000, 15_000_000, 20_000_000, 50_000_000, 100_000_000}[r.IntN(8)]
		uplink := width
		if r.IntN(3) == 0 {
			uplink = 0
		}
		c := Of(b, width, uplink)
		if c.Downlink.IsZero() && c.Uplink.IsZero() {
			continue
		}
		raster := func(s bands.Span) bands.Frequency {
			return s.Low + bands.Frequency(r.Int64N(int64(s.Width()/100_000)+1))*100_000
		}
		if c.Lead() == bands.Uplink {
			c = c.Transmitting(raster(c.Uplink.Centre))
		} else if c = c.Receiving(raster(c.Downlink.Centre)); !c.Uplink.IsPlaced() {
			c = c.Transmitting(raster(c.Uplink.Centre)).Receiving(c.Downlink.Centre.Low)
		}
		list = append(list, c)
	}
	return list
}

// An independent enumeration of 100,000 drawn sets of carriers agrees.
func TestFindAgreesWithSlowEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 1))
	all := bands.All(0)
	hits := 0
	for n := range pace.Times(100_000, 20) {
		size, order := 1+r.IntN(3), 5
		switch {
		case n%100 == 0:
			size = 5
		case n%20 == 0:
			size, order = 4, 2+r.IntN(4)
		case n%50 == 1:
			size, order = 2, 9
		}
		carriers := draw(r, all, size)
		got, want := quickly(carriers, order), slowly(carriers, order)
		if !slices.Equal(got, want) {
			t.Fatalf("order %d of %+v:\n%v, want\n%v", order, carriers, got, want)
		}
		hits += len(got)
	}
	if pace.Whole && hits < 50_000 {
		t.Errorf("%d products came near a downlink: too few to tell", hits)
	}
}
