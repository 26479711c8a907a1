package interference

import (
	"math/rand/v2"
	"slices"
	"testing"

	"spectally/bands"
)

// drawn yields sets of carriers.
func drawn(t *testing.T, sets int, check func(t *testing.T, r *rand.Rand, carriers []Carrier)) {
	t.Helper()
	r := rand.New(rand.NewPCG(18, 2))
	all := bands.All(0)
	for range sets {
		check(t, r, draw(r, all, 1+r.IntN(4)))
		if t.Failed() {
			return
		}
	}
}

// With all frequencies moved by the same, a product whose coefficients add up to the order
// of the receiver stays where it is to the downlink; any other moves by the difference.
func TestShiftedTogether(t *testing.T) {
	drawn(t, 3000, func(t *testing.T, r *rand.Rand, carriers []Carrier) {
		by := bands.Frequency(1+r.IntN(500)) * bands.MHz
		moved := slices.Clone(carriers)
		for i := range moved {
			for _, c := range []*Channel{&moved[i].Downlink, &moved[i].Uplink} {
				if !c.IsZero() {
					c.Centre = bands.Span{Low: c.Centre.Low + by, High: c.Centre.High + by}
				}
			}
			if !moved[i].TDD.IsZero() {
				moved[i].TDD = bands.Span{Low: moved[i].TDD.Low + by, High: moved[i].TDD.High + by}
			}
		}
		before, after := Find(carriers, Options{Misses: true}), Find(moved, Options{Misses: true})
		for _, p := range before {
			sum := bands.Frequency(0)
			for _, s := range p.Sources() {
				sum += bands.Frequency(s.Coefficient)
			}
			i := slices.IndexFunc(after, func(q Product) bool {
				return q.Victim == p.Victim && q.ReceiverOrder == p.ReceiverOrder && slices.Equal(q.Sources(), p.Sources())
			})
			if i < 0 {
				continue // it passed zero hertz
			}
			q := after[i]
			if moves := (sum - bands.Frequency(p.ReceiverOrder)) * by; q.Offset-p.Offset != moves || moves == 0 && q.Hit != p.Hit {
				t.Errorf("%+v moved by %v:\n%+v\n%+v", carriers, by, p, q)
			}
		}
	})
}

// The order in which carriers stand changes nothing.
func TestSwapped(t *testing.T) {
	drawn(t, 5000, func(t *testing.T, r *rand.Rand, carriers []Carrier) {
		order := r.Perm(len(carriers))
		swapped := make([]Carrier, len(carriers))
		for i, to := range order {
			swapped[to] = carriers[i]
		}
		got := quickly(swapped, 5)
		for i, m := range got {
			back := m
			back.victim = slices.Index(order, m.victim)
			for j, to := range order {
				back.coefficients[j] = m.coefficients[to]
			}
			got[i] = back
		}
		slices.SortFunc(got, meeting.compare)
		if want := quickly(carriers, 5); !slices.Equal(got, want) && !atZero(carriers, want) {
			t.Errorf("%+v as %v: %v, want %v", carriers, order, got, want)
		}
	})
}

// atZero tells of a product around zero hertz, whose sign depends on what stands first.
func atZero(carriers []Carrier, list []meeting) bool {
	return slices.ContainsFunc(list, func(m meeting) bool {
		return m.offset == -int64(carriers[m.victim].Downlink.Centre.Low)
	})
}

// What hits with narrow channels hits with wider ones, and in a band where there was a
// place with a hit there still is one.
func TestWidened(t *testing.T) {
	drawn(t, 5000, func(t *testing.T, r *rand.Rand, carriers []Carrier) {
		if r.IntN(2) == 0 {
			i := r.IntN(len(carriers))
			b, err := bands.Lookup(carriers[i].Band)
			if err != nil {
				t.Fatal(err)
			}
			carriers[i] = Of(b, carriers[i].Downlink.Width, carriers[i].Uplink.Width)
		}
		before := Find(carriers, Options{})
		for i := range carriers {
			carriers[i].Downlink.Width += bands.Frequency(r.IntN(20)) * bands.MHz
			carriers[i].Uplink.Width += bands.Frequency(r.IntN(20)) * bands.MHz
		}
		after := Find(carriers, Options{})
		for _, p := range before {
			if !slices.ContainsFunc(after, func(q Product) bool {
				return q.Victim == p.Victim && q.ReceiverOrder == p.ReceiverOrder && slices.Equal(q.Sources(), p.Sources()) && q.Hit >= p.Hit && q.Distance <= p.Distance
			}) {
				t.Errorf("%+v: lost %+v", carriers, p)
			}
		}
	})
}

