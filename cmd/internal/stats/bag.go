package stats

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// bag holds numbers in pieces, so that it grows without being copied and wastes little
// however few there are.
type bag [][]int16

const (
	firstPiece = 8
	mostPiece  = 1024
)

func (b *bag) add(v int16) {
	last := len(*b) - 1
	if last < 0 || len((*b)[last]) == cap((*b)[last]) {
		size := firstPiece
		if last >= 0 {
			size = min(2*cap((*b)[last]), mostPiece)
		}
		*b = append(*b, make([]int16, 0, size))
		last++
	}
	(*b)[last] = append((*b)[last], v)
}

// all hands out every number.
func (b bag) all(yield func(int16) bool) {
	for _, piece := range b {
		for _, v := range piece {
			if !yield(v) {
				return
			}
		}
	}
}

// packed is a bag of numbers that are not negative, each in as few bytes as it needs.
type packed [][]byte

// mostPacked is how many bytes a number needs at most.
const mostPacked = binary.MaxVarintLen32

func (b *packed) add(v int32) {
	last := len(*b) - 1
	if last < 0 || len((*b)[last])+mostPacked > cap((*b)[last]) {
		size := 4 * firstPiece
		if last >= 0 {
			size = min(2*cap((*b)[last]), 2*mostPiece)
		}
		*b = append(*b, make([]byte, 0, size))
		last++
	}
	(*b)[last] = binary.AppendUvarint((*b)[last], uint64(v))
}

// all hands out every number.
func (b packed) all(yield func(int32) bool) {
	for _, piece := range b {
		for len(piece) > 0 {
			v, n := binary.Uvarint(piece)
			piece = piece[n:]
			if !yield(int32(v)) {
				return
			}
		}
	}
}

// pick finds the numbers of some ranks, counted from 1 and rising, without sorting all
// of the numbers: it counts how many lie in each piece of their range, and looks further
// in the pieces that hold a rank alone. The numbers are not kept in order.
func pick[T int16 | int32](values []T, ranks []int64, picked []int32) []int32 {
	const (
		few    = 48
		pieces = 10 // bits
	)
	if len(ranks) == 0 {
		return picked
	}
	low, high := int32(slices.Min(values)), int32(slices.Max(values))
	if len(values) <= few || low == high {
		slices.Sort(values)
		for _, r := range ranks {
			picked = append(picked, int32(values[r-1]))
		}
		return picked
	}
	shift := max(0, bits.Len32(uint32(high-low))-pieces)
	var counts [1 << pieces]int64
	for _, v := range values {
		counts[(int32(v)-low)>>shift]++
	}
	below, first := int64(0), 0 // numbers in the pieces before; the first rank not found
	var ends [1 << pieces]int64 // of what is looked at further, in the order of the pieces
	further := int64(0)
	for i, n := range counts {
		ends[i] = -1
		last := first
		for last < len(ranks) && ranks[last] <= below+n {
			last++
		}
		if last > first {
			ends[i] = further
			further += n
		}
		below += n
		first = last
	}
	if shift == 0 { // a piece is one number
		below, first = 0, 0
		for i, n := range counts {
			for below += n; first < len(ranks) && ranks[first] <= below; first++ {
				picked = append(picked, low+int32(i))
			}
		}
		return picked
	}
	found := make([]T, further)
	for _, v := range values {
		if end := &ends[(int32(v)-low)>>shift]; *end >= 0 {
			found[*end] = v
			*end++
		}
	}
	below, first = 0, 0
	for i, n := range counts {
		var inside []int64
		for first < len(ranks) && ranks[first] <= below+n {
			inside = append(inside, ranks[first]-below)
			first++
		}
		if len(inside) > 0 {
			picked = pick(found[ends[i]-n:ends[i]], inside, picked)
		}
		below += n
	}
	return picked
}

// ranksOf are the ranks of shares of n numbers.
func ranksOf(shares []float64, n int64) []int64 {
	ranks := make([]int64, len(shares))
	for i, p := range shares {
		ranks[i] = rank(p, n)
	}
	return ranks
}
