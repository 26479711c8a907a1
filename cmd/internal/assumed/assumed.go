// Package assumed says in sentences what answers assume: the values are those of package
// throughput and of package site.
package assumed

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/words"
	"spectally/throughput"
	"spectally/throughput/site"
)

// NoSource marks a figure of the trade that no standard has.
const NoSource = "common practice, no source"

// Statement is what was assumed, as people read it.
type Statement struct {
	Carriers []int // counted from 1; none for all
	Band     bands.ID
	Text     string // after the band, where there is one
	Source   bands.Source
}

// String is the whole sentence.
func (s *Statement) String() string {
	if s.Band == (bands.ID{}) {
		return s.Text
	}
	return s.Band.String() + " " + s.Text
}

// Statements says assumptions in sentences; those of one technology and direction that
// follow each other are one.
func Statements(list []throughput.Assumption) []Statement {
	var out []Statement
	for n := 0; n < len(list); {
		a, end := &list[n], n+1
		for joined(a) && end < len(list) && joined(&list[end]) && list[end].RAT == a.RAT && list[end].Direction == a.Direction && list[end].Source == a.Source {
			end++
		}
		for a.Quantity == site.QuantityBackhaulPeak && end < len(list) && (list[end].Quantity == site.QuantityTransport || list[end].Quantity == site.QuantitySecurity) {
			end++
		}
		for a.Quantity == throughput.QuantityPattern && end < len(list) && list[end].Quantity == throughput.QuantityShare {
			end++
		}
		out = append(out, Statement{a.Carriers, a.Band, sentence(list[n:end]), a.Source})
		n = end
	}
	return out
}

// joined tells whether an assumption is one of several about the schedules of a technology.
func joined(a *throughput.Assumption) bool { return a.RAT != 0 && a.Band == (bands.ID{}) }

// sentence says assumptions that belong together.
func sentence(list []throughput.Assumption) string {
	a := &list[0]
	switch {
	case a.Quantity == throughput.QuantityPattern && len(list) > 1:
		return "TDD pattern " + a.Value + ", downlink " + list[1].Value + " of the time (" + reasons[a.Why] + ")"
	case a.Quantity == site.QuantityBackhaulPeak && len(list) == 3:
		return backhaul(a, &list[1], &list[2])
	case joined(a) && a.RAT == bands.LTE && a.Quantity == throughput.QuantityCodeRate && len(list) == 4:
		signals := ", reference, synchronisation and broadcast signals leave"
		if list[2].Value == "" {
			signals = " and reference signals leave"
		}
		return "Scheduled, LTE: largest blocks up to code rate " + a.Value + " in what " + lteControl(list[1].Value) + signals + "; " + list[3].Value + " resource blocks of PUCCH."
	case joined(a):
		parts := make([]string, len(list))
		for i := range list {
			parts[i] = part(&list[i])
		}
		of, between := a.RAT.String(), "; "
		if a.Direction != 0 {
			of, between = of+" "+a.Direction.String(), ", "
		}
		return "Scheduled, " + of + ": " + strings.Join(parts, between) + "."
	}
	return part(a)
}

// Text says one assumption.
func Text(a *throughput.Assumption) string {
	s := Statement{Band: a.Band, Text: part(a)}
	if joined(a) {
		s.Text = sentence([]throughput.Assumption{*a})
	}
	return s.String()
}

func lteControl(symbols string) string {
	if symbols == "" {
		return "the shortest control region"
	}
	return "a control region of " + counted(symbols, "symbol")
}

// counted writes a number that is a text with its noun.
func counted(number, noun string) string {
	n, err := strconv.Atoi(number)
	if err != nil {
		return number + " " + noun + "s"
	}
	return words.Counted(n, noun)
}

// short are the quantities that weigh most on a rate, in the order in which [Short] has them.
var short = []throughput.Quantity{throughput.QuantityLayers, site.QuantityPhoneLayers, throughput.QuantityQAM, throughput.QuantityPattern, throughput.QuantityAirtime, throughput.QuantitySpacing}

// Short says on a line what was assumed of a direction of each band: layers, constellation,
// pattern and spacing. Bands of which the same holds stand together; empty if nothing was.
func Short(list []throughput.Assumption, d bands.Direction) string {
	var order, texts []string // bands, and what is assumed of each
	for i := range list {
		if name := list[i].Band.String(); list[i].Band != (bands.ID{}) && !slices.Contains(order, name) {
			order = append(order, name)
		}
	}
	together := make(map[string][]string) // bands by text
	for _, name := range order {
		var parts []string
		for _, q := range short {
			for i := range list {
				if a := &list[i]; a.Band.String() == name && a.Quantity == q && (a.Direction == 0 || a.Direction == d) && !slices.Contains(parts, value(a)) {
					parts = append(parts, value(a))
				}
			}
		}
		if text := strings.Join(parts, " "); text != "" {
			if together[text] == nil {
				texts = append(texts, text)
			}
			together[text] = append(together[text], name)
		}
	}
	for i, text := range texts {
		texts[i] = strings.Join(together[text], ", ") + ": " + text
	}
	return strings.Join(texts, "; ")
}

// value writes what was taken, with its unit.
func value(a *throughput.Assumption) string {
	switch a.Quantity {
	case throughput.QuantityLayers, site.QuantityPhoneLayers:
		return counted(a.Value, "layer")
	case throughput.QuantityQAM:
		return Constellation(a.Value)
	case throughput.QuantityAirtime:
		return "all of the airtime"
	}
	return a.Value
}
