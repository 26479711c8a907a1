package render

import "strings"

// wrap breaks s at blanks into lines of at most room cells. A word wider than
// that is broken where it must be. There is always at least one line.
func wrap(s string, room int) []string {
	w := wrapper{room: max(room, 2)} // a wide rune must fit
	for _, word := range words(clean(s)) {
		if cells(word) > w.room {
			for part := range strings.SplitSeq(word, string(noBreak)) {
				w.add(part)
			}
			continue
		}
		w.add(word)
	}
	return w.finish()
}

type wrapper struct {
	room  int
	lines []string
	line  strings.Builder
	used  int
}

func (w *wrapper) add(word string) {
	n := cells(word)
	if w.line.Len() > 0 && w.used+1+n <= w.room {
		w.line.WriteByte(' ')
		w.line.WriteString(word)
		w.used += 1 + n
		return
	}
	if w.line.Len() > 0 {
		w.end()
	}
	for n > w.room {
		head := fit(word, w.room)
		w.line.WriteString(word[:head])
		w.end()
		word = word[head:]
		n = cells(word)
	}
	w.line.WriteString(word)
	w.used = n
}

func (w *wrapper) end() {
	w.lines = append(w.lines, strings.ReplaceAll(w.line.String(), string(noBreak), " "))
	w.line.Reset()
	w.used = 0
}

func (w *wrapper) finish() []string {
	if w.line.Len() > 0 || len(w.lines) == 0 {
		w.end()
	}
	return w.lines
}

// words splits s at blanks and joins again, with a no-break space, what reads
// badly when a line ends in it: a number and its unit, a citation.
func words(s string) []string {
	all := strings.Split(s, " ")
	joined := all[:0]
	for _, word := range all {
		if word == "" {
			continue
		}
		if last := len(joined) - 1; last >= 0 && belong(joined[last], word) {
			joined[last] += string(noBreak) + word
			continue
		}
		joined = append(joined, word)
	}
	return joined
}

func belong(a, b string) bool {
	switch strings.TrimLeft(a, "(") {
	case "TS", "TR", "Table", "Tables", "clause":
		return true
	}
	if !isNumber(strings.TrimLeft(a, "(")) {
		return false
	}
	switch strings.TrimRight(b, ".,;:)") {
	case "Hz", "kHz", "MHz", "GHz", "bit", "bit/s", "kbit/s", "Mbit/s", "Gbit/s", "bit/s/Hz",
		"s", "ms", "dB", "dBm", "%", "km", "m":
		return true
	}
	return false
}

// fit returns how many bytes of s fit into room cells.
func fit(s string, room int) int {
	used := 0
	for i, r := range s {
		if used += runeCells(r); used > room {
			return i
		}
	}
	return len(s)
}

// longestWord returns the cells of the widest part of s that has no place to
// break.
func longestWord(s string) int {
	n := 0
	for word := range strings.SplitSeq(clean(s), " ") {
		n = max(n, cells(word))
	}
	return n
}
