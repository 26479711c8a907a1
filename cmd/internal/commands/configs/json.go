package configs

import (
	"iter"

	"spectally/cmd/internal/figures"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/listed"
	"spectally/cmd/internal/render"
)

// configValue is a configuration as JSON shows it.
type configValue struct {
	ID           string            `json:"id"`
	Kind         string            `json:"kind"`
	Listed       bool              `json:"listed"`
	Carriers     int               `json:"carriers"` // in the downlink
	Uplink       []string          `json:"uplink"`
	Details      []uplinkValue     `json:"uplink_details"`
	MaxDL        *figures.Figure   `json:"max_dl_mhz"` // null if it is not known
	Sets         []setValue        `json:"sets"`
	Separations  []separationValue `json:"separation_classes"` // that a UE can have where carriers of FR2 are not contiguous
	Parts        []string          `json:"parts"`              // whose sets hold, for dual connectivity with E-UTRA
	SingleUplink string            `json:"single_ul_allowed"`
	Note         string            `json:"note"`
	Doubts       string            `json:"doubts"`
	FallbackOf   []string          `json:"fallback_of"` // of a name that is not listed
	Nearest      []string          `json:"nearest"`     // to a name that the standard does not have
	Source       render.Source     `json:"source"`
}

type uplinkValue struct {
	Uplink   string   `json:"uplink"`
	Powers   []string `json:"power_class"`
	Switched bool     `json:"switched_only"`
	Must     bool     `json:"must_support"`
	Sets     []int    `json:"bcs"` // beside which it stands; empty for all
}

// setValue is a bandwidth combination set, or one of its alternatives.
type setValue struct {
	BCS         int                 `json:"bcs"`
	Alternative int                 `json:"alternative"`
	Max         *figures.Figure     `json:"max_aggregated_mhz"` // null where the table states none
	Lower       string              `json:"lower"`              // the technology lower in frequency, within one band
	Components  []setComponentValue `json:"components"`
	Source      render.Source       `json:"source"`
}

type setComponentValue struct {
	Band       string             `json:"band"`
	Carriers   [][]figures.Figure `json:"carriers"`
	Ref        string             `json:"ref"`        // the set of another configuration; empty where widths are listed
	All        bool               `json:"all_widths"` // the table refers to all widths of the band
	Contiguous bool               `json:"contiguous"`
	Limits     []limitValue       `json:"limits"`
}

type limitValue struct {
	Width figures.Figure `json:"mhz"`
	Limit string         `json:"limit"`
}

// values makes the elements of the JSON array one after the other: there may be
// many thousands.
func (f *foundConfigs) values() iter.Seq[any] {
	return func(yield func(any) bool) {
		for _, m := range f.missing() {
			if !yield(m.value()) {
				return
			}
		}
		for _, c := range f.cutTo() {
			if !yield(valueOfConfig(c)) {
				return
			}
		}
	}
}

// cutTo is the list, cut if a limit was asked for.
func (f *foundConfigs) cutTo() []ca.Configuration {
	if f.cut {
		return f.list[:min(f.limit, len(f.list))]
	}
	return f.list
}

func valueOfConfig(c ca.Configuration) configValue {
	v := configValue{
		ID:           c.Name().String(),
		Kind:         c.Kind().String(),
		Listed:       true,
		Carriers:     c.Carriers(),
		Uplink:       []string{},
		Details:      []uplinkValue{},
		Sets:         []setValue{},
		Separations:  separations(c),
		Parts:        []string{},
		SingleUplink: c.SingleUplink(),
		Note:         c.Note(),
		Doubts:       c.Doubt(),
		FallbackOf:   []string{},
		Nearest:      []string{},
		Source:       render.Source(c.Source()),
	}
	if most := c.MaxDL(); most != 0 {
		v.MaxDL = new(figures.MHz(most))
	}
	for _, u := range c.Uplinks() {
		v.Uplink = append(v.Uplink, u.Text)
		v.Details = append(v.Details, uplinkValue{u.Text, figures.Present(u.PowerClasses), u.Switched, u.Must, figures.Present(u.Sets)})
	}
	for _, m := range c.Members() {
		v.Parts = append(v.Parts, m.Name.String())
	}
	sets := c.Sets()
	for i := range sets {
		v.Sets = append(v.Sets, valueOfSet(&sets[i]))
	}
	return v
}

func valueOfSet(s *ca.Set) setValue {
	v := setValue{BCS: s.BCS, Alternative: s.Alternative, Components: []setComponentValue{}, Source: render.Source(s.Source)}
	if s.MaxAggregated != 0 {
		v.Max = new(figures.MHz(s.MaxAggregated))
	}
	if s.Lower != 0 {
		v.Lower = s.Lower.String()
	}
	for i := range s.Components {
		k := &s.Components[i]
		w := setComponentValue{Band: k.Band.String(), Carriers: make([][]figures.Figure, len(k.Carriers)), Ref: k.Ref, All: k.All, Contiguous: k.Contiguous, Limits: []limitValue{}}
		for j, widths := range k.Carriers {
			w.Carriers[j] = mhzList(widths)
		}
		for _, l := range k.Limits {
			w.Limits = append(w.Limits, limitValue{figures.MHz(l.Width), l.Limit.Code()})
		}
		v.Components = append(v.Components, w)
	}
	return v
}

func mhzList(list []bands.Frequency) []figures.Figure {
	out := make([]figures.Figure, len(list))
	for i, f := range list {
		out[i] = figures.MHz(f)
	}
	return out
}

// value is a name that is not listed as JSON shows it.
func (m *namedConfig) value() configValue {
	v := configValue{
		ID:          m.Name.String(),
		Kind:        m.Name.Kind().String(),
		Carriers:    m.Name.Carriers(),
		Uplink:      []string{},
		Details:     []uplinkValue{},
		Sets:        []setValue{},
		Separations: []separationValue{},
		Parts:       []string{},
		FallbackOf:  listed.Names(m.FallbackOf),
		Nearest:     []string{},
	}
	for _, n := range m.nearest {
		v.Nearest = append(v.Nearest, n.Configuration.Name().String())
	}
	return v
}
