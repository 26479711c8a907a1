package ca

import "slices"

// seeker finds in the lists the configurations that carriers can form. Where carriers
// have no place there can be more names than can be looked up one by one; the listed
// ones among them are found by asking of every configuration with their bands whether
// the carriers fit it. That search is never cut short: what is listed bounds it.
type seeker struct {
	*Assessment
	slots    []int
	as90     bool
	carriers int // in the downlink
	fitters  []*fitter
	ways     map[fitKey][][]BlockWidths
	layouts  map[fitKey][][]Class
}

// fitKey names sub-blocks of the carriers of a band.
type fitKey struct {
	group  int
	blocks string
}

func (a *Assessment) seeker() *seeker {
	s := &seeker{Assessment: a, ways: map[fitKey][][]BlockWidths{}, layouts: map[fitKey][][]Class{}}
	for i := range a.Groups {
		id := a.Groups[i].Band.ID
		if id == bandN90 {
			id, s.as90 = bandN41, true
		}
		s.slots = append(s.slots, bandSlot(id))
		if !supplementary(id) {
			s.carriers += a.Groups[i].Count()
		}
		s.fitters = append(s.fitters, a.fitter(i))
	}
	return s
}

// waysIn lists the ways in which the carriers of a group make sub-blocks.
func (s *seeker) waysIn(group int, blocks []Class) [][]BlockWidths {
	key := fitKey{group, classKey(blocks)}
	ways, known := s.ways[key]
	if !known {
		ways = s.fitters[group].ways(blocks)
		s.ways[key] = ways
	}
	return ways
}

// layoutsIn lists the sub-blocks that the carriers of a group can make of those of a
// configuration.
func (s *seeker) layoutsIn(group int, blocks []Class) [][]Class {
	key := fitKey{group, classKey(blocks)}
	layouts, known := s.layouts[key]
	if !known {
		layouts = s.fitters[group].layouts(blocks)
		s.layouts[key] = layouts
	}
	return layouts
}

// component returns the component of a shape for the carriers of a group.
func (s *seeker) component(have *shape, group int) *Component {
	id := s.Groups[group].Band.ID
	if id == bandN90 {
		id = bandN41
	}
	return have.component(id)
}

// form makes a form of a name with sub-blocks in every band.
func (s *seeker) form(n Name, components []Component) Form {
	f := Form{Name: n, Ways: []Widths{{Lower: s.lower()}}}
	for i, c := range components {
		var ways []Widths
		for _, way := range s.waysIn(i, c.Blocks) {
			for _, w := range f.Ways {
				w.Components = append(slices.Clip(w.Components), way)
				ways = append(ways, w)
			}
		}
		f.Ways = ways
	}
	return f
}

// CanForm tells whether the carriers can form a configuration, or what is left of it
// when carriers are left out; whether it is listed is no matter.
func (a *Assessment) CanForm(n Name) bool {
	if n.IsZero() || slices.ContainsFunc(a.Carriers, func(p Placed) bool { return p.Info == nil }) {
		return false
	}
	s := a.seeker()
	have, _ := shapeIn41(n)
	return !s.leftOf(&have, func(m Name, _ []Component) bool { return !n.FallsBackTo(m) })
}

// listed returns the forms of a kind that are listed as they are, those with fewer
// sub-blocks first and else as the tables list them.
func (s *seeker) listed(kind Kind) []Form {
	f := familyOf(kind)
	if f == nil {
		return nil
	}
	l := f.with(bandFilter{slots: s.slots})
	var forms []Form
	a := &Assessment{Carriers: s.Carriers, Groups: s.Groups, Kind: kind}
	var buffer shapeBuffer
	l.withBands(s.slots, func(e *entry) bool {
		if int(e.carriers) != s.carriers || e.kind != kind || l.byName[e.name] != e {
			return int(e.carriers) <= s.carriers
		}
		have := buffer.read(e)
		if len(have.components) != len(s.Groups) {
			return true
		}
		components := make([]Component, len(s.Groups))
		for i := range s.Groups {
			blocks := slices.Clone(s.component(&have, i).Blocks)
			slices.SortFunc(blocks, Class.compare)
			if len(s.waysIn(i, blocks)) == 0 {
				return true
			}
			components[i] = Component{Band: s.Groups[i].Band.ID, Blocks: blocks}
		}
		if n := (Configuration{e, s.as90}).Name(); slices.Contains(a.names(components), n) {
			forms = append(forms, s.form(n, components))
		}
		return true
	})
	slices.SortStableFunc(forms, func(x, y Form) int { return x.blocks() - y.blocks() })
	return forms
}

// blocks is the number of sub-blocks of the form.
func (f *Form) blocks() int {
	n := 0
	for _, list := range f.Ways[0].Components {
		n += len(list)
	}
	return n
}

// brought visits the forms to which listed configurations fall back, each once, those
// of configurations with fewer carriers first, until visit returns false.
func (s *seeker) brought(visit func(Form) bool) {
	seen := map[Name]bool{}
	var buffer shapeBuffer
	on := true
	for _, f := range covering(s.Kind) {
		f.with(bandFilter{slots: s.slots}).withBands(s.slots, func(e *entry) bool {
			if int(e.carriers) < s.carriers || !coversKind(e.kind, s.Kind) || !(Configuration{e, s.as90}).hasName() {
				return true
			}
			have := buffer.read(e)
			on = s.leftOf(&have, func(n Name, components []Component) bool {
				if seen[n] {
					return true
				}
				seen[n] = true
				return visit(s.form(n, components))
			})
			return on
		})
		if !on {
			return
		}
	}
}

// leftOf visits the names that the carriers can form and to which a configuration falls
// back, with the sub-blocks in every band, until visit returns false; it returns false
// then.
func (s *seeker) leftOf(have *shape, visit func(Name, []Component) bool) bool {
	layouts := make([][][]Class, len(s.Groups))
	for i := range s.Groups {
		c := s.component(have, i)
		if c == nil {
			return true
		}
		if layouts[i] = s.layoutsIn(i, c.Blocks); len(layouts[i]) == 0 {
			return true
		}
	}
	return s.combine(layouts, func(components []Component) bool {
		for _, n := range s.names(components) {
			if want, _ := shapeIn41(n); have.covers(&want) && !visit(n, components) {
				return false
			}
		}
		return true
	})
}

// combine visits every choice of one layout in each band.
func (s *seeker) combine(layouts [][][]Class, visit func([]Component) bool) bool {
	components := make([]Component, len(layouts))
	var next func(i int) bool
	next = func(i int) bool {
		if i == len(layouts) {
			return visit(components)
		}
		for _, blocks := range layouts[i] {
			components[i] = Component{Band: s.Groups[i].Band.ID, Blocks: blocks}
			if !next(i + 1) {
				return false
			}
		}
		return true
	}
	return next(0)
}
