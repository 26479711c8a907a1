package fieldlog

import (
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/tomlfile"
)

func readClaim(t *tomlfile.Table, networks []Network) Claim {
	c := Claim{Network: -1}
	c.Text, _ = t.Text("text", tomlfile.Optional, "a line of text")
	name, named := t.Text("network", tomlfile.Optional, "the name of a network of the log")
	c.About, _ = t.Bool("about")
	c.Direction = readDirection(t)
	c.TotalMHz, _ = t.PositiveIn("total_mhz", tomlfile.Optional, &quantity.Megahertz, 100_000, "MHz")
	c.Carriers, _ = t.Positive("carriers", tomlfile.Optional, 1000, "a number of carriers")
	peak, isPeak := t.PositiveIn("peak_mbps", tomlfile.Optional, &quantity.Mbps, 100*maxMbps, "a rate in Mbit/s")
	measured, isMeasured := t.PositiveIn("measured_mbps", tomlfile.Optional, &quantity.Mbps, 100*maxMbps, "a rate in Mbit/s")
	c.Transfer = readSize(t, "transfer", tomlfile.Optional)
	c.Seconds = readSeconds(t, tomlfile.Optional)
	c.Share, _ = t.Positive("share_percent", tomlfile.Optional, 1000, "a share in per cent")
	rate, hasRate := t.PositiveIn("rate_mbps", tomlfile.Optional, &quantity.Mbps, 100*maxMbps, "a rate in Mbit/s")
	c.IdleMs = readLatency(t, "idle_ms")
	c.LoadedMs = readLatency(t, "loaded_ms")
	c.RoundTrips, _ = t.Positive("round_trips_per_minute", tomlfile.Optional, 60_000_000, "a number of round trips")
	c.SameSite, _ = t.Bool("same_site")
	c.Distance, _ = t.PositiveIn("distance_m", tomlfile.Optional, &quantity.Metres, maxDistance, "a distance from the site in metres")
	as, _ := t.Choice("as", texts(claim.AllAs())...)
	c.As = claim.As(as)
	c.Efficiency, _ = t.Positive("bps_hz", tomlfile.Optional, 1000, "a figure in bit/s/Hz")
	if of, _ := t.Choice("of", "lte", "nr"); of != "" {
		c.Of = map[string]bands.RAT{"lte": bands.LTE, "nr": bands.NR}[of]
	}
	relation, _ := t.Choice("relation", texts(relations)...)
	c.Relation = claim.Relation(relation)
	c.Times, _ = t.Positive("times", tomlfile.Optional, 1000, "a number of times")
	c.PercentMore, _ = t.Positive("percent_more", tomlfile.Optional, 100_000, "a number in per cent")
	by, _ := t.Choice("by", texts(claim.AllCompared())...)
	c.By = claim.Compared(by)
	c.Alike, _ = t.Bool("alike")
	than, compares := t.Text("than", tomlfile.Optional, "the name of a network of the log")
	c.OtherNetwork = -1
	c.Earlier, _ = t.Bool("earlier")
	t.Finish()

	switch {
	case isPeak && isMeasured:
		t.Conflict("measured_mbps", "measured_mbps beside peak_mbps", "one of the two in a claim")
	case hasRate && (isPeak || isMeasured || !t.Has("transfer") && !t.Has("share_percent") && !t.Has("bps_hz") && !t.Has("distance_m")):
		t.Conflict("rate_mbps", "rate_mbps by itself", "peak_mbps or measured_mbps; rate_mbps goes with transfer, share_percent or distance_m")
	case (isPeak || isMeasured) && (t.Has("transfer") || t.Has("share_percent") || t.Has("distance_m")):
		key := map[bool]string{true: "peak_mbps", false: "measured_mbps"}[isPeak]
		t.Conflict(key, key+" beside a transfer, a share or a distance", "rate_mbps in its place")
	default:
		c.Rate = firstOf(peak, measured, rate)
		c.Measured = isMeasured
	}
	c.Network = findNetwork(t, name, named, networks, t.Has("transfer") && hasRate)
	if compares {
		c.OtherNetwork = findOther(t, than, networks)
		c.Than = &claim.Other{Evidence: &claim.Evidence{Name: than}} // its figures come with the analysis
	}
	if c.Earlier && compares {
		t.Conflict("earlier", "earlier beside than", "one of the two in a claim")
	} else if c.Earlier {
		c.Than = &claim.Other{Evidence: &claim.Evidence{Name: "the earlier log"}}
	}
	if t.Faultless() {
		for _, part := range c.Parts() {
			if _, err := part.Kind(); err != nil {
				t.Report("", err)
			}
		}
	}
	return c
}

var relations = []claim.Relation{claim.Equal, claim.AtLeast, claim.AtMost, claim.MoreThan, claim.LessThan}

func texts[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, word := range list {
		out[i] = string(word)
	}
	return out
}

// findOther finds the network that a claim compares its own with.
func findOther(t *tomlfile.Table, name string, networks []Network) int {
	names := make([]string, len(networks))
	for i := range networks {
		if names[i] = networks[i].Name; names[i] == name {
			return i
		}
	}
	t.Report("than", &bands.ValueError{Param: "network", Got: tomlfile.Shorten(name), Allowed: "the name of a network of the log: " + strings.Join(names, ", "), Nearest: tomlfile.Nearest(name, names)})
	return -1
}

// firstOf is the first number that is given.
func firstOf(list ...quantity.Decimal) quantity.Decimal {
	for _, d := range list {
		if d.IsGiven() {
			return d
		}
	}
	return quantity.Decimal{}
}

// findNetwork finds the network of a claim by its name, or the only one there is. A
// claim that needs none is about none if it names none of several.
func findNetwork(t *tomlfile.Table, name string, named bool, networks []Network, needsNone bool) int {
	names := make([]string, len(networks))
	for i := range networks {
		names[i] = networks[i].Name
		if named && networks[i].Name == name {
			return i
		}
	}
	allowed := "the name of a network of the log: " + strings.Join(names, ", ")
	switch {
	case named:
		t.Report("network", &bands.ValueError{Param: "network", Got: tomlfile.Shorten(name), Allowed: allowed, Nearest: tomlfile.Nearest(name, names)})
	case t.Has("network"):
	case len(networks) == 1:
		return 0
	case len(networks) > 1 && !needsNone:
		t.Missing("network", allowed)
	}
	return -1
}
