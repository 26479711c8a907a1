package tomlcarrier

import (
	"errors"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// valueRules are the rules whose errors are about a carrier's own values, with the
// key that holds the value. All others are left to the report.
var valueRules = map[ca.Rule]string{
	ca.RuleBandExists:     "band",
	ca.RuleBandUse:        "band",
	ca.RuleDirection:      "width",
	ca.RuleWidthAllowed:   "width",
	ca.RuleWidthPair:      "width",
	ca.RuleSpacingAllowed: "scs",
	ca.RuleChannelNumber:  "channel",
	ca.RuleInBand:         "channel",
}

// Check reports what no carrier of the standard can be: a width that the band lacks, a
// channel outside the band, a pattern that does not exist. Carriers count from 0; the
// key is that of the value at fault in a table of its own.
func Check(list ca.Combination, report func(i int, key string, err error)) {
	if len(list) == 0 {
		return
	}
	a := ca.Assess(list)
	type place struct {
		carrier int
		key     string
	}
	told := make(map[place]bool)
	bad := make([]bool, len(list))
	for _, f := range a.RuleFindings() {
		key, ours := valueRules[f.Rule]
		i := f.Carrier - 1
		if !ours || f.Severity != ca.Error || i < 0 {
			continue
		}
		if key == "channel" && !list[i].HasChannel {
			key = "frequency"
		}
		bad[i] = true
		if told[place{i, key}] {
			continue
		}
		told[place{i, key}] = true
		report(i, key, f)
	}
	for i := range list {
		if bad[i] {
			continue
		}
		if err := RateAlone(&a.Carriers[i]); err != nil {
			report(i, keyOf(err), err)
		}
	}
}

// RateAlone works out the rate of a carrier by itself, transmitting as it does in its
// combination, and returns what stands against it.
func RateAlone(p *ca.Placed) error {
	c := p.Carrier
	c.Role = 0
	c.Transmit = ca.No
	if p.Transmits {
		c.Transmit = ca.Yes
	}
	r, err := throughput.Rate(ca.Assess(ca.Combination{c}))
	if err == nil {
		err = r.Schedule(throughput.Settings{})
	}
	var e *throughput.CarrierError
	if errors.As(err, &e) {
		return e.Err
	}
	return err
}

// keyOf guesses the key that a fault of a rate is about.
func keyOf(err error) string {
	var v *bands.ValueError
	if !errors.As(err, &v) {
		return ""
	}
	for _, k := range []struct{ word, key string }{
		{"pattern", "pattern"}, {"special", "pattern"}, {"configuration", "pattern"}, {"period", "pattern"},
		{"modulation", "qam"}, {"layers", "layers"}, {"scaling", "scale"},
	} {
		if strings.Contains(v.Param, k.word) {
			return k.key
		}
	}
	return ""
}
