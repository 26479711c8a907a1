package ca

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
)

// leading is the direction in which the carriers of a band are ordered.
func leading(b *bands.Band) bands.Direction {
	if b.Has(bands.Downlink) {
		return bands.Downlink
	}
	return bands.Uplink
}

// carrierNumbers writes carriers, counted from 0, as people count them: "2, 3".
func carrierNumbers(list []int) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(n + 1)
	}
	return strings.Join(words, ", ")
}

func classList(list []ca.Class) string {
	words := make([]string, len(list))
	for i, c := range list {
		words[i] = string(c)
	}
	return strings.Join(words, " or ")
}
