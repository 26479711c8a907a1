package siteplan

import (
	"errors"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/tomlfile"
	"spectally/cmd/internal/words"
	"spectally/throughput"
	"spectally/throughput/exact"
	"spectally/throughput/propagation"
)

// readCoverage reads how the reach is to be worked out.
func readCoverage(t *tomlfile.Table, target, upTarget *exact.Ratio) *propagation.Coverage {
	c := &propagation.Coverage{Depth: -1}
	*target, *upTarget = readMbps(t, "target_mbps"), readMbps(t, "ul_target_mbps")
	var err error
	switch word, ok := t.Choice("model", propagation.ScenarioNames()...); {
	case ok:
		if c.Path.Scenario, err = propagation.ParseScenario(word); err != nil {
			t.Report("model", err)
		}
	case !t.Has("model"):
		t.Missing("model", words.Or(propagation.ScenarioNames()))
	}
	c.Path.Sight = propagation.NoLineOfSight
	if word, ok := t.Choice("sight", propagation.SightNames()...); ok {
		if c.Path.Sight, err = propagation.ParseSight(word); err != nil {
			t.Report("sight", err)
		}
	}
	if word, ok := t.Choice("entry", propagation.EntryNames()...); ok {
		if c.Entry, err = propagation.ParseEntry(word); err != nil {
			t.Report("entry", err)
		}
	}
	for _, v := range []struct {
		key  string
		high int64
		what string
		to   *float64
	}{
		{"base_height_m", 1000, "the height of the site's antenna in metres", &c.Path.BaseHeight},
		{"user_height_m", 1000, "the height of the phone in metres", &c.Path.UserHeight},
		{"street_width_m", 1000, "the average width of streets in metres", &c.Path.StreetWidth},
		{"building_height_m", 1000, "the average height of buildings in metres", &c.Path.BuildingHeight},
		{"distance_m", 1_000_000, "a distance in metres", &c.Path.Distance},
	} {
		if d, ok := t.PositiveIn(v.key, tomlfile.Optional, &quantity.Metres, v.high, v.what); ok {
			*v.to = d.Float()
		}
	}
	for _, v := range []struct {
		key       string
		low, high int64
		what      string
		to        *float64
	}{
		{"depth_m", 0, 200, "metres behind the outer wall", &c.Depth},
		{"noise_figure_db", 0, 30, "the noise figure of the phone in dB", &c.NoiseFigure},
		{"base_noise_figure_db", 0, 30, "the noise figure of the site in dB", &c.BaseNoiseFigure},
		{"sinr_db", -30, 40, "the SINR that both ends need, in dB", &c.SINR},
		{"user_power_dbm", -40, 60, "the power of the phone in dBm", &c.UserPower},
	} {
		if d, ok := t.Number(v.key, tomlfile.Optional, v.low, v.high, v.what); ok {
			*v.to = d.Float()
		}
	}
	if share, ok := readShare(t, "places_percent", "the share of places at the edge that are to be served, in per cent", "50", "99.9"); ok {
		c.Places = share.Float()
	}
	c.UplinkBlocks, _ = t.Whole("uplink_blocks", tomlfile.Optional, 1, 275, "a number of resource blocks")
	if t.Has("user_power_dbm") != t.Has("uplink_blocks") {
		t.Conflict("", "user_power_dbm or uplink_blocks without the other", "both, or none of them")
	}
	readRequirement(t, c)
	c.Path.Clutter, _ = t.Bool("clutter")
	c.Path.Extrapolate, _ = t.Bool("extrapolate")
	t.Finish()
	return c
}

// coverageKeys are the keys that hold what the library names so.
var coverageKeys = map[string]string{
	"path loss model": "model", "sight": "sight", "entry loss": "entry", "depth indoors": "depth_m",
	"base height": "base_height_m", "user height": "user_height_m", "part of places": "places_percent",
	"clutter": "clutter", "frequency for clutter loss": "clutter", "distance for clutter loss": "clutter", "frequency for building entry loss": "entry",
	"frequency for the loss into vehicles": "entry", "frequency for building entry loss of model A": "entry",
}

// tryCoverage reports what stands against working out the reach of any carrier.
func (r *reader) tryCoverage() {
	if r.coverage == nil {
		return
	}
	seen := make(map[string]bool)
	for i := range r.plan.Site.Sectors {
		for k := range r.plan.Site.Sectors[i].Radios {
			for _, c := range r.plan.Site.Sectors[i].Radios[k].Carriers {
				_, err := r.plan.Coverage.Reaches(ca.Combination{c}, []propagation.Emission{r.plan.Radios[i][k].Emission})
				if err == nil {
					continue
				}
				var of *throughput.CarrierError
				if errors.As(err, &of) {
					err = of.Err
				}
				if !seen[err.Error()] {
					seen[err.Error()] = true
					r.coverage.Report(r.coverageKey(err), err)
				}
			}
		}
	}
}

func (r *reader) coverageKey(err error) string {
	var v *bands.ValueError
	if errors.As(err, &v) {
		return coverageKeys[v.Param]
	}
	return ""
}
