package claim

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
)

// total judges a total of bandwidth: under the reading stated, else under the usual
// one, with the others beside it.
func (j *judge) total() {
	b := statedAs(j.claim.TotalMHz, j.claim.About)
	if j.evidence.Assessment == nil {
		j.conclude(Undecided, "No carriers are given, so nothing can be added up.")
		j.need("the carriers")
		return
	}
	for _, t := range j.totals() {
		j.read(t.as, t.meaning, t.values, &b, "MHz", Equal, t.step)
	}
	j.byReading()
}

// meaningOfTotal is one meaning of a total with its value.
type meaningOfTotal struct {
	as      As
	meaning string
	values  span
	step    render.Step
}

// totals are all meanings of a total, the usual one first.
func (j *judge) totals() []meaningOfTotal {
	e := j.evidence
	a := e.Assessment
	t := a.Totals(e.downlinkShare)
	down := exactly(megahertz(t.Downlink))
	up := e.uplinkSums(t.Uplink)
	both := up.each(func(v *big.Rat) *big.Rat { return new(big.Rat).Add(v, megahertz(t.Downlink)) })
	equivalent := span{low: megahertz(a.Sum(e.shareIfOpen(0)).DownlinkEquivalent), usual: megahertz(t.DownlinkEquivalent), high: megahertz(a.Sum(e.shareIfOpen(1)).DownlinkEquivalent)}
	width := func(p *ca.Placed) bands.Frequency { return p.DownlinkWidth }
	list := []meaningOfTotal{
		{AsDownlink, "total downlink bandwidth", down, render.Step{Formula: "sum of the downlink channel bandwidths", Numbers: j.widths(width)}},
		{AsUplink, "total uplink bandwidth", up, render.Step{Formula: "sum of the channel bandwidths of the uplinks the UE transmits on", Numbers: j.widths(func(p *ca.Placed) bands.Frequency {
			if !p.Transmits {
				return 0
			}
			return p.UplinkWidth
		})}},
		{AsBoth, "downlink and uplink bandwidth together", both, render.Step{Formula: "downlink total + uplink total", Numbers: t.Downlink.MHz() + " + " + t.Uplink.MHz() + " MHz"}},
		{AsOccupied, "spectrum on the air", exactly(megahertz(t.Occupied)), render.Step{Formula: "FDD counts both directions, TDD once", Numbers: j.widths(func(p *ca.Placed) bands.Frequency {
			if p.Info != nil && p.Info.Duplex == bands.TDD {
				return max(p.DownlinkWidth, p.UplinkWidth)
			}
			return p.DownlinkWidth + p.UplinkWidth
		})}},
	}
	if equivalent.isExact() || j.claim.As == AsEquivalent { // with any pattern it can be anything up to the whole
		list = append(list, meaningOfTotal{AsEquivalent, "downlink bandwidth weighted by the downlink share of time", equivalent, render.Step{Formula: "sum of downlink bandwidth * downlink share of time", Numbers: j.shares()}})
	}
	if len(t.ByRAT) > 1 || j.claim.As == AsLTE || j.claim.As == AsNR {
		for _, rat := range [...]bands.RAT{bands.LTE, bands.NR} {
			part := ca.Part{Key: rat.String()}
			if i := slices.IndexFunc(t.ByRAT, func(p ca.Part) bool { return p.Key == part.Key }); i >= 0 {
				part = t.ByRAT[i]
			}
			list = append(list, meaningOfTotal{As(strings.ToLower(part.Key)), "downlink bandwidth of the " + part.Key + " carriers alone", exactly(megahertz(part.Downlink)),
				render.Step{Formula: "sum of the downlink channel bandwidths of " + part.Key, Numbers: j.widths(func(p *ca.Placed) bands.Frequency {
					if p.Band.RAT != rat {
						return 0
					}
					return p.DownlinkWidth
				})}})
		}
	}
	if phone := e.onePhone(); j.claim.As == AsNetwork || phone.verdict != Holds {
		list = append(list, meaningOfTotal{AsNetwork, "spectrum of a network, not of one phone", down, render.Step{Formula: "sum of the downlink channel bandwidths", Numbers: j.widths(width)}})
	}
	return list
}

