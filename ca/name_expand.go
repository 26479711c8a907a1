package ca

import "spectally/bands"

// Expand gives the carriers of a name the widest channel bandwidths that the
// standard lists for them: an upper bound on what the configuration can be. It is
// false if the standard does not have the name. A supplementary uplink has its
// uplink alone; a width that the band has in the downlink alone comes with the
// widest uplink that may be paired with it, if there is one.
func Expand(n Name) (Combination, bool) {
	widest, ok := Widest(n)
	if !ok {
		return nil, false
	}
	var c Combination
	for i, component := range n.Components() {
		for _, block := range widest.Components[i] {
			for _, w := range block.Carriers {
				c = append(c, Carrier{Band: component.Band, Downlink: w, Uplink: widestUplink(component.Band, w)})
			}
		}
	}
	return c, true
}

// widestUplink is the widest uplink that goes with a width: the width itself if the
// band has it in the uplink.
func widestUplink(id bands.ID, width bands.Frequency) bands.Frequency {
	b, err := bands.Lookup(id)
	if err != nil || !b.Has(bands.Uplink) || b.HasWidth(bands.Uplink, width) {
		return width
	}
	var widest bands.Frequency
	for _, pair := range b.WidthPairs() {
		if pair.Downlink == width {
			widest = max(widest, pair.Uplink)
		}
	}
	return widest
}
