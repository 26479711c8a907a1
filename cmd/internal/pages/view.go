package pages

import (
	"bytes"
	"embed"
	"html/template"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// view is what a page shows. The templates ask it.
type view struct {
	page  *page
	query *query
	fault *fault
	// Answer is the document; Contents are its parts.
	Answer   template.HTML
	Contents []link
	Refuted  bool
	answered bool
	findings render.Findings
}

type link struct {
	Text, Address, Kind string
	Current             bool
}

// page shows the answer of a command.
func (s *Site) page(p *page, q *query, a *render.Answer) *Response {
	a = a.Shown(render.Options{Format: render.HTML})
	v := &view{page: p, query: q, Refuted: a.Refuted, answered: true, findings: findings(a.Document)}
	blocks := subordinate(a.Document)
	if p.add != nil {
		blocks = p.add(s, q, a)
	}
	shown := *a
	shown.Document = blocks
	body, err := render.Fragment(&shown, render.Options{Explain: q.value(explainField.name) != "", Link: cellLink}, answerPrefix)
	if err != nil {
		panic(err) // the answer is of no use to its own renderer
	}
	v.Answer = template.HTML(body) // the renderer escapes all that it was given
	for _, b := range blocks {
		if part, ok := b.(render.Part); ok {
			v.Contents = append(v.Contents, link{Text: part.Text, Address: "#" + answerPrefix + "part-" + strconv.Itoa(len(v.Contents)+1)})
		}
	}
	return show(v)
}

// answerPrefix begins the ids in an answer.
const answerPrefix = "answer-"

// show writes a page.
func show(v *view) *Response {
	var b bytes.Buffer
	if err := templates().ExecuteTemplate(&b, "page.html", v); err != nil {
		panic(err) // the templates are built in
	}
	r := &Response{Status: statusOK, Kind: "text/html; charset=utf-8", Body: bodyOf(b.Bytes()), Header: []string{"Vary", "Accept"}}
	if v.fault != nil {
		r.Status = v.fault.status
	}
	return r
}

//go:embed templates
var templateFiles embed.FS

var templates = sync.OnceValue(func() *template.Template {
	return template.Must(template.ParseFS(templateFiles, "templates/*.html"))
})

// Path, Name, Title and Lead are those of the page.
func (v *view) Path() string  { return v.page.path }
func (v *view) Title() string { return v.page.title }
func (v *view) Lead() string  { return v.page.lead }

// Heading names the page in the title of the window, with what was asked.
func (v *view) Heading() string {
	parts := []string{v.page.title, "spectally"}
	for i := range v.page.fields {
		if value := v.query.value(v.page.fields[i].name); value != "" && v.page.fields[i].flag == "" {
			parts = slices.Insert(parts, 0, value)
			break
		}
	}
	return strings.Join(parts, " · ")
}

// Style and Script are the addresses of the site's files.
func (v *view) Style() string  { return assetAddress(stylePath) }
func (v *view) Script() string { return assetAddress(scriptPath) }
func (v *view) Icon() string   { return assetAddress(iconPath) }

// Menu lists the pages.
func (v *view) Menu() []link {
	var list []link
	for _, p := range allPages() {
		if p.name != "" {
			list = append(list, link{Text: p.name, Address: p.path, Current: p.path == v.page.path})
		}
	}
	return list
}

// Pages lists the pages with what they are for.
func (v *view) Pages() []*view {
	var list []*view
	for _, p := range allPages() {
		if p.name != "" {
			list = append(list, &view{page: p, query: &query{page: p}})
		}
	}
	return list
}

var allPages = sync.OnceValue(pages)

// Home tells whether this is the first page, Command whether a command answers it.
func (v *view) Home() bool    { return v.page.path == "/" }
func (v *view) Command() bool { return v.page.command != "" }

// Samples are questions to start from.
func (v *view) Samples() []link {
	var list []link
	for _, s := range v.page.samples {
		values, err := url.ParseQuery(strings.ReplaceAll(s.query, "+", "%2B"))
		if err != nil {
			panic(err) // samples are built in
		}
		list = append(list, link{Text: s.text, Address: address(v.page.path, v.page.names(), values)})
	}
	return list
}

// Answered tells whether there is an answer, Asked whether there was a question.
func (v *view) Answered() bool { return v.answered }
func (v *view) Asked() bool    { return v.answered || v.fault != nil }

// Fault says why there is no answer, a line for each reason; none if there is none.
func (v *view) Fault() []string {
	if v.fault == nil {
		return nil
	}
	return strings.Split(v.fault.text, "\n")
}

// FaultAt is the id of the field that the fault is about; empty for none.
func (v *view) FaultAt() string {
	if v.fault == nil || v.fault.field == nil {
		return ""
	}
	return "f-" + v.fault.field.name
}

// commandView is a command line that gives an answer of the page, and the addresses of
// the same answer as data.
type commandView struct {
	Line    string
	Formats []link
}

// Commands are the command lines that give what the page shows.
func (v *view) Commands() []commandView {
	list := []commandView{v.command(v.page.command)}
	if v.page.carriers {
		list = append(list, v.command("throughput"))
	}
	return list
}

func (v *view) command(name string) commandView {
	args := v.query.arguments(name)
	if last := len(args) - 1; v.page.takes != nil && args[last] == "-" {
		args[last] = v.page.takes.file
	}
	return commandView{shellLine(args), v.formats("/" + name)}
}

// Formats are the addresses of the answer as data.
func (v *view) Formats() []link { return v.formats(v.page.path) }

func (v *view) formats(path string) []link {
	if !v.addressed() {
		return nil
	}
	values := v.query.encode(rowsName)
	if values != "" {
		values = "?" + values
	}
	var list []link
	for _, f := range dataFormats {
		list = append(list, link{Text: f.name, Address: path + f.extension + values, Kind: f.kind})
	}
	return list
}

// Fields are the fields that are always shown, Extras those that are folded.
func (v *view) Fields() []fieldView { return v.fields(false) }
func (v *view) Extras() []fieldView { return v.fields(true) }

// Unfolded tells whether a folded field is in use.
func (v *view) Unfolded() bool {
	return slices.ContainsFunc(v.Extras(), func(f fieldView) bool { return f.Value() != "" || f.Wrong() })
}

func (v *view) fields(extra bool) []fieldView {
	var list []fieldView
	for i := range v.page.fields {
		if f := &v.page.fields[i]; f.extra == extra {
			list = append(list, fieldView{v, f})
		}
	}
	return list
}

// Carriers tells whether the form has carriers in rows, Rows are these.
func (v *view) Carriers() bool       { return v.page.carriers }
func (v *view) Rows() []carrierRow   { return formRows(v.query, v.findings) }
func (v *view) Takes() *document     { return v.page.takes }
func (v *view) Input() string        { return v.page.takes.text(v.query) }
func (v *view) Bands() template.HTML { return bandOptions() }

// bandOptions offers every band to fields that take one.
var bandOptions = sync.OnceValue(func() template.HTML {
	var b bytes.Buffer
	for _, band := range bands.All(0) {
		b.WriteString(`<option value="` + band.ID.String() + `">` + band.ID.RAT.String() + " " + band.Duplex.String() + "</option>\n")
	}
	return template.HTML(b.String()) // names of bands and duplex modes have nothing to escape
})

// fieldView is a field as it is shown.
type fieldView struct {
	view  *view
	field *field
}

// ID and the others are what the template shows of a field.
func (f fieldView) ID() string     { return "f-" + f.field.name }
func (f fieldView) Name() string   { return f.field.name }
func (f fieldView) Label() string  { return f.field.label }
func (f fieldView) Hint() string   { return f.field.hint }
func (f fieldView) Sample() string { return f.field.sample }
func (f fieldView) Wide() bool     { return f.field.wide }
func (f fieldView) Choice() bool   { return f.field.sort == choice }
func (f fieldView) Check() bool    { return f.field.sort == check }
func (f fieldView) Value() string  { return f.view.query.value(f.field.name) }
func (f fieldView) Wrong() bool    { return f.view.fault != nil && f.view.fault.field == f.field }

// Options are those of a choice, with the one that is chosen. What is chosen is among
// them, even if it is none of them.
func (f fieldView) Options() []link {
	var list []link
	found := false
	value := f.Value()
	for _, o := range f.field.options {
		current := strings.EqualFold(o.value, value)
		found = found || current
		list = append(list, link{Text: o.text, Kind: o.value, Current: current})
	}
	if !found {
		list = append(list, link{Text: value, Kind: value, Current: true})
	}
	return list
}

// Parameters and the others are what the template shows of a document.
func (d *document) Parameter() string { return d.name }
func (d *document) Label() string     { return d.label }

// Form says what a document is written in.
func (d *document) Form() string {
	if d.form == "" {
		return "TOML."
	}
	return d.form
}

// addressed tells whether the address of the page holds all that was asked.
func (v *view) addressed() bool {
	return v.query.input == nil || v.query.value(v.page.takes.name) != ""
}

// Explained tells whether the working is unfolded.
func (v *view) Explained() bool { return v.query.value(explainField.name) != "" }

// DataForms are the addresses to which the form can be sent for the answer as data.
func (v *view) DataForms() []link {
	var list []link
	for _, f := range dataFormats {
		list = append(list, link{Text: f.name, Address: v.page.path + f.extension})
	}
	return list
}
