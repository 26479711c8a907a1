// Package pages makes the answers of the commands into pages, and into the JSON, CSV and
// Markdown that the commands write, for whoever shows them: a server, or a program in the
// browser itself. It knows requests and responses, and no network.
//
// A page turns its form into the arguments of a command and shows what that answers,
// so a page and a command cannot differ. All of a page's state is in its address:
// nothing is stored, and no address changes anything. Pages work without JavaScript.
package pages

import (
	"fmt"
	"io"
	"net/url"

	"spectally/cmd/internal/render"
)

// Ask answers the arguments of a command line; input is its standard input. An error
// may have a method Place, which tells the argument ("argument 2") or the flag
// ("--width") that is wrong.
type Ask func(args []string, input io.Reader) (*render.Answer, error)

// Site answers requests.
type Site struct {
	ask   Ask
	pages map[string]*page // by path
}

// New makes a site that asks for its answers.
func New(ask Ask) *Site {
	s := &Site{ask: ask, pages: map[string]*page{}}
	for _, p := range pages() {
		s.pages[p.path] = p
	}
	return s
}

// Request is what an answer depends on.
type Request struct {
	Method string // GET, HEAD or POST
	Path   string // without escapes
	Query  string // as it stands in the address
	// Type is the media type of Body, with its parameters.
	Type string
	Body []byte
}

// Answer answers a request: with a page, where its path does not name another form.
func (s *Site) Answer(r *Request) *Response {
	reads := r.Method == "GET" || r.Method == "HEAD"
	if asset := Asset(r.Path, r.Query); asset != nil && reads {
		return asset
	}
	t := s.Find(r.Path, nil)
	switch {
	case t == nil:
		return NotFound(r.Path)
	case reads:
		return t.Get(r.Query)
	case r.Method == "POST" && t.Reads():
		return t.Post(r.Type, r.Body)
	}
	return MethodRefused(t.Methods())
}

// Asset is a file that pages refer to; nil if there is none by that path.
func Asset(path, query string) *Response {
	if a, ok := assets()[path]; ok {
		return a.response(query)
	}
	return nil
}

// Target is a page in one of its forms.
type Target struct {
	site   *Site
	page   *page
	format format
}

// Find finds the page that a path names, in the form that the path ends in, or else that
// an Accept header wants most; nil if there is none.
func (s *Site) Find(path string, accept []string) *Target {
	path, format := split(path)
	p := s.pages[path]
	if p == nil || format.given && !p.answers() {
		return nil
	}
	if !format.given {
		format = negotiate(accept, p)
	}
	return &Target{s, p, format}
}

// Key tells a target from all others.
func (t *Target) Key() string { return t.page.path + t.format.extension + t.format.kind }

// Reads tells whether the page reads a document that is sent to it.
func (t *Target) Reads() bool { return t.page.takes != nil || t.page.aide != nil }

// Methods are those of HTTP that the page answers, as they stand in a header.
func (t *Target) Methods() string {
	if t.Reads() {
		return "GET, HEAD, POST"
	}
	return "GET, HEAD"
}

// Get answers the query of an address.
func (t *Target) Get(raw string) *Response {
	p, f := t.page, t.format
	values, err := url.ParseQuery(raw)
	if err != nil {
		return t.Refuse(statusBadRequest, "the address cannot be read: "+err.Error())
	}
	if p.aide != nil {
		return aideResponse(p.aide(t.site, values, nil))
	}
	if address := p.tidy(values); address != "" && f.page {
		return seeOther(address)
	}
	q, bad := p.read(values)
	if bad != nil {
		return refuse(p, f, q, bad)
	}
	return t.site.work(p, f, q)
}

// Post answers a document that was sent, by itself or in a form.
func (t *Target) Post(contentType string, sent []byte) *Response {
	if t.page.aide != nil {
		return aideResponse(t.page.aide(t.site, nil, sent))
	}
	q, address, bad := t.page.receive(contentType, sent, t.format)
	switch {
	case bad != nil:
		return refuse(t.page, t.format, q, bad)
	case address != "":
		return seeOther(address)
	}
	return t.site.work(t.page, t.format, q)
}

// Refuse answers that a request cannot be used, with a text that says why.
func (t *Target) Refuse(status int, text string) *Response {
	return refuse(t.page, t.format, &query{page: t.page}, &fault{status, text, nil, ""})
}

// NotFound answers for a path that is no page.
func NotFound(path string) *Response {
	return show(&view{page: &page{path: path, title: "No such page"}, query: &query{},
		fault: &fault{statusNotFound, fmt.Sprintf("there is no page %q: the menu has those that there are", path), nil, ""}})
}
