package claim

import (
	"slices"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// quote writes the one sentence to print about a claim that holds: what it is about, the
// reading, the figure, what it rests on, the caution it needs, and where it stands.
func (j *judge) quote(r *Reading, cautions ...string) {
	subject := j.subject()
	s := subject + j.against() + ": " + r.Meaning + ", " + r.rangeText()
	carriers := j.Judgement.Kind == TotalBandwidth || j.Judgement.Kind == NumberOfCarriers || j.Judgement.Kind == PeakRate
	if phone := j.evidence.onePhone(); carriers && phone.name != "" {
		s += " (" + phone.name + ", " + bands.Source(phone.source).Short() + ")"
	}
	switch j.Judgement.Kind {
	case PeakRate:
		s += ", a ceiling under ideal reception, not a promise"
	case MeasuredRate, ShareOfPeak:
		s += ", at that place and time"
	case Latency:
		if e := j.evidence; len(e.Idle)+len(e.LoadedDown)+len(e.LoadedUp) > 0 {
			s += ", at that place and time"
		}
	}
	for _, c := range cautions {
		s += ", " + c
	}
	j.Quote = s + j.sourcesOf(r) + "."
}

// quoteOther writes the sentence for a claim that does not hold: the reading and figure that
// speak against it, or leave it open, and where they stand; else what it would take.
func (j *judge) quoteOther() {
	if j.Quote != "" {
		return
	}
	what := j.Text
	if what == "" {
		what = j.Statement
	}
	what = "“" + what + "”"
	end := map[Verdict]string{Fails: " does not hold", Undecided: " can neither be confirmed nor refuted"}[j.Verdict]
	r := j.first(j.Verdict)
	if j.Verdict == Undecided && len(j.Readings) > 0 {
		r = &j.Readings[0]
	}
	if as := slices.IndexFunc(j.Readings, func(r Reading) bool { return j.claim.As != "" && r.As == j.claim.As }); as >= 0 {
		r = &j.Readings[as]
	}
	phone := j.evidence.onePhone()
	switch ofCarriers := j.Judgement.Kind == TotalBandwidth || j.Judgement.Kind == NumberOfCarriers || j.Judgement.Kind == PeakRate; {
	case ofCarriers && j.claim.As != AsNetwork && phone.verdict == Fails:
		j.Quote = j.subject() + ": no one phone can use these carriers at once, so " + what + end + "."
	case j.Verdict == Undecided && j.Judgement.Kind == Comparison && j.alikeDecides() != nil:
		r = j.alikeDecides()
		j.Quote = j.subject() + j.against() + ": " + r.Meaning + ", " + r.rangeText() + "; unless both sides are alike, " + what + end + j.sourcesOf(r) + "."
	case j.Judgement.Kind == SameSite: // its readings are hints, none of which decides
		j.Quote = j.subject() + ": " + what + end + " from identities and levels."
	case j.Verdict == Undecided && r != nil && r.Verdict == Fails && j.first(Holds) != nil:
		other := j.first(Holds)
		j.Quote = j.subject() + ": " + what + " holds as " + other.Meaning + ", " + other.rangeText() + ", and not as " + r.Meaning + ", " + r.rangeText() + j.sourcesOf(r) + "."
	case r != nil:
		j.Quote = j.subject() + j.against() + ": " + r.Meaning + ", " + r.rangeText() + "; " + what + end + j.sourcesOf(r) + "."
	default:
		j.Quote = j.subject() + ": " + what + end + "."
	}
}

// against names the other side of a comparison; empty for none.
func (j *judge) against() string {
	if name := j.claim.Than.name(); name != "" {
		return " against " + name
	}
	return ""
}

// subject names what a sentence to print is about.
func (j *judge) subject() string {
	if j.evidence.Name == "" {
		return "As stated"
	}
	return j.evidence.Name
}

// sourcesOf names where a reading stands, in brackets; empty for none.
func (j *judge) sourcesOf(r *Reading) string {
	var sources []string
	for _, step := range j.Working {
		if step.Name == r.Meaning && step.Source != (render.Source{}) {
			sources = append(sources, bands.Source(step.Source).Short())
		}
	}
	if len(sources) == 0 {
		return ""
	}
	return " (" + strings.Join(sources, ", ") + ")"
}
