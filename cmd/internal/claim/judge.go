package claim

import (
	"math/big"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
)

// Where the figures of a working come from.
var (
	sourceMaximumNR  = render.Source{Spec: "TS 38.306", Version: "19.2.0", Table: "clause 4.1.2"}
	sourceMaximumLTE = render.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 7.1.7"}
	sourceBlocksNR   = render.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3.2"}
)

// Judge holds a claim against the evidence. An error is about the claim itself, see
// [Claim.Kind].
func Judge(c Claim, e Evidence) (*Judgement, error) {
	kind, err := c.Kind()
	if err != nil {
		return nil, err
	}
	j := &judge{claim: &c, evidence: &e}
	j.Text, j.Statement, j.Judgement.Kind = c.Text, c.statement(kind), kind
	j.Readings, j.Working = []Reading{}, []render.Step{}
	j.Assumptions, j.Cautions = []string{}, []string{}
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
	}
	j.warn(kind)
	return &j.Judgement, nil
}

// warn adds what keeps a judgement from being more than it is.
func (j *judge) warn(k Kind) {
	if a := j.evidence.Assessment; a != nil {
		if f, bad := a.FirstError(); bad {
			j.Cautions = append(j.Cautions, "The carriers as given do not fit the standard, so figures made of them say little: "+f.Message)
		}
	}
	switch k {
	case PeakRate, ShareOfPeak:
		j.Cautions = append(j.Cautions, "A peak rate is a ceiling for one phone under ideal reception, not a promise of what it gets.")
	case MeasuredRate:
		j.Cautions = append(j.Cautions, "A measured rate holds for its place, time, phone and server alone.")
	case SameSite:
		j.Cautions = append(j.Cautions, "Identities and levels can agree by chance: only the operator's own records prove where a cell stands.")
	}
}

// assume takes over what the rates rest on.
func (j *judge) assume() {
	j.Assumptions = append(j.Assumptions, j.evidence.Assumptions...)
}

// total judges a total of bandwidth under every meaning of the word.
func (j *judge) total() {
	b := boundsOf(j.claim.TotalMHz, j.claim.About)
	j.Tolerance = b.tolerance("MHz", j.claim.About)
	a := j.evidence.Assessment
	if a == nil {
		j.conclude(Undecided, "No carriers are given, so nothing can be added up.")
		return
	}
	t := a.Totals(j.evidence.downlinkShare)
	say := func(meaning string, f bands.Frequency, formula, numbers string) *Reading {
		return j.read(meaning, megahertz(f), &b, "MHz", Equal, render.Step{Formula: formula, Numbers: numbers})
	}
	usual := "total downlink bandwidth"
	say(usual, t.Downlink, "sum of the downlink channel bandwidths", j.widths(func(p *ca.Placed) bands.Frequency { return p.DownlinkWidth }))
	say("total uplink bandwidth", t.Uplink, "sum of the uplink channel bandwidths on which the UE transmits", j.widths(func(p *ca.Placed) bands.Frequency {
		if !p.Transmits {
			return 0
		}
		return p.UplinkWidth
	}))
	say("downlink and uplink bandwidth together", t.Downlink+t.Uplink, "downlink total + uplink total", t.Downlink.MHz()+" + "+t.Uplink.MHz()+" MHz")
	say("spectrum occupied on the air", t.Occupied, "paired carriers count both directions, TDD carriers once", j.widths(func(p *ca.Placed) bands.Frequency {
		if p.Info != nil && p.Info.Duplex == bands.TDD {
			return max(p.DownlinkWidth, p.UplinkWidth)
		}
		return p.DownlinkWidth + p.UplinkWidth
	}))
	say("downlink bandwidth weighted by its share of time", t.DownlinkEquivalent, "sum of downlink bandwidth * downlink share of time", j.shares()).Assumed = j.evidence.patternAssumed()
	if len(t.ByRAT) > 1 {
		for _, p := range t.ByRAT {
			say("downlink bandwidth of the "+p.Key+" carriers alone", p.Downlink, "sum of the downlink channel bandwidths of "+p.Key, j.widths(func(q *ca.Placed) bands.Frequency {
				if q.Band.RAT.String() != p.Key {
					return 0
				}
				return q.DownlinkWidth
			}))
		}
	}
	r := j.firstHolding()
	switch {
	case r == nil:
		j.conclude(Fails, "Fails under every reading; as ", usual, ", the usual one, it is ", j.Readings[0].text(), ".")
	case r.Assumed:
		j.conclude(Undecided, "Holds only as ", r.Meaning, ", which rests on a TDD pattern that was assumed; as ", usual, " it is ", j.Readings[0].text(), ".")
	case r.Meaning == usual:
		j.holdsAs(r, "")
	default:
		j.holdsAs(r, " As "+usual+", the usual reading, it is "+j.Readings[0].text()+".")
	}
	if j.evidence.patternAssumed() && j.evidence.Rates != nil {
		j.Assumptions = append(j.Assumptions, "The share of time of TDD carriers without a pattern is that of an assumed one.")
	}
}

