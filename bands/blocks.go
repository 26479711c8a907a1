package bands

import (
	"fmt"
	"strings"

	"spectally/data"
)

// blockKey is a place in the tables of resource blocks and guard bands.
type blockKey struct {
	r          Range
	scs, width Frequency
}

type blockTables struct {
	blocks map[blockKey]int
	guards map[blockKey]Frequency
}

func loadNRBlocks() blockTables {
	t := blockTables{make(map[blockKey]int, 100), make(map[blockKey]Frequency, 100)}
	for _, table := range nrBlockTables() {
		if table.ID == "guard-ssb240" {
			continue
		}
		for _, row := range table.Rows {
			r, scs := must(ParseRange(row[0])), kilohertz(row[1])
			for pair := range strings.FieldsSeq(row[2]) {
				width, value, _ := strings.Cut(pair, "=")
				key := blockKey{r, scs, must(ParseMHz(width))}
				if strings.HasPrefix(table.ID, "n_rb") {
					t.blocks[key] = number(value)
				} else {
					t.guards[key] = kilohertz(value)
				}
			}
		}
	}
	return t
}

var nrBlocks = lazy(loadNRBlocks)

// ResourceBlocks is the maximum number of resource blocks N_RB of an NR channel
// (TS 38.101-1, -2 and -5 clause 5.3.2).
func ResourceBlocks(r Range, scs, width Frequency) (int, error) {
	if n, ok := nrBlocks().blocks[blockKey{r, scs, width}]; ok {
		return n, nil
	}
	return 0, noBlocks(r, scs, width, "n_rb-")
}

// GuardBand is the minimum guard band on each side of an NR channel
// (TS 38.101-1, -2 and -5 clause 5.3.3).
func GuardBand(r Range, scs, width Frequency) (Frequency, error) {
	if g, ok := nrBlocks().guards[blockKey{r, scs, width}]; ok {
		return g, nil
	}
	return 0, noBlocks(r, scs, width, "guard-")
}

// SSBGuardBand is the guard band beside an SS/PBCH block of 240 kHz SCS at the
// edge of an FR2-1 channel (TS 38.101-2 Table 5.3.3-2); false if the table has
// no such width.
func SSBGuardBand(width Frequency) (Frequency, bool) {
	for _, row := range data.Find(nrBlockTables(), "guard-ssb240").Rows {
		for pair := range strings.FieldsSeq(row[2]) {
			w, g, _ := strings.Cut(pair, "=")
			if must(ParseMHz(w)) == width {
				return kilohertz(g), true
			}
		}
	}
	return 0, false
}

// LTEResourceBlocks is the number of resource blocks N_RB of an LTE channel
// (TS 36.101 Table 5.6-1).
func LTEResourceBlocks(width Frequency) (int, error) {
	t := data.Find(lteTables(), "n_rb")
	var have []Frequency
	for _, row := range t.Rows {
		w := must(ParseMHz(row[0]))
		if w == width {
			return number(row[1]), nil
		}
		have = append(have, w)
	}
	return 0, &ValueError{Param: "LTE channel bandwidth", Got: width.String(), Allowed: ListMHz(have), Source: t.Source}
}

func noBlocks(r Range, scs, width Frequency, kind string) error {
	if r.String() == "" {
		return &ValueError{Param: "frequency range", Got: "none", Allowed: rangeAllowed}
	}
	t := data.Find(nrBlockTables(), kind+strings.ToLower(r.String()))
	var have []string
	for _, row := range t.Rows {
		var at []string
		for pair := range strings.FieldsSeq(row[2]) {
			w, _, _ := strings.Cut(pair, "=")
			at = append(at, w)
		}
		if kilohertz(row[1]) == scs {
			have = []string{strings.Join(at, ", ") + " MHz at " + scs.String()}
			break
		}
		have = append(have, row[1]+" kHz SCS")
	}
	return &ValueError{
		Param:   fmt.Sprintf("%s channel at %s", r, scs),
		Got:     width.String(),
		Allowed: strings.Join(have, ", "),
		Source:  t.Source,
	}
}
