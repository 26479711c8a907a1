package claim

import (
	"cmp"
	"slices"
	"strings"

	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// Judge holds a claim against the evidence. What neither states must not decide: a claim
// holds only if it does whatever was left open, and fails only if it does whatever was.
// An error is about the claim itself, see [Claim.Kind].
func Judge(c Claim, e Evidence) (*Judgement, error) {
	kind, err := c.Kind()
	if err != nil {
		return nil, err
	}
	j := &judge{claim: &c, evidence: &e, tolerated: map[string]bool{}}
	j.Text, j.Statement, j.Judgement.Kind = c.Text, c.statement(kind), kind
	j.Readings, j.Working = []Reading{}, []render.Step{}
	j.Needs, j.Assumptions, j.Cautions = []string{}, []string{}, []string{}
	switch kind {
	case TotalBandwidth:
		j.total()
	case NumberOfCarriers:
		j.carriers()
	case PeakRate:
		j.peak()
	case MeasuredRate:
		j.measured()
	case TransferTime:
		j.transfer()
	case Latency:
		j.latency()
	case ShareOfPeak:
		j.share()
	case SameSite:
		j.site()
	case Efficiency:
		j.efficiency()
	case ShareOfTotal:
		j.shareOfTotal()
	case Comparison:
		j.compare()
	case Coverage:
		j.coverage()
	case Superlative:
		j.superlative()
	}
	j.quoteOther()
	j.warn(kind)
	return &j.Judgement, nil
}

// JudgeAll judges each part of a statement that makes several claims at once. The whole
// holds if every part does, and fails if one does.
func JudgeAll(c Claim, e Evidence) (*Judgement, error) {
	e.Keep()
	parts := c.Parts()
	if len(parts) == 1 {
		return Judge(parts[0], e)
	}
	whole := &Judgement{Text: c.Text, Kind: Several, Verdict: Holds, Needs: []string{}, Readings: []Reading{}, Working: []render.Step{}}
	var statements, holds, others []string
	for i := range parts {
		j, err := Judge(parts[i], e)
		if err != nil {
			return nil, err
		}
		whole.Parts = append(whole.Parts, j)
		statements = append(statements, j.Statement)
		if j.Verdict == Holds {
			holds = append(holds, j.Statement)
		} else {
			others = append(others, j.Statement+" "+map[Verdict]string{Fails: "fails", Undecided: "is undecided"}[j.Verdict])
		}
		if whole.Verdict != Fails && j.Verdict != Holds {
			whole.Verdict = j.Verdict
		}
		whole.Needs, whole.Readings, whole.Working = append(whole.Needs, j.Needs...), append(whole.Readings, j.Readings...), append(whole.Working, j.Working...)
		whole.Brief = unite(whole.Brief, j.Brief)
		whole.Assumptions, whole.Cautions = unite(whole.Assumptions, j.Assumptions), unite(whole.Cautions, j.Cautions)
	}
	whole.Statement = strings.Join(statements, "; ")
	switch {
	case len(others) == 0:
		whole.Reading, whole.Summary, whole.Why = "every part", "Holds in every part.", "in every part."
	case len(holds) == 0:
		whole.Summary = sentence(words.And(others)) + "."
	default:
		whole.Summary = sentence(words.And(others)) + "; " + words.And(holds) + map[bool]string{true: " holds.", false: " hold."}[len(holds) == 1]
	}
	whole.Why = cmp.Or(whole.Why, whole.Summary)
	return whole, nil
}

// unite adds what a list does not have yet.
func unite(list, more []string) []string {
	for _, s := range more {
		if !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	return list
}

// warn adds what keeps a judgement from being more than it is.
func (j *judge) warn(k Kind) {
	switch k {
	case PeakRate, ShareOfPeak:
		j.Cautions = append(j.Cautions, "A peak rate is a ceiling under ideal reception, not a promise.")
	case Efficiency:
		if len(j.evidence.measured(j.claim.direction())) > 0 || j.claim.Rate.IsGiven() {
			j.warn(MeasuredRate)
		} else {
			j.warn(PeakRate)
		}
	case MeasuredRate:
		j.Cautions = append(j.Cautions, "A measured rate holds for its place, time, phone and server alone.")
	case SameSite:
		j.Cautions = append(j.Cautions, "Identities and levels can agree by chance: only the operator's records prove where a cell stands.")
	}
}
