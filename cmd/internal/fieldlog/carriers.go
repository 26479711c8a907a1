package fieldlog

import "spectally/ca"

func decibels(l ca.Level) *float64 {
	if !l.IsGiven() {
		return nil
	}
	db := l.DB()
	return &db
}

// numbers turns places in a list into numbers from 1.
func numbers(places []int) []int {
	list := make([]int, len(places))
	for i, p := range places {
		list[i] = p + 1
	}
	return list
}
