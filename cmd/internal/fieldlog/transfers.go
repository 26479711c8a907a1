package fieldlog

import (
	"fmt"
	"math/big"
	"time"

	"spectally/bands"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/quantity"
)

func (n *network) transfers() []TransferReport {
	list := []TransferReport{}
	for i := range n.log.Transfers {
		list = append(list, n.transfer(i))
	}
	return list
}

func (n *network) transfer(i int) TransferReport {
	t := &n.log.Transfers[i]
	mean := claim.MeanRate(t.Size, t.Seconds.Rat())
	r := TransferReport{
		Number: i + 1, Size: t.Size, Bits: t.Size.Bits(), Seconds: t.Seconds, Direction: "down",
		Where: t.Where, When: t.When, Notes: present(t.Notes), Mean: *float(mean),
	}
	of := downOf
	if t.Direction == bands.Uplink {
		r.Direction, of = "up", upOf
	}
	r.Statement = fmt.Sprintf("%s in %s s is %s Mbit/s on average.", t.Size, t.Seconds, plain(mean))
	median, about := n.around(t, of)
	if median != nil && median.Sign() > 0 {
		expected := claim.TransferSeconds(t.Size, median)
		r.Median, r.Expected = float(median), float(expected)
		r.OfMedian = float(new(big.Rat).Quo(mean, median))
		r.Statement += fmt.Sprintf(" At the median of the runs %s, %s Mbit/s, it takes %s s.", about, plain(median), plain(expected))
	}
	ceilings := n.ceilings(t.Direction)
	var flag string
	if r.Exceeds, flag = exceeds(mean, &ceilings, t.Direction); flag != "" {
		r.Statement += " " + flag
	}
	return r
}

// aboutThen is how far in time runs may be from a transfer that they stand beside.
const aboutThen = time.Hour

// around is the median of the runs beside which a transfer stands, and which these are: at
// its place, and of those the ones within an hour of it if there are any; nil for none.
func (n *network) around(t *Transfer, of func(*Run) quantity.Decimal) (median *big.Rat, about string) {
	all := places(n.log)
	for _, p := range all {
		if p.where != t.Where && (t.Where != "" || len(all) > 1) {
			continue
		}
		then := place{where: p.where}
		at, timed := n.moment(t.When)
		for _, i := range p.runs {
			run, ok := n.moment(n.log.Runs[i].When)
			if timed && ok && run.Sub(at).Abs() <= aboutThen {
				then.runs = append(then.runs, i)
			}
		}
		if m := then.median(n.log, of); m != nil {
			return m, "at the same place within an hour"
		}
		return p.median(n.log, of), "at the same place"
	}
	return nil, ""
}

// moment is a point in time of the log; times without a date are of the day of the log, or
// of one day where that is not known.
func (n *network) moment(when string) (time.Time, bool) {
	date := n.date
	if date == "" {
		date = "0001-01-01"
	}
	return momentOf(when, date)
}
