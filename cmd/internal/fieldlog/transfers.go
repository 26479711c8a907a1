package fieldlog

import (
	"fmt"
	"math/big"

	"spectally/bands"
	"spectally/cmd/internal/claim"
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
	var median *big.Rat
	all := places(n.log)
	for _, p := range all {
		if p.where == t.Where || t.Where == "" && len(all) == 1 {
			median = p.median(n.log, of)
		}
	}
	if median != nil && median.Sign() > 0 {
		expected := claim.TransferSeconds(t.Size, median)
		r.Median, r.Expected = float(median), float(expected)
		r.OfMedian = float(new(big.Rat).Quo(mean, median))
		r.Statement += fmt.Sprintf(" At the median of the runs at the same place, %s Mbit/s, it takes %s s.", plain(median), plain(expected))
	}
	ceilings := n.ceilings(t.Direction)
	var flag string
	if r.Exceeds, flag = exceeds(mean, &ceilings, t.Direction); flag != "" {
		r.Statement += " " + flag
	}
	return r
}
