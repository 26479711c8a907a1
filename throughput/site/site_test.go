package site

import (
	"errors"
	"fmt"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
)

func planSite(tb testing.TB, s *Site) *SiteCapacity {
	tb.Helper()
	c, err := Plan(s)
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

// oneRadio is a site of one sector with one radio.
func oneRadio(tb testing.TB, e Environment, ports int, carriers string) *Site {
	return &Site{Name: "site", Sectors: []Sector{{Name: "sector", Environment: e, Radios: []Radio{
		measuredIn(Radio{Carriers: parseCarriers(tb, carriers), TransmitPorts: ports, ReceivePorts: ports})}}}}
}

// drawSite is a site with carriers, ports, loads and links drawn at random.
func drawSite(tb testing.TB, r *rand.Rand) *Site {
	carriers := []string{"n78:100", "n78:40", "B3:20", "B7:10", "n28:10", "n75:20", "n80:20", "n1:20,layers=2", "n258:200", "B40:20", "n41:60,layers=1", "B20:10"}
	ports := []int{1, 2, 4, 8, 16, 32, 64}
	percents := func() exact.Ratio { return exact.Of(1+r.Int64N(100), 100).Reduced() }
	s := &Site{Name: "drawn"}
	for range 1 + r.IntN(3) {
		sector := Sector{Count: r.IntN(4), Environment: Environment(1 + r.IntN(3)), Load: percents(), UplinkLoad: percents()}
		for range 1 + r.IntN(2) {
			text := carriers[r.IntN(len(carriers))]
			if r.IntN(2) == 0 {
				text += " + " + carriers[r.IntN(len(carriers))]
			}
			radio := Radio{Carriers: parseCarriers(tb, text), TransmitPorts: ports[1+r.IntN(len(ports)-1)], ReceivePorts: ports[r.IntN(len(ports))]}
			if r.IntN(4) == 0 {
				radio.Measured = Measured{Downlink: exact.Of(1+r.Int64N(20000), 1000).Reduced(), Origin: "drawn"}
			}
			sector.Radios = append(sector.Radios, measuredIn(radio))
		}
		s.Sectors = append(s.Sectors, sector)
	}
	s.Traffic = Traffic{Rate: exact.Whole(1_000_000 * (1 + r.Int64N(50))), UplinkRate: exact.Whole(500_000 * (1 + r.Int64N(10))), Activity: percents(), Oversubscription: exact.Whole(1 + r.Int64N(40))}
	s.Traffic.BusyHourShare = exact.Of(5+r.Int64N(20), 100).Reduced()
	if r.IntN(2) == 0 {
		s.Backhaul.Downlink = exact.Whole(1_000_000 * (1 + r.Int64N(20000)))
	}
	if r.IntN(2) == 0 {
		s.Backhaul.Transport, s.Backhaul.Security = percents(), percents()
	}
	s.Backhaul.CellPeak = r.IntN(2) == 0
	return s
}

// TestRequiredMean works one sector out by hand: 20 MHz of paired spectrum with 32
// ports in Dense Urban carry 20 MHz times 7.8 and 5.4 bit/s/Hz on average, and 0.225
// and 0.15 at the edge (Report ITU-R M.2410-0, clauses 4.4 and 4.5).
func TestRequiredMean(t *testing.T) {
	c := planSite(t, oneRadio(t, DenseUrban, 32, "n1:20"))
	for _, v := range []struct {
		name      string
		got       exact.Ratio
		wantMbits int64
	}{
		{"downlink", c.Downlink.Mean, 156_000_000}, {"uplink", c.Uplink.Mean, 108_000_000},
		{"downlink edge", c.Downlink.Edge, 4_500_000}, {"uplink edge", c.Uplink.Edge, 3_000_000},
	} {
		if v.got != (exact.Whole(v.wantMbits)) {
			t.Errorf("%s: %v bit/s, want %d", v.name, v.got, v.wantMbits)
		}
	}
	if c.Downlink.Effective != 20*bands.MHz || c.Sectors[0].Carriers[0].Downlink.Bound != BoundSpectrum {
		t.Errorf("%+v", c.Sectors[0].Carriers[0].Downlink)
	}
}

// TestEffectiveBandwidth: in TDD each direction has its share of the bandwidth, and
// guard time neither. DDDSU with S = 11D:1G:2U has 53 and 16 of 70 symbols; with half
// of the guard symbol they are alpha = 0.7643 and 0.2357 of TR 37.910 V1.0.0 clause
// 5.1.1.
func TestEffectiveBandwidth(t *testing.T) {
	c := planSite(t, oneRadio(t, DenseUrban, 32, "n78:100,pattern=DDDSU/11:1:2"))
	l := &c.Sectors[0].Carriers[0]
	if l.Downlink.Share != (exact.Of(53, 70)) || l.Uplink.Share != (exact.Of(8, 35)) {
		t.Errorf("shares %v and %v", l.Downlink.Share, l.Uplink.Share)
	}
	if down, up := l.Downlink.Share.Float()+0.5/70, l.Uplink.Share.Float()+0.5/70; !near(down, 0.7643, 0.00005) || !near(up, 0.2357, 0.00005) {
		t.Errorf("alpha %v and %v", down, up)
	}
	// 100 MHz * 53/70 * 7.8 and 100 MHz * 16/70 * 5.4, to the nearest bit/s.
	if c.Downlink.Mean != (exact.Whole(590_571_429)) || c.Uplink.Mean != (exact.Whole(123_428_571)) {
		t.Errorf("means %v and %v", c.Downlink.Mean, c.Uplink.Mean)
	}
	if c.Downlink.Effective != 75_714_286 {
		t.Errorf("effective bandwidth %d Hz", c.Downlink.Effective)
	}
}

// TestSiteAgreesWithPlainSums draws sites and works their figures out once more, from
// the rates of package throughput and plain rationals.
func TestSiteAgreesWithPlainSums(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	rat := func(v exact.Ratio) *big.Rat { return big.NewRat(v.Num, v.Den) }
	round := func(v *big.Rat) *big.Rat { // to the nearest integer, halves up
		n := new(big.Int).Lsh(v.Num(), 1)
		n.Add(n, v.Denom())
		return new(big.Rat).SetInt(n.Div(n, new(big.Int).Lsh(v.Denom(), 1)))
	}
	mul := func(f ...*big.Rat) *big.Rat {
		p := big.NewRat(1, 1)
		for _, x := range f {
			p.Mul(p, x)
		}
		return p
	}
	for range 150 {
		s := drawSite(t, r)
		c := planSite(t, s)
		for _, d := range bothDirections {
			mean, need := new(big.Rat), new(big.Rat)
			peak := new(big.Rat)
			for i := range s.Sectors {
				sector := &s.Sectors[i]
				load := sector.Load
				if d == bands.Uplink {
					load = sector.UplinkLoad
				}
				n := 0
				for k := range sector.Radios {
					radio := &sector.Radios[k]
					for range radio.Carriers {
						l := c.Sectors[i].Carriers[n].Link(d)
						frame := c.Sectors[i].Carriers[n].Frame
						n++
						if l.IsZero() {
							continue
						}
						e, err := radio.efficiency(Average, sector.Environment, band(t, c.Sectors[i].Carriers[n-1].Carrier.Band.String()), d)
						if err != nil {
							t.Fatal(err)
						}
						full := round(mul(big.NewRat(int64(l.Width), 1), rat(e.Value), rat(frame.Share(d))))
						if top := round(rat(l.Cell.Scheduled)); top.Cmp(full) < 0 {
							full = top
						}
						one := round(mul(full, rat(load)))
						if rat(l.Mean).Cmp(one) != 0 {
							t.Fatalf("%s %s: mean %v, want %v", radio.Carriers, d, l.Mean, one)
						}
						mean.Add(mean, mul(one, big.NewRat(int64(max(sector.Count, 1)), 1)))
					}
				}
				p := c.Sectors[i].In(d).User.Scheduled
				if s.Backhaul.CellPeak {
					p = c.Sectors[i].In(d).Cell.Scheduled
				}
				if p.Den != 0 && rat(p).Cmp(peak) > 0 {
					peak = rat(p)
				}
			}
			if mean.Cmp(new(big.Rat)) == 0 {
				continue
			}
			if rat(c.In(d).Mean).Cmp(mean) != 0 {
				t.Fatalf("%s: mean of the site %v, want %v", d, c.In(d).Mean, mean)
			}
			factor := big.NewRat(11, 10)
			if !s.Backhaul.Transport.IsZero() {
				factor = new(big.Rat).Add(big.NewRat(1, 1), new(big.Rat).Add(rat(s.Backhaul.Transport), rat(s.Backhaul.Security)))
			}
			need = mean
			if peak.Cmp(mean) > 0 {
				need = peak
			}
			need = mul(need, factor)
			b := c.Backhaul.In(d)
			over := new(big.Rat).Sub(rat(b.Need), need)
			if over.Sign() < 0 || over.Cmp(big.NewRat(1, 1)) >= 0 {
				t.Fatalf("%s: need %v, want %v to the next bit", d, b.Need, need)
			}
			// Never below one peak of any sector.
			if rat(b.Need).Cmp(mul(peak, factor)) < 0 {
				t.Fatalf("%s: need %v is below the peak %v", d, b.Need, peak)
			}
			delivered := mean
			if !b.Link.IsZero() {
				if room := mul(rat(b.Link), new(big.Rat).Inv(factor)); room.Cmp(mean) < 0 {
					delivered = new(big.Rat).SetInt(new(big.Int).Quo(room.Num(), room.Denom()))
				}
			}
			if rat(b.Delivered).Cmp(delivered) != 0 || b.FitsMeans != (delivered == mean) || b.Enough != (b.Link.IsZero() || rat(b.Link).Cmp(rat(b.Need)) >= 0) {
				t.Fatalf("%s: %+v, want %v delivered", d, b, delivered)
			}
			// One hour at the mean, in bytes; a day has it as often as the share says.
			hour := mul(delivered, big.NewRat(3600, 8))
			day := mul(hour, new(big.Rat).Inv(rat(s.Traffic.BusyHourShare)))
			for _, v := range []struct {
				got  int64
				want *big.Rat
			}{{*c.Volume.BusyHour.In(d), hour}, {*c.Volume.Day.In(d), day}, {*c.Volume.Month.In(d), mul(day, big.NewRat(30, 1))}} {
				if big.NewRat(v.got, 1).Cmp(round(v.want)) != 0 {
					t.Fatalf("%s: %d bytes, want %v", d, v.got, v.want)
				}
			}
			checkUsers(t, s, c, d, delivered)
		}
	}
}

func checkUsers(t *testing.T, s *Site, c *SiteCapacity, d bands.Direction, delivered *big.Rat) {
	t.Helper()
	rate := s.Traffic.Rate
	if d == bands.Uplink {
		rate = s.Traffic.UplinkRate
	}
	// So many users have the rate and one more has not, and the other direction may
	// hold them down further.
	have := new(big.Rat).Mul(big.NewRat(c.Users.Active, 1), big.NewRat(rate.Num, rate.Den))
	if have.Cmp(delivered) > 0 {
		t.Fatalf("%s: %d users at %v have more than %v", d, c.Users.Active, rate, delivered)
	}
	if c.Users.By != d {
		return
	}
	more := new(big.Rat).Mul(big.NewRat(c.Users.Active+1, 1), big.NewRat(rate.Num, rate.Den))
	if more.Cmp(delivered) <= 0 {
		t.Fatalf("%s: %d users at %v leave room for more in %v", d, c.Users.Active, rate, delivered)
	}
	served := new(big.Rat).Quo(delivered, big.NewRat(rate.Num, rate.Den))
	served.Mul(served, big.NewRat(s.Traffic.Oversubscription.Num, s.Traffic.Oversubscription.Den))
	served.Quo(served, big.NewRat(s.Traffic.Activity.Num, s.Traffic.Activity.Den))
	if want := new(big.Int).Quo(served.Num(), served.Denom()).Int64(); c.Users.Served != want {
		t.Fatalf("%d users served, want %d", c.Users.Served, want)
	}
}

// TestEqualSectors: a site of n equal sectors carries n times what one carries,
// whether they are counted or written out, and the peak of one phone stays.
func TestEqualSectors(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 2))
	for range 40 {
		s := drawSite(t, r)
		s.Sectors, s.Backhaul = s.Sectors[:1], Backhaul{}
		s.Sectors[0].Count = 1
		one := planSite(t, s)
		if one.Sectors[0].Users != one.Users || one.Sectors[0].Backhaul != one.Backhaul {
			t.Fatalf("a site of one sector has %+v and %+v, the sector %+v and %+v", one.Users, one.Backhaul, one.Sectors[0].Users, one.Sectors[0].Backhaul)
		}
		for n := int64(2); n <= 5; n++ {
			counted, written := s.clone(), s.clone()
			counted.Sectors[0].Count = int(n)
			for range n - 1 {
				written.Sectors = append(written.Sectors, s.Sectors[0])
			}
			many := planSite(t, counted)
			if many.SectorCount() != int(n) {
				t.Fatalf("%d sectors", many.SectorCount())
			}
			for _, d := range bothDirections {
				a, b := one.In(d), many.In(d)
				if same := planSite(t, written).In(d); *same != *b {
					t.Fatalf("%s: counted %+v, written out %+v", d, b, same)
				}
				times := func(v exact.Ratio) exact.Ratio {
					if v.IsZero() {
						return v
					}
					return v.Mul(exact.Whole(n))
				}
				if b.Width != a.Width*bands.Frequency(n) || b.Full != times(a.Full) || b.Mean != times(a.Mean) ||
					b.Cell.Max.Cmp(times(a.Cell.Max)) != 0 || b.Cell.Scheduled.Cmp(times(a.Cell.Scheduled)) != 0 || b.User != a.User || b.Edge != a.Edge {
					t.Fatalf("%s: %d sectors carry %+v, one %+v", d, n, b, a)
				}
			}
		}
	}
}

