package ca

import (
	"slices"
	"strings"

	"spectally/bands"
)

// fitter puts the carriers of a band into the sub-blocks of a configuration. Carriers
// of equal width are counts and not things, so that sixteen equal ones are no more
// work than two.
type fitter struct {
	band   *bands.Band
	placed []BlockWidths // sub-blocks whose carriers are known
	widths []bands.Frequency
	left   []int // of each of the widths: carriers without a place that are not yet put anywhere
	rest   int   // how many there are of them
}

// fitter returns what puts the carriers of group i into sub-blocks.
func (a *Assessment) fitter(i int) *fitter {
	g := &a.Groups[i]
	f := &fitter{band: g.Band, rest: len(g.Unplaced)}
	for _, b := range g.Blocks {
		f.placed = append(f.placed, BlockWidths{Carriers: a.widths(b.Carriers), Ordered: true})
	}
	for _, w := range a.widths(g.Unplaced) {
		k := slices.Index(f.widths, w)
		if k < 0 {
			k = len(f.widths)
			f.widths, f.left = append(f.widths, w), append(f.left, 0)
		}
		f.left[k]++
	}
	return f
}

// filling is what one sub-block of a configuration takes.
type filling struct {
	class  *ClassRow // nil if the sub-block is left out
	placed int       // the place of the known sub-block in it, counted from 1; 0 is none
	counts []int     // of the carriers without a place, of each of the widths
}

// compare puts fillings of equal sub-blocks in order, so that of two ways that differ
// by which of them takes what one is left.
func (x *filling) compare(y *filling) int {
	if x.class != y.class {
		switch {
		case x.class == nil:
			return -1
		case y.class == nil:
			return 1
		}
		return x.class.Class.compare(y.class.Class)
	}
	if x.placed != y.placed {
		return x.placed - y.placed
	}
	return slices.Compare(x.counts, y.counts)
}

// fill visits every way to fill sub-blocks with all the carriers: each with the class
// that it has, or, where a fallback will do, with one to which it can fall back, or not
// at all. It ends as soon as visit returns false, and returns false then.
func (f *fitter) fill(blocks []Class, fallback bool, visit func([]filling) bool) bool {
	options := make([][]*ClassRow, len(blocks))
	room := make([]int, len(blocks)+1) // carriers that the sub-blocks from here on can take
	rows := classesOf(f.band)
	for i, c := range blocks {
		for k := range rows {
			r := &rows[k]
			if r.holds(f.band) && (r.Class == c || fallback && lowerClass(f.band.ID, c, r.Class)) {
				options[i] = append(options[i], r)
			}
		}
	}
	for i := len(blocks) - 1; i >= 0; i-- {
		room[i] = room[i+1] + blocks[i].carriers(f.band.ID)
	}
	ways := make([]filling, 0, len(blocks))
	carriers := f.rest
	for i := range f.placed {
		carriers += len(f.placed[i].Carriers)
	}
	used := make([]bool, len(f.placed))
	var next func() bool
	put := func(x filling, takes int) bool {
		n := len(ways)
		if n > 0 && blocks[n] == blocks[n-1] && x.compare(&ways[n-1]) > 0 {
			return true
		}
		ways, carriers = append(ways, x), carriers-takes
		on := next()
		ways, carriers = ways[:n], carriers+takes
		return on
	}
	next = func() bool {
		n := len(ways)
		if n == len(blocks) {
			return carriers != 0 || visit(ways)
		}
		if carriers > room[n] {
			return true
		}
		for _, row := range options[n] {
			for p := range len(f.placed) + 1 {
				x := filling{class: row, placed: p}
				need := row.Carriers
				if p > 0 {
					if need -= len(f.placed[p-1].Carriers); used[p-1] || need < 0 {
						continue
					}
					used[p-1] = true
				}
				if need <= f.rest {
					x.counts = make([]int, len(f.widths))
					if !f.choose(&x, 0, need, func() bool { return put(x, row.Carriers) }) {
						return false
					}
				}
				if p > 0 {
					used[p-1] = false
				}
			}
		}
		return !fallback || put(filling{}, 0)
	}
	return next()
}

// choose visits the ways to complete a filling with so many carriers of the widths
// from k on, as far as its class admits them.
func (f *fitter) choose(x *filling, k, need int, visit func() bool) bool {
	if need == 0 {
		if !x.class.admits(f.band, f.carriers(x)) {
			return true
		}
		return visit()
	}
	if k == len(f.widths) {
		return true
	}
	for n := min(need, f.left[k]); n >= 0; n-- {
		x.counts[k] = n
		f.left[k] -= n
		f.rest -= n
		on := f.choose(x, k+1, need-n, visit)
		f.left[k] += n
		f.rest += n
		if !on {
			return false
		}
	}
	x.counts[k] = 0
	return true
}

// carriers are the widths of a filling, those that are known first.
func (f *fitter) carriers(x *filling) []bands.Frequency {
	var list []bands.Frequency
	if x.placed > 0 {
		list = append(list, f.placed[x.placed-1].Carriers...)
	}
	for k, n := range x.counts {
		for range n {
			list = append(list, f.widths[k])
		}
	}
	return list
}

// ways lists the ways in which the carriers make exactly these sub-blocks.
func (f *fitter) ways(blocks []Class) [][]BlockWidths {
	var list [][]BlockWidths
	f.fill(blocks, false, func(filled []filling) bool {
		way := make([]BlockWidths, len(filled))
		for i := range filled {
			x := &filled[i]
			way[i].Carriers = f.carriers(x)
			way[i].Ordered = x.placed > 0 && len(way[i].Carriers) == len(f.placed[x.placed-1].Carriers)
		}
		list = append(list, way)
		return true
	})
	return list
}

// layouts lists the classes of the sub-blocks that the carriers can make and to which
// a configuration with sub-blocks of these classes can fall back, each once.
func (f *fitter) layouts(blocks []Class) [][]Class {
	var list [][]Class
	seen := map[string]bool{}
	f.fill(blocks, true, func(filled []filling) bool {
		var layout []Class
		for i := range filled {
			if filled[i].class != nil {
				layout = append(layout, filled[i].class.Class)
			}
		}
		slices.SortFunc(layout, Class.compare)
		if key := classKey(layout); !seen[key] {
			seen[key] = true
			list = append(list, layout)
		}
		return true
	})
	return list
}

func classKey(blocks []Class) string {
	var key strings.Builder
	for _, c := range blocks {
		key.WriteString(string(c))
		key.WriteByte(' ')
	}
	return key.String()
}
