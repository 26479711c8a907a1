package configs

import (
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// separationValue are the frequency separation classes of a band as JSON shows them.
type separationValue struct {
	Band         string            `json:"band"`
	Direction    string            `json:"direction"`
	DownlinkOnly bool              `json:"dl_only"` // of spectrum with downlinks alone, beside the other classes
	Classes      []separationClass `json:"classes"` // the narrowest first
	Source       render.Source     `json:"source"`
}

type separationClass struct {
	Name string         `json:"class"`
	Max  figures.Figure `json:"max_mhz"`
}

// separate lists the bands of FR2 in which a configuration has carriers that are not
// contiguous.
func separate(c ca.Configuration) []*bands.Band {
	blocks := make(map[bands.ID]int)
	var list []*bands.Band
	for _, part := range c.Name().Components() {
		before := blocks[part.Band]
		blocks[part.Band] += len(part.Blocks)
		if b, err := bands.Lookup(part.Band); err == nil && b.Range.IsFR2() && before < 2 && blocks[part.Band] > 1 {
			list = append(list, b)
		}
	}
	return list
}

// separations lists the frequency separation classes that a UE can have in the bands of a
// configuration.
func separations(c ca.Configuration) []separationValue {
	list := []separationValue{}
	for _, b := range separate(c) {
		add := func(d bands.Direction, only bool, classes []ca.SeparationClass) {
			v := separationValue{Band: b.ID.String(), Direction: d.Short(), DownlinkOnly: only, Source: render.Source(classes[0].Source)}
			for _, k := range classes {
				v.Classes = append(v.Classes, separationClass{k.Name, figures.MHz(k.Max)})
			}
			list = append(list, v)
		}
		add(bands.Downlink, false, ca.SeparationClasses(b, bands.Downlink))
		add(bands.Uplink, false, ca.SeparationClasses(b, bands.Uplink))
		add(bands.Downlink, true, ca.DownlinkOnlyClasses(b))
	}
	return list
}

// separationTable shows how far apart the carriers of each band may be.
func separationTable(c ca.Configuration) *render.Table {
	t := &render.Table{Title: "Frequency separation, edge to edge", Columns: []render.Column{
		{Header: "band"},
		{Header: "spectrum"},
		{Header: "at most", Unit: "MHz", Align: render.Number},
		{Header: "classes of UEs"},
	}}
	for _, v := range separations(c) {
		spectrum := map[string]string{"dl": "downlink", "ul": "uplink"}[v.Direction]
		if v.DownlinkOnly {
			spectrum = "downlink only"
		} else {
			t.Source = v.Source
		}
		var classes []string
		for _, k := range v.Classes {
			classes = append(classes, k.Name+" "+string(k.Max))
		}
		t.Rows = append(t.Rows, []string{v.Band, spectrum, string(v.Classes[len(v.Classes)-1].Max), strings.Join(classes, ", ")})
	}
	return t
}