// TestDoubleBandwidth: whatever band has both widths, twice the width carries twice
// the mean at the same efficiency, to the bit/s that both are rounded by.
func TestDoubleBandwidth(t *testing.T) {
	pairs := 0
	for _, b := range append(bands.All(bands.LTE), bands.All(bands.NR)...) {
		if len(b.WidthsIn(bands.Downlink, 0)) == 0 || b.Duplex == bands.SDL {
			continue
		}
		for _, scs := range b.Spacings(0) {
			for _, w := range b.WidthsIn(bands.Downlink, scs) {
				if b.CheckWidth(bands.Downlink, 2*w, scs) != nil || b.CheckWidth(bands.Uplink, 2*w, scs) != nil || b.CheckWidth(bands.Uplink, w, scs) != nil {
					continue
				}
				if b.ID.RAT == bands.LTE && w < 3*bands.MHz || b.IsShared() || b.LicensedAssisted() {
					continue
				}
				text := fmt.Sprintf("%s:%s", b.ID, w.MHz())
				wide := fmt.Sprintf("%s:%s", b.ID, (2 * w).MHz())
				if b.ID.RAT == bands.NR {
					text, wide = text+",scs="+scs.KHz(), wide+",scs="+scs.KHz()
				}
				one, two := planSite(t, oneRadio(t, Rural, 4, text)), planSite(t, oneRadio(t, Rural, 4, wide))
				pairs++
				for _, d := range bothDirections {
					a, c := product(1, one.In(d).Full), product(1, two.In(d).Full)
					if diff := c - 2*a; diff < -1 || diff > 1 {
						t.Errorf("%s %s: %d bit/s, %d with twice the width", text, d, a, c)
					}
				}
			}
		}
	}
	if pairs < 300 {
		t.Errorf("%d pairs of widths", pairs)
	}
}

