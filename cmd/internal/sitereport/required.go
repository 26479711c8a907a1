package sitereport

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/bands/rf"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/throughput/propagation"
)

// requiredValue are the links between ends with the standard's figures.
type requiredValue struct {
	Downlink *requiredLink `json:"dl"`
	Uplink   *requiredLink `json:"ul"`
	Missing  []string      `json:"missing"` // figures that the tables lack
}

type requiredLink struct {
	Power       figures.Figure `json:"power_dbm"`
	Sensitivity figures.Figure `json:"refsens_dbm"`
	Channel     string         `json:"reference_channel"` // empty where the whole width has the power
	Notes       string         `json:"table_notes"`       // numbers of notes of the table
	reachLink
	Sources []render.Source `json:"sources"`
}

func (r *reach) requiredValue() *requiredValue {
	v := &requiredValue{Missing: []string{}}
	for _, err := range r.Required.Missing {
		v.Missing = append(v.Missing, err.Error())
	}
	r.eachRequired(func(d bands.Direction, l *propagation.RequiredLink) {
		w := &requiredLink{Power: level(l.Power), Sensitivity: level(l.Receiver.Level.Float()), Channel: l.Receiver.Channel, Notes: l.Receiver.Notes, reachLink: *valueOfReach(&l.Reach)}
		for _, s := range l.Sources {
			w.Sources = append(w.Sources, render.Source(s))
		}
		if d == bands.Uplink {
			v.Uplink = w
		} else {
			v.Downlink = w
		}
	})
	return v
}

// eachRequired visits the links that there are between ends with the standard's figures.
func (r *reach) eachRequired(visit func(d bands.Direction, l *propagation.RequiredLink)) {
	if l := r.Required.Downlink; l != nil {
		visit(bands.Downlink, l)
	}
	if l := r.Required.Uplink; l != nil {
		visit(bands.Uplink, l)
	}
}

// requiredBlocks have where the level falls to REFSENS; none where the plan does not ask.
func (s *study) requiredBlocks() []render.Block {
	if s.Coverage.Requirement == nil {
		return nil
	}
	t := &render.Table{Title: "Where the level falls to REFSENS", Columns: []render.Column{
		{Header: "carrier"},
		{Header: "sector", Typed: true},
		{Header: "direction"},
		{Header: "sent", Unit: "dBm", Align: render.Number},
		{Header: "REFSENS", Unit: "dBm", Align: render.Number},
		{Header: "path loss", Unit: "dB", Align: render.Number},
		{Header: "range", Unit: "m", Align: render.Number},
		{Header: "mark"},
		{Header: "tables"},
	}}
	var missing []*bands.ValueError
	for i := range s.reaches {
		r := &s.reaches[i]
		r.eachRequired(func(d bands.Direction, l *propagation.RequiredLink) {
			t.Rows = append(t.Rows, []string{
				carrierName(&r.carrier), strings.Join(r.sectors, ", "), directionWord(d), levelText(l.Power), levelText(l.Receiver.Level.Float()),
				levelText(l.MaxPathLoss), metresText(l.Range), mark(&l.Reach), tablesText(l),
			})
		})
		for _, err := range r.Required.Missing {
			missing = together(missing, err)
		}
	}
	t.DropEmpty()
	points := render.Points{rf.Caution, "Tables of TS 38.101-1 clauses 6.2.1 (power) and 7.3.2 or 7.3F.2 (REFSENS) for the phone, of TS 38.104 clause 7.2.2 for the base station."}
	for _, v := range missing {
		points = append(points, "Not worked out: "+v.Error()+".")
	}
	if len(t.Rows) == 0 {
		return []render.Block{points}
	}
	return []render.Block{t, points}
}

// together adds a fault to a list, those that differ in nothing but what was given as one.
func together(list []*bands.ValueError, err error) []*bands.ValueError {
	v, ok := errors.AsType[*bands.ValueError](err)
	if !ok {
		return list
	}
	for _, o := range list {
		if o.Param == v.Param && o.Allowed == v.Allowed {
			if !slices.Contains(strings.Split(o.Got, ", "), v.Got) {
				o.Got += ", " + v.Got
			}
			return list
		}
	}
	return append(list, new(*v))
}

// tablesText names the tables of a link, and the notes of the one of REFSENS.
func tablesText(l *propagation.RequiredLink) string {
	var names []string
	for _, source := range l.Sources {
		name := source.Table
		if source == l.Receiver.Sources[0] && l.Receiver.Notes != "" {
			name += " with note " + strings.ReplaceAll(l.Receiver.Notes, ",", " and ")
		}
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}

func requiredSteps(r *reach) render.Working {
	var steps render.Working
	r.eachRequired(func(d bands.Direction, l *propagation.RequiredLink) {
		steps = append(steps, render.Step{
			Name:    carrierName(&r.carrier) + " of " + r.sectors[0] + " " + d.String() + ": path loss at REFSENS, and range",
			Formula: "path loss = power − REFSENS + antenna gain − entry loss − margin",
			Numbers: fmt.Sprintf("%s − (%s) + %s − %s − %s", level(l.Power), level(l.Receiver.Level.Float()), level(r.emission.Gain), level(r.Entry.DB()), level(r.Margin)),
			Result:  reachText(&l.Reach),
			Source:  render.Source(l.Receiver.Sources[0]),
		})
	})
	return steps
}
