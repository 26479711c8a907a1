package site

import (
	"math/rand/v2"
	"slices"
	"testing"

	"spectally/throughput"
	"spectally/throughput/exact"
)

// changedSite is a copy of a site with a change.
func changedSite(s *Site, change func(s *Site)) *Site {
	c := s.clone()
	change(c)
	return c
}

// drawnSites visits sites drawn at random, with what they carry.
func drawnSites(t *testing.T, seed uint64, n int, visit func(s *Site, c *SiteCapacity)) {
	t.Helper()
	r := rand.New(rand.NewPCG(6, seed))
	for range n {
		s := drawSite(t, r)
		visit(s, planSite(t, s))
	}
}

// TestBackhaulNeed: the link has to carry the peak of every sector by itself, the sum of
// all means, and no more than the larger of them with the overheads, to the next whole
// bit; a need by the peak of the cell is never below one by that of a phone.
func TestBackhaulNeed(t *testing.T) {
	byPeak, byMeans := 0, 0
	drawnSites(t, 11, 120, func(s *Site, c *SiteCapacity) {
		phone := planSite(t, changedSite(s, func(s *Site) { s.Backhaul.CellPeak = false }))
		cell := planSite(t, changedSite(s, func(s *Site) { s.Backhaul.CellPeak = true }))
		for _, d := range bothDirections {
			b := c.Backhaul.In(d)
			largest := c.In(d).Mean.Add(exact.Whole(0))
			for i := range c.Sectors {
				peak := c.Sectors[i].In(d).User.Scheduled
				if s.Backhaul.CellPeak {
					peak = c.Sectors[i].In(d).Cell.Scheduled
				}
				if b.Need.Cmp(peak.Mul(c.Backhaul.Factor)) < 0 || b.Need.Cmp(peak) < 0 {
					t.Fatalf("%s: a need of %v below the peak %v of sector %d", d, b.Need, peak, i+1)
				}
				if own := c.Sectors[i].Backhaul.In(d); own.Need.Cmp(b.Need) > 0 {
					t.Fatalf("%s: sector %d alone needs %v, the site %v", d, i+1, own.Need, b.Need)
				}
				if peak.Cmp(largest) > 0 {
					largest = peak
				}
			}
			if b.ByPeak {
				byPeak++
			} else {
				byMeans++
			}
			full := largest.Mul(c.Backhaul.Factor)
			if b.Need.Cmp(full) < 0 || b.Need.Cmp(full.Add(exact.Whole(1))) >= 0 {
				t.Fatalf("%s: a need of %v for %v with %v", d, b.Need, largest, c.Backhaul.Factor)
			}
			if cell.Backhaul.In(d).Need.Cmp(phone.Backhaul.In(d).Need) < 0 {
				t.Fatalf("%s: the cell needs %v, one phone %v", d, cell.Backhaul.In(d).Need, phone.Backhaul.In(d).Need)
			}
		}
	})
	if byPeak < 50 || byMeans < 20 {
		t.Errorf("%d needs by the peak, %d by the means", byPeak, byMeans)
	}
}

// TestLinkIsMonotonic: a larger link never delivers less and never serves fewer users;
// what is delivered is never above the means nor, with the overheads, above the link.
func TestLinkIsMonotonic(t *testing.T) {
	drawnSites(t, 12, 40, func(s *Site, _ *SiteCapacity) {
		var last *SiteCapacity
		for _, mbits := range []int64{1, 10, 100, 300, 1000, 3000, 10_000, 100_000, 1_000_000} {
			link := exact.Whole(mbits * 1_000_000)
			c := planSite(t, changedSite(s, func(s *Site) { s.Backhaul.Downlink, s.Backhaul.Uplink = link, link }))
			for _, d := range bothDirections {
				b := c.Backhaul.In(d)
				if b.Delivered.Cmp(b.Means) > 0 || b.Delivered.Mul(c.Backhaul.Factor).Cmp(link) > 0 {
					t.Fatalf("%s: %v delivered of %v over %v", d, b.Delivered, b.Means, link)
				}
				if b.FitsMeans != (b.Delivered.Cmp(b.Means) == 0) || b.Enough && !b.FitsMeans {
					t.Fatalf("%s: %+v", d, b)
				}
				if last != nil && (b.Delivered.Cmp(last.Backhaul.In(d).Delivered) < 0 || c.Users.Active < last.Users.Active || c.Users.Served < last.Users.Served) {
					t.Fatalf("%s: %d Mbit/s deliver less than a smaller link", d, mbits)
				}
			}
			last = c
		}
	})
}