// widths writes the widths that are not zero as a sum.
func (j *judge) widths(of func(*ca.Placed) bands.Frequency) string {
	var list []string
	for i := range j.evidence.Assessment.Carriers {
		if w := of(&j.evidence.Assessment.Carriers[i]); w != 0 {
			list = append(list, w.MHz())
		}
	}
	if len(list) == 0 {
		return "none"
	}
	return strings.Join(list, " + ") + " MHz"
}

// shares writes the downlink widths with their shares of time as a sum.
func (j *judge) shares() string {
	var list []string
	for i := range j.evidence.Assessment.Carriers {
		p := &j.evidence.Assessment.Carriers[i]
		if p.DownlinkWidth == 0 {
			continue
		}
		term := p.DownlinkWidth.MHz()
		if p.Info != nil && p.Info.Duplex == bands.TDD {
			if s := j.evidence.downlinkShare(i); s.Whole != 0 {
				term += " * " + trim(big.NewRat(s.Part, s.Whole), 4)
			}
		}
		list = append(list, term)
	}
	if len(list) == 0 {
		return "none"
	}
	return strings.Join(list, " + ") + " MHz"
}

// carriers judges a number of carriers.
func (j *judge) carriers() {
	b := boundsOf(j.claim.Carriers, j.claim.About)
	j.Tolerance = b.tolerance("carriers", j.claim.About)
	a := j.evidence.Assessment
	if a == nil {
		j.conclude(Undecided, "No carriers are given, so nothing can be counted.")
		return
	}
	count := func(keep func(*ca.Placed) bool) (int, string) {
		n, names := 0, []string(nil)
		for i := range a.Carriers {
			if p := &a.Carriers[i]; keep(p) {
				n, names = n+1, append(names, p.Band.String())
			}
		}
		return n, strings.Join(names, ", ")
	}
	say := func(meaning string, n int, numbers, unit string) {
		if numbers == "" {
			numbers = "none"
		}
		j.read(meaning, big.NewRat(int64(n), 1), &b, unit, Equal, render.Step{Formula: "count", Numbers: numbers})
	}
	down, names := count(func(p *ca.Placed) bool { return p.DownlinkWidth != 0 })
	say("downlink carriers", down, names, "carriers")
	if n, names := count(func(*ca.Placed) bool { return true }); n != down {
		say("carriers of either direction", n, names, "carriers")
	}
	n, names := count(func(p *ca.Placed) bool { return p.Transmits })
	say("uplink carriers", n, names, "carriers")
	lte, lteNames := count(func(p *ca.Placed) bool { return p.Band.RAT == bands.LTE })
	if nr, nrNames := count(func(p *ca.Placed) bool { return p.Band.RAT == bands.NR }); lte > 0 && nr > 0 {
		say("LTE carriers alone", lte, lteNames, "carriers")
		say("NR carriers alone", nr, nrNames, "carriers")
	}
	seen := make(map[bands.ID]bool)
	n, names = count(func(p *ca.Placed) bool {
		fresh := !seen[p.Band]
		seen[p.Band] = true
		return fresh
	})
	say("bands", n, names, "bands")
	usual := j.Readings[0]
	switch r := j.firstHolding(); {
	case r == nil:
		j.conclude(Fails, "Fails under every reading: there are ", strconv.Itoa(down), " downlink carriers.")
	case r.Meaning == usual.Meaning:
		j.holdsAs(r, "")
	default:
		j.holdsAs(r, " There are "+strconv.Itoa(down)+" downlink carriers.")
	}
}
