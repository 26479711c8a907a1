package render

import (
	"bytes"
	_ "embed" // for the style sheet
)

//go:embed page.css
var stylesheet string

// Stylesheet is the CSS that the fragments of [Fragment] are made for. It refers to
// nothing outside.
func Stylesheet() string { return stylesheet }

// policy keeps a page from loading or running anything, whatever it holds.
const policy = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"

// writePage writes a document as an HTML page that is complete in itself: no script,
// and nothing to load.
func writePage(b *bytes.Buffer, a *Answer, o *Options) error {
	body, err := Fragment(a, *o, "")
	if err != nil {
		return err
	}
	t := tags{b}
	b.WriteString("<!DOCTYPE html>\n")
	t.open("html", "lang", "en")
	t.line()
	t.open("head")
	t.line()
	t.void("meta", "charset", "utf-8")
	t.line()
	t.void("meta", "http-equiv", "Content-Security-Policy", "content", policy)
	t.line()
	t.void("meta", "name", "viewport", "content", "width=device-width, initial-scale=1")
	t.line()
	t.void("meta", "name", "color-scheme", "content", "light dark")
	t.line()
	t.element("title", pageTitle(a))
	t.line()
	t.open("style")
	b.WriteString(stylesheet)
	t.close("style")
	t.line()
	t.close("head")
	t.line()
	t.open("body")
	t.line()
	t.open("main")
	t.line()
	b.Write(body)
	t.close("main")
	t.line()
	t.close("body")
	t.line()
	t.close("html")
	t.line()
	return nil
}

// pageTitle is the first title of the document.
func pageTitle(a *Answer) string {
	for _, block := range a.Document {
		if t, ok := block.(Title); ok {
			return t.Text
		}
	}
	return "spectally"
}

// Fragment writes a document as HTML without the page around it: what stands between
// <main> and </main>, for pages that hold more. The ids in it begin with the prefix;
// two fragments of one page need different ones. There are no scripts, no inline
// styles and no references to the outside, so that it may stand under the strictest
// content security policy.
func Fragment(a *Answer, o Options, prefix string) ([]byte, error) {
	o.Format = HTML
	a = a.Shown(o)
	var b bytes.Buffer
	w := &htmlWriter{tags: tags{&b}, explain: o.Explain, prefix: prefix, link: o.Link}
	for _, block := range a.Document {
		if p, ok := block.(Part); ok {
			w.contents = append(w.contents, p.Text)
		}
	}
	if err := writeDocument(a, &o, w); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
