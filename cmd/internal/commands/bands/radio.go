package bands

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/bands/rf"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// radio is what the standard requires of UEs in a band.
type radio struct {
	sensitivities []rf.Sensitivity
	ports         []rf.Ports
	powers        []rf.Power
	radiated      []rf.Radiated
	since         rf.Release
	hasSince      bool
}

// radioOf reads the requirements; there are none of LTE, whose tables are not here.
func radioOf(b *bands.Band) *radio {
	r := &radio{}
	if b.ID.RAT != bands.NR {
		return r
	}
	r.since, r.hasSince = rf.Since(b.ID)
	if b.Range.IsFR2() {
		r.radiated = rf.RadiatedIn(b.ID)
		return r
	}
	r.sensitivities, r.ports, r.powers = rf.Sensitivities(b.ID), rf.MorePorts(b.ID), rf.Powers(b.ID)
	slices.SortStableFunc(r.ports, func(a, b rf.Ports) int { return a.Ports - b.Ports })
	return r
}

func (r *radio) facts() render.Facts {
	var facts render.Facts
	if r.hasSince {
		facts = append(facts, sinceFact(&r.since))
	}
	var parts []string
	for i := range r.powers {
		p := &r.powers[i]
		parts = append(parts, "class "+p.Class+" "+p.Level.String()+" dBm")
	}
	if len(parts) > 0 {
		facts = append(facts, render.Fact{Name: "UE output power", Value: strings.Join(parts, ", "), Remark: "at most, without tolerances", Source: render.Source(r.powers[0].Source)})
	}
	parts = nil
	for i := range r.ports {
		p := &r.ports[i]
		text := strconv.Itoa(p.Ports) + " ports " + p.Delta.String() + " dB"
		if p.Form != "" {
			text += " (" + p.Form + ")"
		}
		parts = append(parts, text)
	}
	if len(parts) > 0 {
		facts = append(facts, render.Fact{Name: "with more receive ports", Value: strings.Join(parts, ", "), Remark: "against REFSENS", Source: render.Source(r.ports[0].Source)})
	}
	return facts
}

func sinceFact(s *rf.Release) render.Fact {
	f := render.Fact{Name: "since", Source: render.Source(s.Source)}
	switch s.Evidence {
	case rf.Unmentioned:
		f.Value, f.Remark = "not known", "no change history mentions the band: Release 15, or under the name of a work item"
	case rf.AtLatest:
		f.Value, f.Remark = "Release "+strconv.Itoa(s.Release)+" at the latest", "first mentioned in "+s.Source.Spec+" V"+s.Edition+", "+s.Date
	default:
		f.Value, f.Remark = "Release "+strconv.Itoa(s.Release), "introduced in "+s.Source.Spec+" V"+s.Edition+", "+s.Date
	}
	return f
}

// sensitivityTable has REFSENS by width, a column for each subcarrier spacing.
func (r *radio) sensitivityTable() *render.Table {
	t := &render.Table{Title: "Reference sensitivity (REFSENS) with two receive ports", Columns: []render.Column{{Header: "width", Unit: "MHz", Align: render.Number}}}
	column, row := make(map[bands.Frequency]int), make(map[bands.Frequency]int)
	for i := range r.sensitivities {
		s := &r.sensitivities[i]
		if _, ok := column[s.Spacing]; !ok {
			column[s.Spacing] = len(t.Columns)
			t.Columns = append(t.Columns, render.Column{Header: s.Spacing.KHz() + " kHz", Unit: "dBm"})
		}
		t.Source = render.Source(s.Source)
	}
	for i := range r.sensitivities {
		s := &r.sensitivities[i]
		n, ok := row[s.Width]
		if !ok {
			n = len(t.Rows)
			row[s.Width] = n
			t.Rows = append(t.Rows, make([]string, len(t.Columns)))
			t.Rows[n][0] = s.Width.MHz()
		}
		cell := &t.Rows[n][column[s.Spacing]]
		if *cell != "" {
			*cell += " or "
		}
		*cell += strconv.FormatFloat(s.Level.Float(), 'f', 1, 64)
	}
	return t
}