// TestMorePortsAndLayers: more ports never carry less, more layers over all users
// neither, and the single phone keeps its peak once the ports reach its layers.
func TestMorePortsAndLayers(t *testing.T) {
	for _, text := range []string{"n78:100", "B3:20", "n1:20", "n258:100", "B40:20", "n80:20", "n75:20", "n41:60,layers=1"} {
		for e := IndoorHotspot; e <= Rural; e++ {
			var last *SiteCapacity
			for _, ports := range []int{1, 2, 4, 8, 16, 32, 64, 128} {
				c := planSite(t, oneRadio(t, e, ports, text))
				if last != nil {
					for _, d := range bothDirections {
						if c.In(d).Mean.Cmp(last.In(d).Mean) < 0 || c.In(d).Edge.Cmp(last.In(d).Edge) < 0 || c.In(d).Cell.Scheduled.Cmp(last.In(d).Cell.Scheduled) < 0 || c.In(d).Cell.Max.Cmp(last.In(d).Cell.Max) < 0 {
							t.Errorf("%s, %s, %s: %d ports carry less than fewer", text, e, d, ports)
						}
						if ports > 4 && c.In(d).User != last.In(d).User {
							t.Errorf("%s, %s: %d ports change the peak of one phone", text, d, ports)
						}
					}
				}
				last = c
			}
		}
		for _, d := range bothDirections {
			last := exact.Whole(0)
			for layers := 1; layers <= 64; layers++ {
				s := oneRadio(t, DenseUrban, 64, text)
				s.Sectors[0].Radios[0].Layers, s.Sectors[0].Radios[0].UplinkLayers = layers, layers
				got := planSite(t, s).In(d).Cell.Scheduled
				// Within a hundredth: a transport block size is a step of a table.
				if got.Mul(exact.Of(101, 100)).Cmp(last) < 0 {
					t.Errorf("%s %s: %d layers carry %v, fewer %v", text, d, layers, got, last)
				}
				last = got
			}
		}
	}
}

