package ca

import (
	"slices"
	"strconv"
	"strings"

	"spectally/ca"
	"spectally/cmd/internal/listed"
	"spectally/cmd/internal/render"
)

// mostShown is how many configurations that do not hold are named one by one.
const mostShown = 6

// configurationTable has the configurations that the carriers can form: those that
// hold, those that are listed and do not admit the widths, and the first of those
// that are not listed.
func (c *found) configurationTable() *render.Table {
	t := &render.Table{Title: "Configurations", Columns: []render.Column{
		{Header: "name"},
		{Header: "layout"},
		{Header: "listed"},
		{Header: "widths"},
		{Header: "source", Detail: true},
	}}
	holding := c.Holding()
	var others []*ca.Listing
	for i := range c.listings {
		if l := &c.listings[i]; !l.Alone && !slices.Contains(holding, l) {
			others = append(others, l)
		}
	}
	slices.SortStableFunc(others, func(a, b *ca.Listing) int { return supportRank(a) - supportRank(b) })
	for _, l := range holding {
		t.Rows = append(t.Rows, c.listingRow(l))
	}
	for i, l := range others {
		if i == mostShown {
			break
		}
		t.Rows = append(t.Rows, c.listingRow(l))
	}
	t.DropEmpty()
	return t
}

// supportRank orders listings that do not hold: listed ones, fallbacks, others.
func supportRank(l *ca.Listing) int {
	switch {
	case len(l.Listed) > 0:
		return 0
	case len(l.FallbackOf) > 0:
		return 1
	}
	return 2
}

func (c *found) listingRow(l *ca.Listing) []string {
	row := []string{l.Name.String(), c.layout(l.Name), "", "", l.Source().Short()}
	switch {
	case len(l.Listed) > 0:
		row[2] = "yes"
	case len(l.FallbackOf) > 0:
		row[2] = "fallback of " + firstNames(l.FallbackOf, 2)
	default:
		row[2] = "no"
		if near := ca.NearestTo(l.Name); len(near) > 0 {
			row[2] += "; closest: " + near[0].Configuration.Name().String() + ", " + near[0].Why()
		}
		return row
	}
	switch {
	case !l.Admission.Admitted():
		row[3] = "not admitted: " + l.Admission.RefusalText()
	case setText(l) != "":
		row[3] = "admitted by " + setText(l)
	case len(l.Admission.Members) > 0:
		row[3] = "any width of each band"
	default:
		row[3] = "sets unknown"
	}
	return row
}

// firstNames lists the names of the first configurations of a list.
func firstNames(list []ca.Configuration, most int) string {
	names := listed.Names(list)
	if len(names) > most {
		names = append(names[:most], "others")
	}
	return strings.Join(names, ", ")
}

// layout says how a name takes the carriers of the bands in which that is not known.
func (c *found) layout(n ca.Name) string {
	var words []string
	for _, k := range n.Components() {
		if !slices.ContainsFunc(c.Blocks, func(b ca.SubBlock) bool { return !b.Known && b.Band.ID == k.Band }) {
			continue
		}
		if len(k.Blocks) == 1 {
			words = append(words, k.Band.String()+" contiguous")
		} else {
			words = append(words, k.Band.String()+" in "+strconv.Itoa(len(k.Blocks))+" sub-blocks")
		}
	}
	return strings.Join(words, ", ")
}

// unlistedFacts counts the configurations that the table leaves out, and says if
// there are more than were looked up.
func (c *found) unlistedFacts() render.Facts {
	var facts render.Facts
	if rest := len(c.listings) - len(c.Holding()) - mostShown; rest > 0 {
		facts = append(facts, render.Fact{Name: "other names, not allowed", Value: strconv.Itoa(rest), Remark: "all of them in JSON"})
	}
	if !c.whole {
		facts = append(facts, render.Fact{Name: "not looked up", Value: "some layouts of this many carriers", Remark: "give channel numbers"})
	}
	return facts
}

// How many uplinks of a configuration are named in a short answer, and in a whole one.
const (
	most        = 3
	mostUplinks = 8
)

// carriedBy returns the listed configurations whose uplinks and notes hold for a
// listing: its own, or that of which it is a fallback.
func carriedBy(l *ca.Listing) []ca.Configuration {
	if len(l.Listed) > 0 {
		return l.Listed
	}
	return l.FallbackOf[:1]
}

// mostExplained is how many of the configurations that hold are shown with their
// uplinks and notes.
const mostExplained = 3

// uplinkFacts names the uplinks that the standard allows with the configurations
// that hold.
func (c *found) uplinkFacts() render.Facts {
	var facts render.Facts
	holding := c.Holding()
	for _, l := range holding[:min(mostExplained, len(holding))] {
		facts = append(facts, uplinkFact(carriedBy(l), mostUplinks)...)
	}
	return facts
}

// uplinkFact names the first uplinks of configurations of one name.
func uplinkFact(list []ca.Configuration, most int) render.Facts {
	words := uplinkWords(list)
	if len(words) == 0 {
		words = []string{"none listed"}
	}
	if more := len(words) - most; more > 1 {
		words = append(words[:most], strconv.Itoa(more)+" more")
	}
	return render.Facts{{Name: "uplink with " + list[0].Name().String(), Value: strings.Join(words, ", "), Source: render.Source(list[0].Source())}}
}

// notes are what the tables note on the configurations that hold, and the doubts
// about their reading.
func (c *found) notes() []string {
	var list []string
	holding := c.Holding()
	for _, l := range holding[:min(mostExplained, len(holding))] {
		for _, k := range carriedBy(l) {
			for _, note := range listed.Notes(k).Items {
				if text := k.Name().String() + ": " + note; !slices.Contains(list, text) {
					list = append(list, text)
				}
			}
		}
	}
	return list
}
