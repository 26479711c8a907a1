package site

import (
	"spectally/bands"
	"spectally/throughput/exact"
)

// BackhaulNeed is what the link of a site has to carry: the larger of one sector's
// peak and the sum of the means, with overheads (common practice, no source). It is
// never below one peak.
type BackhaulNeed struct {
	Downlink, Uplink BackhaulLink
	// Factor is what goes over the link for each bit of user data.
	Factor exact.Ratio
}

// BackhaulLink is the need in one direction, in bit/s.
type BackhaulLink struct {
	Peak  exact.Ratio // of the sector with the highest, of user data
	Means exact.Ratio // of all sectors in the busy hour, of user data
	// ByPeak tells that the peak is the larger.
	ByPeak bool
	Need   exact.Ratio // the larger with overheads, to the next whole bit
	Link   exact.Ratio // what there is; not given where it is unknown
	// Enough tells that the link carries the need; FitsMeans that it carries the means
	// at least. Both hold where the link is unknown.
	Enough, FitsMeans bool
	// Delivered is the part of the means that the link lets through, of user data.
	Delivered exact.Ratio
}

// In is the need in a direction.
func (b *BackhaulNeed) In(d bands.Direction) *BackhaulLink {
	if d == bands.Uplink {
		return &b.Uplink
	}
	return &b.Downlink
}

func (b *Backhaul) need(c *SiteCapacity) BackhaulNeed {
	out := BackhaulNeed{Factor: b.factor()}
	for _, d := range bothDirections {
		l := out.In(d)
		*l = BackhaulLink{Peak: exact.Whole(0), Means: c.In(d).Mean.Add(exact.Whole(0)), Link: b.link(d), Enough: true, FitsMeans: true}
		for i := range c.Sectors {
			peak := c.Sectors[i].In(d).User.Scheduled
			if b.CellPeak {
				peak = c.Sectors[i].In(d).Cell.Scheduled
			}
			if peak.Cmp(l.Peak) > 0 {
				l.Peak = peak
			}
		}
		larger := l.Means
		if l.Peak.Cmp(l.Means) > 0 {
			larger, l.ByPeak = l.Peak, true
		}
		l.Need = exact.Whole(ceiling(larger, out.Factor))
		l.Delivered = l.Means
		if l.Link.IsZero() {
			continue
		}
		l.Enough = l.Link.Cmp(l.Need) >= 0
		if room := (exact.Whole(wholes(l.Link, exact.Of(out.Factor.Den, out.Factor.Num)))); room.Cmp(l.Means) < 0 {
			l.FitsMeans, l.Delivered = false, room
		}
	}
	return out
}