// TestOrderAndGrouping: it makes no difference in which order sectors stand, nor whether
// carriers with the same ports belong to one radio or to one each.
func TestOrderAndGrouping(t *testing.T) {
	drawnSites(t, 13, 80, func(s *Site, c *SiteCapacity) {
		reversed := planSite(t, changedSite(s, func(s *Site) { slices.Reverse(s.Sectors) }))
		apart := planSite(t, changedSite(s, func(s *Site) {
			for i := range s.Sectors {
				var radios []Radio
				for _, r := range s.Sectors[i].Radios {
					for k := range r.Carriers {
						one := r
						one.Carriers = r.Carriers[k : k+1]
						radios = append(radios, one)
					}
				}
				s.Sectors[i].Radios = radios
			}
		}))
		for _, other := range []*SiteCapacity{reversed, apart} {
			if other.Downlink != c.Downlink || other.Uplink != c.Uplink || other.Backhaul != c.Backhaul || other.Users != c.Users || other.Volume != c.Volume {
				t.Fatalf("another order: %+v, want %+v", other, c)
			}
		}
	})
}

// TestLoadAndTraffic: half the load carries half the mean, half the rate serves twice the
// active users, and a busy hour with half the share makes a day of twice the data, each
// to the unit that the figures are rounded by; the load changes no peak and no edge.
func TestLoadAndTraffic(t *testing.T) {
	half := exact.Of(1, 2)
	drawnSites(t, 14, 80, func(s *Site, _ *SiteCapacity) {
		s = changedSite(s, func(s *Site) {
			s.Backhaul.Downlink, s.Backhaul.Uplink = exact.Ratio{}, exact.Ratio{}
			s.Traffic.UplinkRate = exact.Ratio{}
		})
		c := planSite(t, s)
		carriers := int64(0)
		for i := range c.Sectors {
			carriers += int64(c.Sectors[i].Count * len(c.Sectors[i].Carriers))
		}
		less := planSite(t, changedSite(s, func(s *Site) {
			for i := range s.Sectors {
				s.Sectors[i].Load, s.Sectors[i].UplinkLoad = s.Sectors[i].Load.Mul(half), s.Sectors[i].UplinkLoad.Mul(half)
			}
		}))
		for _, d := range bothDirections {
			a, b := c.In(d), less.In(d)
			if a.Full != b.Full || a.User != b.User || a.Cell != b.Cell || a.Edge != b.Edge || a.Effective != b.Effective {
				t.Fatalf("%s: the load changes %+v to %+v", d, a, b)
			}
			if diff := product(2, b.Mean.Add(exact.Whole(0))) - product(1, a.Mean.Add(exact.Whole(0))); diff < -carriers || diff > carriers {
				t.Fatalf("%s: %v at half the load, %v at all of it", d, b.Mean, a.Mean)
			}
			if a.Mean.Cmp(a.Full) > 0 || a.Full.Cmp(a.Cell.Scheduled.Add(exact.Whole(carriers))) > 0 {
				t.Fatalf("%s: a mean of %v, %v at full load, a peak of %v", d, a.Mean, a.Full, a.Cell.Scheduled)
			}
		}
		twice := planSite(t, changedSite(s, func(s *Site) { s.Traffic.Rate = s.Traffic.Rate.Mul(exact.Whole(2)) }))
		if twice.Users.Active != c.Users.Active/2 { // floor(floor(x)/2) is floor(x/2)
			t.Fatalf("%d users at twice the rate, %d before", twice.Users.Active, c.Users.Active)
		}
		if c.Users.Served < c.Users.Active { // activity is a share, oversubscription one at least
			t.Fatalf("%+v", c.Users)
		}
		if s.Traffic.BusyHourShare.Cmp(exact.Of(1, 12)) < 0 {
			return
		}
		flat := planSite(t, changedSite(s, func(s *Site) { s.Traffic.BusyHourShare = s.Traffic.BusyHourShare.Mul(half) }))
		for _, d := range bothDirections {
			hour, day, month := *c.Volume.BusyHour.In(d), *c.Volume.Day.In(d), *c.Volume.Month.In(d)
			if diff := *flat.Volume.Day.In(d) - 2*day; diff < -1 || diff > 1 || hour > day {
				t.Fatalf("%s: %d bytes a day at half the share, %d before, %d in the busy hour", d, *flat.Volume.Day.In(d), day, hour)
			}
			if diff := month - 30*day; diff < -15 || diff > 15 {
				t.Fatalf("%s: %d bytes a month, %d a day", d, month, day)
			}
		}
	})
}

