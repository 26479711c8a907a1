package claim

import "spectally/cmd/internal/render"

// Judge holds a claim against the evidence. What neither states must not decide: a claim
// holds only if it does whatever was left open, and fails only if it does whatever was.
// An error is about the claim itself, see [Claim.Kind].
func Judge(c Claim, e Evidence) (*Judgement, error) {
	kind, err := c.Kind()
	if err != nil {
		return nil, err
	}
	j := &judge{claim: &c, evidence: &e}
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
	case Superlative:
		j.superlative()
	}
	j.warn(kind)
	return &j.Judgement, nil
}

// warn adds what keeps a judgement from being more than it is.
func (j *judge) warn(k Kind) {
	switch k {
	case PeakRate, ShareOfPeak:
		j.Cautions = append(j.Cautions, "A peak rate is a ceiling for one phone under ideal reception, not a promise.")
	case MeasuredRate, Efficiency:
		j.Cautions = append(j.Cautions, "A measured rate holds for its place, time, phone and server alone.")
	case SameSite:
		j.Cautions = append(j.Cautions, "Identities and levels can agree by chance: only the operator's records prove where a cell stands.")
	}
}
