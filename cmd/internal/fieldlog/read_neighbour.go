package fieldlog

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/tomlfile"
)

func readNeighbour(t *tomlfile.Table) Neighbour {
	c, ok := newCarrierText(t)
	c.readPlace()
	if !t.Has("channel") && !t.Has("frequency") {
		t.Missing("channel", "a channel number, or a frequency in its place")
	}
	c.addKey("pci", tomlfile.Required)
	c.addKey("rsrp", tomlfile.Optional)
	t.Finish()
	list, err := ca.Parse(c.text)
	if err != nil || !ok {
		return Neighbour{}
	}
	n := Neighbour{list[0]}
	n.Carrier.Downlink, n.Carrier.Uplink = 0, 0 // not known
	if _, err := n.Centre(); err != nil {
		key := "channel"
		if !n.Carrier.HasChannel {
			key = "frequency"
		}
		t.Report(key, tomlfile.Renamed(err, key))
	}
	return n
}

// Centre is the downlink carrier centre of the cell; zero if its place is not known.
// A place outside the band is a *bands.ValueError.
func (n *Neighbour) Centre() (bands.Frequency, error) {
	c := &n.Carrier
	b, err := bands.Lookup(c.Band)
	if err != nil {
		return 0, err
	}
	if c.HasChannel {
		f, err := b.ChannelFrequency(c.Channel)
		if err != nil {
			return 0, err
		}
		if down, _ := b.Directions(c.Channel); !down {
			f, _ = b.Paired(bands.Uplink, f)
		}
		return f, nil
	}
	if s := b.Span(bands.Downlink); c.Centre != 0 && !s.Contains(c.Centre) {
		return 0, &bands.ValueError{Param: "frequency", Got: c.Centre.String(), Allowed: s.String() + ", the downlink of " + c.Band.String(), Source: b.Source}
	}
	return c.Centre, nil
}
