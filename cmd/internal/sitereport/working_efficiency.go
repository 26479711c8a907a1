package sitereport

import (
	"fmt"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput/exact"
	"spectally/throughput/site"
)

// efficiencySteps show how an efficiency follows that is neither published nor measured
// as it stands.
func (s *study) efficiencySteps(i int, c *site.CarrierCapacity, d bands.Direction, l *site.LinkCapacity) render.Working {
	var steps render.Working
	for _, k := range [...]struct {
		kind site.EfficiencyKind
		name string
		e    *site.Efficiency
		own  exact.Ratio
	}{
		{site.Average, "average efficiency", &l.Average, measured(s.radioOf(i, c), site.Average, d)},
		{site.CellEdge, "5th percentile of the efficiency", &l.AtEdge, measured(s.radioOf(i, c), site.CellEdge, d)},
	} {
		radio := s.radioOf(i, c)
		step := render.Step{
			Name:   s.SectorName(i) + ", " + carrierName(&c.Carrier) + " " + d.String() + ": " + k.name + " with " + counted(radio.Ports(d), "port"),
			Result: string(decimals(k.e.Value, 1, 6)) + " bit/s/Hz",
			Source: render.Source(k.e.Source),
		}
		environment := s.Site.Sectors[i].Environment
		info, err := bands.Lookup(c.Carrier.Band)
		if err != nil {
			continue
		}
		switch k.e.Basis {
		case site.BasisBetween, site.BasisBelow:
			small, large := published(k.kind, environment)
			if large.Ports == 0 {
				continue // it goes as another environment does, which its assumption says
			}
			step.Formula = "efficiency = few × (many / few)^(log(ports / few ports) / log(many ports / few ports)), published for few and many ports"
			step.Numbers = fmt.Sprintf("%[1]s × (%[2]s / %[1]s)^(log(%[3]d / %[4]d) / log(%[5]d / %[4]d))", decimals(in(&small, d), 1, 6), decimals(in(&large, d), 1, 6), radio.Ports(d), small.Ports, large.Ports)
		case site.BasisScaled:
			from := radio.Measured.TransmitPorts
			if d == bands.Uplink {
				from = radio.Measured.ReceivePorts
			}
			here, errHere := site.SpectralEfficiency(k.kind, environment, info, d, radio.Ports(d))
			there, errThere := site.SpectralEfficiency(k.kind, environment, info, d, from)
			if errHere != nil || errThere != nil {
				continue
			}
			step.Formula = "efficiency = measured × published with these ports / published with the ports of the measurement"
			step.Numbers = fmt.Sprintf("%s × %s / %s", decimals(k.own, 1, 6), decimals(here.Value, 1, 6), decimals(there.Value, 1, 6))
		default:
			continue
		}
		steps = append(steps, step)
	}
	return steps
}

// published are the values that are published for few and for many ports.
func published(k site.EfficiencyKind, e site.Environment) (small, large site.PublishedEfficiency) {
	for _, p := range site.PublishedEfficiencies() {
		switch {
		case p.Kind != k || p.Environment != e:
		case small.Ports == 0 || p.Ports < small.Ports:
			small, large = p, small
		default:
			large = p
		}
	}
	return small, large
}

func in(p *site.PublishedEfficiency, d bands.Direction) exact.Ratio {
	if d == bands.Uplink {
		return p.Uplink
	}
	return p.Downlink
}

// measured is the planner's own figure; not given where there is none.
func measured(r *site.Radio, k site.EfficiencyKind, d bands.Direction) exact.Ratio {
	m := &r.Measured
	switch {
	case d == bands.Downlink && k == site.Average:
		return m.Downlink
	case d == bands.Downlink:
		return m.DownlinkEdge
	case k == site.Average:
		return m.Uplink
	}
	return m.UplinkEdge
}

// phoneStep adds up what one phone has of the carriers of a sector.
func (s *study) phoneStep(i int, d bands.Direction) render.Step {
	numbers := ""
	s.links(i, func(_ *site.CarrierCapacity, of bands.Direction, l *site.LinkCapacity) {
		if of != d || !l.InUser {
			return
		}
		if numbers != "" {
			numbers += " + "
		}
		numbers += string(mbps(l.User.Scheduled))
	})
	return render.Step{
		Name:    s.SectorName(i) + " " + d.String() + ": scheduled peak of one phone",
		Formula: "peak = sum over the carriers that it uses at once",
		Numbers: numbers,
		Result:  string(mbps(s.capacity.Sectors[i].In(d).User.Scheduled)) + " Mbit/s",
	}
}
