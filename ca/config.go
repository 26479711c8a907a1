package ca

import (
	"iter"
	"strings"

	"spectally/bands"
	"spectally/data"
)

// n41 and n90: every configuration with band n41 holds for n90 too and is not
// listed again (TS 38.101-1 clause 5.5A.0, TS 38.101-3 clauses 5.5A.1.0, 5.5B.1).
var (
	bandN41 = bands.ID{RAT: bands.NR, Number: 41}
	bandN90 = bands.ID{RAT: bands.NR, Number: 90}
)

// Configuration is a configuration that the standard lists. It is a handle on
// the list: making and copying it costs nothing, its details are read when they
// are asked for. The zero Configuration is none.
type Configuration struct {
	entry *entry
	as90  bool // a configuration with n41, looked up for n90
}

// IsZero tells whether c is no configuration.
func (c Configuration) IsZero() bool { return c.entry == nil }

// record is what the list has of the configuration; empty for the zero Configuration.
func (c Configuration) record() *entry {
	if c.entry == nil {
		return &noEntry
	}
	return c.entry
}

var noEntry = entry{table: &data.ListTable{}}

// Find looks a configuration up by its name. Where the standard lists a name
// more than once, with different uplinks, it returns the first; [FindAll]
// returns every one. A single carrier is no configuration.
//
// A name with n90 finds the configuration with n41, which holds for both.
func Find(n Name) (Configuration, bool) {
	f := familyOf(n.kind)
	if f == nil {
		return Configuration{}, false
	}
	text, as90 := n.text, false
	if strings.Contains(text, "n90") {
		text, as90 = swapBand(n, bandN90, bandN41), true
	}
	if e := f.find(text); e != nil {
		return Configuration{e, as90}, true
	}
	return Configuration{}, false
}

// FindAll returns every listing of a name: none if it is not listed, and more
// than one for a few names of EN-DC in one band whose uplink is given in
// several ways.
func FindAll(n Name) []Configuration {
	c, ok := Find(n)
	if !ok {
		return nil
	}
	all := []Configuration{c}
	for e := c.entry.next; e != nil; e = e.next {
		all = append(all, Configuration{e, c.as90})
	}
	return all
}

// All yields every listed configuration of the kinds given, of all kinds if
// there are none, in the order of the tables: E-UTRA CA, NR CA, EN-DC and NE-DC,
// NR-DC, supplementary uplink.
func All(kinds ...Kind) iter.Seq[Configuration] {
	return func(yield func(Configuration) bool) {
		for _, f := range familiesOf(kinds) {
			for _, e := range f.all().entries {
				if wanted(kinds, e.kind) && !yield(Configuration{entry: e}) {
					return
				}
			}
		}
	}
}

func wanted(kinds []Kind, k Kind) bool {
	for _, w := range kinds {
		if w == k {
			return true
		}
	}
	return len(kinds) == 0
}

// familiesOf returns the families that have the kinds, all if there are none.
func familiesOf(kinds []Kind) []*family {
	var out []*family
	for _, k := range [...]Kind{KindLTECA, KindNRCA, KindENDC, KindNRDC, KindSUL} {
		if wanted(kinds, k) || k == KindENDC && wanted(kinds, KindNEDC) {
			out = append(out, familyOf(k))
		}
	}
	return out
}

// swapBand returns the text of a name with one band in place of another; empty
// if the name has both.
func swapBand(n Name, old, by bands.ID) string {
	p := n.Parts()
	for i := range p.NR {
		if p.NR[i].Band == by {
			return ""
		}
	}
	for i := range p.NR {
		if p.NR[i].Band == old {
			p.NR[i].Band = by
		}
		if p.NR[i].Cell == old {
			p.NR[i].Cell = by
		}
	}
	if p.Joined.Band == old.Number {
		return "" // n90 has no E-UTRA band of its number
	}
	m, err := NewName(p)
	if err != nil {
		return ""
	}
	return m.text
}

// band returns the band under which a configuration was looked up.
func (c Configuration) band(id bands.ID) bands.ID {
	if c.as90 && id == bandN41 {
		return bandN90
	}
	return id
}

// Name returns the name in its canonical form.
func (c Configuration) Name() Name {
	n := Name{c.record().name, c.record().kind}
	if c.as90 {
		n.text = swapBand(n, bandN41, bandN90)
	}
	return n
}

// hasName tells whether the configuration has a name: looked up for n90 it has none
// where n41 is joined with E-UTRA band 41.
func (c Configuration) hasName() bool { return !c.as90 || c.Name().text != "" }

// Printed returns the name as the table prints it. It differs from Name for the
// few whose components the table does not put in order.
func (c Configuration) Printed() string {
	return c.record().printed
}

// Kind tells what the configuration is.
func (c Configuration) Kind() Kind { return c.record().kind }

// Carriers returns the number of downlink carriers.
func (c Configuration) Carriers() int { return int(c.record().carriers) }

// Source is the table that lists the configuration.
func (c Configuration) Source() bands.Source { return c.record().table.Source }

// Table says in a few words what the table of Source holds.
func (c Configuration) Table() string { return c.record().table.Title }

// Note returns what the notes of the table add, in our words; parts are
// separated by "; ". Empty for most configurations.
func (c Configuration) Note() string { return c.record().line(" note ") }

// Doubt says where the reading of the table is not certain. Empty for most
// configurations.
func (c Configuration) Doubt() string { return c.record().line(" doubt ") }

// SingleUplink tells, for EN-DC of two bands and of one, whether a UE may be
// limited to one uplink: "Yes", "No", "N/A", or the pair of bands for which it may,
// as printed ("DC_3_n78"). Empty where the table does not say.
func (c Configuration) SingleUplink() string { return c.record().line(" single ") }

// line returns the rest of the line that begins with key.
func (e *entry) line(key string) string {
	for line := range strings.Lines(e.lines) {
		if rest, ok := strings.CutPrefix(line, key); ok {
			return rest[:len(rest)-1]
		}
	}
	return ""
}