// TestAnotherSectorAdds: a site with one sector more carries what both carry, and neither
// its need nor its users fall.
func TestAnotherSectorAdds(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 15))
	for range 60 {
		a, b := drawSite(t, r), drawSite(t, r)
		a.Backhaul.Downlink, a.Backhaul.Uplink = exact.Ratio{}, exact.Ratio{}
		b.Traffic, b.Backhaul = a.Traffic, a.Backhaul
		one, other := planSite(t, a), planSite(t, b)
		both := planSite(t, changedSite(a, func(s *Site) { s.Sectors = append(s.Sectors, b.Sectors...) }))
		for _, d := range bothDirections {
			x, y, sum := one.In(d), other.In(d), both.In(d)
			if sum.Width != x.Width+y.Width || sum.Effective != x.Effective+y.Effective ||
				sum.Mean.Cmp(x.Mean.Add(y.Mean)) != 0 || sum.Full.Cmp(x.Full.Add(y.Full)) != 0 ||
				sum.Cell.Max.Cmp(x.Cell.Max.Add(y.Cell.Max)) != 0 || sum.Cell.Scheduled.Cmp(x.Cell.Scheduled.Add(y.Cell.Scheduled)) != 0 {
				t.Fatalf("%s: %+v and %+v are %+v", d, x, y, sum)
			}
			if need := both.Backhaul.In(d).Need; need.Cmp(one.Backhaul.In(d).Need) < 0 || need.Cmp(other.Backhaul.In(d).Need) < 0 {
				t.Fatalf("%s: both need %v", d, need)
			}
		}
		if both.Users.Active < max(one.Users.Active, other.Users.Active) {
			t.Fatalf("%d users of both, %d and %d of each", both.Users.Active, one.Users.Active, other.Users.Active)
		}
	}
}

// TestBestAndWorstSector: the peak of one phone at a site is that of its best sector, the
// rate at the cell edge that of its worst, wherever they stand.
func TestBestAndWorstSector(t *testing.T) {
	differ := 0
	drawnSites(t, 16, 80, func(_ *Site, c *SiteCapacity) {
		for _, d := range bothDirections {
			var best throughput.Rates
			worst := exact.Ratio{}
			for i := range c.Sectors {
				s := c.Sectors[i].In(d)
				if s.Width == 0 {
					continue
				}
				if best.Max.IsZero() || s.User.Max.Cmp(best.Max) > 0 {
					best.Max = s.User.Max
				}
				if best.Scheduled.IsZero() || s.User.Scheduled.Cmp(best.Scheduled) > 0 {
					best.Scheduled = s.User.Scheduled
				}
				if best.Schedulable.IsZero() || s.User.Schedulable.Cmp(best.Schedulable) > 0 {
					best.Schedulable = s.User.Schedulable
				}
				if !worst.IsZero() && s.Edge != worst {
					differ++
				}
				if worst.IsZero() || s.Edge.Cmp(worst) < 0 {
					worst = s.Edge
				}
			}
			if got := c.In(d); got.User != best || got.Edge != worst {
				t.Fatalf("%s: peak %v and edge %v, want %v and %v", d, got.User, got.Edge, best, worst)
			}
		}
	})
	if differ < 40 {
		t.Errorf("%d sites with different edges", differ)
	}
}

