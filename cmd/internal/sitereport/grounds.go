package sitereport

import (
	"slices"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/propagation"
	"spectally/throughput/site"
)

// Clauses that the figures rest on.
var (
	clauseAverage    = render.Source{Spec: "ITU-R M.2410", Version: "0", Table: "clause 4.5"}
	clauseEdge       = render.Source{Spec: "ITU-R M.2410", Version: "0", Table: "clause 4.4"}
	clauseMaximum    = render.Source{Spec: "TS 38.306", Version: "19.2.0", Table: "clause 4.1.2"}
	clauseNRBlocks   = render.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3.2"}
	clauseLTEBlocks  = render.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 7.1.7"}
	clausePathModels = render.Source{Spec: "ITU-R M.2412", Version: "0", Table: "annex 1"}
)

func (s *study) cautions() []string {
	list := site.Cautions()
	list = append(list, "Peaks are ceilings, not promises.")
	if s.Coverage != nil {
		list = append(list, "A range is that of a model over many places: it says nothing of one place, and nothing of interference.")
	}
	return list
}

func (s *study) assumptions() []assumed.Statement {
	list := assumed.Statements(s.capacity.Assumptions())
	add := func(source bands.Source, text string) {
		list = append(list, assumed.Statement{Text: text, Source: source})
	}
	const imtAdvanced = "ITU-R M.2134"
	if slices.ContainsFunc(list, func(a assumed.Statement) bool { return a.Source.Spec == imtAdvanced }) {
		add(bands.Source{}, "The figures of "+imtAdvanced+" (IMT-Advanced) are from memory.")
	}
	c := s.Coverage
	if c == nil {
		return list
	}
	add(bands.Source{}, "Coverage: the power of a carrier is spread evenly over its resource elements, the phone's antenna has no gain, and the frequency is the carrier centre, or the middle of the band where the plan gives none.")
	if c.NoiseFigure == 0 {
		add(bands.Source{}, "Coverage: a noise figure of the phone of "+string(level(throughput.DefaultNoiseFigure))+" dB (from memory of coexistence studies).")
	}
	if c.BaseNoiseFigure == 0 && c.UplinkBlocks > 0 {
		add(bands.Source{}, "Coverage: a noise figure of the site of "+string(level(propagation.DefaultBaseNoiseFigure))+" dB (from memory of coexistence studies).")
	}
	if q := c.Requirement; q != nil {
		add(bands.Source{}, "Coverage at REFSENS: a UE of power class "+q.UE.PowerClass+" with "+itoa(q.UE.ReceivePorts)+" receive ports and a "+string(q.Station)+" base station; the whole power of a carrier counts against the UE's REFSENS, and that of the phone against one instance of the base station's reference channel, which may be narrower; both directions have the antenna gain of the plan. Of two figures for a width, the weaker.")
	}
	if c.Places == 0 {
		add(bands.Source{}, "Coverage: half of the places at the edge are served, so there is no margin for shadowing.")
	}
	if c.Path.Scenario != propagation.FreeSpace && (c.Path.BaseHeight == 0 || c.Path.UserHeight == 0) {
		add(bands.Source(clausePathModels), "Coverage: heights that the plan leaves out are those of the model.")
	}
	if c.Path.Scenario == propagation.Street || c.Path.Scenario == propagation.StreetResidential || c.Path.Clutter || c.Entry >= propagation.EntryTraditional {
		add(bands.Source{}, "Coverage: constants of ITU-R P.1411, P.2108 and P.2109 are from memory, held against their validation values.")
	}
	return list
}

// assumptionTexts has the assumptions once each; what holds of several bands stands on
// one line.
func (s *study) assumptionTexts() []string {
	var texts []string
	of := make(map[string][]string) // bands by what is assumed of them
	for _, a := range s.assumptions() {
		if _, known := of[a.Text]; !known {
			texts = append(texts, a.Text)
			of[a.Text] = nil
		}
		if band := a.Band.String(); a.Band != (bands.ID{}) && !slices.Contains(of[a.Text], band) {
			of[a.Text] = append(of[a.Text], band)
		}
	}
	for i, text := range texts {
		texts[i] = strings.TrimSpace(strings.Join(of[text], ", ") + " " + text)
	}
	return texts
}

// sources lists what the answer is read from.
func (s *study) sources() []render.Source {
	var list []render.Source
	add := func(source render.Source) {
		if source != (render.Source{}) && !slices.Contains(list, source) {
			list = append(list, source)
		}
	}
	for i := range s.together {
		for k := range s.together[i].Carriers {
			p := &s.together[i].Carriers[k]
			add(render.Source(p.Info.Source))
			if p.Band.RAT == bands.NR {
				add(clauseMaximum)
				add(clauseNRBlocks)
			} else {
				add(clauseLTEBlocks)
			}
		}
	}
	for _, a := range s.assumptions() {
		add(render.Source(a.Source))
	}
	for i := range s.together {
		for _, f := range s.faults(i) {
			add(f.Source)
		}
	}
	for i := range s.reaches {
		r := &s.reaches[i]
		path := s.Coverage.Path
		path.Frequency, path.Distance, path.Extrapolate = r.Frequency, 100, true
		if l, err := path.Loss(); err == nil {
			add(render.Source(l.Source))
		}
		add(render.Source(r.Entry.Source))
		r.eachRequired(func(_ bands.Direction, l *propagation.RequiredLink) {
			for _, s := range l.Sources {
				add(render.Source(s))
			}
		})
	}
	return list
}
