package combination

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// Assumed says what was taken for what the carriers leave open: a text for each kind of
// carrier, with its bands, what weighs most on a rate first; then on which of them the UE
// transmits. Layers and constellations are there where rates were asked for.
func (x *Answer) Assumed() []string {
	var order []string // texts, each with the bands that it holds for
	of := map[string][]string{}
	for i := range x.Carriers {
		p := &x.Carriers[i]
		text := x.assumedOf(i)
		if text == "" || slices.Contains(of[text], p.Band.String()) {
			continue
		}
		if of[text] == nil {
			order = append(order, text)
		}
		of[text] = append(of[text], p.Band.String())
	}
	for i, text := range order {
		order[i] = strings.Join(of[text], ", ") + ": " + text
	}
	if up := x.assumedUplinks(); len(up) > 0 {
		order = append(order, "uplink on "+words.And(up))
	}
	return order
}

func (x *Answer) assumedOf(i int) string {
	p, f := &x.Carriers[i], &x.Frames[i]
	var parts []string
	if x.Rates != nil {
		if l := &x.Rates.Carriers[i].Downlink; !l.IsZero() {
			if l.LayersAssumed {
				parts = append(parts, words.Counted(l.Layers, "layer"))
			}
			if l.QAMAssumed {
				parts = append(parts, strconv.Itoa(l.QAM)+"QAM")
			}
		}
	}
	if f.Assumed {
		parts = append(parts, f.String())
	}
	if x.Rates != nil && x.Rates.AirtimeAssumed(i) {
		parts = append(parts, "all of the airtime")
	}
	if p.Info != nil && p.SCS == 0 && p.Spacing != 0 && p.Band.RAT == bands.NR {
		parts = append(parts, p.Spacing.String())
	}
	return strings.Join(parts, " ")
}

// assumedUplinks are the bands of the uplinks that the UE transmits on where there was a
// choice.
func (x *Answer) assumedUplinks() []string {
	var up []string
	open := 0
	for i := range x.Carriers {
		p := &x.Carriers[i]
		if p.UplinkWidth != 0 && p.Transmit == ca.Open {
			open++
		}
		if p.Transmits && !slices.Contains(up, p.Band.String()) {
			up = append(up, p.Band.String())
		}
	}
	if open < 2 {
		return nil
	}
	return up
}

// AssumedList is Assumed on a line.
func (x *Answer) AssumedList() render.List {
	l := render.List{Kind: render.Assumed}
	if text := strings.Join(x.Assumed(), "; "); text != "" {
		l.Items = []string{text}
	}
	return l
}
