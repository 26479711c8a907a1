package imports

import (
	"strconv"

	"spectally/bands"
	"spectally/ca"
)

// place gives a carrier its place from a channel number, and the frequency of its centre if
// the text states one (else zero). A number of NR can be that of the carrier's centre or
// of its SS/PBCH block; it stays open unless the centre, or the rasters of the band, leave
// one of the two. ok is false if it can be neither.
func (c *Carrier) place(n int32, centre bands.Frequency) (ok bool) {
	as := func(change func(*ca.Carrier)) bool {
		try := c.Carrier
		change(&try)
		return possible(try)
	}
	channel := func(t *ca.Carrier) { t.Channel, t.HasChannel = n, true }
	block := func(t *ca.Carrier) { t.SSB = bands.ARFCN(n) }
	at := func(t *ca.Carrier) { t.Centre = centre }
	if c.Band.RAT == bands.LTE {
		if as(channel) {
			channel(&c.Carrier)
			c.Number = OfCentre
			return true
		}
		return false
	}
	f, err := bands.ARFCN(n).Frequency()
	isBlock := err == nil && n > 0 && as(block)
	switch isCentre := err == nil && as(channel); {
	case isCentre && (centre == f || !isBlock):
		channel(&c.Carrier)
		c.Number = OfCentre
	case centre != 0 && centre != f && as(at):
		at(&c.Carrier)
		c.Number = OfBlock
		if as(block) {
			block(&c.Carrier)
		}
	case isBlock && !isCentre:
		block(&c.Carrier)
		c.Number = OfBlock
	case isBlock:
		block(&c.Carrier)
		c.Number = OpenNumber
	default:
		return false
	}
	return true
}

// possible tells whether no rule about the place of a carrier stands against it.
func possible(c ca.Carrier) bool {
	c.Role, c.Transmit = 0, ca.Open
	for _, f := range ca.CheckRules(ca.Combination{c}) {
		if f.Severity != ca.Error {
			continue
		}
		switch f.Rule {
		case ca.RuleChannelNumber, ca.RuleInBand, ca.RuleOnRaster, ca.RuleBlock, ca.RulePlaceOfWidth:
			return false
		}
	}
	return true
}

// bandOf finds the band of a carrier whose text does not name it: the one band in which
// its number is a downlink that has its width. Else it names those that it could be.
func bandOf(rat bands.RAT, n int32, width bands.Frequency) (id bands.ID, open []string) {
	for _, m := range bands.ByChannel(rat, n) {
		if m.Downlink && (width == 0 || m.Band.HasWidth(bands.Downlink, width)) {
			id, open = m.Band.ID, append(open, m.Band.ID.String())
		}
	}
	if len(open) == 1 {
		return id, nil
	}
	return bands.ID{}, open
}

// levelOf makes a level of decibels between two bounds; none outside them.
func levelOf(tenths int64, low, high int64) ca.Level {
	if tenths < 10*low || tenths > 10*high {
		return ca.Level{}
	}
	return ca.LevelOf(int32(10 * tenths))
}

// The bounds of RSRP in dBm and SINR in dB that a carrier can have.
const (
	lowestRSRP, highestRSRP = -156, -31
	lowestSINR, highestSINR = -23, 40
)

func itoa(n int) string { return strconv.Itoa(n) }
