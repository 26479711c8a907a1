package combination

import (
	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/listed"
	"spectally/cmd/internal/render"
)

// Configuration is a configuration of the standard that the carriers can form.
type Configuration struct {
	ID         string        `json:"id"`
	Kind       string        `json:"kind"`
	Listed     bool          `json:"listed"`
	FallbackOf []string      `json:"fallback_of"`
	Nearest    []string      `json:"nearest"` // of one that is not listed
	Sets       []int         `json:"bandwidth_sets"`
	Refusal    string        `json:"refusal"` // why no set admits the widths
	Parts      []Member      `json:"parts"`
	Uplinks    []string      `json:"uplinks"`
	Holds      bool          `json:"holds"` // the standard has it with these widths
	Source     render.Source `json:"source"`
}

// Member is a part of dual connectivity that is checked by itself.
type Member struct {
	ID     string        `json:"id"`
	Listed bool          `json:"listed"`
	Sets   []int         `json:"bandwidth_sets"`
	Source render.Source `json:"source"`
}

func configuration(l *ca.Listing) Configuration {
	v := Configuration{
		ID:         l.Name.String(),
		Kind:       l.Name.Kind().String(),
		Listed:     len(l.Listed) > 0,
		FallbackOf: listed.Names(l.FallbackOf),
		Nearest:    []string{},
		Sets:       figures.Present(l.BandwidthSets()),
		Refusal:    l.Admission.RefusalText(),
		Parts:      []Member{},
		Uplinks:    []string{},
		Holds:      l.Holds(),
		Source:     render.Source(l.Source()),
	}
	if !l.Supported() {
		for _, near := range ca.NearestTo(l.Name) {
			v.Nearest = append(v.Nearest, near.Configuration.Name().String())
		}
	}
	for i := range l.Admission.Members {
		m := &l.Admission.Members[i]
		v.Parts = append(v.Parts, Member{m.Name.String(), m.Alone || m.Found && m.Configuration.Name() == m.Name, figures.Present(m.Sets), render.Source(m.Source)})
	}
	seen := map[string]bool{}
	for _, k := range l.Listed {
		for _, u := range k.Uplinks() {
			if !seen[u.Text] {
				seen[u.Text] = true
				v.Uplinks = append(v.Uplinks, u.Text)
			}
		}
	}
	return v
}
