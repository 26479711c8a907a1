package ca

import (
	"slices"
	"strings"

	"spectally/ca"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/listed"
)

// found is the answer about carriers that serve one UE together.
type found struct {
	*combination.Answer
	// listings are the configurations that the carriers can form; whole tells that
	// they are all there are.
	listings []ca.Listing
	whole    bool
}

// find gathers the answer. It is an error if a TDD pattern cannot be read.
func find(a *ca.Assessment) (*found, error) {
	x, err := combination.Of(a)
	if err != nil {
		return nil, err
	}
	c := &found{Answer: x}
	c.listings, c.whole = a.Listings()
	return c, nil
}

// uplinkWords lists the uplinks that the standard names with a configuration, each
// once, in words.
func uplinkWords(configurations []ca.Configuration) []string {
	var list []string
	for _, c := range configurations {
		if listed.AnySingleUplink(c) {
			list = append(list, "one carrier of any band with an uplink")
		}
		for _, u := range c.Uplinks() {
			text := u.Text
			switch text {
			case "*":
				if listed.AnySingleUplink(c) {
					continue
				}
				text = "one carrier, see the note of the table"
			case "N/A":
				text = "none of its own"
			}
			var marks []string
			if len(u.PowerClasses) > 0 {
				marks = append(marks, "power class "+strings.Join(u.PowerClasses, ", "))
			}
			if u.Switched {
				marks = append(marks, "switched")
			}
			if u.Must {
				marks = append(marks, "mandatory with uplink CA")
			}
			if len(u.Sets) > 0 {
				marks = append(marks, "beside set "+figures.List(u.Sets, ", "))
			}
			if len(marks) > 0 {
				text += " (" + strings.Join(marks, "; ") + ")"
			}
			if !slices.Contains(list, text) {
				list = append(list, text)
			}
		}
	}
	return list
}