// TestCellPeakIsSumOfPhones: with as many layers as one phone has the cell has its
// peak, and the maximum goes with the layers.
func TestCellPeakIsSumOfPhones(t *testing.T) {
	for _, text := range []string{"n78:100,layers=4", "n78:100,layers=2", "B3:20,layers=2", "n1:20,layers=1", "n78:100,layers=8"} {
		s := oneRadio(t, DenseUrban, 64, text)
		for _, layers := range []int{1, 2, 3, 4, 8, 10, 16} {
			s.Sectors[0].Radios[0].Layers = layers
			carrier := planSite(t, s).Sectors[0].Carriers[0]
			l := carrier.Downlink
			want := max(layers, l.UserLayers)
			if l.CellLayers != want {
				t.Fatalf("%s: %d layers, want %d", text, l.CellLayers, want)
			}
			if l.CellLayers == l.UserLayers && l.Cell != l.User {
				t.Errorf("%s: the cell has %v, its only phone %v", text, l.Cell, l.User)
			}
			if carrier.Carrier.Band.RAT == bands.NR {
				if got := l.Cell.Max.Mul(exact.Of(int64(l.UserLayers), int64(l.CellLayers))); got.Cmp(l.User.Max) != 0 {
					t.Errorf("%s: maximum of %d layers %v, of %d %v", text, l.CellLayers, l.Cell.Max, l.UserLayers, l.User.Max)
				}
			}
			if l.Cell.Scheduled.Cmp(l.Cell.Max) > 0 {
				t.Errorf("%s: %v is above the maximum %v", text, l.Cell.Scheduled, l.Cell.Max)
			}
		}
	}
}

