package bands

import "strings"

// Range is the frequency range an NR band belongs to. It decides subcarrier
// spacings, resource blocks and overheads. LTE bands have none.
type Range uint8

// The frequency ranges (TS 38.104 clause 5.1, TS 38.101-5 clause 5.1). The zero
// Range is none.
const (
	FR1    Range = iota + 1 // 410 to 7125 MHz
	FR21                    // FR2-1: 24.25 to 52.6 GHz
	FR22                    // FR2-2: 52.6 to 71 GHz
	FR1NTN                  // FR1-NTN: satellite bands that count as FR1
	FR2NTN                  // FR2-NTN: satellite bands that count as FR2-1
)

var rangeNames = [...]string{FR1: "FR1", FR21: "FR2-1", FR22: "FR2-2", FR1NTN: "FR1-NTN", FR2NTN: "FR2-NTN"}

const rangeAllowed = "FR1, FR2-1, FR2-2, FR1-NTN or FR2-NTN"

// String writes the range as the standard does: "FR1", "FR2-1", "FR2-2",
// "FR1-NTN", "FR2-NTN"; the empty string for none.
func (r Range) String() string {
	if int(r) >= len(rangeNames) {
		return ""
	}
	return rangeNames[r]
}

// IsFR2 tells whether the range counts as FR2. Satellite bands count as the
// terrestrial range of their numbers (TS 38.101-5 Table 5.1-1, notes).
func (r Range) IsFR2() bool { return r == FR21 || r == FR22 || r == FR2NTN }

// IsNTN tells whether the range is one of the satellite bands.
func (r Range) IsNTN() bool { return r == FR1NTN || r == FR2NTN }

// ParseRange reads a frequency range; letter case does not matter.
func ParseRange(s string) (Range, error) {
	for r := FR1; r <= FR2NTN; r++ {
		if strings.EqualFold(s, rangeNames[r]) {
			return r, nil
		}
	}
	return 0, &ValueError{Param: "frequency range", Got: s, Allowed: rangeAllowed}
}
