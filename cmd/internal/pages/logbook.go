package pages

import (
	"bytes"
	"encoding/json"
	"html/template"
	"net/url"
	"strings"

	"spectally/cmd/internal/fieldreport"
	"spectally/cmd/internal/logform"
	"spectally/cmd/internal/render"
)

// logbookAsked is what a script sends of a file that is being filled in: the form, or the
// TOML to fill it from.
type logbookAsked struct {
	Page string        `json:"page"` // the path of its page
	Log  *logform.Item `json:"log"`
	TOML string        `json:"toml"`
}

// logbookValue is what it gets: the file both ways, what is wrong with it, and what it comes
// to so far.
type logbookValue struct {
	TOML   string            `json:"toml"`
	Log    *logform.Item     `json:"log"` // null where it was sent
	Faults []logform.Fault   `json:"faults"`
	Shares map[string]string `json:"shares"` // of each run, by its path
	Lines  []lineValue       `json:"lines"`  // of the answer
}

// lineValue is a line of the answer.
type lineValue struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// logbookAide answers for a file that is being filled in.
func logbookAide(s *Site, _ url.Values, sent []byte) any {
	var asked logbookAsked
	v := logbookValue{Faults: []logform.Fault{}, Lines: []lineValue{}, Shares: map[string]string{}}
	err := json.Unmarshal(sent, &asked)
	p := s.pages[asked.Page]
	if err != nil || p == nil || p.form == nil || asked.Log == nil && asked.TOML == "" {
		v.Faults = append(v.Faults, logform.Fault{Text: "This cannot be read."})
		return v
	}
	if asked.Log == nil {
		if v.Log, err = p.form.Read([]byte(asked.TOML)); err != nil {
			q := query{page: p, input: []byte(asked.TOML)}
			for _, text := range strings.Split(q.fault(err).text, "\n") {
				v.Faults = append(v.Faults, logform.Fault{Text: text})
			}
			return v
		}
		asked.Log = v.Log
	}
	v.TOML, _ = p.form.Write(asked.Log)
	trial := p.form.Try(asked.Log)
	v.Faults = trial.Faults
	if trial.Text == "" {
		return v
	}
	if p.form == logform.FieldLog {
		report := trial.Report()
		v.Shares, v.Lines = trial.Shares(report), firstLines(fieldreport.Answer(report))
	} else if a, err := s.ask([]string{p.command, "-"}, strings.NewReader(trial.Text)); err == nil {
		v.Lines = firstLines(a)
	}
	return v
}

// firstLines are those that an answer begins with: its first facts, or the rows of its first
// table.
func firstLines(a *render.Answer) []lineValue {
	list := []lineValue{}
	for _, b := range a.Document {
		switch b := b.(type) {
		case render.Facts:
			for _, f := range b {
				list = append(list, lineValue{f.Name, strings.TrimSpace(f.Value + " " + f.Unit)})
			}
		case *render.Table:
			for _, row := range b.Rows {
				list = append(list, lineValue{row[0], said(b, row)})
			}
		}
		if len(list) > 0 {
			break
		}
	}
	return list
}

// said is a row of a table in words, without its first cell.
func said(t *render.Table, row []string) string {
	var parts []string
	for i, c := range t.Columns {
		if i > 0 && row[i] != "" {
			parts = append(parts, strings.TrimSpace(c.Header+" "+row[i]+" "+c.Unit))
		}
	}
	return strings.Join(parts, ", ")
}

// logField is a field of the file as the template shows it.
type logField struct {
	*logform.Field
	section string
}

// ID names the field within its template; a script gives each copy one of its own.
func (f logField) ID() string { return "log-" + f.section + "-" + f.Key }

// Fields and Folded are those of a section.
type logSection struct{ *logform.Section }

// Book is the form of the file, which no question changes; empty where the page has none.
func (v *view) Book() template.HTML {
	if v.page.book == nil {
		return ""
	}
	return v.page.book()
}

// book is what the template of a form says.
type book struct {
	*view // of the page without a question
	File  *logform.File
}

// writeBook writes the form of the page.
func (p *page) writeBook() template.HTML {
	var b bytes.Buffer
	if err := templates().ExecuteTemplate(&b, "logbook", book{&view{page: p, query: &query{page: p}}, p.form}); err != nil {
		panic(err) // the templates are built in
	}
	return template.HTML(b.String()) // as it is escaped by the template
}

// Sections are those of the file, each with a template of its own.
func (b book) Sections() []logSection {
	var list []logSection
	var add func(s *logform.Section)
	add = func(s *logform.Section) {
		list = append(list, logSection{s})
		for _, sub := range s.Lists {
			add(sub)
		}
	}
	add(b.File.Root)
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

// Label is the name with the unit.
func (f logField) Label() string {
	if f.Unit == "" {
		return f.Name
	}
	return f.Name + ", " + f.Unit
}

// Wide tells whether the field wants the whole width.
func (f logField) Wide() bool {
	switch f.Sort {
	case logform.Prose, logform.Lines, logform.Wide, logform.Carriers:
		return true
	}
	return f.Key == "text" || f.Key == "carriers" && f.Sort == logform.Numbers
}

// Widget is how the field is filled in.
func (f logField) Widget() string {
	switch f.Sort {
	case logform.Prose, logform.Lines:
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
