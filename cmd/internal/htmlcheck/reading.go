package htmlcheck

import (
	"regexp"
	"slices"
	"strings"

	"golang.org/x/net/html"
)

var numeral = regexp.MustCompile(`\d+(\.\d+)?`)

// Numerals lists the numbers of a text in their order.
func Numerals(text string) []string { return numeral.FindAllString(text, -1) }

// Reading returns the text of a page as it is read: without the drawings and their
// legends, and with what is folded.
func Reading(root *html.Node) string {
	skip := []string{"svg", "style", "figcaption", "nav", "title", "head", "summary"}
	var b strings.Builder
	writeText(&b, root, func(n *html.Node) bool {
		return slices.Contains(skip, n.Data) || Attribute(n, "class") == "hidden"
	}, "\n")
	return b.String()
}

// Text returns the text in a node, without that of drawings and styles.
func Text(n *html.Node) string {
	var b strings.Builder
	writeText(&b, n, func(n *html.Node) bool { return n.Data == "svg" || n.Data == "style" }, "")
	return b.String()
}

// writeText writes the text in a node but for the elements to skip, and end after each
// element.
func writeText(b *strings.Builder, n *html.Node, skip func(*html.Node) bool, end string) {
	switch {
	case n.Type == html.TextNode:
		b.WriteString(n.Data)
	case n.Type == html.ElementNode && skip(n):
		return
	}
	for child := range n.ChildNodes() {
		writeText(b, child, skip, end)
	}
	if n.Type == html.ElementNode {
		b.WriteString(end)
	}
}

// Rows returns the cells of a table, row by row, without the blanks that align figures.
func Rows(table *html.Node) [][]string {
	var rows [][]string
	for _, tr := range Find(table, "tr") {
		var row []string
		for cell := range tr.ChildNodes() {
			row = append(row, strings.TrimRight(Text(cell), " \u2007\u2008"))
		}
		rows = append(rows, row)
	}
	return rows
}
