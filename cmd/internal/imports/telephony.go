package imports

import (
	"bytes"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/words"
)

// Lists and values of a telephony registry dump.
const (
	channelsField = "mPhysicalChannelConfigs"
	signalField   = "mSignalStrength"
	cellsField    = "mCellInfo"
)

func isTelephony(data []byte) bool {
	return slices.ContainsFunc([]string{channelsField + "=", signalField + "=SignalStrength:", cellsField + "=["}, func(s string) bool {
		return bytes.Contains(data, []byte(s))
	})
}

// slots part a dump into the slots of its phone.
var slots = expression(`(?m)^\s*Phone Id=\d+\s*$`)

func readTelephony(m *Import, data []byte, _ *Options) error {
	for _, section := range slots().Split(string(data), -1) {
		if !isTelephony([]byte(section)) {
			continue
		}
		if n := readSlot(m, section); len(n.Carriers)+len(n.Neighbours) > 0 {
			m.Networks = append(m.Networks, n)
		}
	}
	return nil
}

// readSlot reads what one slot of the phone shows.
func readSlot(m *Import, section string) Network {
	var n Network
	list, found := lists(section, channelsField)
	if !found.there {
		m.note("", "no "+channelsField+": carriers are those of "+cellsField+" that serve")
	} else if !found.whole {
		m.note("", channelsField+" is cut short: "+words.Counted(len(list), "whole carrier"))
	}
	for _, item := range list {
		if c, ok := readChannel(m, len(n.Carriers)+1, fields(item)); ok {
			n.Carriers = append(n.Carriers, c)
		}
	}
	cells, found := lists(section, cellsField)
	if found.there && !found.whole {
		m.note("", cellsField+" is cut short: "+words.Counted(len(cells), "whole cell"))
	}
	for _, item := range cells {
		readCell(m, &n, fields(item), len(list) == 0)
	}
	setRoles(&n)
	readSignal(m, &n, section)
	return n
}

type found struct{ there, whole bool }

// lists gathers the elements of the first list of a name that has any.
func lists(s, name string) ([]string, found) {
	var f found
	for {
		i := strings.Index(s, name+"=[")
		if i < 0 {
			return nil, f
		}
		s = s[i+len(name)+1:]
		list, whole := items(s)
		f = found{true, whole}
		if len(list) > 0 || !whole {
			return list, f
		}
	}
}

// technologies are the network types that a physical channel can have, in words, and in
// the numbers of earlier versions (from memory).
var technologies = map[string]bands.RAT{"LTE": bands.LTE, "LTE_CA": bands.LTE, "13": bands.LTE, "19": bands.LTE, "NR": bands.NR, "20": bands.NR}

// readChannel reads a physical channel; false if it cannot be written as a carrier.
func readChannel(m *Import, number int, f fields) (Carrier, bool) {
	about := "carrier " + itoa(number)
	var c Carrier
	word, _ := f.value("mNetworkType")
	if word == "" {
		word, _ = f.value("mRat")
	}
	rat, known := technologies[word]
	if !known {
		text := "left out: its technology is not LTE or NR"
		if word == "" {
			text = "left out: no technology (mNetworkType)"
		}
		m.note(about, text)
		return c, false
	}
	width, ok := f.number("mCellBandwidthDownlinkKhz")
	if !ok || width <= 0 || width > maxWidth {
		m.note(about, "left out: no width (mCellBandwidthDownlinkKhz)")
		return c, false
	}
	c.Downlink = bands.Frequency(width) * bands.KHz
	c.Uplink = c.Downlink
	channel, hasChannel := f.number("mDownlinkChannelNumber", "mChannelNumber")
	hasChannel = hasChannel && channel >= 0 && channel <= maxNumber
	if !c.readBand(m, about, rat, f, int32(channel), hasChannel) {
		return c, false
	}
	c.readUplink(f)
	if pci, ok := f.number("mPhysicalCellId"); ok && isPCI(rat, pci) {
		c.PCI, c.HasPCI = uint16(pci), true
	} else {
		m.note(about, "no cell identity (mPhysicalCellId)")
	}
	switch status, _ := f.value("mConnectionStatus"); status {
	case "PrimaryServing":
		c.Role = ca.PCell
	case "SecondaryServing":
		c.Role = ca.SCell // or the PSCell, see setRoles
	default:
		m.note(about, "its role is open (mConnectionStatus)")
	}
	centre, _ := f.number("mDownlinkFrequency")
	if !hasChannel {
		m.note(about, "no channel number (mDownlinkChannelNumber)")
	} else {
		c.settle(m, about, int32(channel), max(0, bands.Frequency(centre)*bands.KHz))
	}
	return c, true
}

