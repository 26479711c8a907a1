package render

import "strings"

// table writes a table that scrolls in itself where the page is too narrow. The first
// cell of a row heads it, unless it is empty.
func (w *htmlWriter) table(t *Table) {
	title := t.heading(w.explain)
	switch {
	case t.Detail:
		w.endFold()
		title = either(title, "Details")
		w.fold(title)
		w.grid(t, title, true)
		w.unfold()
	case title != "" && w.folding:
		w.beginFold(title)
		w.grid(t, title, true)
	case title != "":
		w.grid(t, title, false)
	default:
		w.grid(t, either(w.heading, "Table"), true)
	}
}

func either(s, other string) string {
	if strings.TrimSpace(clean(s)) == "" {
		return other
	}
	return s
}

// grid writes a table under a caption, which is hidden where it repeats what stands
// above.
func (w *htmlWriter) grid(t *Table, caption string, hidden bool) {
	id := w.id("table")
	class, frame := "", "scroll titled"
	if hidden {
		class, frame = "hidden", "scroll"
	}
	if t.wide() {
		frame += " stacks"
	}
	w.open("div", "class", frame, "role", "group", "tabindex", "0", "aria-labelledby", id)
	w.open("table")
	w.line()
	w.element("caption", caption, "id", id, "class", class)
	w.line()
	w.open("thead")
	w.open("tr")
	for _, c := range t.Columns {
		w.open("th", "scope", "col", "class", c.class())
		w.text(c.Header)
		if c.Unit != "" {
			w.text(" ")
			w.element("span", c.Unit, "class", "unit")
		}
		w.close("th")
	}
	w.close("tr")
	w.close("thead")
	w.line()
	w.open("tbody")
	w.line()
	decimals := t.pads()
	for r, row := range t.Rows {
		w.open("tr")
		for c, cell := range row {
			name := "td"
			if c == 0 && either(cell, "") != "" {
				name = "th"
				w.open(name, "scope", "row", "class", t.Columns[c].class())
			} else {
				label := strings.TrimSpace(t.Columns[c].Header + unitSuffix(t.Columns[c].Unit))
				w.open(name, "class", t.Columns[c].class(), "data-label", label)
			}
			w.cell(t.Columns[c].Header, cell)
			w.out.WriteString(decimals[c][r]) // blanks alone
			w.close(name)
		}
		w.close("tr")
		w.line()
	}
	w.close("tbody")
	w.close("table")
	w.close("div")
	w.line()
}

// phoneCells is about how many characters of a table stand beside each other on a phone.
const phoneCells = 33

// wide tells whether the table is too wide for a phone however its words break; there its
// rows become lists of labels and values.
func (t *Table) wide() bool {
	total := 0
	for c, col := range t.Columns {
		most := max(longestWord(col.Header), cells(col.Unit))
		for _, row := range t.Rows {
			if col.Align == Number {
				most = max(most, cells(row[c]))
			} else {
				most = max(most, longestWord(row[c]))
			}
		}
		total += most + 1
	}
	return total > phoneCells
}

// cell writes the text of a cell, which may lead somewhere.
func (w *htmlWriter) cell(header, text string) {
	if w.link != nil && text != "" {
		if address := w.link(header, text); address != "" {
			w.element("a", text, "href", address)
			return
		}
	}
	w.text(text)
}

func (c *Column) class() string {
	switch {
	case c.Deciding && c.Align == Number:
		return "number deciding"
	case c.Deciding:
		return "deciding"
	case c.Align == Number:
		return "number"
	}
	return ""
}

// Blanks as wide as a point and as a digit, where all digits are equally wide.
const (
	pointBlank = "\u2008"
	digitBlank = "\u2007"
)

// pads returns, by column and row, the blanks behind a number that bring its decimal
// point below those of the others.
func (t *Table) pads() [][]string {
	pads := make([][]string, len(t.Columns))
	for c, col := range t.Columns {
		pads[c] = make([]string, len(t.Rows))
		if col.Align != Number {
			continue
		}
		most := 0
		for _, row := range t.Rows {
			most = max(most, decimals(row[c]))
		}
		for r, row := range t.Rows {
			n := decimals(row[c])
			if n == most || !isNumber(row[c]) {
				continue
			}
			if n == 0 {
				pads[c][r] = pointBlank
				n = 1
			}
			pads[c][r] += strings.Repeat(digitBlank, most-n)
		}
	}
	return pads
}
