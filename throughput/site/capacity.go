package site

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
	"spectally/throughput/internal/words"
)

// SectorCapacity is what a sector can carry. Where several are equal, the figures are
// those of one.
type SectorCapacity struct {
	Name             string
	Count            int
	Environment      Environment
	Carriers         []CarrierCapacity
	Downlink, Uplink Capacity
	// Backhaul and Users are those of the sector by itself, without the link of the
	// site.
	Backhaul BackhaulNeed
	Users    Users
}

// In is the capacity in a direction.
func (s *SectorCapacity) In(d bands.Direction) *Capacity {
	if d == bands.Uplink {
		return &s.Uplink
	}
	return &s.Downlink
}

// SiteCapacity is what a site can carry. It is a planning estimate: no licence to
// transmit, and no assessment of exposure to radio waves.
type SiteCapacity struct {
	Name             string
	Sectors          []SectorCapacity
	Downlink, Uplink Capacity
	Backhaul         BackhaulNeed
	Users            Users
	Volume           Volume

	site *Site
}

// In is the capacity in a direction.
func (c *SiteCapacity) In(d bands.Direction) *Capacity {
	if d == bands.Uplink {
		return &c.Uplink
	}
	return &c.Downlink
}

// SectorCount is the number of sectors, equal ones counted one by one.
func (c *SiteCapacity) SectorCount() int {
	n := 0
	for i := range c.Sectors {
		n += c.Sectors[i].Count
	}
	return n
}

// Error says which part of a site a fault is about.
type Error struct {
	Sector, Radio, Carrier int // counted from 1; 0 where the part above is meant as a whole
	Text                   string
	Err                    error
}

// Error writes the error on one line.
func (e *Error) Error() string {
	var parts []string
	for _, p := range [...]struct {
		name  string
		place int
	}{{"sector", e.Sector}, {"radio", e.Radio}, {"carrier", e.Carrier}} {
		if p.place > 0 {
			parts = append(parts, p.name+" "+strconv.Itoa(p.place))
		}
	}
	where := strings.Join(parts, ", ")
	if e.Text != "" {
		where += fmt.Sprintf(" %q", e.Text)
	}
	if where == "" {
		return e.Err.Error()
	}
	return where + ": " + e.Err.Error()
}

// Unwrap returns the fault itself.
func (e *Error) Unwrap() error { return e.Err }

// maxSectors bounds the sectors of a site, equal ones counted one by one.
const maxSectors = 1000

// Plan works out what a site can carry. Errors are of type *Error.
func Plan(site *Site) (*SiteCapacity, error) { return new(Planner).plan(site) }

func (p *Planner) plan(site *Site) (*SiteCapacity, error) {
	if err := site.check(); err != nil {
		return nil, &Error{Err: err}
	}
	out := &SiteCapacity{Name: site.Name, Sectors: make([]SectorCapacity, len(site.Sectors)), site: site}
	for i := range site.Sectors {
		s, err := p.sector(&site.Sectors[i])
		if err != nil {
			err.Sector = i + 1
			return nil, err
		}
		out.Sectors[i] = *s
	}
	if n := out.SectorCount(); n > maxSectors {
		return nil, &Error{Err: &bands.ValueError{Param: "sectors", Got: strconv.Itoa(n), Allowed: "at most " + strconv.Itoa(maxSectors)}}
	}
	for _, d := range bothDirections {
		*out.In(d) = siteSum(out.Sectors, d)
		if m := out.In(d).Full; m.Cmp(maxRate) > 0 {
			return nil, &Error{Err: &bands.ValueError{Param: "mean of the site", Got: m.String() + " bit/s", Allowed: "at most " + maxRate.String() + " bit/s: more than any site carries"}}
		}
	}
	for i := range out.Sectors {
		s := &out.Sectors[i]
		alone := &SiteCapacity{Sectors: []SectorCapacity{*s}, Downlink: s.Downlink, Uplink: s.Uplink}
		backhaul := site.Backhaul
		backhaul.Downlink, backhaul.Uplink = exact.Ratio{}, exact.Ratio{}
		alone.Backhaul = backhaul.need(alone)
		s.Backhaul, s.Users = alone.Backhaul, site.Traffic.users(alone)
	}
	out.Backhaul = site.Backhaul.need(out)
	out.Users = site.Traffic.users(out)
	out.Volume = site.Traffic.volume(out)
	return out, nil
}

func siteSum(sectors []SectorCapacity, d bands.Direction) Capacity {
	var sum Capacity
	for i := range sectors {
		s := sectors[i].In(d)
		for range sectors[i].Count {
			sum.add(s)
		}
		if s.Width == 0 {
			continue
		}
		if s.User.Max.Cmp(sum.User.Max) > 0 {
			sum.User.Max = s.User.Max
		}
		if s.User.Scheduled.Cmp(sum.User.Scheduled) > 0 {
			sum.User.Scheduled = s.User.Scheduled
		}
		if s.User.Schedulable.Cmp(sum.User.Schedulable) > 0 {
			sum.User.Schedulable = s.User.Schedulable
		}
		if sum.Edge.IsZero() || s.Edge.Cmp(sum.Edge) < 0 {
			sum.Edge = s.Edge
		}
	}
	return sum
}