const (
	maxWidth  = 2_000_000 // kHz: the widest channel of TS 38.101-2
	maxNumber = 3279165   // the last NR-ARFCN (TS 38.104 Table 5.4.2.1-1)
)

func isPCI(rat bands.RAT, n int64) bool {
	return n >= 0 && (n <= 503 || rat == bands.NR && n <= 1007)
}

// readBand finds the band: as the text names it, else by the channel number.
func (c *Carrier) readBand(m *Import, about string, rat bands.RAT, f fields, channel int32, hasChannel bool) bool {
	if n, ok := f.number("mBand"); ok && n > 0 && n <= 1024 {
		c.Band = bands.ID{RAT: rat, Number: uint16(n)}
		if _, err := bands.Lookup(c.Band); err == nil {
			return true
		}
		m.note(about, "left out: no band "+c.Band.String()+" (mBand)")
		return false
	}
	var open []string
	if hasChannel {
		c.Band, open = bandOf(rat, channel, c.Downlink)
	}
	if c.Band == (bands.ID{}) {
		text := "left out: no band (mBand)"
		if len(open) > 1 {
			text += "; its channel number is one of " + words.And(open)
		}
		m.note(about, text)
		return false
	}
	return true
}

// readUplink reads the width of the uplink. None is a carrier on which the phone does not
// transmit: the channel of the network may well have one.
func (c *Carrier) readUplink(f fields) {
	switch up, ok := f.number("mCellBandwidthUplinkKhz"); {
	case !ok || up < 0 || up > maxWidth:
	case up == 0:
		c.Transmit = ca.No
	default:
		c.Transmit = ca.Yes
		c.Uplink = bands.Frequency(up) * bands.KHz
	}
}

// settle gives the carrier its place and says what is open about it.
func (c *Carrier) settle(m *Import, about string, n int32, centre bands.Frequency) {
	if !c.place(n, centre) {
		m.note(about, "channel number "+itoa(int(n))+" is none of a "+c.Downlink.MHz()+" MHz carrier in "+c.Band.String()+": left out")
		return
	}
	if c.Number == OpenNumber {
		m.note(about, "NR-ARFCN "+itoa(int(n))+" can be the carrier centre or the SS/PBCH block; ssb= covers both")
	}
}

// setRoles makes the only NR carrier beside a primary cell of LTE the primary cell of its
// group; of several it stays open which one is.
func setRoles(n *Network) {
	var lte bool
	var nr []int
	for i := range n.Carriers {
		c := &n.Carriers[i]
		lte = lte || c.Band.RAT == bands.LTE && c.Role == ca.PCell
		if c.Band.RAT == bands.NR && c.Role == ca.SCell {
			nr = append(nr, i)
		}
	}
	for _, i := range nr {
		if !lte {
			break
		}
		n.Carriers[i].Role = 0
		if len(nr) == 1 {
			n.Carriers[i].Role = ca.PSCell
		}
	}
	for i := range n.Carriers {
		if c := &n.Carriers[i]; c.Transmit == ca.Yes && (c.Role == ca.PCell || c.Role == ca.PSCell) {
			c.Transmit = ca.Open // a primary cell does
		}
	}
}

// primary is the carrier of a technology that levels without a cell are about: its primary
// cell, or its only one; -1 if that is open.
func (n *Network) primary(rat bands.RAT) int {
	only := -1
	for i := range n.Carriers {
		switch c := &n.Carriers[i]; {
		case c.Band.RAT != rat:
		case c.Role == ca.PCell || c.Role == ca.PSCell:
			return i
		case only >= 0:
			only = len(n.Carriers)
		default:
			only = i
		}
	}
	if only == len(n.Carriers) {
		return -1
	}
	return only
}