// For a carrier that may lie anywhere, what Find says of its places holds at each of them:
// all of them are hit, or none, and Avoid lists exactly those that are not.
func TestPlaces(t *testing.T) {
	some, avoided := 0, 0
	drawn(t, 2000, func(t *testing.T, r *rand.Rand, carriers []Carrier) {
		i := r.IntN(len(carriers))
		b, err := bands.Lookup(carriers[i].Band)
		if err != nil {
			t.Fatal(err)
		}
		free := slices.Clone(carriers)
		free[i] = Of(b, carriers[i].Downlink.Width, carriers[i].Uplink.Width)
		if s := free[i].Separation; s.Low != s.High {
			return // several separations: see Find
		}
		products := Find(free, Options{Misses: true})
		clear := Avoid(free, i, products)
		lead := free[i].Downlink.Centre
		if free[i].Lead() == bands.Uplink {
			lead = free[i].Uplink.Centre
		}
		for at := range 41 {
			f := lead.Low + lead.Width()*bands.Frequency(at)/40/2*2
			there := slices.Clone(free)
			if free[i].Lead() == bands.Uplink {
				there[i] = free[i].Transmitting(f)
			} else {
				there[i] = free[i].Receiving(f)
			}
			hits := Find(there, Options{})
			for _, p := range products {
				hit := slices.ContainsFunc(hits, func(q Product) bool {
					return q.Hit == Direct && q.Victim == p.Victim && q.ReceiverOrder == p.ReceiverOrder && slices.Equal(q.Sources(), p.Sources())
				})
				if hit && (p.Places == NoPlaces || p.Hit != Direct) || !hit && p.Places == AllPlaces {
					t.Errorf("%+v at %v: hit is %v, but %+v", free, f, hit, p)
				}
				if p.Places == SomePlaces {
					some++
				}
			}
			hit := slices.ContainsFunc(hits, func(q Product) bool { return q.Hit == Direct && q.Concerns(i) })
			if off := slices.ContainsFunc(clear, func(s bands.Span) bool { return s.Contains(f) }); off == hit {
				t.Errorf("%+v: Avoid gives %v, but at %v hit is %v", free, clear, f, hit)
			} else if off && len(products) > 0 {
				avoided++
			}
		}
	})
	if some < 1000 || avoided < 1000 {
		t.Errorf("%d products hit some places, %d places avoid all: too few to tell", some, avoided)
	}
}

// Known cases: common practice, no source but the ranges of the bands themselves.
func TestKnownCases(t *testing.T) {
	for _, c := range []struct {
		uplink, downlink string
		kind             Kind
		order, receiver  int8
		want             Places
	}{
		{"B3", "n78", Harmonic, 2, 1, SomePlaces},  // 1710-1785 MHz twice is 3420-3570 MHz
		{"B1", "n77", Harmonic, 2, 1, SomePlaces},  // 1920-1980 MHz twice is 3840-3960 MHz
		{"B28", "n78", Harmonic, 5, 1, SomePlaces}, // 703-748 MHz five times is 3515-3740 MHz
		{"n78", "B3", Mixing, 1, 2, SomePlaces},    // 1805-1880 MHz twice is 3610-3760 MHz
	} {
		carriers := []Carrier{OfBand(band(t, c.uplink), true), OfBand(band(t, c.downlink), false)}
		found := Find(carriers, Options{})
		i := slices.IndexFunc(found, func(p Product) bool {
			return p.Kind == c.kind && p.Order == c.order && p.ReceiverOrder == c.receiver && p.Victim == 1
		})
		if i < 0 || found[i].Hit != Direct || found[i].Places != c.want {
			t.Errorf("%s and %s: %v", c.uplink, c.downlink, found)
		}
	}
	b3 := Find([]Carrier{OfBand(band(t, "B3"), true), OfBand(band(t, "n78"), false)}, Options{})[0]
	if want := (bands.Span{Low: 3420 * bands.MHz, High: 3570 * bands.MHz}); b3.Span != want {
		t.Errorf("the second harmonic of B3 is %v, want %v", b3.Span, want)
	}
}

// Sources and victims of any kind are told of without a panic, and as the slow enumeration
// does.
func FuzzFind(f *testing.F) {
	f.Add(uint64(1), uint8(3), uint8(5))
	f.Add(uint64(2), uint8(5), uint8(9))
	f.Add(uint64(3), uint8(1), uint8(2))
	all := bands.All(0)
	f.Fuzz(func(t *testing.T, seed uint64, size, order uint8) {
		carriers := draw(rand.New(rand.NewPCG(seed, 0)), all, 1+int(size%5))
		o := 2 + int(order%8)
		if got, want := quickly(carriers, o), slowly(carriers, o); !slices.Equal(got, want) {
			t.Errorf("order %d of %+v:\n%v, want\n%v", o, carriers, got, want)
		}
	})
}