// check refuses shares and rates that no site has.
func (site *Site) check() error {
	if len(site.Sectors) == 0 {
		return &bands.ValueError{Param: "sectors", Got: "0", Allowed: "at least one"}
	}
	t, b := &site.Traffic, &site.Backhaul
	one := exact.Whole(1)
	for _, v := range [...]struct {
		name               string
		value, least, most exact.Ratio
	}{
		{"activity", t.Activity, exact.Of(1, 1000), one},
		{"oversubscription", t.Oversubscription, one, exact.Whole(1000)},
		{"busy-hour share", t.BusyHourShare, exact.Of(1, 24), one}, // at 1/24 no hour is busier than others
		{"rate of a user", t.Rate, minRate, maxRate},
		{"uplink rate of a user", t.UplinkRate, minRate, maxRate},
		{"backhaul link", b.Downlink, minRate, maxRate},
		{"backhaul link in the uplink", b.Uplink, minRate, maxRate},
		{"transport overhead", b.Transport, exact.Whole(0), one},
		{"security overhead", b.Security, exact.Whole(0), one},
	} {
		if v.value.IsZero() {
			continue
		}
		if err := checkFine(v.name, v.value); err != nil {
			return err
		}
		if v.value.Cmp(v.least) < 0 || v.value.Cmp(v.most) > 0 {
			return &bands.ValueError{Param: v.name, Got: v.value.String(), Allowed: v.least.String() + " to " + v.most.String()}
		}
	}
	return nil
}

// checkFine refuses fractions so fine that sums of them could outgrow 63 bits.
func checkFine(name string, r exact.Ratio) error {
	const most = 1_000_000
	if r.Den >= 1 && r.Den <= most {
		return nil
	}
	return &bands.ValueError{Param: name, Got: strconv.FormatInt(r.Num, 10) + "/" + strconv.FormatInt(r.Den, 10), Allowed: "a fraction with a denominator of at most " + strconv.Itoa(most)}
}

// Limits of rates in bit/s.
var minRate, maxRate = exact.Whole(1000), exact.Whole(10_000_000_000_000)

// maxCount bounds the equal sectors of one kind, and the radios of a sector.
const (
	maxCount  = 100
	maxRadios = 100
)

func (p *Planner) sector(s *Sector) (*SectorCapacity, *Error) {
	out := &SectorCapacity{Name: s.Name, Count: s.count(), Environment: s.Environment}
	if s.Count < 0 || s.Count > maxCount {
		return nil, &Error{Err: &bands.ValueError{Param: "equal sectors", Got: strconv.Itoa(s.Count), Allowed: "1 to " + strconv.Itoa(maxCount)}}
	}
	if s.Environment < IndoorHotspot || s.Environment > Rural {
		return nil, &Error{Err: &bands.ValueError{Param: "environment", Got: s.Environment.String(), Allowed: words.List(environmentNames[1:])}}
	}
	for _, load := range [...]exact.Ratio{s.Load, s.UplinkLoad} {
		if load.IsZero() {
			continue
		}
		if err := checkFine("load", load); err != nil {
			return nil, &Error{Err: err}
		}
		if load.Num <= 0 || load.Cmp(exact.Whole(1)) > 0 {
			return nil, &Error{Err: &bands.ValueError{Param: "load", Got: load.String(), Allowed: "above 0, up to 1"}}
		}
	}
	if len(s.Radios) == 0 || len(s.Radios) > maxRadios {
		return nil, &Error{Err: &bands.ValueError{Param: "radios", Got: strconv.Itoa(len(s.Radios)), Allowed: "1 to " + strconv.Itoa(maxRadios)}}
	}
	n := 0
	for i := range s.Radios {
		n += len(s.Radios[i].Carriers)
	}
	out.Carriers = make([]CarrierCapacity, 0, n) // they are large, so the list is not to grow
	all := make(ca.Combination, 0, n)
	for i := range s.Radios {
		r := &s.Radios[i]
		err := r.check()
		if err == nil && len(r.Carriers) == 0 {
			err = &bands.ValueError{Param: "carriers", Got: "0", Allowed: "at least one"}
		}
		if err != nil {
			return nil, &Error{Radio: i + 1, Err: err}
		}
		for k, c := range r.Carriers {
			one, err := p.carrier(s, r, c)
			if err != nil {
				return nil, &Error{Radio: i + 1, Carrier: k + 1, Text: c.String(), Err: err}
			}
			one.Radio = i
			out.Carriers = append(out.Carriers, one)
		}
		all = append(all, r.Carriers...)
	}
	for _, f := range ca.CheckRules(all) {
		if f.Rule == ca.RuleOverlap && f.Severity == ca.Error {
			return nil, &Error{Err: f}
		}
	}
	if err := out.sum(all); err != nil {
		return nil, &Error{Err: err}
	}
	return out, nil
}

// sum adds the carriers up. One phone uses them all in the downlink, and in the
// uplink those on which it transmits by the rules of package ca.
func (s *SectorCapacity) sum(all ca.Combination) error {
	a := ca.Assess(all)
	rates := make([]throughput.CarrierRates, len(all))
	for i := range s.Carriers {
		c := &s.Carriers[i]
		for _, d := range bothDirections {
			l := c.Link(d)
			if l.IsZero() {
				continue
			}
			s.In(d).add(&l.Capacity)
			s.In(d).Edge = s.In(d).Edge.Add(l.Edge)
			if p := &a.Carriers[i]; d == bands.Downlink || p.Transmits || p.Info.Duplex == bands.SUL {
				*rates[i].Link(d) = throughput.Link{Layers: l.UserLayers, QAM: l.QAM, Counted: true, Rates: l.User}
			}
		}
	}
	together, err := throughput.Together(a, rates)
	if err != nil {
		return err
	}
	s.Downlink.User, s.Uplink.User = together.Downlink, together.Uplink
	for i := range s.Carriers {
		for _, d := range bothDirections {
			used := together.Carriers[i].Link(d)
			s.Carriers[i].Link(d).InUser = used.Counted && !used.IsZero()
		}
	}
	return nil
}
