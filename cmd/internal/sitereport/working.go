package sitereport

import (
	"fmt"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput/exact"
	"spectally/throughput/propagation"
	"spectally/throughput/site"
)

// working shows how the figures came about, carrier by carrier and then for the site.
// How the peak of a carrier comes about is for the command throughput to show.
func (s *study) working() render.Working {
	var steps render.Working
	for i := range s.capacity.Sectors {
		s.links(i, func(c *site.CarrierCapacity, d bands.Direction, l *site.LinkCapacity) {
			steps = append(steps, s.efficiencySteps(i, c, d, l)...)
			steps = append(steps, s.linkSteps(i, c, d, l)...)
		})
		s.sums(i, func(d bands.Direction, c *site.Capacity) {
			if c.User.Scheduled.Num > 0 {
				steps = append(steps, s.phoneStep(i, d))
			}
		})
	}
	for _, d := range directions {
		if s.capacity.In(d).Width > 0 {
			steps = append(steps, s.sumStep(d), s.backhaulStep(d))
		}
	}
	steps = append(steps, s.userSteps()...)
	for _, d := range directions {
		if s.capacity.In(d).Width > 0 {
			steps = append(steps, s.volumeStep(d))
		}
	}
	for i := range s.reaches {
		steps = append(steps, s.reachSteps(&s.reaches[i])...)
	}
	return steps
}

func (s *study) linkSteps(i int, c *site.CarrierCapacity, d bands.Direction, l *site.LinkCapacity) render.Working {
	name := s.SectorName(i) + ", " + carrierName(&c.Carrier) + " " + d.String()
	load := s.loadOf(i, d)
	mean := render.Step{
		Name:    name + ": mean of the busy hour",
		Formula: "mean = bandwidth × share of time × average efficiency × load",
		Numbers: fmt.Sprintf("%s MHz × %s × %s bit/s/Hz × %s", l.Width.MHz(), l.Share, decimals(l.Average.Value, 1, 6), decimals(load, 1, 6)),
		Result:  string(mbps(l.Mean)) + " Mbit/s",
		Source:  clauseAverage,
	}
	if l.Bound == site.BoundLayers {
		mean.Formula = "mean = min(bandwidth × share of time × average efficiency, scheduled peak of the cell) × load"
		mean.Numbers = fmt.Sprintf("min(%s MHz × %s × %s bit/s/Hz, %s Mbit/s) × %s", l.Width.MHz(), l.Share, decimals(l.Average.Value, 1, 6), mbps(l.Cell.Scheduled), decimals(load, 1, 6))
	}
	return render.Working{mean, {
		Name:    name + ": rate at the cell edge",
		Formula: "edge = bandwidth × share of time × 5th percentile of the efficiency",
		Numbers: fmt.Sprintf("%s MHz × %s × %s bit/s/Hz", l.Width.MHz(), l.Share, decimals(l.AtEdge.Value, 1, 6)),
		Result:  string(mbps(l.Edge)) + " Mbit/s",
		Source:  clauseEdge,
	}}
}

func (s *study) sumStep(d bands.Direction) render.Step {
	numbers := ""
	for i := range s.capacity.Sectors {
		c := &s.capacity.Sectors[i]
		if c.In(d).Width == 0 {
			continue
		}
		if numbers != "" {
			numbers += " + "
		}
		if c.Count > 1 {
			numbers += itoa(c.Count) + " × "
		}
		numbers += string(mbps(c.In(d).Mean))
	}
	return render.Step{
		Name:    "the site " + d.String() + ": mean of the busy hour",
		Formula: "mean of the site = sum over the sectors",
		Numbers: numbers,
		Result:  string(mbps(s.capacity.In(d).Mean)) + " Mbit/s",
	}
}

