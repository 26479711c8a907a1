package rf

import (
	"spectally/bands"
	"spectally/data"
)

var releaseTables = data.Lazy("nr_releases")

// Evidence says how sure a release is.
type Evidence uint8

// The grades of evidence.
const (
	// Unmentioned: no change history mentions the band. It is from the first edition
	// (Release 15), or came in under the name of a work item.
	Unmentioned Evidence = iota
	// AtLatest: the first entry that mentions the band; it may be older.
	AtLatest
	// Introduced: an entry brings the band in.
	Introduced
)

// String names the grade: "introduced", "at latest", "no entry".
func (e Evidence) String() string { return [...]string{"no entry", "at latest", "introduced"}[e] }

// Release is the release in which an NR band came in.
type Release struct {
	Band     bands.ID
	Release  int // 15 and up; zero where Evidence is Unmentioned
	Edition  string
	Date     string // year and month: "2018-06"
	Evidence Evidence
	What     string // the entry
	Source   bands.Source
}

// Since tells in which release an NR band came in; false if nothing is known, as of bands of
// LTE.
func Since(id bands.ID) (Release, bool) {
	for _, t := range releaseTables() {
		for _, row := range t.Rows {
			if row[0] != id.String() {
				continue
			}
			r := Release{Band: id, Source: t.Source}
			if len(row) > 1 {
				r.Release, r.Edition, r.Date, r.What = number(row[1]), row[2], row[3], row[5]
				r.Evidence = map[string]Evidence{"introduced": Introduced, "at-latest": AtLatest}[row[4]]
			}
			return r, true
		}
	}
	return Release{}, false
}
