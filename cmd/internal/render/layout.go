package render

import (
	"slices"
	"strings"
)

// gutter is the room between two columns, narrowGutter where there is little.
const (
	gutter       = 3
	narrowGutter = 2
)

// narrowest is the width to which a column of words may shrink before the
// table is turned into records.
const narrowest = 10

// layout is a table made ready for a terminal: clean cells, numbers padded to a
// common decimal point, and the width of every column.
type layout struct {
	columns []Column
	headers [][2]string // header and unit
	rows    [][]string
	widths  []int
	units   bool
	gutter  int
}

// lay measures a table and fits it into room cells: it narrows columns of words to
// about half and headings, leaves out minor columns, narrows more, and breaks words at last. It reports whether it
// fits; the layout is complete either way.
func lay(t *Table, room int) (*layout, bool) {
	for {
		l := measure(t)
		natural := slices.Clone(l.widths)
		for _, halved := range [...]bool{false, true} {
			for _, l.gutter = range [...]int{gutter, narrowGutter} {
				least := slices.Clone(natural)
				if halved {
					least = l.halved(l.leastWidths(true))
				}
				if l.shrinkTo(room, least) {
					return l, true
				}
				copy(l.widths, natural)
			}
		}
		shorter := t.withoutMinor()
		if shorter == nil {
			if l.shrinkTo(room, l.leastWidths(true)) {
				return l, true
			}
			copy(l.widths, natural)
			return l, l.shrinkTo(room, l.leastWidths(false))
		}
		t = shorter
	}
}

// measure makes a table ready, as wide as it would like to be.
func measure(t *Table) *layout {
	l := &layout{
		columns: t.Columns,
		headers: make([][2]string, len(t.Columns)),
		rows:    make([][]string, len(t.Rows)),
		widths:  make([]int, len(t.Columns)),
	}
	for i, row := range t.Rows {
		l.rows[i] = make([]string, len(row))
		for c, cell := range row {
			l.rows[i][c] = clean(cell)
		}
	}
	for c, col := range t.Columns {
		l.headers[c] = [2]string{clean(col.Header), clean(col.Unit)}
		l.units = l.units || col.Unit != ""
		if col.Align == Number {
			alignPoints(l.rows, c)
		}
		l.widths[c] = max(cells(l.headers[c][0]), cells(l.headers[c][1]))
		for _, row := range l.rows {
			l.widths[c] = max(l.widths[c], cells(row[c]))
		}
	}
	return l
}

// leastWidths returns how narrow each column may become.
func (l *layout) leastWidths(wholeWords bool) []int {
	least := slices.Clone(l.widths)
	for c, w := range l.widths {
		if l.columns[c].Align == Number {
			least[c] = max(longestWord(l.headers[c][0]), cells(l.headers[c][1]))
			for _, row := range l.rows {
				least[c] = max(least[c], cells(row[c]))
			}
			continue
		}
		least[c] = max(narrowest, longestWord(l.headers[c][0]), cells(l.headers[c][1]))
		if wholeWords {
			for _, row := range l.rows {
				least[c] = max(least[c], longestWord(row[c]))
			}
		}
		least[c] = min(least[c], w)
	}
	return least
}

// halved keeps columns of words to about two lines.
func (l *layout) halved(least []int) []int {
	for c, w := range l.widths {
		least[c] = max(least[c], (w+1)/2)
	}
	return least
}

// shrinkTo narrows first the columns that a few long cells make wide, then the
// widest.
func (l *layout) shrinkTo(room int, least []int) bool {
	usual := slices.Clone(l.widths)
	total := l.gutter * (len(l.widths) - 1)
	for c, w := range l.widths {
		total += w
		if usual[c] = least[c]; l.columns[c].Align == Words {
			usual[c] = l.usualWidth(c)
		}
	}
	for ; total > room; total-- {
		widest, excess := -1, 0
		for c, w := range l.widths {
			if w <= least[c] {
				continue
			}
			over := max(w-usual[c], 0)
			if widest < 0 || over > excess || over == excess && w > l.widths[widest] {
				widest, excess = c, over
			}
		}
		if widest < 0 {
			return false
		}
		l.widths[widest]--
	}
	return true
}

// usualWidth is the width within which nine cells in ten of a column stay.
func (l *layout) usualWidth(c int) int {
	if len(l.rows) == 0 {
		return l.widths[c]
	}
	sizes := make([]int, len(l.rows))
	for i, row := range l.rows {
		sizes[i] = cells(row[c])
	}
	slices.Sort(sizes)
	return sizes[(len(sizes)-1)*9/10]
}

// alignPoints pads the numbers of a column behind their decimals, so that the
// points stand below each other when the column stands right.
func alignPoints(rows [][]string, c int) {
	most := 0
	for _, row := range rows {
		most = max(most, decimals(row[c]))
	}
	if most == 0 {
		return
	}
	for _, row := range rows {
		if isNumber(row[c]) {
			row[c] += blanks(most - decimals(row[c]))
		}
	}
}

// decimals returns how many cells of a number stand from the decimal point on.
func decimals(s string) int {
	if !isNumber(s) {
		return 0
	}
	if i := strings.IndexByte(s, '.'); i >= 0 {
		return len(s) - i
	}
	return 0
}

func isNumber(s string) bool {
	digits := strings.TrimLeft(s, "+-")
	return digits != "" && strings.Trim(digits, "0123456789.") == ""
}

// cellLines returns the lines of one cell, each as wide as its column.
func (l *layout) cellLines(c int, text string) []string {
	w := l.widths[c]
	number := l.columns[c].Align == Number
	if number && cells(text) <= w {
		return []string{blanks(w-cells(text)) + strings.ReplaceAll(text, string(noBreak), " ")}
	}
	lines := wrap(text, w)
	for i, line := range lines {
		if lines[i] = line + blanks(w-cells(line)); number {
			lines[i] = blanks(w-cells(line)) + line
		}
	}
	return lines
}

// rowLines returns the lines of one row, without blanks at their ends.
func (l *layout) rowLines(row []string) []string {
	parts := make([][]string, len(row))
	height := 0
	for c, text := range row {
		parts[c] = l.cellLines(c, text)
		height = max(height, len(parts[c]))
	}
	lines := make([]string, height)
	for i := range lines {
		var b strings.Builder
		for c, part := range parts {
			if c > 0 {
				b.WriteString(blanks(l.gutter))
			}
			if i < len(part) {
				b.WriteString(part[i])
			} else {
				b.WriteString(blanks(l.widths[c]))
			}
		}
		lines[i] = strings.TrimRight(b.String(), " ")
	}
	return lines
}

// headLines returns the lines above the rows: headers, and units if there are
// any.
func (l *layout) headLines() []string {
	names := make([]string, len(l.headers))
	units := make([]string, len(l.headers))
	for c, h := range l.headers {
		names[c], units[c] = h[0], h[1]
	}
	lines := l.rowLines(names)
	if l.units {
		lines = append(lines, l.rowLines(units)...)
	}
	return lines
}

// rule returns the line between head and rows.
func (l *layout) rule() string {
	parts := make([]string, len(l.widths))
	for c, w := range l.widths {
		parts[c] = strings.Repeat("─", w)
	}
	return strings.Join(parts, blanks(l.gutter))
}