func (s *study) backhaulStep(d bands.Direction) render.Step {
	b := s.capacity.Backhaul.In(d)
	return render.Step{
		Name:    "backhaul " + d.String() + ": need",
		Formula: "need = max(peak of one sector, sum of the means) × (1 + transport + security)",
		Numbers: fmt.Sprintf("max(%s, %s) × %s", mbps(b.Peak), mbps(b.Means), decimals(s.capacity.Backhaul.Factor, 1, 6)),
		Result:  string(mbps(b.Need)) + " Mbit/s",
	}
}

func (s *study) userSteps() render.Working {
	u, t := &s.capacity.Users, &s.Site.Traffic
	if !u.Given {
		return nil
	}
	rate := t.Rate
	if u.By == bands.Uplink {
		rate = t.UplinkRate
	}
	one := exact.Whole(1)
	activity, times := t.Activity, t.Oversubscription
	if activity.IsZero() {
		activity = one
	}
	if times.IsZero() {
		times = one
	}
	through := mbps(s.capacity.Backhaul.In(u.By).Delivered)
	return render.Working{{
		Name:    "users active at once, by the " + u.By.String(),
		Formula: "active = floor(what the link carries / rate of a user)",
		Numbers: fmt.Sprintf("floor(%s / %s)", through, mbps(rate)),
		Result:  itoa(int(u.Active)),
	}, {
		Name:    "users served, by the " + u.By.String(),
		Formula: "served = floor(what the link carries / rate of a user × oversubscription / activity)",
		Numbers: fmt.Sprintf("floor(%s / %s × %s / %s)", through, mbps(rate), decimals(times, 1, 6), decimals(activity, 1, 6)),
		Result:  itoa(int(u.Served)),
	}}
}

func (s *study) volumeStep(d bands.Direction) render.Step {
	v := &s.capacity.Volume
	return render.Step{
		Name:    "data of a day, " + d.String(),
		Formula: "day = what the link carries × 3600 s / 8 / share of the busy hour",
		Numbers: fmt.Sprintf("%s Mbit/s × 3600 s / 8 / %s", mbps(s.capacity.Backhaul.In(d).Delivered), decimals(v.Share, 1, 6)),
		Result:  bytesText(*v.Day.In(d)) + " GB",
	}
}

func (s *study) reachSteps(r *reach) render.Working {
	name := carrierName(&r.carrier) + " of " + r.sectors[0]
	var steps render.Working
	for _, d := range directions {
		l, has := &r.Downlink, r.HasDownlink
		if d == bands.Uplink {
			l, has = &r.Uplink, r.HasUplink
		}
		if !has {
			continue
		}
		steps = append(steps, render.Step{
			Name:    name + " " + d.String() + ": path loss at most, and range",
			Formula: "path loss = coupling loss + antenna gain − entry loss − margin",
			Numbers: fmt.Sprintf("%s + %s − %s − %s", level(l.MaxCouplingLoss), level(r.emission.Gain), level(r.Entry.DB()), level(r.Margin)),
			Result:  reachText(l),
			Source:  clausePathModels,
		})
	}
	steps = append(steps, requiredSteps(r)...)
	if r.HasRSRP {
		steps = append(steps, render.Step{
			Name:    name + ": RSRP at " + string(trimmed(s.Coverage.Path.Distance, 1)) + " m",
			Formula: "RSRP = power + gain − 10 log(12 × N_RB) − path loss − entry loss",
			Numbers: fmt.Sprintf("%s + %s − 10 log(12 × %d) − %s − %s", level(r.emission.Power), level(r.emission.Gain), r.blocks, level(r.At.DB), level(r.Entry.DB())),
			Result:  string(level(r.RSRP)) + " dBm",
			Source:  render.Source(r.At.Source),
		})
	}
	return steps
}

func reachText(l *propagation.Reach) string {
	if l.Range == 0 {
		return "outside the model"
	}
	return string(level(l.MaxPathLoss)) + " dB, " + string(trimmed(l.Range, 0)) + " m"
}
