package pages

import (
	"bytes"
	"fmt"
	"io"
	"net/url"
	"slices"
	"strings"
)

// read reads the values of an address.
func (p *page) read(values url.Values) (*query, *fault) {
	q := &query{page: p, values: map[string]string{}}
	names := p.names()
	for name, list := range values {
		switch {
		case !slices.Contains(names, name):
			return q, &fault{statusBadRequest, fmt.Sprintf("parameter %q: must be %s", name, strings.Join(names, ", ")), nil, ""}
		case len(list) > 1:
			return q, &fault{statusBadRequest, fmt.Sprintf("parameter %q: given %d times: must be given once", name, len(list)), nil, ""}
		}
		if v := strings.TrimSpace(strings.ToValidUTF8(list[0], "\ufffd")); v != "" {
			q.values[name] = v
		}
	}
	for i := range p.fields {
		f := &p.fields[i]
		if v, ok := q.values[f.name]; ok && f.sort == check && v != checked {
			return q, &fault{statusBadRequest, fmt.Sprintf("%s %q: must be %s", f.name, v, checked), f, ""}
		}
	}
	if p.mend != nil {
		p.mend(q)
	}
	if p.takes != nil {
		return q, p.takes.unpack(q)
	}
	return q, nil
}

// names lists the parameters of a page, in the order of its address.
func (p *page) names() []string {
	var names []string
	for i := range p.fields {
		names = append(names, p.fields[i].name)
	}
	if p.carriers {
		names = append(names, rowsName)
	}
	if p.takes != nil {
		names = append(names, p.takes.names()...)
	}
	return names
}

// tidy returns the address that a form should have led to: without what was left
// empty, and carriers in one word. Empty if there is nothing to tidy.
func (p *page) tidy(values url.Values) string {
	untidy := false
	if p.carriers && hasRows(values) {
		joinRows(values)
		untidy = true
	}
	for name, list := range values {
		if len(list) == 1 && strings.TrimSpace(list[0]) == "" {
			delete(values, name)
			untidy = true
		}
	}
	if !untidy {
		return ""
	}
	var rest []string // what the page does not know stays, to be refused
	known := p.names()
	for name := range values {
		if !slices.Contains(known, name) {
			rest = append(rest, name)
		}
	}
	slices.Sort(rest)
	return address(p.path, append(known, rest...), values)
}

// encode writes the query as it stands in an address, without some of its parameters.
func (q *query) encode(without ...string) string {
	values := url.Values{}
	for name, v := range q.values {
		if !slices.Contains(without, name) {
			values.Set(name, v)
		}
	}
	return strings.TrimPrefix(address("", q.page.names(), values), "?")
}

// address writes an address whose parameters are easy to read.
func address(path string, names []string, values url.Values) string {
	var b strings.Builder
	b.WriteString(path)
	between := byte('?')
	for _, name := range names {
		for _, v := range values[name] {
			b.WriteByte(between)
			b.WriteString(url.QueryEscape(name))
			b.WriteByte('=')
			b.WriteString(readable.Replace(url.QueryEscape(v)))
			between = '&'
		}
	}
	return b.String()
}

// readable gives back characters that a query may have (RFC 3986 clause 3.4) and
// that are frequent in the carrier notation.
var readable = strings.NewReplacer("%3A", ":", "%40", "@", "%2C", ",", "%2F", "/", "%28", "(", "%29", ")")

// reader is the standard input of the command.
func (q *query) reader() io.Reader { return bytes.NewReader(q.input) }
