package claim

import "spectally/bands"

// As is a reading that a claim can state.
type As string

// The readings of a total. The zero As leaves it open: the usual reading then decides,
// and a figure that holds under another one alone stays undecided.
const (
	AsDownlink   As = "downlink"
	AsUplink     As = "uplink"
	AsBoth       As = "both"
	AsOccupied   As = "occupied"
	AsEquivalent As = "equivalent"
	AsLTE        As = "lte"
	AsNR         As = "nr"
	// AsNetwork is the spectrum of a network, which no one phone need be able to use at
	// once.
	AsNetwork As = "network"
)

// AllAs lists the readings that can be stated.
func AllAs() []As {
	return []As{AsDownlink, AsUplink, AsBoth, AsOccupied, AsEquivalent, AsLTE, AsNR, AsNetwork}
}

// ParseAs reads a reading; empty is none.
func ParseAs(s string) (As, error) {
	if s == "" {
		return "", nil
	}
	allowed := ""
	for i, as := range AllAs() {
		if string(as) == s {
			return as, nil
		}
		if i > 0 {
			allowed += ", "
		}
		allowed += string(as)
	}
	return "", &bands.ValueError{Param: "reading", Got: s, Allowed: allowed}
}
