package bands

import (
	"slices"
	"strings"

	"spectally/data"
)

// Name is what the trade calls a band.
type Name struct {
	Text string
	// Origin says where the name is known from, honestly: "common practice, from
	// memory", or a specification.
	Origin string
}

type namedBands struct {
	Name
	key   string
	bands []ID
}

var bandNames = lazy(func() []namedBands {
	t := data.Find(data.Lazy("band_names")(), "names")
	list := make([]namedBands, 0, len(t.Rows))
	for _, row := range t.Rows {
		n := namedBands{Name: Name{Text: row[2], Origin: row[1]}, key: nameKey(row[2])}
		if n.Origin == "practice" {
			n.Origin = "common practice, no source"
		}
		for id := range strings.SplitSeq(row[0], ",") {
			n.bands = append(n.bands, must(ParseID(id)))
		}
		list = append(list, n)
	}
	return list
})

// nameKey folds case and drops blanks, hyphens and the like, so that a name is
// found however it is spelt. A comma is a point: 2,6 GHz is not the 26 GHz band.
func nameKey(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case 'A' <= r && r <= 'Z':
			return r + 'a' - 'A'
		case 'a' <= r && r <= 'z', '0' <= r && r <= '9', r == '.', r == '+':
			return r
		case r == ',':
			return '.'
		}
		return -1
	}, s)
}

// Names lists what the trade calls the band.
func (b *Band) Names() []Name {
	var list []Name
	for _, n := range bandNames() {
		if slices.Contains(n.bands, b.ID) {
			list = append(list, n.Name)
		}
	}
	return list
}

// ByName finds the bands that the trade calls so, LTE first, in order of number.
// Letter case, blanks and hyphens do not matter. A name that is not known is a
// ValueError with the nearest names.
func ByName(s string) ([]*Band, error) {
	key := nameKey(s)
	var ids []ID
	for _, n := range bandNames() {
		if n.key == key {
			ids = append(ids, n.bands...)
		}
	}
	if len(ids) == 0 {
		return nil, &ValueError{Param: "band name", Got: s, Allowed: "a band (n78, B3), a frequency with its unit, or a name of the trade", Nearest: nearestName(key)}
	}
	slices.SortFunc(ids, ID.Compare)
	var found []*Band
	for _, id := range slices.Compact(ids) {
		found = append(found, must(Lookup(id)))
	}
	return found, nil
}

// nearestName returns the name that begins with the key, or contains it, or differs
// from it in the fewest letters; empty if none is near.
func nearestName(key string) string {
	best, bestDistance := "", len(key)/2+1
	for _, n := range bandNames() {
		d := EditDistance(key, n.key)
		switch {
		case key == "":
		case strings.HasPrefix(n.key, key):
			d = 0
		case strings.Contains(n.key, key):
			d = min(d, 1)
		}
		if d < bestDistance {
			best, bestDistance = n.Text, d
		}
	}
	return best
}

// EditDistance counts the letters to insert, drop or replace to turn a into b.
func EditDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			diagonal, row[j+1] = row[j+1], min(diagonal+cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
