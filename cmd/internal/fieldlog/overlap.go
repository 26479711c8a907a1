package fieldlog

import (
	"fmt"

	"spectally/bands"
	"spectally/ca"
)

// overlaps finds carriers of two networks that take up the same downlink spectrum without
// being on the same channel of a band, which sharedCells finds.
func overlaps(l *Log) []Overlap {
	placed := make([][]ca.Placed, len(l.Networks))
	for i := range l.Networks {
		placed[i] = ca.Assess(l.Networks[i].Carriers).Carriers
	}
	list := []Overlap{}
	for i := range placed {
		for k := i + 1; k < len(placed); k++ {
			for x := range placed[i] {
				for y := range placed[k] {
					p, q := &placed[i][x], &placed[k][y]
					common, ok := overlap(p, q)
					if !ok {
						continue
					}
					a, b := l.Networks[i].Name, l.Networks[k].Name
					list = append(list, Overlap{
						Networks: [2]string{a, b}, Carriers: [2]int{x + 1, y + 1}, Bands: [2]string{p.Band.String(), q.Band.String()},
						Low: common.Low.InMHz(), High: common.High.InMHz(), Width: common.Width().InMHz(),
						Statement: fmt.Sprintf("%s on %s and %s on %s overlap by %s MHz, %s to %s MHz: two networks at one place seldom transmit on the same spectrum, so either they share it, or a channel number or width is wrong.",
							a, p.Band, b, q.Band, common.Width().MHz(), common.Low.MHz(), common.High.MHz()),
					})
				}
			}
		}
	}
	return list
}

// overlap is the downlink spectrum that two carriers have in common; false if there is
// none, or if one of them is not known to the hertz, or if they are on one channel.
func overlap(p, q *ca.Placed) (common bands.Span, ok bool) {
	if p.DownlinkCentre == 0 || q.DownlinkCentre == 0 || p.Band == q.Band && p.DownlinkCentre == q.DownlinkCentre {
		return common, false
	}
	a, b := p.Span(bands.Downlink), q.Span(bands.Downlink)
	common = bands.Span{Low: max(a.Low, b.Low), High: min(a.High, b.High)}
	return common, common.Low < common.High
}
