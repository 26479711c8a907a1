package throughput

import (
	"strconv"

	"spectally/bands"
	"spectally/ca"
)

// The rules on data rates that [Result.Findings] applies.
const (
	RuleDataRateFloor ca.Rule = "data-rate-floor" // v * Qm * f of one carrier in standalone operation
	RuleLayers        ca.Rule = "layers"          // the numbers of layers that a UE can signal
	RuleDataRate      ca.Rule = "data-rate"       // DataRate of TS 38.214 clause 5.1.3
)

// sourceLayers is where a UE says how many layers it has (maxNumberMIMO-LayersPDSCH,
// MIMO-CapabilityDL; the values from memory).
var sourceLayers = bands.Source{Spec: "TS 38.306", Version: "19.2.0", Table: "clause 4.2.7.2"}

// Findings says what the rules on data rates mean for the combination: a carrier that
// stays below the floor of TS 38.306 clause 4.1.2, a schedule that DataRate of TS
// 38.214 clauses 5.1.3 and 6.1.4 cuts.
func (r *Result) Findings() []ca.Finding {
	var list []ca.Finding
	for i := range r.Carriers {
		p := &r.assessment.Carriers[i]
		for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
			l := r.Carriers[i].Link(d)
			if l.IsZero() {
				continue
			}
			if !l.LayersAssumed && l.Layers&(l.Layers-1) != 0 {
				list = append(list, ca.Finding{Severity: ca.Note, Rule: RuleLayers, Carrier: i + 1,
					Message: p.Band.String() + " " + d.String() + ": " + strconv.Itoa(l.Layers) + " layers can be in use, but a UE signals 1, 2, 4 or 8 as its most.", Source: sourceLayers})
			}
			if p.Band.RAT == bands.LTE {
				continue
			}
			if d == bands.Downlink && r.assessment.Kind == ca.KindNR && !r.kind.isERedCap() && p.RB == 0 {
				carrier := l.nr(p, d)
				if err := carrier.CheckFloor(); err != nil {
					list = append(list, ca.Finding{Severity: ca.Warning, Rule: RuleDataRateFloor, Carrier: i + 1,
						Message: err.Text() + ". A network may schedule less; eRedCap UEs may have less.", Source: sourceModulation})
				}
			}
			if f, ok := r.dataRateFinding(i, d); ok {
				list = append(list, f)
			}
		}
	}
	return list
}

// dataRateFinding tells where DataRate leaves resource blocks unused.
func (r *Result) dataRateFinding(i int, d bands.Direction) (f ca.Finding, ok bool) {
	if !r.scheduled {
		return f, false
	}
	plan, err := r.NRPlan(i, d)
	if err != nil {
		return f, false // Schedule has reported it
	}
	s, err := plan.Schedule()
	if err != nil {
		return f, false
	}
	for _, k := range s.Kinds() {
		if !k.Limited {
			continue
		}
		clause := "clause 5.1.3"
		if d == bands.Uplink {
			clause = "clause 6.1.4"
		}
		text := r.assessment.Carriers[i].Band.String() + " " + d.String() + ": full slots would exceed DataRate, " + plan.Limit.Rate() +
			"; at most " + strconv.Itoa(k.PRB) + " of " + strconv.Itoa(plan.ResourceBlocks) + " resource blocks are used."
		if l := r.Carriers[i].Link(d); l.Peak.Cmp(l.Schedulable) > 0 {
			text += " A report that counts elements and knows no DataRate, such as TR 37.910, comes to " + l.Peak.Rate() + "."
		}
		return ca.Finding{
			Severity: ca.Note, Rule: RuleDataRate, Carrier: i + 1, Message: text,
			Source: bands.Source{Spec: "TS 38.214", Version: "19.3.0", Table: clause},
		}, true
	}
	return f, false
}
