package pages

import (
	"encoding/json"
	"net/url"
	"strings"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/fieldreport"
	"spectally/cmd/internal/logform"
	"spectally/cmd/internal/render"
)

// logbookAsked is what a script sends of a field log that is being filled in: the form, or the
// TOML to fill it from.
type logbookAsked struct {
	Log  *logform.Item `json:"log"`
	TOML string        `json:"toml"`
}

// logbookValue is what it gets: the log both ways, what is wrong with it, and what it comes
// to so far.
type logbookValue struct {
	TOML   string            `json:"toml"`
	Log    *logform.Item     `json:"log"` // null where it was sent
	Faults []logform.Fault   `json:"faults"`
	Shares map[string]string `json:"shares"` // of each run, by its path
	Lines  []lineValue       `json:"lines"`  // of the report
}

// lineValue is a line of the report.
type lineValue struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// logbookAide answers for a field log that is being filled in.
func logbookAide(_ *Site, _ url.Values, sent []byte) any {
	var asked logbookAsked
	v := logbookValue{Faults: []logform.Fault{}, Lines: []lineValue{}, Shares: map[string]string{}}
	if err := json.Unmarshal(sent, &asked); err != nil || asked.Log == nil && asked.TOML == "" {
		v.Faults = append(v.Faults, logform.Fault{Text: "This is no log."})
		return v
	}
	if asked.Log == nil {
		read, err := fieldlog.Read("", []byte(asked.TOML))
		if err != nil {
			q := query{page: fieldPage(), input: []byte(asked.TOML)}
			for _, text := range strings.Split(q.fault(err).text, "\n") {
				v.Faults = append(v.Faults, logform.Fault{Text: text})
			}
			return v
		}
		v.Log = logform.Read([]byte(asked.TOML), func(n int) string { return read.Networks[n].Carriers.String() })
		asked.Log = v.Log
	}
	v.TOML, _ = logform.Write(asked.Log)
	trial := logform.Try(asked.Log)
	v.Faults, v.Shares = trial.Faults, trial.Shares()
	if trial.Report != nil {
		v.Lines = reportLines(trial.Report)
	}
	return v
}

// reportLines are those that a report begins with.
func reportLines(r *fieldlog.Report) []lineValue {
	list := []lineValue{}
	for _, b := range fieldreport.Answer(r).Document {
		if facts, ok := b.(render.Facts); ok {
			for _, f := range facts {
				list = append(list, lineValue{f.Name, f.Value})
			}
			break
		}
	}
	return list
}

// logField is a field of the log as the template shows it.
type logField struct {
	*logform.Field
	section string
}

// ID names the field within its template; a script gives each copy one of its own.
func (f logField) ID() string { return "log-" + f.section + "-" + f.Key }

// Fields and Folded are those of a section.
type logSection struct{ *logform.Section }

// Logbook are the sections of a field log, each with a template of its own.
func (v *view) Logbook() []logSection {
	if v.page.path != "/field" {
		return nil
	}
	var list []logSection
	var add func(s *logform.Section)
	add = func(s *logform.Section) {
		list = append(list, logSection{s})
		for _, sub := range s.Lists {
			add(sub)
		}
	}
	add(logform.Log)
	return list
}

// Shown and Hidden are the fields that are always there, and those that are folded.
func (s logSection) Shown() []logField  { return s.fields(false) }
func (s logSection) Hidden() []logField { return s.fields(true) }

func (s logSection) fields(folded bool) []logField {
	var list []logField
	for i := range s.Fields {
		if f := &s.Fields[i]; f.Folded == folded {
			list = append(list, logField{f, s.Key})
		}
	}
	return list
}

// Claims are the kinds of claims, for the section that has them.
func (s logSection) Claims() []link {
	if s.Key != "claim" {
		return nil
	}
	list := []link{{}}
	for _, c := range logform.Claims {
		list = append(list, link{Kind: c.Kind, Text: c.Text})
	}
	return list
}

// HasCarriers tells whether the section has carriers in rows.
func (s logSection) HasCarriers() bool { return s.Key == "network" }

// Label is the name with the unit.
func (f logField) Label() string {
	if f.Unit == "" {
		return f.Name
	}
	return f.Name + ", " + f.Unit
}

// Widget is how the field is filled in.
func (f logField) Widget() string {
	switch f.Sort {
	case logform.Prose:
		return "text"
	case logform.Choice, logform.Amount:
		return "choice"
	case logform.Check:
		return "check"
	case logform.Network:
		return "network"
	}
	return "line"
}

// Keyboard is that of a phone.
func (f logField) Keyboard() string {
	switch f.Sort {
	case logform.Number:
		return "decimal"
	case logform.Numbers:
		return "numeric"
	}
	return ""
}

// Extra names what a button beside the field does.
func (f logField) Extra() string {
	switch {
	case f.Key == "when":
		return "now"
	case f.Key == "seconds" && f.Large:
		return "watch"
	case f.Key == "lat":
		return "here"
	case f.Key == "sinr" || f.Key == "site.lat" || f.Key == "lon" || f.Key == "site.lon":
		return "sign"
	}
	return ""
}
