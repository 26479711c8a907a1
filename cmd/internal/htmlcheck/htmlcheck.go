// Package htmlcheck checks the HTML that the program writes, with a reader of HTML that
// knows nothing of it: whether it is well formed, complete in itself, and built so that
// everybody can read it. Tests use it; the program does not.
package htmlcheck

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// Page checks a whole page, and returns what is wrong with it.
func Page(page []byte) []string {
	c := &checker{ids: map[string]bool{}}
	if !bytes.HasPrefix(page, []byte("<!DOCTYPE html>\n")) {
		c.say("the page does not begin with <!DOCTYPE html>")
	}
	tokens := c.tokens(page)
	root, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		return append(c.problems, err.Error())
	}
	c.head(page, root)
	c.all(root, tokens)
	if n := len(Find(root, "main")); n != 1 {
		c.say("%d <main>", n)
	}
	if n := len(Find(root, "h1")); n == 0 {
		c.say("no <h1>")
	}
	return c.problems
}

// Fragment checks what stands in the <main> of a page.
func Fragment(fragment []byte) []string {
	c := &checker{ids: map[string]bool{}}
	tokens := c.tokens(fragment)
	root, err := ParseFragment(fragment)
	if err != nil {
		return append(c.problems, err.Error())
	}
	c.all(root, tokens)
	return c.problems
}

// ParseFragment reads what stands in the <main> of a page into a node.
func ParseFragment(fragment []byte) (*html.Node, error) {
	main := &html.Node{Type: html.ElementNode, Data: "main", DataAtom: atom.Main}
	nodes, err := html.ParseFragment(bytes.NewReader(fragment), main)
	if err != nil {
		return nil, err
	}
	root := &html.Node{Type: html.DocumentNode}
	for _, n := range nodes {
		root.AppendChild(n)
	}
	return root, nil
}

type checker struct {
	problems []string
	ids      map[string]bool
}

func (c *checker) say(format string, args ...any) {
	c.problems = append(c.problems, fmt.Sprintf(format, args...))
}

// elements that have no end.
var void = []string{"meta", "br", "hr", "input"}

// tokens checks that every element that begins ends, in its order, and returns the
// names of those that begin. What a browser would have to guess is an error.
func (c *checker) tokens(text []byte) []string {
	var names, open []string
	z := html.NewTokenizer(bytes.NewReader(text))
	for {
		switch z.Next() {
		case html.ErrorToken:
			if z.Err() != io.EOF {
				c.say("%v", z.Err())
			}
			if len(open) > 0 {
				c.say("never closed: %v", open)
			}
			return names
		case html.StartTagToken:
			name := z.Token().Data
			names = append(names, name)
			if !slices.Contains(void, name) {
				open = append(open, name)
			}
		case html.SelfClosingTagToken:
			if names = append(names, z.Token().Data); !slices.Contains(open, "svg") {
				c.say("<%s/> outside of SVG", names[len(names)-1])
			}
		case html.EndTagToken:
			name := z.Token().Data
			if len(open) == 0 || open[len(open)-1] != name {
				c.say("</%s> closes %v", name, open)
				return names
			}
			open = open[:len(open)-1]
		case html.TextToken:
			if len(open) > 0 && open[len(open)-1] != "style" && strings.ContainsAny(string(z.Raw()), "<>") {
				c.say("an angle bracket that is not escaped in %q", z.Raw())
			}
		case html.CommentToken:
			c.say("a comment: %q", z.Raw())
		}
	}
}

// all checks what holds for pages and fragments.
func (c *checker) all(root *html.Node, tokens []string) {
	var inTree []string
	for n := range root.Descendants() {
		if n.Type == html.ElementNode {
			inTree = append(inTree, strings.ToLower(n.Data))
			c.element(n)
		}
	}
	// A reader that has to add or to move elements ends up with others.
	if !slices.Equal(tokens, inTree) {
		c.say("the reader makes %d elements of %d, or in another order", len(inTree), len(tokens))
	}
	c.references(root)
	c.headings(root)
}

// Find lists the elements of a name, in their order.
func Find(root *html.Node, name string) []*html.Node {
	var list []*html.Node
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && n.Data == name {
			list = append(list, n)
		}
	}
	return list
}

// Attribute returns the value of an attribute; empty if it is not there.
func Attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// Structure writes the elements with the names of their attributes, one a line,
// without any text or value: it stays the same whatever a user types.
func Structure(root *html.Node) string {
	var b strings.Builder
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		b.WriteString(n.Data)
		for _, a := range n.Attr {
			b.WriteString(" " + a.Key)
		}
		b.WriteByte('\n')
	}
	return b.String()
}
