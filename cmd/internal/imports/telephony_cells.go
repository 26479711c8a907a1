package imports

import (
	"strings"

	"spectally/bands"
	"spectally/ca"
)

// readCell reads an element of mCellInfo: a cell that was heard, or, if nothing else names
// the carriers, one that serves.
func readCell(m *Import, n *Network, f fields, serving bool) {
	rat, channelName := bands.LTE, "mEarfcn"
	if strings.HasPrefix(string(f), "CellInfoNr") {
		rat, channelName = bands.NR, "mNrArfcn"
	} else if !strings.HasPrefix(string(f), "CellInfoLte") {
		return
	}
	registered, _ := f.value("mRegistered")
	channel, hasChannel := f.number(channelName)
	hasChannel = hasChannel && channel >= 0 && channel <= maxNumber
	cell := Cell{Band: cellBand(rat, f, int32(channel), hasChannel), Channel: int32(channel), HasChannel: hasChannel}
	if pci, ok := f.number("mPci"); ok && isPCI(rat, pci) {
		cell.PCI, cell.HasPCI = uint16(pci), true
	}
	level := levelsOf(m, rat, string(f))
	cell.RSRP = level.RSRP
	switch {
	case registered == "YES" && serving:
		n.serve(m, &cell, level, f)
	case registered == "YES":
		n.fill(&cell, level)
	case !serving && n.fill(&cell, level): // a secondary cell group is not registered with
	case cell.HasPCI:
		n.Neighbours = append(n.Neighbours, cell)
	}
}

// cellBand is the band of a cell: the only one that it lists, or the only one that its
// number has; none if that is open.
func cellBand(rat bands.RAT, f fields, channel int32, hasChannel bool) bands.ID {
	if text, ok := f.value("mBands"); ok {
		if list, _ := items(text); len(list) == 1 {
			if n, ok := (fields("n=" + list[0])).number("n"); ok && 0 < n && n <= 1024 {
				id := bands.ID{RAT: rat, Number: uint16(n)}
				if _, err := bands.Lookup(id); err == nil {
					return id
				}
			}
		}
	}
	if !hasChannel {
		return bands.ID{}
	}
	id, _ := bandOf(rat, channel, 0)
	return id
}

// serve takes a serving cell for a carrier, which its width makes possible.
func (n *Network) serve(m *Import, cell *Cell, level Level, f fields) {
	about := "carrier " + itoa(len(n.Carriers)+1)
	width, ok := f.number("mBandwidth")
	switch {
	case cell.Band == bands.ID{}:
		m.note(about, "left out: no band (mBands)")
		return
	case !ok || width <= 0 || width > maxWidth:
		m.note(about, "left out: no width (mBandwidth)")
		n.Levels = append(n.Levels, level)
		return
	}
	c := Carrier{}
	c.Band, c.PCI, c.HasPCI = cell.Band, cell.PCI, cell.HasPCI
	c.Downlink = bands.Frequency(width) * bands.KHz
	c.Uplink, c.RSRP, c.SINR = c.Downlink, level.RSRP, level.SINR
	if cell.HasChannel {
		c.settle(m, about, cell.Channel, 0)
	}
	n.Carriers = append(n.Carriers, c)
}

// fill gives a carrier the levels of the cell that has its identity and, as far as both are
// known, its channel; false if there is none.
func (n *Network) fill(cell *Cell, level Level) bool {
	for i := range n.Carriers {
		c := &n.Carriers[i]
		if cell.HasPCI && c.HasPCI && c.PCI == cell.PCI && c.Band.RAT == level.RAT && !c.RSRP.IsGiven() && !c.SINR.IsGiven() &&
			(!cell.HasChannel || !c.HasChannel || cell.Channel == c.Channel) {
			c.RSRP, c.SINR = level.RSRP, level.SINR
			return true
		}
	}
	return false
}

// readSignal gives the levels of mSignalStrength, which name no cell, to the primary cell of
// each technology.
func readSignal(m *Import, n *Network, section string) {
	i := strings.Index(section, signalField+"=")
	if i < 0 {
		m.note("", "no "+signalField+": no levels but those of cells")
		return
	}
	line, _, _ := strings.Cut(section[i:], "\n")
	for _, rat := range [...]bands.RAT{bands.LTE, bands.NR} {
		level := levelsOf(m, rat, line)
		if !level.RSRP.IsGiven() && !level.SINR.IsGiven() {
			continue
		}
		at := n.primary(rat)
		if at < 0 {
			n.Levels = append(n.Levels, level)
			continue
		}
		c := &n.Carriers[at]
		c.RSRP, c.SINR = level.RSRP, level.SINR
	}
}

// levelsOf reads the levels of a technology out of a signal strength. That of LTE has its
// SNR in decibels, or in tenths of them on older versions: a value that decibels cannot
// have shows it, one below stays open and is taken for decibels.
func levelsOf(m *Import, rat bands.RAT, s string) Level {
	l := Level{RAT: rat}
	name, rsrp, sinr := "CellSignalStrengthLte:", "rsrp", "rssnr"
	if rat == bands.NR {
		name, rsrp, sinr = "CellSignalStrengthNr:", "ssRsrp", "ssSinr"
	}
	_, s, ok := strings.Cut(s, name)
	if !ok {
		return l
	}
	s, _, _ = strings.Cut(s, "CellSignalStrength")
	f := fields(s)
	if v, ok := f.number(rsrp); ok {
		l.RSRP = levelIn(v, 10, lowestRSRP, highestRSRP)
	}
	v, ok := f.number(sinr)
	switch {
	case !ok:
	case rat == bands.NR:
		l.SINR = levelIn(v, 10, lowestSINR, highestSINR)
	case v < -highestTenths || v > highestTenths:
		l.SINR = levelIn(v, 1, lowestSINR, highestSINR)
	default:
		l.SINR = levelIn(v, 10, lowestSINR, highestSINR)
		if l.SINR.IsGiven() {
			m.note("", "rssnr "+itoa(int(v))+" is taken for dB; older versions state tenths of dB")
		}
	}
	return l
}

// highestTenths is the highest SNR in decibels that the platform states (from memory): what
// is above counts tenths.
const highestTenths = 30

// levelIn makes a level of a number of so many tenths of a decibel.
func levelIn(v, tenths, low, high int64) ca.Level {
	if v < -10000 || v > 10000 {
		return ca.Level{}
	}
	return levelOf(v*tenths, low, high)
}
