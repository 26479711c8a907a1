// Package listed says in words what the standard lists of a configuration.
package listed

import (
	"strings"

	"spectally/ca"
	"spectally/cmd/internal/render"
)

var Kinds = map[ca.Kind]string{
	ca.KindLTE:   "one LTE carrier",
	ca.KindNR:    "one NR carrier",
	ca.KindLTECA: "LTE carrier aggregation",
	ca.KindNRCA:  "NR carrier aggregation",
	ca.KindENDC:  "EN-DC: LTE with NR, the master cell LTE",
	ca.KindNEDC:  "NE-DC: NR with LTE, the master cell NR",
	ca.KindNRDC:  "NR dual connectivity",
	ca.KindSUL:   "NR with a supplementary uplink",
}

// AnySingleUplink tells whether one carrier of any band may be the uplink, though the
// tables of E-UTRA and NR CA do not say so band by band; a note on the uplink goes
// before that rule.
func AnySingleUplink(c ca.Configuration) bool {
	k := c.Kind()
	return (k == ca.KindLTECA || k == ca.KindNRCA) && !strings.Contains(c.Note(), "uplink")
}

func Names(list []ca.Configuration) []string {
	names := make([]string, len(list))
	for i, c := range list {
		names[i] = c.Name().String()
	}
	return names
}

// Notes has the notes of the table and the doubts about its reading.
func Notes(c ca.Configuration) render.List {
	l := render.List{Kind: render.Notes}
	if note := c.Note(); note != "" {
		l.Items = strings.Split(note, "; ")
	}
	if doubt := c.Doubt(); doubt != "" {
		l.Items = append(l.Items, "doubt: "+doubt)
	}
	return l
}
