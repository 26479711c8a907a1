// Package tbs is the command that works out the size of one transport block.
package tbs

import (
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/blocksteps"
	"spectally/cmd/internal/command"
	"spectally/throughput/exact"
	"spectally/throughput/nr"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "tbs",
		Usage: "nr|lte",
		Short: "the size of one transport block",
		Long: "Works out the size of a transport block from the resources it is given and its modulation and coding scheme: of NR by the steps of TS 38.214, of LTE by the tables of TS 36.213. " +
			"With --explain every step is shown. The two technologies have a command each, with flags of its own.",
		Examples: "spectally tbs nr --prb 273 --symbols 12 --dmrs-re 24 --layers 4 --mcs-table 256qam --mcs 27   # a full slot of a wide NR carrier\n" +
			"spectally tbs lte --prb 100 --layers 2 --mcs-table 64qam --mcs 28   # a subframe of an LTE carrier of 20 MHz",
		Chooses: "technology",
		Below:   []*command.Command{nrCommand(), lteCommand()},
	}
}

// rateFlag is a flag for a target code rate.
type rateFlag struct {
	text string
	of   int // 2048 times the rate
}

// Set implements pflag.Value.
func (r *rateFlag) Set(s string) error {
	e := &bands.ValueError{Param: "code rate", Got: s, Allowed: r.Allowed()}
	ratio, err := exact.ParseRatio(s)
	if err != nil {
		return e
	}
	of, err := nr.Rate2048(ratio)
	if err != nil {
		if !strings.Contains(s, "/") {
			e.Nearest = nearestRate(ratio)
		}
		return e
	}
	r.text, r.of = strings.TrimSpace(s), of
	return nil
}

// nearestRate is the rate that was most likely meant: one in 1/1024 without its
// denominator, or the nearest that exists.
func nearestRate(r exact.Ratio) string {
	if r.Cmp(exact.Whole(1)) > 0 {
		r = r.Mul(exact.Of(1, 1024))
	}
	n := r.Mul(exact.Whole(2048)).Round()
	if n < 1 || n > 2048 {
		return ""
	}
	return blocksteps.Rate(int(n))
}

// Allowed implements valued.
func (*rateFlag) Allowed() string {
	return "a fraction above 0 and up to 1 in steps of 1/2048, such as 490/1024 or 682.5/1024"
}

// String implements pflag.Value.
func (r *rateFlag) String() string { return r.text }

// Type implements pflag.Value.
func (*rateFlag) Type() string { return "RATE" }
