package sitereport

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/propagation"
)

// reach is how far a carrier reaches with what its radio sends.
type reach struct {
	sectors []string // that send it so
	carrier ca.Carrier
	blocks  int // resource blocks in the downlink
	propagation.CarrierCoverage
	emission propagation.Emission
	// bandAlone is how far it would reach for each metre of the first carrier if
	// nothing but the frequency differed; 0 where the model does not tell.
	bandAlone float64
}

// reach works out the coverage of each different carrier of the plan.
func (s *study) reach() error {
	if s.Coverage == nil {
		return nil
	}
	type key struct {
		carrier  ca.Carrier
		emission propagation.Emission
	}
	place := make(map[key]int)
	for i := range s.Site.Sectors {
		for k := range s.Site.Sectors[i].Radios {
			emission := s.Radios[i][k].Emission
			for _, c := range s.Site.Sectors[i].Radios[k].Carriers {
				c.PCI, c.HasPCI = 0, false
				name := s.SectorName(i)
				if at, ok := place[key{c, emission}]; ok {
					if of := &s.reaches[at].sectors; (*of)[len(*of)-1] != name {
						*of = append(*of, name)
					}
					continue
				}
				place[key{c, emission}] = len(s.reaches)
				one := reach{sectors: []string{name}, carrier: c, emission: emission}
				if err := s.reachOf(&one); err != nil {
					return err
				}
				s.reaches = append(s.reaches, one)
			}
		}
	}
	return nil
}

// reachOf works out one carrier beside the first, with which it is compared.
func (s *study) reachOf(r *reach) error {
	pair, emissions := ca.Combination{r.carrier}, []propagation.Emission{r.emission}
	if len(s.reaches) > 0 {
		first := &s.reaches[0]
		pair, emissions = ca.Combination{first.carrier, r.carrier}, []propagation.Emission{first.emission, r.emission}
	}
	list, err := s.Coverage.Reaches(pair, emissions)
	if err != nil {
		return err
	}
	r.CarrierCoverage = list[len(list)-1]
	r.blocks = ca.Assess(ca.Combination{r.carrier}).Carriers[0].Blocks(bands.Downlink)
	if len(s.reaches) == 0 {
		r.bandAlone = r.RelativeRange
		return nil
	}
	first := &s.reaches[0]
	if first.HasDownlink && r.HasDownlink {
		path := s.Coverage.Path
		path.Frequency = r.Frequency
		if alone, err := path.RelativeRange(first.Frequency, first.Downlink.MaxPathLoss); err == nil {
			r.bandAlone = alone
		}
	}
	return nil
}

// extrapolations are what is outside the validity of the models, each once.
func (r *reach) extrapolations() []string {
	var list []string
	seen := make(map[string]bool)
	add := func(beyond []*bands.ValueError) {
		for _, e := range beyond {
			if text := e.Error(); !seen[text] {
				seen[text] = true
				list = append(list, text)
			}
		}
	}
	for _, l := range r.links() {
		add(l.Beyond)
	}
	add(r.At.Beyond)
	return list
}

// links are how far the carrier reaches in each direction and by each kind of ends.
func (r *reach) links() []*propagation.Reach {
	list := []*propagation.Reach{&r.Downlink, &r.Uplink}
	r.eachRequired(func(_ bands.Direction, l *propagation.RequiredLink) { list = append(list, &l.Reach) })
	return list
}
