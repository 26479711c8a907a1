package render

import "strings"

func (w *textWriter) facts(b Facts) {
	w.open()
	w.pairs(b)
}

// pairs writes names and values in two columns, or each value below its name
// where there is no room for two.
func (w *textWriter) pairs(b Facts) {
	names := 0
	numbers := [][]string{}
	for _, f := range b {
		names = max(names, cells(clean(f.Name)))
		if f.Unit != "" {
			numbers = append(numbers, []string{clean(f.Value)})
		}
	}
	alignPoints(numbers, 0)
	widest := 0
	for _, n := range numbers {
		widest = max(widest, cells(n[0]))
	}
	stacked := names+gutter+widest+longestUnit(b) > w.room() || names > w.room()/2
	next := 0
	for _, f := range b {
		value := f.Value
		if f.Unit != "" {
			n := numbers[next][0]
			next++
			value = strings.Repeat(string(noBreak), widest-cells(n)) + strings.ReplaceAll(n, " ", string(noBreak)) + string(noBreak) + f.Unit
		}
		value += f.trail(w.explain)
		name := clean(f.Name)
		if !stacked {
			w.hanging(name+blanks(names-cells(name)+gutter), names+gutter, value, plain)
			continue
		}
		w.lines(name, w.prose(), plain)
		w.left += indent
		w.lines(strings.TrimLeft(value, string(noBreak)), w.prose(), plain)
		w.left -= indent
	}
}

func longestUnit(b Facts) int {
	n := 0
	for _, f := range b {
		if f.Unit != "" {
			n = max(n, cells(f.Unit)+1)
		}
	}
	return n
}

func (w *textWriter) table(t *Table) {
	if title := t.heading(w.explain); title != "" {
		w.section(Section(title))
	}
	w.open()
	l, fits := lay(t, w.room())
	if !fits {
		w.records(t)
		return
	}
	for _, line := range l.headLines() {
		w.line(w.style.bold(line))
	}
	w.line(w.style.faint(l.rule()))
	for _, row := range l.rows {
		for _, line := range l.rowLines(row) {
			w.line(line)
		}
	}
}

// records writes the rows of a table that is too wide, each as a block of names
// and values, so that nothing is cut off.
func (w *textWriter) records(t *Table) {
	for i, row := range t.Rows {
		if i > 0 {
			w.out.WriteByte('\n')
		}
		facts := make(Facts, 0, len(row))
		for c, cell := range row {
			if cell == "" {
				continue
			}
			if unit := t.Columns[c].Unit; unit != "" && isNumber(cell) {
				cell += " " + unit
			}
			facts = append(facts, Fact{Name: t.Columns[c].Header, Value: cell})
		}
		w.pairs(facts)
	}
}