// TestPlannerTellsCarriersApart: a planner that remembers a carrier does not mistake it
// for the same one with other ports, layers, loads, surroundings or measured figures.
func TestPlannerTellsCarriersApart(t *testing.T) {
	base := oneRadio(t, DenseUrban, 8, "n78:100")
	base.Sectors[0].Load, base.Sectors[0].UplinkLoad = exact.Of(1, 2), exact.Of(1, 3)
	radio := func(change func(r *Radio)) func(s *Site) {
		return func(s *Site) { change(&s.Sectors[0].Radios[0]) }
	}
	changes := []func(s *Site){
		func(*Site) {},
		radio(func(r *Radio) { r.TransmitPorts = 32 }),
		radio(func(r *Radio) { r.ReceivePorts = 32 }),
		radio(func(r *Radio) { r.Layers = 8 }),
		radio(func(r *Radio) { r.UplinkLayers = 8 }),
		radio(func(r *Radio) { r.Measured = Measured{Downlink: exact.Whole(3), Origin: "counters"} }),
		radio(func(r *Radio) { r.Measured = Measured{UplinkEdge: exact.Of(1, 10), Origin: "counters"} }),
		radio(func(r *Radio) {
			r.Measured = Measured{Downlink: exact.Whole(3), Origin: "counters", TransmitPorts: 4}
		}),
		radio(func(r *Radio) { r.Carriers[0].Layers = 2 }),
		func(s *Site) { s.Sectors[0].Load = exact.Of(1, 4) },
		func(s *Site) { s.Sectors[0].UplinkLoad = exact.Of(1, 4) },
		func(s *Site) { s.Sectors[0].Environment = Rural },
	}
	p := NewPlanner(100)
	for range 2 {
		for i, change := range changes {
			s := changedSite(base, change)
			want := planSite(t, s)
			got, err := p.Plan(s)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range bothDirections {
				if *got.In(d) != *want.In(d) || *got.Sectors[0].Carriers[0].Link(d) != *want.Sectors[0].Carriers[0].Link(d) {
					t.Errorf("change %d, %s: %+v, want %+v", i, d, got.In(d), want.In(d))
				}
			}
		}
	}
	if len(p.kept) != len(changes) {
		t.Errorf("%d carriers remembered, %d are different", len(p.kept), len(changes))
	}
	if _, err := p.Plan(oneRadio(t, DenseUrban, 8, "n78:35")); err == nil {
		t.Error("a width that the band lacks is taken")
	}
}

// TestMeanOfWorkedSite works a site of three layers of spectrum out by hand with the
// averages of Report ITU-R M.2410-0 clause 4.5 (32 ports) alone: n1, 20 MHz paired, and
// n78, 100 MHz with DDDSU 11:1:2 of TR 37.910 (53 and 16 of 70 symbols), Rural 3.3 and
// 1.6 bit/s/Hz, at 60 and 40 % load.
func TestMeanOfWorkedSite(t *testing.T) {
	s := oneRadio(t, Rural, 32, "n1:20 + n78:100,pattern=DDDSU/11:1:2")
	s.Sectors[0].Count, s.Sectors[0].Load, s.Sectors[0].UplinkLoad = 3, exact.Of(3, 5), exact.Of(2, 5)
	c := planSite(t, s)
	// n1: 20e6 * 3.3 = 66 Mbit/s; n78: 100e6 * 53/70 * 3.3 = 249,857,143; 60 % of each are
	// 39,600,000 and 149,914,286 (halves up). Uplink: 32 Mbit/s and 100e6 * 16/70 * 1.6 =
	// 36,571,429; 40 % are 12,800,000 and 14,628,572.
	if want := int64(3 * (39_600_000 + 149_914_286)); c.Downlink.Mean != (exact.Whole(want)) {
		t.Errorf("downlink %v, want %d", c.Downlink.Mean, want)
	}
	if want := int64(3 * (12_800_000 + 14_628_572)); c.Uplink.Mean != (exact.Whole(want)) {
		t.Errorf("uplink %v, want %d", c.Uplink.Mean, want)
	}
	// 568,542,858 bit/s over an hour are 255,844,286,100 byte; a day has that 100/7 times.
	if c.Volume.BusyHour.Downlink != 255_844_286_100 || c.Volume.Day.Downlink != 3_654_918_372_857 || c.Volume.Month.Downlink != 109_647_551_185_714 {
		t.Errorf("%+v", c.Volume)
	}
}

// BenchmarkPlanner plans a site whose carriers were planned before.
func BenchmarkPlanner(b *testing.B) {
	s := oneRadio(b, DenseUrban, 32, "n78:100 + B3:20 + n28:10")
	s.Sectors[0].Count = 3
	p := NewPlanner(16)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Plan(s); err != nil {
			b.Fatal(err)
		}
	}
}
