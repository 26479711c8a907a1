package htmlcheck

import (
	"regexp"
	"slices"
	"strings"

	"golang.org/x/net/html"
)

// known are the elements that the program writes, with the attributes that each may
// have beside id and class. Nothing here can load or run anything.
var known = map[string][]string{
	"html": {"lang"}, "head": nil, "title": nil, "style": nil, "body": nil, "main": nil, "header": nil,
	"meta": {"charset", "name", "content", "http-equiv"},
	"nav":  {"aria-label"}, "a": {"href"},
	"h1": nil, "h2": nil, "h3": nil, "h4": nil, "p": nil, "strong": nil, "span": nil,
	"ul": nil, "ol": nil, "li": nil, "dl": nil, "dt": nil, "dd": nil, "div": {"role", "tabindex", "aria-labelledby"},
	"table": nil, "caption": nil, "thead": nil, "tbody": nil, "tr": nil, "th": {"scope"}, "td": {"data-label"},
	"details": {"open"}, "summary": nil, "figure": nil, "figcaption": nil,
	"svg":  {"role", "aria-labelledby", "viewBox", "width", "height"},
	"desc": nil, "defs": nil, "g": nil,
	"pattern": {"width", "height", "patternUnits", "patternTransform"},
	"rect":    {"x", "y", "width", "height", "fill"},
	"path":    {"d"},
	"circle":  {"cx", "cy", "r"},
	"text":    {"x", "y", "text-anchor"},
}

// element checks one element and what it holds.
func (c *checker) element(n *html.Node) {
	allowed, ok := known[n.Data]
	if !ok {
		c.say("<%s> is not among the elements that the program writes", n.Data)
		return
	}
	for _, a := range n.Attr {
		if a.Key != "id" && a.Key != "class" && !slices.Contains(allowed, a.Key) {
			c.say("<%s> with the attribute %s", n.Data, a.Key)
		}
	}
	switch n.Data {
	case "table":
		c.table(n)
	case "svg":
		c.drawing(n)
	case "ul", "ol":
		c.children(n, "li")
	case "dl":
		c.children(n, "div")
	case "details":
		if first := firstElement(n); first == nil || first.Data != "summary" || strings.TrimSpace(Text(first)) == "" {
			c.say("<details> without a <summary>")
		}
	case "figure":
		if len(Find(n, "figcaption")) > 1 {
			c.say("<figure> with several <figcaption>")
		}
	case "div":
		if Attribute(n, "role") == "group" && (Attribute(n, "tabindex") != "0" || Attribute(n, "aria-labelledby") == "") {
			c.say("a frame that scrolls but cannot be reached by keyboard, or has no name")
		}
	case "th", "h1", "h2", "h3", "h4", "caption", "a", "li", "dt":
		if strings.TrimSpace(Text(n)) == "" && n.Data != "th" {
			c.say("<%s> is empty", n.Data)
		}
	}
}

func (c *checker) children(n *html.Node, name string) {
	count := 0
	for child := range n.ChildNodes() {
		if child.Type == html.ElementNode {
			count++
			if child.Data != name {
				c.say("<%s> in <%s>", child.Data, n.Data)
			}
		}
	}
	if count == 0 {
		c.say("<%s> is empty", n.Data)
	}
}

func firstElement(n *html.Node) *html.Node {
	for child := range n.ChildNodes() {
		if child.Type == html.ElementNode {
			return child
		}
	}
	return nil
}

// table checks that a table has a caption, a head with scopes, and as many cells in
// each row.
func (c *checker) table(n *html.Node) {
	captions := Find(n, "caption")
	if len(captions) != 1 || strings.TrimSpace(Text(captions[0])) == "" {
		c.say("a table without a caption")
		return
	}
	name := Text(captions[0])
	if len(Find(n, "thead")) != 1 || len(Find(n, "tbody")) != 1 {
		c.say("table %q needs one head and one body", name)
		return
	}
	width := -1
	for i, row := range Find(n, "tr") {
		cells := 0
		for cell := range row.ChildNodes() {
			if cell.Type != html.ElementNode {
				continue
			}
			scope := Attribute(cell, "scope")
			switch {
			case i == 0 && (cell.Data != "th" || scope != "col"):
				c.say("table %q: <%s scope=%q> in the head", name, cell.Data, scope)
			case i > 0 && cell.Data == "th" && scope != "row":
				c.say("table %q: <th scope=%q> in the body", name, scope)
			case i > 0 && cell.Data == "th" && strings.TrimSpace(Text(cell)) == "":
				c.say("table %q: row %d is headed by nothing", name, i)
			case i > 0 && (cell.Data == "th") != (cells == 0 && strings.TrimSpace(Text(cell)) != ""):
				c.say("table %q: cell %d of row %d is <%s>", name, cells+1, i, cell.Data)
			}
			cells++
		}
		if width >= 0 && cells != width {
			c.say("table %q: row %d has %d cells, not %d", name, i, cells, width)
		}
		width = cells
	}
	if p := n.Parent; p == nil || Attribute(p, "role") != "group" {
		c.say("table %q does not scroll in itself", name)
	}
}