// byReading concludes from the readings: the one stated decides, or else the usual one,
// the first. A figure that only another reading gives stays undecided; one that none
// gives fails. Nobody means bandwidth weighted by time without saying so. What no one
// phone can aggregate holds of a network alone.
func (j *judge) byReading() {
	usual := &j.Readings[0]
	if as := j.claim.As; as != "" {
		i := slices.IndexFunc(j.Readings, func(r Reading) bool { return r.As == as })
		if i < 0 {
			j.conclude(Undecided, "A ", string(as), " reading does not apply to this claim.")
			return
		}
		usual = &j.Readings[i]
	}
	other := ""
	if hint := hintOf(j.Text); j.claim.As == "" && hint != "" && hint != usual.As {
		other = "the words speak of " + hintWords[hint]
	}
	phone := j.evidence.onePhone()
	another := func(v Verdict) *Reading {
		for i := range j.Readings {
			if r := &j.Readings[i]; r != usual && r.Verdict == v && r.As != AsNetwork && r.As != AsEquivalent {
				return r
			}
		}
		return nil
	}
	only := another(Holds)
	if only == nil {
		only = another(Undecided)
	}
	switch {
	case usual.As != AsNetwork && phone.verdict == Fails:
		network := j.Readings[slices.IndexFunc(j.Readings, func(r Reading) bool { return r.As == AsNetwork })]
		j.led(Fails, " ", "for one phone: ", phone.reason, " As spectrum of a network, not of one phone, it is ", network.text(), ".")
	case usual.Verdict == Holds && phone.verdict != Holds && usual.As != AsNetwork:
		j.conclude(Undecided, "The carriers add up to ", usual.text(), ", but ", phone.reason)
		j.need("a configuration of the standard that covers these carriers")
	case usual.Verdict == Holds && other != "":
		j.conclude(Undecided, "As ", usual.Meaning, " it is ", usual.text(), ", but ", other, ".")
		j.need("a stated reading: as ", string(hintOf(j.Text)), " or as ", string(usual.As))
	case usual.Verdict == Holds:
		j.holdsAs(usual, phone.as())
	case usual.Verdict == Undecided:
		j.conclude(Undecided, "As ", usual.Meaning, " it is ", usual.rangeText(), ", by what was left open.")
		j.need(openWords[usual.As])
	case j.claim.As != "":
		j.led(Fails, ": ", "the ", usual.Meaning, " is ", usual.rangeText(), ".")
	case only != nil:
		j.conclude(Undecided, "Only as ", only.Meaning, ", not the usual reading, is it ", only.rangeText(), "; as ", usual.Meaning, " it is ", usual.text(), ".")
		if only.As != "" {
			j.need("a stated reading: as ", string(only.As))
		} else {
			j.need("the statement to mean ", only.Meaning)
		}
		if only.Verdict == Undecided {
			j.need(openWords[only.As])
		}
	default:
		j.led(Fails, " ", "under every reading; as ", usual.Meaning, ", the usual one, it is ", usual.text(), ".")
	}
	if j.Verdict == Holds {
		j.quote(usual)
	}
}

// openWords say what must be stated for a reading that depends on it.
var openWords = map[As]string{
	AsUplink:     "which carriers the UE transmits on, with ul=1 or ul=0",
	AsBoth:       "which carriers the UE transmits on, with ul=1 or ul=0",
	AsEquivalent: "the TDD pattern, with pattern=",
}

// hintWords say what the words of a statement point to.
var hintWords = map[As]string{
	AsUplink: "the uplink", AsBoth: "both directions", AsNR: "NR alone", AsLTE: "LTE alone", AsOccupied: "spectrum on the air",
}

// hintOf is the reading that the words of a statement point to; empty if there is none,
// or several. It never decides: it keeps another reading from doing so.
func hintOf(text string) As {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !('a' <= r && r <= 'z' || '0' <= r && r <= '9') })
	has := func(list ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(list, w) })
	}
	up, down := has("uplink", "upload", "ul", "up"), has("downlink", "download", "dl", "down")
	nr, lte := has("5g", "nr"), has("4g", "lte")
	switch {
	case up && down || has("both", "paired"):
		return AsBoth
	case up:
		return AsUplink
	case down:
		return AsDownlink
	case nr && !lte:
		return AsNR
	case lte && !nr:
		return AsLTE
	}
	return ""
}