func TestSiteErrors(t *testing.T) {
	for _, c := range []struct {
		change func(s *Site)
		want   string
	}{
		{func(s *Site) { s.Sectors = nil }, `sectors "0": must be at least one`},
		{func(s *Site) { s.Traffic.Activity = exact.Whole(2) }, `activity "2": must be 1/1000 to 1`},
		{func(s *Site) { s.Traffic.Oversubscription = exact.Of(1, 2) }, `oversubscription "1/2": must be 1 to 1000`},
		{func(s *Site) { s.Traffic.BusyHourShare = exact.Of(1, 25) }, `busy-hour share "1/25": must be 1/24 to 1`},
		{func(s *Site) { s.Traffic.Rate = exact.Whole(999) }, `rate of a user "999": must be 1000 to 10000000000000`},
		{func(s *Site) { s.Backhaul.Uplink = exact.Whole(0) }, `backhaul link in the uplink "0": must be 1000 to 10000000000000`},
		{func(s *Site) { s.Backhaul.Security = exact.Of(-1, 10) }, `security overhead "-1/10": must be 0 to 1`},
		{func(s *Site) { s.Backhaul.Security = exact.Of(1, 1_000_001) }, `security overhead "1/1000001": must be a fraction with a denominator of at most 1000000`},
		{func(s *Site) { s.Traffic.Activity = exact.Of(1, -2) }, `activity "1/-2": must be a fraction with a denominator of at most 1000000`},
		{func(s *Site) { s.Sectors[0].Load = exact.Of(1, 1_000_001) }, `sector 1: load "1/1000001": must be a fraction`},
		{func(s *Site) { s.Sectors[0].Radios[0].Measured.Uplink = exact.Of(1, 1_000_001) }, `sector 1, radio 1: measured efficiency "1/1000001": must be a fraction`},
		{func(s *Site) { s.Sectors[0].Count = 101 }, `sector 1: equal sectors "101": must be 1 to 100`},
		{func(s *Site) { s.Sectors[0].Environment = 0 }, `sector 1: environment "": must be indoor-hotspot, dense-urban, urban or rural`},
		{func(s *Site) { s.Sectors[0].Load = exact.Of(3, 2) }, `sector 1: load "3/2": must be above 0, up to 1`},
		{func(s *Site) { s.Sectors[0].Radios = nil }, `sector 1: radios "0": must be 1 to 100`},
		{func(s *Site) { s.Sectors[0].Radios[0].Carriers = nil }, `sector 1, radio 1: carriers "0": must be at least one`},
		{func(s *Site) { s.Sectors[0].Radios[0].TransmitPorts = 0 }, `sector 1, radio 1: transmit ports "0": must be 1 to 256`},
		{func(s *Site) { s.Sectors[0].Radios[0].ReceivePorts = 257 }, `sector 1, radio 1: receive ports "257": must be 1 to 256`},
		{func(s *Site) { s.Sectors[0].Radios[0].Layers = 5 }, `sector 1, radio 1: downlink layers over all users "5": must be 0 (assumed) or 1 to 4: at most the 4 ports`},
		{func(s *Site) { s.Sectors[0].Radios[0].Measured.Downlink = exact.Whole(201) }, `sector 1, radio 1: measured efficiency "201": must be above zero, up to 200 bit/s/Hz`},
		{func(s *Site) { s.Sectors[0].Radios[0].Measured.TransmitPorts = 999 }, `sector 1, radio 1: ports of the measured efficiency "999": must be 1 to 256`},
		{func(s *Site) { s.Sectors[0].Radios[0].Carriers[0].Layers = 8 }, `sector 1, radio 1, carrier 1 "n78:100,layers=8": downlink layers "8 layers": must be at most the 4 ports of the radio`},
		{func(s *Site) { s.Sectors[0].Radios[0].Carriers[0].Downlink = 35 * bands.MHz }, `sector 1, radio 1, carrier 1 "n78:35/100": n78 downlink width "35 MHz": must be 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90 or 100 MHz; closest is 30 MHz (TS 38.101-1 Table 5.3.5-1)`},
		{func(s *Site) { s.Sectors[0].Radios[0].Carriers[0].Pattern = "XYZ" }, `sector 1, radio 1, carrier 1 "n78:100,pattern=XYZ": TDD pattern "XYZ"`},
	} {
		s := oneRadio(t, DenseUrban, 4, "n78:100")
		c.change(s)
		got, err := Plan(s)
		var e *Error
		if got != nil || !errors.As(err, &e) || len(c.want) > len(err.Error()) || err.Error()[:len(c.want)] != c.want {
			t.Errorf("%v; want %s", err, c.want)
		}
	}
}

