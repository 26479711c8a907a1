package logform

import (
	"iter"
	"maps"
	"slices"
)

// sorted goes through a map in the order of its keys.
func sorted(m map[string]string) iter.Seq2[string, string] {
	return func(yield func(string, string) bool) {
		for _, key := range slices.Sorted(maps.Keys(m)) {
			if !yield(key, m[key]) {
				return
			}
		}
	}
}