// widths writes the widths that are not zero as a sum.
func (j *judge) widths(of func(*ca.Placed) bands.Frequency) string {
	return j.terms(func(i int, p *ca.Placed) string {
		if w := of(p); w != 0 {
			return w.MHz()
		}
		return ""
	}, " MHz")
}

// shares writes the downlink widths with their shares of time as a sum.
func (j *judge) shares() string {
	return j.terms(func(i int, p *ca.Placed) string {
		if p.DownlinkWidth == 0 {
			return ""
		}
		if s := j.evidence.downlinkShare(i); p.Info != nil && p.Info.Duplex == bands.TDD && s.Whole != 0 {
			return p.DownlinkWidth.MHz() + " * " + trim(big.NewRat(s.Part, s.Whole), 4)
		}
		return p.DownlinkWidth.MHz()
	}, " MHz")
}

// terms writes what the carriers add to a sum; nothing is added for an empty text.
func (j *judge) terms(of func(i int, p *ca.Placed) string, unit string) string {
	var list []string
	for i := range j.evidence.Assessment.Carriers {
		if s := of(i, &j.evidence.Assessment.Carriers[i]); s != "" {
			list = append(list, s)
		}
	}
	if len(list) == 0 {
		return "none"
	}
	return strings.Join(list, " + ") + unit
}

// carriers judges a number of carriers.
func (j *judge) carriers() {
	b := exactlyStated(j.claim.Carriers.Rat())
	if j.claim.About {
		b = statedAs(j.claim.Carriers, true)
	}
	a := j.evidence.Assessment
	if a == nil {
		j.conclude(Undecided, "No carriers are given, so nothing can be counted.")
		j.need("the carriers")
		return
	}
	count := func(as As, meaning, unit string, values func(n int) span, keep func(*ca.Placed) bool) int {
		var names []string
		for i := range a.Carriers {
			if p := &a.Carriers[i]; keep(p) {
				names = append(names, p.Band.String())
			}
		}
		numbers := strings.Join(names, ", ")
		if numbers == "" {
			numbers = "none"
		}
		j.read(as, meaning, values(len(names)), &b, unit, Equal, render.Step{Formula: "count", Numbers: numbers})
		return len(names)
	}
	plain := func(n int) span { return exactly(big.NewRat(int64(n), 1)) }
	of := func(rat bands.RAT) func(*ca.Placed) bool { return func(p *ca.Placed) bool { return p.Band.RAT == rat } }
	down := count(AsDownlink, "downlink carriers", "carriers", plain, func(p *ca.Placed) bool { return p.DownlinkWidth != 0 })
	count(AsUplink, "uplink carriers", "carriers", j.evidence.transmitting, func(p *ca.Placed) bool { return p.Transmits })
	if down != len(a.Carriers) {
		count(AsBoth, "carriers of either direction", "carriers", plain, func(*ca.Placed) bool { return true })
	}
	if a.Kind == ca.KindENDC || a.Kind == ca.KindNEDC || j.claim.As == AsLTE || j.claim.As == AsNR {
		count(AsLTE, "LTE carriers alone", "carriers", plain, of(bands.LTE))
		count(AsNR, "NR carriers alone", "carriers", plain, of(bands.NR))
	}
	seen := make(map[bands.ID]bool)
	count("", "bands", "bands", plain, func(p *ca.Placed) bool {
		fresh := !seen[p.Band]
		seen[p.Band] = true
		return fresh
	})
	if phone := j.evidence.onePhone(); j.claim.As == AsNetwork || phone.verdict != Holds {
		count(AsNetwork, "carriers of a network, not of one phone", "carriers", plain, func(p *ca.Placed) bool { return p.DownlinkWidth != 0 })
	}
	j.byReading()
}

// plural writes a number with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
