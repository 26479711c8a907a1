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

	"spectally/cmd/internal/render"
)

// view is what a page shows. The templates ask it.
type view struct {
	page  *page
	query *query
	fault *fault
	// Headline is the answer about carriers in one look; nil for all else. Head is the
	// beginning of the document, Answer the rest; Contents are its parts.
	Headline     *headline
	Head, Answer template.HTML
	Contents     []link
	Refuted      bool
	answered     bool
}

type link struct {
	Text, Address, Kind string
	Current             bool
}

// page shows the answer of a command.
func (s *Site) page(p *page, q *query, a *render.Answer) *Response {
	a = a.Shown(render.Options{Format: render.HTML})
	v := &view{page: p, query: q, Refuted: a.Refuted, answered: true}
	blocks := subordinate(a.Document)
	if p.add != nil {
		blocks = p.add(s, q, a)
	}
	head, rest := parted(blocks)
	v.Headline = s.headline(p, q, a)
	if v.Headline != nil {
		head = slices.DeleteFunc(head, func(b render.Block) bool { _, is := b.(render.Verdict); return is })
	}
	v.Head = fragment(q, a, head, headPrefix)
	v.Answer = fragment(q, a, rest, answerPrefix)
	for _, b := range rest {
		if part, ok := b.(render.Part); ok {
			v.Contents = append(v.Contents, link{Text: part.Text, Address: "#" + answerPrefix + "part-" + strconv.Itoa(len(v.Contents)+1)})
		}
	}
	return show(v)
}

// fragment writes blocks of an answer.
func fragment(q *query, a *render.Answer, blocks []render.Block, prefix string) template.HTML {
	shown := *a
	shown.Document = blocks
	body, err := render.Fragment(&shown, render.Options{Explain: q.value(explainField.name) != "", Link: cellLink}, prefix)
	if err != nil {
		panic(err) // the answer is of no use to its own renderer
	}
	return template.HTML(body) // the renderer escapes all that it was given
}

// parted parts what a document begins with, its title and its verdict, from the rest.
func parted(blocks []render.Block) (head, rest []render.Block) {
	n := 0
	if len(blocks) > 0 {
		if _, ok := blocks[0].(render.Part); ok {
			n = 1
		}
	}
	for ; n < len(blocks); n++ {
		if _, ok := blocks[n].(render.Verdict); !ok {
			break
		}
	}
	return slices.Clone(blocks[:n]), blocks[n:]
}

// headline is the answer in one look, for the pages that check carriers or rate them.
func (s *Site) headline(p *page, q *query, a *render.Answer) *headline {
	switch p.command {
	case "ca":
		return headlineOf(a, q.rates)
	case "throughput":
		check, err := s.ask([]string{"ca", "--", q.value(carriersName)}, strings.NewReader(""))
		if err != nil {
			return nil
		}
		return headlineOf(check, a)
	}
	return nil
}

// The beginnings of the ids in an answer.
const (
	headPrefix   = "head-"
	answerPrefix = "answer-"
)

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
func (v *view) Command() bool { return v.page.answers() }

// Samples are questions to start from.
func (v *view) Samples() []link {
	if v.Home() {
		return (&view{page: askPage()}).Samples()
	}
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

// Next are the pages that go on with what was asked.
func (v *view) Next() []link {
	if v.page.next == nil {
		return nil
	}
	return v.page.next(v.query)
}

// Asks is what was asked, for the line that the form folds into.
func (v *view) Asks() string {
	if v.page.takes != nil {
		return v.page.takes.label
	}
	for i := range v.page.fields {
		if value := v.query.value(v.page.fields[i].name); value != "" {
			return value
		}
	}
	return "all"
}

// Answered tells whether there is an answer, Asked whether there was a question.
func (v *view) Answered() bool { return v.answered }
func (v *view) Asked() bool    { return v.answered || v.fault != nil }

// Fault says why there is no answer, a line for each reason; none if there is none.
func (v *view) Fault() []string {
	if v.fault == nil || v.fault.field != nil { // beside the field
		return nil
	}
	return strings.Split(v.fault.text, "\n")
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
	if v.page.command == "ca" {
		list = append(list, v.command("throughput"))
	}
	return list
}

func (v *view) command(name string) commandView {
	args := v.query.arguments(name)
	if last := len(args) - 1; v.page.takes != nil && args[last] == "-" {
		args[last] = v.page.takes.file
	}
	if name == "" {
		name = v.page.path[1:]
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

// Takes and Input are the document that the page reads.
func (v *view) Takes() *document { return v.page.takes }
func (v *view) Input() string    { return v.page.takes.text(v.query) }

// FormAddress is where the form leads.
func (v *view) FormAddress() string {
	if v.Home() {
		return "/ask"
	}
	return v.page.path
}

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
func (f fieldView) Number() bool   { return f.field.number }
func (f fieldView) Wrong() bool    { return f.view.fault != nil && f.view.fault.field == f.field }

// Fault says what is wrong with the field.
func (f fieldView) Fault() string {
	if !f.Wrong() {
		return ""
	}
	return f.view.fault.text
}

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
