package bands

import (
	"slices"

	"spectally/data"
)

// Separation is how far the downlink carrier centre lies above the uplink carrier
// centre of the same channel; negative where the uplink is the higher one.
type Separation struct {
	// Numerology the range holds for, -1 for all.
	Numerology int
	// Default is the usual separation, if HasDefault; else any in the range.
	Default    Frequency
	HasDefault bool
	// Min and Max bound the separation, if HasRange.
	Min, Max Frequency
	HasRange bool
	Note     string
	Source   Source
}

var (
	nrPairingTables = data.Lazy("nr_pairing")
	nrSeparations   = lazy(loadNRSeparations)
	lteSeparations  = lazy(loadLTESeparations)
)

func loadNRSeparations() map[ID][]Separation {
	m := make(map[ID][]Separation)
	for _, id := range []string{"separation-fr1", "separation-fr1-ntn", "separation-fr2-ntn"} {
		t := data.Find(nrPairingTables(), id)
		for _, row := range t.Rows {
			s := Separation{Numerology: -1, Note: row[5], Source: t.Source}
			if row[1] != "" {
				s.Numerology = number(row[1])
			}
			if row[2] != "" {
				s.Default, s.HasDefault = signedMHz(row[2]), true
			}
			if row[3] != "" {
				s.Min, s.Max, s.HasRange = signedMHz(row[3]), signedMHz(row[4]), true
			}
			band := must(ParseID(row[0]))
			m[band] = append(m[band], s)
		}
	}
	return m
}

func loadLTESeparations() map[ID][]Separation {
	m := make(map[ID][]Separation)
	t := data.Find(lteTables(), "separation")
	for _, row := range t.Rows {
		band := must(ParseID(row[0]))
		s := Separation{Numerology: -1, Default: signedMHz(row[1]), HasDefault: true, Note: row[2], Source: t.Source}
		m[band] = append(m[band], s)
	}
	for _, list := range m { // the default stands before its alternative
		slices.SortStableFunc(list, func(a, b Separation) int {
			if (a.Note == "alternative") == (b.Note == "alternative") {
				return 0
			}
			if b.Note == "alternative" {
				return -1
			}
			return 1
		})
	}
	return m
}

func (b *Band) separations() []Separation {
	if b.ID.RAT == LTE {
		return lteSeparations()[b.ID]
	}
	return nrSeparations()[b.ID]
}

// Separations lists the transmit-receive separations of a paired band, the
// default first; empty where the tables give none (TS 36.101 Table 5.7.4-1,
// TS 38.101-1 Table 5.4.4-1, TS 38.101-5 Tables 5.4.4-1 and -2).
func (b *Band) Separations() []Separation { return slices.Clone(b.separations()) }

// Paired returns the carrier centre of the other direction for a carrier centre in
// direction d: the same frequency in a TDD band, the default separation away in a
// paired one. It is zero and false where there is no other direction, no default,
// or either centre would lie outside the band.
func (b *Band) Paired(d Direction, f Frequency) (Frequency, bool) {
	other := Uplink
	if d == Uplink {
		other = Downlink
	}
	if !b.Has(other) || !b.Span(d).Contains(f) {
		return 0, false
	}
	if b.Duplex == TDD {
		return f, true
	}
	list := b.separations()
	if len(list) == 0 || !list[0].HasDefault {
		return 0, false
	}
	g := f - list[0].Default
	if d == Uplink {
		g = f + list[0].Default
	}
	if !b.Span(other).Contains(g) {
		return 0, false
	}
	return g, true
}
