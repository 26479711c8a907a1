package holdingreport

import (
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
	"spectally/cmd/internal/render"
	"spectally/throughput/holding"
)

// shownNext is how many of what comes next a short answer shows.
const shownNext = 1

// nextTable says what comes next after the best and what it lacks.
func (s *study) nextTable(all bool) *render.Table {
	t := &render.Table{Title: "What comes next, and what it lacks", Columns: []render.Column{
		{Key: "network", Header: "network", Typed: true},
		{Key: "added", Header: "with"},
		{Key: "gain_mbps", Header: "gain", Unit: "Mbit/s", Align: render.Number},
		{Key: "lacks", Header: "lacks"},
	}}
	for i := range s.networks {
		n := &s.networks[i]
		name := n.name
		if len(s.networks) == 1 {
			name = ""
		}
		for k := range n.next {
			if !all && (k >= shownNext) {
				break
			}
			x := &n.next[k]
			t.Rows = append(t.Rows, []string{name, nextText(x), rateText(x.Value - n.top.Value), lackIn(x, all)})
		}
	}
	t.DropEmpty()
	return t
}

func nextText(x *holding.Next) string {
	if x.Instead != (ca.Carrier{}) {
		return shortCarriers(ca.Combination{x.Added}) + " for " + shortCarriers(ca.Combination{x.Instead})
	}
	return "+ " + shortCarriers(ca.Combination{x.Added})
}

// lackIn says the lack whole, or in a few words.
func lackIn(x *holding.Next, whole bool) string {
	if !whole && x.Lacks == holding.LackListed {
		switch x.Finding.Rule {
		case ca.RuleListed:
			return "no listed configuration"
		case ca.RuleBandwidthSet:
			return "sets that admit these widths"
		}
	}
	return lackText(x)
}

func lackText(x *holding.Next) string {
	switch x.Lacks {
	case holding.LackListed:
		return x.Finding.Message
	case holding.LackFallback:
		return "It is listed as a fallback of a larger configuration alone."
	case holding.LackLimit:
		return "It is beyond the limits given."
	}
	return "The device does not have the configuration."
}

// changeTable says what changes of the spectrum would bring.
func (s *study) changeTable() *render.Table {
	t := &render.Table{Title: "What more or other spectrum would add to the downlink rate", Columns: []render.Column{
		{Key: "network", Header: "network", Typed: true},
		{Key: "change", Header: "change"},
		{Key: "from", Header: "from"},
		{Key: "to", Header: "to"},
		{Key: "gain_mbps", Header: "gain", Unit: "Mbit/s", Align: render.Number},
		{Key: "configuration", Header: "then the best"},
		{Key: "remark", Header: "remark", Typed: true},
	}}
	for i := range s.networks {
		n := &s.networks[i]
		for k := range n.change {
			c := &n.change[k]
			t.Rows = append(t.Rows, []string{n.name, changeText(c), blocksText(c.From), blocksText(c.To), rateText(c.Gain), c.Best.Name.String(), s.remark(i, c)})
		}
	}
	return t
}

func changeText(c *holding.Change) string {
	switch c.Kind {
	case holding.Wider:
		return plusText(c.By, c.From[0])
	case holding.OneWhole:
		return "one block"
	}
	return "swap"
}

func plusText(by bands.Frequency, b deploy.Block) string {
	if b.Uplink.IsZero() {
		return by.MHz() + " MHz more"
	}
	return "2 × " + by.MHz() + " MHz more"
}

func blocksText(list []deploy.Block) string {
	words := make([]string, len(list))
	for i, b := range list {
		words[i] = b.String()
	}
	return strings.Join(words, ", ")
}

func (s *study) remark(i int, c *holding.Change) string {
	switch {
	case c.Kind == holding.Swapped:
		other := c.Other
		if other >= i {
			other++ // the network itself is not among the others
		}
		gain := rateText(max(c.OtherGain, -c.OtherGain)) + " Mbit/s"
		switch {
		case c.OtherGain > 0:
			return s.networks[other].name + " wins " + gain
		case c.OtherGain < 0:
			return s.networks[other].name + " loses " + gain
		}
		return s.networks[other].name + " loses nothing"
	case c.Held:
		return "held by another network"
	}
	return ""
}
