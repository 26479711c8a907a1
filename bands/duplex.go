package bands

import "strings"

// Duplex is the way a band carries its two directions.
type Duplex uint8

// The duplex modes of the band tables. The zero Duplex is none.
const (
	FDD Duplex = iota + 1 // paired: each direction has spectrum of its own
	TDD                   // both directions share the spectrum in time
	SDL                   // supplementary downlink: no uplink, only beside another band
	SUL                   // supplementary uplink: no downlink, only beside another band
	SDO                   // standalone downlink broadcast
)

var duplexNames = [...]string{FDD: "FDD", TDD: "TDD", SDL: "SDL", SUL: "SUL", SDO: "SDO"}

// String writes the mode as the band tables do: "FDD", "TDD", "SDL", "SUL", "SDO".
func (d Duplex) String() string {
	if d == 0 || int(d) >= len(duplexNames) {
		return "none"
	}
	return duplexNames[d]
}

// ParseDuplex reads a duplex mode; letter case does not matter.
func ParseDuplex(s string) (Duplex, error) {
	for d := FDD; d <= SDO; d++ {
		if strings.EqualFold(s, duplexNames[d]) {
			return d, nil
		}
	}
	return 0, &ValueError{Param: "duplex mode", Got: s, Allowed: "FDD, TDD, SDL, SUL or SDO"}
}
