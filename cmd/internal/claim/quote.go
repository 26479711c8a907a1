package claim

import (
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// quote writes the one sentence to print about a claim that holds: what it is about, the
// reading, the figure, what it rests on, the caution it needs, and where it stands.
func (j *judge) quote(r *Reading, cautions ...string) {
	subject := j.evidence.Name
	if subject == "" {
		subject = "As stated"
	}
	s := subject + ": " + r.Meaning + ", " + r.rangeText()
	carriers := j.Judgement.Kind == TotalBandwidth || j.Judgement.Kind == NumberOfCarriers || j.Judgement.Kind == PeakRate
	if phone := j.evidence.onePhone(); carriers && phone.name != "" {
		s += " (" + phone.name + ", " + bands.Source(phone.source).Short() + ")"
	}
	switch j.Judgement.Kind {
	case PeakRate:
		s += ", a ceiling under ideal reception, not a promise"
	case MeasuredRate, ShareOfPeak:
		s += ", at that place and time"
	}
	for _, c := range cautions {
		s += ", " + c
	}
	var sources []string
	for _, step := range j.Working {
		if step.Name == r.Meaning && step.Source != (render.Source{}) {
			sources = append(sources, bands.Source(step.Source).Short())
		}
	}
	if len(sources) > 0 {
		s += " (" + strings.Join(sources, ", ") + ")"
	}
	j.Quote = s + "."
}