func TestParsePorts(t *testing.T) {
	for text, want := range map[string][2]int{"8T8R": {8, 8}, "64t32r": {64, 32}, " 1T2R ": {1, 2}, "256T256R": {256, 256}} {
		if a, b, err := ParsePorts(text); err != nil || [2]int{a, b} != want {
			t.Errorf("%q: %d, %d, %v", text, a, b, err)
		}
	}
	for _, text := range []string{"", "8", "8T", "8R8T", "T8R", "8TR", "0T1R", "257T1R", "1T257R", "+8T8R", "8T-8R", "8T8R8R", "8.0T8R"} {
		if a, b, err := ParsePorts(text); err == nil {
			t.Errorf("%q: %d, %d", text, a, b)
		}
	}
}

// TestSiteUnchanged: working a site out, its variants and its builds leaves the
// description alone, and gives the same twice, also by a planner that remembers, and
// forgets after a few carriers.
func TestSiteUnchanged(t *testing.T) {
	remembering := NewPlanner(7)
	r := rand.New(rand.NewPCG(6, 3))
	opts := cmpopts.EquateComparable(ca.Carrier{}, throughput.Settings{})
	for range 20 {
		s := drawSite(t, r)
		before := s.clone()
		c := planSite(t, s)
		if _, err := c.WhatIf(); err != nil {
			t.Fatal(err)
		}
		if _, err := CompareBuilds(s); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(before, s, opts); diff != "" {
			t.Fatalf("changed: %s", diff)
		}
		again, err := remembering.Plan(s)
		if err != nil {
			t.Fatal(err)
		}
		if again.Downlink != c.Downlink || again.Uplink != c.Uplink || again.Users != c.Users || again.Volume != c.Volume || again.Backhaul != c.Backhaul {
			t.Fatal("worked out twice with different results")
		}
		if len(remembering.kept) > 7 {
			t.Fatalf("%d carriers remembered", len(remembering.kept))
		}
	}
}
