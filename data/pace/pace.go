// Package pace lets tests of whole domains do less under the race detector, which slows
// them ten times and finds in a part of the domain all that it can find. Without it they
// do everything.
package pace

import "iter"

// Whole tells that whole domains are tested, so that what they have can be counted.
const Whole = !raced

// Step is how far apart the cases of a whole domain are taken: 1, or n under the race
// detector.
func Step(n int) int {
	if raced {
		return n
	}
	return 1
}

// Times is how often a drawn case is tried: n, or the part-th part of it under the race
// detector, and once at least.
func Times(n, part int) int { return max(n/Step(part), 1) }

// Some is every [Step](n)-th of the cases.
func Some[T any](all iter.Seq[T], n int) iter.Seq[T] {
	return func(yield func(T) bool) {
		i := 0
		for c := range all {
			if i++; (i-1)%Step(n) == 0 && !yield(c) {
				return
			}
		}
	}
}
