package ca

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/words"
)

// assumptions lists what the answer rests on and the carriers did not say. Bands of
// which the same holds share a line.
func (c *found) assumptions() []string {
	var list bandSentences
	if !c.Name.IsZero() && len(c.Carriers) > 0 {
		list.add("", "widths: the widest listed for "+c.Name.String()+", an upper bound")
	}
	for i := range c.Carriers {
		p := &c.Carriers[i]
		if p.Info != nil && p.SCS == 0 && p.Spacing != 0 && p.Band.RAT == bands.NR {
			list.add(p.Band.String(), "subcarrier spacing "+p.Spacing.String()+", usual for the width (common practice)")
		}
	}
	for i := range c.Carriers {
		p := &c.Carriers[i]
		if p.Info == nil {
			continue
		}
		if f := &c.Frames[i]; f.Assumed {
			list.add(p.Band.String(), "TDD pattern "+f.String()+", downlink "+percentage(f.Share(bands.Downlink).Float())+" ("+frameOrigin(p)+")")
		}
	}
	for i := range c.Carriers {
		p := &c.Carriers[i]
		if p.Info != nil && p.IsPlaced() && p.DownlinkCentre != 0 && p.UplinkCentre != 0 && p.Info.Duplex == bands.FDD {
			list.add(p.Band.String(), "uplink "+apart(p.DownlinkCentre-p.UplinkCentre)+" the downlink, the default separation")
		}
	}
	if text := c.senders(); text != "" {
		list.add("", text)
	}
	return list.lines()
}

// apart says on which side of the downlink an uplink lies.
func apart(distance bands.Frequency) string {
	if distance < 0 {
		return (-distance).MHz() + " MHz above"
	}
	return distance.MHz() + " MHz below"
}

// senders says on which carriers the UE was assumed to send; empty if there was no
// choice.
func (c *found) senders() string {
	var list []string
	if len(c.Carriers) < 2 {
		return ""
	}
	for i := range c.Carriers {
		p := &c.Carriers[i]
		if p.Transmits && p.Transmit == ca.Open && p.Role != ca.PCell && p.Role != ca.PSCell {
			list = append(list, combination.CarrierName(c.Assessment, i))
		}
	}
	switch len(list) {
	case 0:
		return ""
	case 1:
		return "uplink on " + list[0] + " (first possible primary cell); change with ul=1 or ul=0"
	}
	return "uplink on " + words.And(list) + " (first possible primary cell of each technology); change with ul=1 or ul=0"
}

// bandSentence is a sentence with the bands for which it holds; none if it holds for the
// whole.
type bandSentence struct {
	text  string
	bands []string
}

type bandSentences []bandSentence

func (l *bandSentences) add(band, text string) {
	i := slices.IndexFunc(*l, func(t bandSentence) bool { return t.text == text })
	if i < 0 {
		i = len(*l)
		*l = append(*l, bandSentence{text: text})
	}
	if t := &(*l)[i]; band != "" && !slices.Contains(t.bands, band) {
		t.bands = append(t.bands, band)
	}
}

func (l *bandSentences) lines() []string {
	var lines []string
	for _, t := range *l {
		if len(t.bands) > 0 {
			t.text = strings.Join(t.bands, ", ") + ": " + t.text
		}
		lines = append(lines, t.text)
	}
	return lines
}

func frameOrigin(p *ca.Placed) string {
	if p.Band.RAT == bands.LTE {
		return "common practice"
	}
	return "as in TS 38.101-4 Annex A"
}

// percentage writes a share with one decimal: "74.3 %".
func percentage(share float64) string {
	return strconv.FormatFloat(100*share, 'f', 1, 64) + " %"
}
