package bands

import (
	"strconv"
	"strings"
)

// DB is a level in dBm or a ratio in dB, in hundredths of a decibel, so that the figures
// of the tables are exact.
type DB int32

// ParseDB reads a decimal number of decibels with at most two decimals: "-96.8".
func ParseDB(s string) (DB, error) {
	digits, negative := strings.CutPrefix(s, "-")
	whole, frac, dotted := strings.Cut(digits, ".")
	n, err := strconv.ParseUint(whole+(frac + "00")[:2], 10, 24)
	if err != nil || len(frac) > 2 || dotted && frac == "" {
		return 0, &ValueError{Param: "decibels", Got: s, Allowed: "a number such as -96.8, with two decimals at most"}
	}
	if negative {
		return -DB(n), nil
	}
	return DB(n), nil
}

// Float returns the level in decibels.
func (d DB) Float() float64 { return float64(d) / 100 }

// String writes the level in decibels, exactly: "-96.8".
func (d DB) String() string { return strconv.FormatFloat(d.Float(), 'f', -1, 64) }
