package claim

import (
	"math"
	"math/big"
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/cells"
	"spectally/cmd/internal/render"
)

// site judges whether the carriers come from one site. It can be supported, by one
// PCI on all carriers of one technology, but never refuted: a site has several
// cells.
func (j *judge) site() {
	a := j.evidence.Assessment
	if a == nil || len(a.Carriers) < 2 {
		j.conclude(Undecided, "It takes two carriers at least to ask whether they come from one site.")
		j.need("a second carrier")
		return
	}
	j.Tolerance = "identities must be equal; levels may differ by " + strconv.Itoa(int(cells.LevelMargin)) + " dB from that of frequency alone (this program's rule)"
	groups, without := cells.Groups(a)
	one := exactlyStated(big.NewRat(1, 1))
	technologies, same := 0, true
	for _, rat := range [...]bands.RAT{bands.LTE, bands.NR} {
		n := cells.Distinct(groups, rat)
		if n == 0 {
			continue
		}
		technologies++
		numbers := ""
		for i := range groups {
			if groups[i].RAT == rat {
				if numbers != "" {
					numbers += ", "
				}
				numbers += strconv.Itoa(int(groups[i].PCI))
			}
		}
		same = j.read("", "different PCI among the "+rat.String()+" carriers", exactly(big.NewRat(int64(n), 1)), &one, "identities", Equal,
			render.Step{Formula: "count of different PCI", Numbers: numbers, Source: cells.PCISource(rat)}).Holds && same
	}
	near := j.levels()
	if len(without) > 0 {
		j.need("the PCI of every carrier")
	}
	j.need("the operator's records of where the cells stand")
	switch {
	case len(without) > 0:
		j.conclude(Undecided, strconv.Itoa(len(without)), " of ", strconv.Itoa(len(a.Carriers)), " carriers have no PCI.")
	case !same:
		j.conclude(Undecided, "Different PCI are different cells, which may stand on one site or on several.")
	case technologies > 1:
		j.conclude(Undecided, "LTE and NR number their cells apart, so their identities do not tell whether both come from one site.")
	case !near:
		j.conclude(Undecided, "One PCI on all carriers fits one site, but their levels differ by more than frequency alone explains.")
	default:
		j.conclude(Undecided, "Consistent with one site: one PCI on all carriers. It is no proof, for other sites use the same identity.")
	}
}

// levels compares the levels of the carriers; true if there is no sign against one
// site.
func (j *judge) levels() bool {
	a := j.evidence.Assessment
	offsets := cells.Offsets(a)
	if len(offsets) == 0 {
		return true
	}
	worst := &offsets[0]
	for i := range offsets {
		if math.Abs(offsets[i].Difference()) > math.Abs(worst.Difference()) {
			worst = &offsets[i]
		}
	}
	margin := big.NewRat(int64(cells.LevelMargin), 1)
	b := stated{low: new(big.Rat), claimed: margin, high: margin}
	value := new(big.Rat)
	value.SetFloat64(math.Abs(worst.Difference())) // finite: levels are bounded
	return j.read("", "largest difference from the level offset of frequency alone", exactly(value), &b, "dB", AtMost, render.Step{
		Formula: "RSRP offset - 20 log10(f / f_ref)",
		Numbers: a.Carriers[worst.Carrier].Band.String() + " against " + a.Carriers[worst.Reference].Band.String() + ": " +
			strconv.FormatFloat(worst.Measured, 'f', 1, 64) + " - " + strconv.FormatFloat(worst.Expected, 'f', 1, 64) + " dB",
	}).Holds
}