// radiatedTable has the radiated requirements in FR2 by power class.
func (r *radio) radiatedTable() *render.Table {
	t := &render.Table{Title: "Radiated requirements by power class", Detail: true, Columns: []render.Column{
		{Header: "class"}, {Header: "what"}, {Header: "of the sphere", Unit: "%", Align: render.Number}, {Header: "width", Unit: "MHz", Align: render.Number}, {Header: "level", Unit: "dBm", Align: render.Number},
	}}
	for i := range r.radiated {
		d := &r.radiated[i]
		share := ""
		if d.Percentile > 0 {
			share = strconv.Itoa(d.Percentile)
		}
		t.Rows = append(t.Rows, []string{d.Class, strings.ReplaceAll(d.What, "-", " "), share, figures.OptionalMHz(d.Width), d.Level.String()})
		t.Source = render.Source(d.Source)
	}
	return t
}

// notes say what the figures are.
func (r *radio) notes() []string {
	if len(r.sensitivities) == 0 {
		return nil
	}
	list := []string{rf.Caution}
	seen := make(map[string]bool)
	for i := range r.sensitivities {
		for n := range strings.SplitSeq(r.sensitivities[i].Notes, ",") {
			if text := sensitivityNotes[n]; text != "" && !seen[n] {
				seen[n] = true
				list = append(list, "REFSENS: "+text)
			}
		}
	}
	return list
}

// sensitivityNotes are the notes of TS 38.101-1 Table 7.3.2-1a that change a figure.
var sensitivityNotes = map[string]string{
	"3":  "0.5 dB lower within 1475.9-1510.9 MHz",
	"6":  "0.5 dB lower within 865-894 MHz",
	"8":  "0.5 dB higher where the carrier overlaps 612-617 MHz",
	"9":  "the first of two values is for UEs with an uplink of at most 20 MHz",
	"10": "the second of two values is for UEs with the optional symmetric uplink",
}

func (r *radio) sources() []bands.Source {
	var list []bands.Source
	for i := range r.sensitivities {
		list = append(list, r.sensitivities[i].Source)
	}
	for i := range r.ports {
		list = append(list, r.ports[i].Source)
	}
	for i := range r.powers {
		list = append(list, r.powers[i].Source)
	}
	for i := range r.radiated {
		list = append(list, r.radiated[i].Source)
	}
	if r.hasSince {
		list = append(list, r.since.Source)
	}
	return list
}

type sensitivityValue struct {
	SCS   figures.Figure `json:"scs_khz"`
	Width figures.Figure `json:"mhz"`
	Level figures.Figure `json:"dbm"`
	Notes []string       `json:"notes,omitempty"`
}

type portsValue struct {
	Ports int            `json:"ports"`
	Delta figures.Figure `json:"delta_db"`
	Form  string         `json:"form"`
}

type powerValue struct {
	Class string         `json:"power_class"`
	Level figures.Figure `json:"dbm"`
}

type radiatedValue struct {
	Class string          `json:"power_class"`
	What  string          `json:"what"`
	Share *int            `json:"percentile,omitempty"`
	Width *figures.Figure `json:"mhz,omitempty"`
	Level figures.Figure  `json:"dbm"`
	Table string          `json:"table"`
}

type sinceValue struct {
	Release  *int          `json:"release"`
	Evidence string        `json:"evidence"`
	Edition  string        `json:"edition"`
	Date     string        `json:"date"`
	Source   render.Source `json:"source"`
}

func (v *bandValue) addRadio(b *bands.Band) {
	r := radioOf(b)
	for _, s := range r.sensitivities {
		v.Sensitivities = append(v.Sensitivities, sensitivityValue{figures.KHz(s.Spacing), figures.MHz(s.Width), figures.Figure(s.Level.String()), strings.FieldsFunc(s.Notes, func(c rune) bool { return c == ',' })})
	}
	for _, p := range r.ports {
		v.Ports = append(v.Ports, portsValue{p.Ports, figures.Figure(p.Delta.String()), p.Form})
	}
	for _, p := range r.powers {
		v.Powers = append(v.Powers, powerValue{p.Class, figures.Figure(p.Level.String())})
	}
	for _, d := range r.radiated {
		w := radiatedValue{Class: d.Class, What: d.What, Level: figures.Figure(d.Level.String()), Table: d.Source.Table}
		if d.Percentile > 0 {
			w.Share = &d.Percentile
		}
		if d.Width > 0 {
			w.Width = new(figures.MHz(d.Width))
		}
		v.Radiated = append(v.Radiated, w)
	}
	if r.hasSince {
		v.Since = &sinceValue{Evidence: r.since.Evidence.String(), Edition: r.since.Edition, Date: r.since.Date, Source: render.Source(r.since.Source)}
		if r.since.Release > 0 {
			v.Since.Release = &r.since.Release
		}
	}
}
