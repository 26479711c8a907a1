// Package tomlcarrier reads carriers out of a file that a user wrote, and says which of
// them no standard knows.
package tomlcarrier

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"spectally/ca"
	"spectally/cmd/internal/tomlfile"
)

// Read reads the value of a key as carriers in the notation, at most a number of them.
// They are read one by one, so that each fault is reported on its own; what is
// returned holds those that could be read.
func Read(t *tomlfile.Table, key, text string, most int) ca.Combination {
	var list ca.Combination
	var pieces []int // in which each carrier was written, counted from 1
	texts := strings.Split(text, "+")
	faults := make([][]error, len(texts)+1)
	for i, piece := range texts {
		some, err := ca.Parse(piece)
		if err != nil {
			var notation *ca.NotationError
			if errors.As(err, &notation) {
				notation.Carrier, notation.Text = i+1, tomlfile.Shorten(notation.Text)
			}
			faults[i+1] = append(faults[i+1], err)
			continue
		}
		for _, c := range some {
			list, pieces = append(list, c), append(pieces, i+1)
		}
	}
	if len(list) > most {
		t.Refuse(key, strconv.Itoa(len(list))+" carriers", "at most "+strconv.Itoa(most))
		return nil
	}
	Check(list, func(i int, _ string, err error) {
		err = &ca.NotationError{Carrier: pieces[i], Text: list[i].String(), Err: err}
		of := &faults[pieces[i]]
		if !slices.ContainsFunc(*of, func(e error) bool { return e.Error() == err.Error() }) { // of counted carriers one is enough
			*of = append(*of, err)
		}
	})
	for i := range texts {
		for _, err := range faults[i+1] {
			t.Report(key, err)
		}
	}
	return list
}