// drawing checks that a drawing says in words what it shows.
func (c *checker) drawing(n *html.Node) {
	title := firstElement(n)
	switch {
	case Attribute(n, "role") != "img":
		c.say("<svg> without role=img")
	case title == nil || title.Data != "title" || title.FirstChild == nil:
		c.say("<svg> does not begin with a <title>")
	case len(Find(n, "desc")) != 1 || Find(n, "desc")[0].FirstChild == nil:
		c.say("<svg> without a <desc>")
	case Attribute(n, "aria-labelledby") != Attribute(title, "id")+" "+Attribute(Find(n, "desc")[0], "id"):
		c.say("<svg> is not labelled by its title and description")
	case Attribute(n, "viewBox") == "":
		c.say("<svg> without a viewBox")
	}
}

// headings checks that no level is skipped.
func (c *checker) headings(root *html.Node) {
	last := 0
	for n := range root.Descendants() {
		if n.Type != html.ElementNode || len(n.Data) != 2 || n.Data[0] != 'h' || n.Data[1] < '1' || n.Data[1] > '6' {
			continue
		}
		level := int(n.Data[1] - '0')
		if level > last+1 && last > 0 {
			c.say("<h%d> %q after <h%d>", level, Text(n), last)
		}
		last = level
	}
}

var local = regexp.MustCompile(`^#[a-z0-9-]+$`)

// references checks that ids are unique, that what is referred to is there, and that
// nothing outside is.
func (c *checker) references(root *html.Node) {
	var targets []string
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		for _, a := range n.Attr {
			switch {
			case a.Key == "id" && c.ids[a.Val]:
				c.say("id %q twice", a.Val)
			case a.Key == "id":
				c.ids[a.Val] = true
			case a.Key == "href" && !local.MatchString(a.Val):
				c.say("a link to %q", a.Val)
			case a.Key == "href":
				targets = append(targets, a.Val[1:])
			case a.Key == "aria-labelledby":
				targets = append(targets, strings.Fields(a.Val)...)
			case a.Key == "fill" && !strings.HasPrefix(a.Val, "url(#"):
				c.say("fill %q", a.Val)
			case a.Key == "fill":
				targets = append(targets, strings.TrimSuffix(strings.TrimPrefix(a.Val, "url(#"), ")"))
			}
		}
	}
	for _, t := range targets {
		if !c.ids[t] {
			c.say("nothing has the id %q", t)
		}
	}
}

// head checks what a page says of itself.
func (c *checker) head(page []byte, root *html.Node) {
	if lang := Attribute(Find(root, "html")[0], "lang"); lang != "en" {
		c.say("the language is %q", lang)
	}
	heads := Find(root, "head")
	titles := Find(heads[0], "title")
	if len(titles) != 1 || strings.TrimSpace(Text(titles[0])) == "" {
		c.say("no title")
	}
	metas := make(map[string]string)
	for _, m := range Find(heads[0], "meta") {
		metas[Attribute(m, "name")+Attribute(m, "http-equiv")] = Attribute(m, "content") + Attribute(m, "charset")
	}
	if metas[""] != "utf-8" || !strings.Contains(string(page[:min(len(page), 1024)]), `charset="utf-8"`) {
		c.say("the character set is not within the first 1024 bytes")
	}
	if !strings.Contains(metas["viewport"], "width=device-width") {
		c.say("no viewport: a phone shows the page small")
	}
	if !strings.HasPrefix(metas["Content-Security-Policy"], "default-src 'none'") {
		c.say("the page may load things: %q", metas["Content-Security-Policy"])
	}
	for _, s := range Find(root, "style") {
		Style(s.FirstChild.Data, c.say)
	}
}

// Style checks that a style sheet refers to nothing, and says what does.
func Style(css string, say func(format string, args ...any)) {
	for _, bad := range []string{"@import", "url(", "expression(", "://", "@font-face", "image("} {
		if strings.Contains(css, bad) {
			say("the style sheet has %q", bad)
		}
	}
	for _, good := range []string{"prefers-color-scheme: dark", "@media print", ":focus-visible", "overflow-x: auto", "max-width"} {
		if !strings.Contains(css, good) {
			say("the style sheet lacks %q", good)
		}
	}
}
