package fieldlog

import (
	"errors"
	"fmt"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/tomlcarrier"
	"spectally/cmd/internal/tomlfile"
)

// readCarriers reads the carriers of a network, as one text in the carrier notation
// or as a table for each.
func readCarriers(t *tomlfile.Table) ca.Combination {
	text, written := t.Single("carriers", tomlfile.Optional, `carriers in the notation, in quotes: "B3:20 + n78:80@640000"`)
	tables := t.Subs("carrier", "network.carrier", maxCarriers)
	switch {
	case t.Has("carriers") && t.Has("carrier"):
		t.Conflict("carriers", "carriers beside [[network.carrier]]", "one of the two in a network")
		return nil
	case !t.Has("carriers") && !t.Has("carrier"):
		t.Missing("carriers", "carriers in the notation, or one table at least under the header [[network.carrier]]")
		return nil
	case written:
		return tomlcarrier.Read(t, "carriers", text, maxCarriers)
	}
	var list ca.Combination
	var from []*tomlfile.Table
	for _, c := range tables {
		if carrier, ok := readCarrier(c); ok {
			list, from = append(list, carrier), append(from, c)
		}
	}
	tomlcarrier.Check(list, func(i int, key string, err error) { from[i].Report(key, err) })
	return list
}

// carrierKeys are the keys that a table shares with the carrier notation.
var carrierKeys = []string{"scs", "ssb", "layers", "ullayers", "qam", "ulqam", "scale", "rb", "pattern", "role", "pci", "rsrp", "sinr"}

// carrierText gathers a carrier in the notation, piece by piece, so that each key is
// checked by the reader of the notation and reported on its own. The text is good at
// any time.
type carrierText struct {
	table *tomlfile.Table
	text  string
}

// newCarrierText begins with the band, or with any if that is not known.
func newCarrierText(t *tomlfile.Table) (c *carrierText, ok bool) {
	band, ok := readBand(t)
	if !ok {
		band = bands.ID{RAT: bands.NR, Number: 1}
	}
	return &carrierText{t, band.String() + ":5"}, ok
}

// add tries a piece behind what is there, and keeps it if the notation takes it.
func (c *carrierText) add(key, piece string) bool {
	_, err := ca.Parse(c.text + piece)
	if err != nil {
		var notation *ca.NotationError
		if errors.As(err, &notation) {
			err = notation.Err
		}
		c.table.Report(key, tomlfile.Renamed(err, key))
		return false
	}
	c.text += piece
	return true
}

// addKey adds a key of the notation with its value if the table has it.
func (c *carrierText) addKey(key string, need tomlfile.Need) {
	const allowed = "a value as in the carrier notation"
	if v, ok := c.table.Single(key, need, allowed); ok && c.plain(key, v, allowed) {
		c.add(key, ","+key+"="+v)
	}
}

// plain tells whether a value can't be taken for other parts of the notation.
func (c *carrierText) plain(key, value, allowed string) bool {
	if value != "" && !strings.ContainsAny(value, ",+=@") && len(value) <= tomlfile.MaxText {
		return true
	}
	c.table.Refuse(key, value, allowed)
	return false
}

// readCarrier reads a carrier; false if it has no band or no width that could be
// checked further.
func readCarrier(t *tomlfile.Table) (ca.Carrier, bool) {
	c, bandOK := newCarrierText(t)
	widthOK := c.readWidth()
	c.readPlace()
	for _, key := range carrierKeys {
		c.addKey(key, tomlfile.Optional)
	}
	if ul, given := t.Bool("ul"); given {
		c.add("ul", map[bool]string{true: ",ul=1", false: ",ul=0"}[ul])
	}
	t.Finish()
	list, err := ca.Parse(c.text)
	if err != nil || !bandOK || !widthOK {
		return ca.Carrier{}, false
	}
	return list[0], true
}

func readBand(t *tomlfile.Table) (bands.ID, bool) {
	text, ok := t.Single("band", tomlfile.Required, `a band such as "n78", "B3" or 3`)
	if !ok {
		return bands.ID{}, false
	}
	id, err := bands.ParseID(text)
	if err == nil {
		_, err = bands.Lookup(id)
	}
	if err != nil {
		t.Report("band", tomlfile.Renamed(err, "band"))
		return bands.ID{}, false
	}
	return id, true
}

// readWidth puts the width in place of the one that stood for it.
func (c *carrierText) readWidth() bool {
	const allowed = `MHz as a number, or downlink and uplink in quotes: "20/10", "20/0"`
	width, ok := c.table.Single("width", tomlfile.Required, allowed)
	if !ok || !c.plain("width", width, allowed) {
		return false
	}
	before := c.text
	c.text = strings.TrimSuffix(before, "5")
	if !c.add("width", width) {
		c.text = before
		return false
	}
	return true
}

func (c *carrierText) readPlace() {
	channel, hasChannel := c.table.Whole("channel", tomlfile.Optional, 0, 3279165, "a channel number: EARFCN or NR-ARFCN")
	const allowed = `MHz as a number, or text with its unit such as "3540.96 MHz"`
	frequency, hasFrequency := c.table.Single("frequency", tomlfile.Optional, allowed)
	switch {
	case c.table.Has("channel") && c.table.Has("frequency"):
		c.table.Conflict("frequency", "frequency beside channel", "one of the two in a carrier")
	case hasChannel:
		c.add("channel", fmt.Sprintf("@%d", channel))
	case hasFrequency && c.table.KindOf("frequency") != tomlfile.String:
		c.add("frequency", "@"+frequency+"MHz")
	case hasFrequency:
		if _, err := bands.ParseFrequency(frequency); err != nil {
			c.table.Refuse("frequency", frequency, allowed)
			return
		}
		c.add("frequency", "@"+frequency)
	}
}
