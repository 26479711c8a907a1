package ca

import (
	"slices"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
)

// SeparationClass is a frequency separation class: how far apart the outer edges of
// carriers in one band may be that are not contiguous. A UE says which it has.
type SeparationClass struct {
	Name string // I, II, III …
	Max  bands.Frequency
	// DownlinkOnly tells that the class is none for uplinks.
	DownlinkOnly bool
	// Tentative tells that the value stands in square brackets.
	Tentative bool
	Source    bands.Source
}

type separationTables struct{ fr1, fr2, extra []SeparationClass }

var separationRows = sync.OnceValue(func() separationTables {
	tables := data.Lazy("ca_classes")()
	read := func(id string) []SeparationClass {
		t := data.Find(tables, id)
		list := make([]SeparationClass, 0, len(t.Rows))
		for _, row := range t.Rows {
			list = append(list, SeparationClass{row[0], bands.Frequency(decimal(row[1])) * bands.MHz, row[2] == "downlink only", strings.Contains(row[2], "square brackets"), t.Source})
		}
		slices.SortFunc(list, func(a, b SeparationClass) int { return int((a.Max - b.Max) / bands.MHz) })
		return list
	}
	return separationTables{read("separation-fr1"), read("separation-fr2"), read("separation-fr2-dl")}
})

// SeparationClasses lists the frequency separation classes of a band in a direction, the
// narrowest first: TS 38.101-1 Table 5.3A.5-2 (uplink), TS 38.101-2 Table 5.3A.4-2. None for
// LTE and for the downlink of FR1.
func SeparationClasses(b *bands.Band, d bands.Direction) []SeparationClass {
	switch {
	case b.ID.RAT != bands.NR:
		return nil
	case !b.Range.IsFR2():
		if d == bands.Downlink {
			return nil
		}
		return slices.Clone(separationRows().fr1)
	}
	return slices.DeleteFunc(slices.Clone(separationRows().fr2), func(c SeparationClass) bool { return d == bands.Uplink && c.DownlinkOnly })
}

// DownlinkOnlyClasses lists, the narrowest first, the classes of spectrum in which a UE of
// FR2 has downlinks alone, beside that of its frequency separation class: TS 38.101-2 Table
// 5.3A.4-3. None for other bands.
func DownlinkOnlyClasses(b *bands.Band) []SeparationClass {
	if !b.Range.IsFR2() {
		return nil
	}
	return slices.Clone(separationRows().extra)
}

// checkSeparation compares how far the carriers of a band reach with the frequency
// separation classes. They are for carriers that are not contiguous.
func (k *checker) checkSeparation(g *Group) {
	if len(g.Blocks) < 2 || g.Band.ID.RAT != bands.NR {
		return
	}
	for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
		var reach bands.Span
		blocks, last := 0, -1
		for _, b := range g.Blocks {
			before := last
			for _, i := range b.Carriers {
				p := &k.Carriers[i]
				if p.Width(d) == 0 || p.CentreIn(d) == 0 || d == bands.Uplink && !p.Transmits {
					continue
				}
				if s := p.Span(d); last < 0 {
					reach = s
				} else {
					reach = bands.Span{Low: min(reach.Low, s.Low), High: max(reach.High, s.High)}
				}
				last = i
			}
			if last != before {
				blocks++
			}
		}
		if classes := SeparationClasses(g.Band, d); blocks > 1 && len(classes) > 0 {
			k.saySeparation(g.Band, d, last, reach.Width(), classes)
		}
	}
}

func (k *checker) saySeparation(b *bands.Band, d bands.Direction, last int, apart bands.Frequency, classes []SeparationClass) {
	n := slices.IndexFunc(classes, func(c SeparationClass) bool { return c.Max >= apart })
	if n < 0 {
		widest, severity := classes[len(classes)-1], Error
		if widest.Tentative {
			severity = Warning
		}
		k.report(severity, RuleSeparation, last, &bands.ValueError{
			Param: d.String() + " frequency separation in " + b.ID.String() + ", edge to edge", Got: mhz(apart),
			Allowed: "at most " + mhz(widest.Max) + " (class " + widest.Name + ")", Source: widest.Source})
		return
	}
	need := classes[n].Name + " (" + mhz(classes[n].Max) + ")"
	if n+1 < len(classes) {
		need += " or a wider one"
	}
	k.say(Note, RuleSeparation, last, classes[n].Source, "The "+d.String()+" carriers in "+b.ID.String()+" reach over "+mhz(apart)+
		", which takes a UE of frequency separation class "+need+".")
}
