package channel

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// channel is what is found about a place in a band.
type channel struct {
	band *bands.Band
	// asked is the direction in which the place was given.
	asked bands.Direction
	// centre and number are the carrier by direction; see has and numbered.
	centre map[bands.Direction]bands.Frequency
	number map[bands.Direction]int32

	onRaster bool
	nearest  []int32

	width bands.Frequency // zero if none was given
	scs   bands.Frequency // zero if neither it nor a width was given
	// assumedSCS tells that scs is the default.
	assumedSCS bool
	// search tells that the synchronisation raster was asked for; entries are what
	// was found there.
	search  bool
	entries []syncEntry
	// block is the place if it was given as a GSCN; else zero.
	block bands.GSCN
}

func (c *channel) has(d bands.Direction) bool { _, ok := c.centre[d]; return ok }

// readPlace reads a channel number or a frequency.
func readPlace(s string) (number int32, at bands.Frequency, err error) {
	if n, err := strconv.ParseInt(s, 10, 32); err == nil && n >= 0 {
		return int32(n), -1, nil
	}
	if at, err = bands.ParseFrequency(s); err == nil {
		return -1, at, nil
	}
	if strings.Trim(s, "0123456789") == "" && s != "" {
		return 0, 0, &bands.ValueError{Param: "channel number", Got: s, Allowed: "0 to 3279165"}
	}
	if better := spectrum.FrequencyError(s); better != nil {
		return 0, 0, better
	}
	return 0, 0, &bands.ValueError{Param: "channel", Got: s, Allowed: "a channel number, or a frequency with its unit"}
}

// findChannel reads the arguments and looks the place up.
func findChannel(args []string, f *channelFlags) (*channel, error) {
	b, value, first, err := readChannelArgs(args)
	if err != nil {
		return nil, err
	}
	place := command.Argument(first)
	n, frequency, err := readPlace(value)
	if err != nil {
		if _, _, bad := readPlace(args[first]); bad == nil && spectrum.NearestUnit(args[first+1]) == "" {
			return nil, command.TooMany(args, first+1, "one band and one channel")
		}
		return nil, command.At(place, err)
	}
	if f.gscn && b.ID.RAT == bands.LTE {
		return nil, command.At("--gscn", &bands.ValueError{Param: "band with a synchronisation raster", Got: b.ID.String(), Allowed: "an NR band"})
	}
	c := &channel{
		band:   b,
		centre: map[bands.Direction]bands.Frequency{},
		number: map[bands.Direction]int32{},
		search: f.gscn,
	}
	switch {
	case frequency >= 0:
		err = c.placeFrequency(frequency)
	case isGSCN(b, n):
		return c.placeBlock(bands.GSCN(n), place, f)
	default:
		err = c.placeNumber(n)
	}
	if err != nil {
		return nil, command.At(place, err)
	}
	if err := c.setWidth(f); err != nil {
		return nil, err
	}
	c.checkRaster()
	if c.search {
		c.findEntries()
	}
	return c, nil
}

// placeNumber finds the carrier at a channel number.
func (c *channel) placeNumber(n int32) error {
	f, err := c.band.ChannelFrequency(n)
	if err != nil {
		return err
	}
	downlink, _ := c.band.Directions(n)
	c.asked = bands.Uplink
	if downlink {
		c.asked = bands.Downlink
	}
	c.centre[c.asked], c.number[c.asked] = f, n
	return c.pair()
}

// placeFrequency finds the carrier at a frequency. Between two channel numbers it
// has none.
func (c *channel) placeFrequency(f bands.Frequency) error {
	c.asked = bands.Downlink
	if !c.band.Downlink.Contains(f) && c.band.Uplink.Contains(f) || !c.band.Has(bands.Downlink) {
		c.asked = bands.Uplink
	}
	if !c.band.Span(c.asked).Contains(f) {
		return &bands.ValueError{Param: c.band.ID.String() + " frequency", Got: f.MHz() + " MHz", Allowed: spansText(c.band), Source: c.band.Source}
	}
	if err := c.setCentre(c.asked, f); err != nil {
		return err
	}
	return c.pair()
}

// spansText writes the directions of a band: "3410–3490 MHz (uplink) or …".
func spansText(b *bands.Band) string {
	if b.Duplex == bands.TDD {
		return b.Downlink.String()
	}
	var parts []string
	for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
		if b.Has(d) {
			parts = append(parts, fmt.Sprintf("%s (%s)", b.Span(d), d))
		}
	}
	return words.Or(parts)
}

// pair finds the carrier of the other direction, if the band has one at a known
// place.
func (c *channel) pair() error {
	f, ok := c.band.Paired(c.asked, c.centre[c.asked])
	if !ok {
		return nil
	}
	return c.setCentre(other(c.asked), f)
}

func other(d bands.Direction) bands.Direction {
	if d == bands.Downlink {
		return bands.Uplink
	}
	return bands.Downlink
}

func (c *channel) setCentre(d bands.Direction, f bands.Frequency) error {
	n, exact, err := c.band.ChannelNumber(d, f)
	if err != nil {
		return err
	}
	c.centre[d] = f
	if exact {
		c.number[d] = n
	}
	return nil
}

// setWidth takes the width and the subcarrier spacing, and refuses those that the
// band does not have.
func (c *channel) setWidth(f *channelFlags) error {
	c.width, c.scs = f.width.Value, f.scs.Value
	if f.scs.IsSet {
		if err := checkSpacing(c.band, c.scs); err != nil {
			return command.At("--scs", err)
		}
	}
	if !f.width.IsSet {
		return nil
	}
	if !f.scs.IsSet {
		c.scs, c.assumedSCS = c.band.DefaultSpacing(c.width), c.band.ID.RAT == bands.NR
	}
	return command.At("--width", c.band.CheckWidth(c.asked, c.width, c.scs))
}

func checkSpacing(b *bands.Band, scs bands.Frequency) error {
	var names []string
	for _, s := range b.Spacings(0) {
		if s == scs {
			return nil
		}
		names = append(names, s.KHz())
	}
	return &bands.ValueError{Param: "subcarrier spacing of " + b.ID.String(), Got: scs.String(), Allowed: words.Or(names) + " kHz", Source: b.WidthSource()}
}

// checkRaster finds out whether the place is on the channel raster, and what is
// near.
func (c *channel) checkRaster() {
	n, exact := c.number[c.asked]
	c.onRaster = exact && c.band.OnRaster(c.asked, n, c.width)
	if !exact {
		n, _, _ = c.band.ChannelNumber(c.asked, c.centre[c.asked]) // no error: placeFrequency asked the same
	}
	c.nearest = c.band.NearestOnRaster(c.asked, n, c.width)
}
