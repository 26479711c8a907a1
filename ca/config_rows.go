package ca

import (
	"strings"
	"sync/atomic"

	"spectally/bands"
)

// setTable holds the bandwidth combination sets of an entry.
type setTable struct {
	rows []setRow
	// widest caches entry.widestSet by set number; 0 until it is known.
	widest [10]atomic.Int32
}

// rowForm tells what the cells of a row are.
type rowForm uint8

const (
	rowOfBands  rowForm = iota // a cell for every band
	rowOfBlocks                // a cell for every carrier or sub-block of one band
	rowOfDual                  // a cell of E-UTRA and one of NR, in one band
)

// setRow is a set, or one of the alternatives of a set within one band.
type setRow struct {
	form  rowForm
	bcs   uint8
	alt   uint8     // counts the alternatives of a set from 1
	lower bands.RAT // of rowOfDual: the technology that is lower in frequency
	max   int32     // the sum of all widths in units of 100 kHz; 0 if none is stated
	cells []cell
}

// cell is what a set allows in a band or for a carrier.
type cell struct {
	band   bands.ID
	widths widthSet // of one carrier; empty for ALL, a reference and fixed widths
	all    bool     // every width of the band
	ref    string   // the set of another configuration: "CA_n78C_BCS1"
	bcs    uint8    // its number
	nested *entry   // its configuration; nil if there is none
	fixed  []int32  // contiguous carriers of just these widths, rising in frequency
	limits []WidthLimit
}

// setTable returns the sets of the entry, read once.
func (e *entry) setTable() *setTable {
	if t := e.sets.Load(); t != nil {
		return t
	}
	// Two may read them at once: one of the results stays, they are the same.
	e.sets.CompareAndSwap(nil, e.parseSets())
	return e.sets.Load()
}

func (e *entry) setRows() []setRow { return e.setTable().rows }

// parseSets reads the lines of an entry that begin with a set number. The lists
// are embedded and the tests read all of them, so that their form is not checked
// again.
func (e *entry) parseSets() *setTable {
	rows, cells := countRows(e.lines)
	t := &setTable{rows: make([]setRow, 0, rows)}
	pool := make([]cell, 0, cells)
	first, _ := firstPart(e.name)
	var maxima [10]int32
	for line := range strings.Lines(e.lines) {
		if line[1] < '0' || line[1] > '9' {
			continue
		}
		bcs := line[1] - '0'
		key, rest, _ := strings.Cut(line[3:len(line)-1], " ")
		if key == "max" {
			maxima[bcs] = tenths(rest)
			continue
		}
		n := len(t.rows)
		switch {
		case key == "=" || key[0] == 'e' || key == "nr<eutra":
			alt := uint8(1)
			if n > 0 && t.rows[n-1].bcs == bcs {
				alt = t.rows[n-1].alt + 1
			}
			row := setRow{form: rowOfBlocks, bcs: bcs, alt: alt, max: maxima[bcs]}
			begin := len(pool)
			id := first.band
			if key != "=" {
				row.form, row.lower = rowOfDual, bands.LTE
				if key == "nr<eutra" {
					row.lower = bands.NR
				}
				id.RAT = bands.LTE
			}
			for text := range strings.SplitSeq(rest, " | ") {
				pool = append(pool, parseCell(id, text))
				if row.form == rowOfDual {
					id.RAT = bands.NR
				}
			}
			row.cells = pool[begin:len(pool):len(pool)]
			t.rows = append(t.rows, row)
		default:
			id, _ := firstPart(key)
			if n == 0 || t.rows[n-1].bcs != bcs {
				t.rows = append(t.rows, setRow{form: rowOfBands, bcs: bcs, alt: 1, max: maxima[bcs], cells: pool[len(pool):]})
				n++
			}
			pool = append(pool, parseCell(id.band, rest))
			row := &t.rows[n-1]
			row.cells = row.cells[:len(row.cells)+1] // the new end of the pool
		}
	}
	return t
}

// firstPart cuts the first band out of a name, or out of a band alone.
func firstPart(text string) (part, bool) {
	s := scanName(text)
	return s.next()
}

// countRows returns upper bounds for the rows and cells of lines.
func countRows(lines string) (rows, cells int) {
	last := byte(0)
	for line := range strings.Lines(lines) {
		if line[1] < '0' || line[1] > '9' || line[3] == 'm' {
			continue
		}
		if line[3] == '=' || line[3] == 'e' || strings.HasPrefix(line[3:], "nr") {
			rows++
			cells += strings.Count(line, "|") + 1
			continue
		}
		if line[1] != last {
			rows++
			last = line[1]
		}
		cells++
	}
	return rows, cells
}

// parseCell reads "5 10 50:dl", "ALL", "CA_n78C_BCS1" or "20+20".
func parseCell(id bands.ID, text string) cell {
	c := cell{band: id}
	switch {
	case text == "ALL":
		c.all = true
	case strings.HasPrefix(text, "CA_"):
		c.ref = text
		name, bcs, _ := strings.Cut(text, "_BCS")
		c.bcs = bcs[0] - '0'
		f := lteFamily
		if id.RAT == bands.NR {
			f = nrFamily
		}
		c.nested = f.find(name)
	case strings.Contains(text, "+"):
		for w := range strings.SplitSeq(text, "+") {
			c.fixed = append(c.fixed, tenths(w))
		}
	default:
		for text != "" {
			var w string
			w, text, _ = strings.Cut(text, " ")
			w, mark, marked := strings.Cut(w, ":")
			units := tenths(w)
			c.widths |= widthBit(units)
			if marked {
				c.limits = append(c.limits, WidthLimit{bands.Frequency(units) * widthUnit, limitOf(mark)})
			}
		}
	}
	return c
}

// tenths reads megahertz with at most one decimal as units of 100 kHz.
func tenths(s string) int32 {
	n := int32(0)
	dot := false
	for i := range len(s) {
		if s[i] == '.' {
			dot = true
			continue
		}
		n = n*10 + int32(s[i]-'0')
	}
	if !dot {
		n *= 10
	}
	return n
}

// allowed returns the widths of one carrier in a cell that is neither a
// reference nor fixed widths.
func (c *cell) allowed(id bands.ID) widthSet {
	if c.all {
		return bandWidths(id)
	}
	return c.widths
}
