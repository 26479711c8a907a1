package fieldlog

import (
	"math"
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/words"
)

// EarlierReport sets a log beside an earlier one: networks by their names, measurements by
// the places that both logs have.
type EarlierReport struct {
	Title   string   `json:"title"`
	Date    string   `json:"date"`
	Changes []Change `json:"changes"`
	// Absent are networks and places without a match in the other log, each in a sentence.
	Absent []string `json:"absent"`
}

// Change is a figure of a network then and now.
type Change struct {
	Network string  `json:"network"`
	Place   string  `json:"place"` // of medians; empty for what holds for the network
	Figure  string  `json:"figure"`
	Unit    string  `json:"unit"`
	Then    float64 `json:"then"`
	Now     float64 `json:"now"`
	// Percent is how much more there is now; null where there was nothing.
	Percent *float64 `json:"change_percent"`
}

// CheckEarlier refuses an earlier log that is dated behind the log.
func CheckEarlier(l, earlier *Log) error {
	if l.Date == "" || earlier.Date == "" || earlier.Date <= l.Date {
		return nil
	}
	return &bands.ValueError{Param: "date of the earlier log", Got: earlier.Date, Allowed: "no later than that of the log, " + l.Date}
}

// earlierReport compares what both logs have.
func earlierReport(earlier *Log, now, then []NetworkReport) *EarlierReport {
	r := &EarlierReport{Title: earlier.Title, Date: earlier.Date, Changes: []Change{}, Absent: []string{}}
	for i := range now {
		n := &now[i]
		k := slices.IndexFunc(then, func(o NetworkReport) bool { return o.Name == n.Name })
		if k < 0 {
			r.Absent = append(r.Absent, n.Name+" is not in the earlier log.")
			continue
		}
		before := &then[k]
		add := func(place, figure, unit string, a, b *float64) {
			if a == nil || b == nil {
				return
			}
			c := Change{Network: n.Name, Place: place, Figure: figure, Unit: unit, Then: *a, Now: *b}
			if *a != 0 {
				c.Percent = new(math.Round(1e8*(*b / *a - 1)) / 1e6) // six decimals
			}
			r.Changes = append(r.Changes, c)
		}
		add("", "downlink", "MHz", number(&before.Totals.Downlink), number(&n.Totals.Downlink))
		add("", "scheduled", "Mbit/s", number(before.Downlink.Scheduled), number(n.Downlink.Scheduled))
		common := false
		for _, p := range n.Places {
			j := slices.IndexFunc(before.Places, func(q PlaceReport) bool { return q.Where == p.Where })
			if j < 0 {
				continue
			}
			common = true
			q := &before.Places[j]
			add(p.Where, "down", "Mbit/s", q.Down.rate(), p.Down.rate())
			add(p.Where, "up", "Mbit/s", q.Up.rate(), p.Up.rate())
			add(p.Where, "idle", "ms", q.Idle, p.Idle)
			add(p.Where, "under download", "ms", q.LoadedDown, p.LoadedDown)
		}
		if !common && len(n.Places) > 0 && len(before.Places) > 0 {
			r.Absent = append(r.Absent, "No run of "+n.Name+" was made at a place of the earlier log.")
		}
	}
	for i := range then {
		if !slices.ContainsFunc(now, func(n NetworkReport) bool { return n.Name == then[i].Name }) {
			r.Absent = append(r.Absent, then[i].Name+" is in the earlier log alone.")
		}
	}
	return r
}

// number is a figure as a number; nil for none.
func number(f *figures.Figure) *float64 {
	if f == nil {
		return nil
	}
	v, err := strconv.ParseFloat(string(*f), 64)
	if err != nil {
		return nil
	}
	return &v
}

// rate is the rate in Mbit/s; nil for none.
func (r *Reached) rate() *float64 {
	if r == nil {
		return nil
	}
	return &r.Rate
}

// beside are the networks of an earlier log, for claims about both.
type beside struct {
	log      *Log
	evidence []claim.Evidence
}

// judge judges a claim that compares a network with itself in the earlier log. Measurements
// count where both logs have the place.
func (b *beside) judge(c *Claim, l *Log, now claim.Evidence) (*claim.Judgement, error) {
	k := -1
	if b != nil {
		k = slices.IndexFunc(b.log.Networks, func(n Network) bool { return n.Name == now.Name })
	}
	if k < 0 {
		c.Than = &claim.Other{Evidence: &claim.Evidence{Name: "the earlier log"}}
		j, err := claim.JudgeAll(c.Claim, now)
		if err == nil && b == nil {
			j.Needs = []string{"the earlier log, with --earlier"}
		}
		return j, err
	}
	then := b.evidence[k]
	then.Name = "the earlier log"
	caution := ""
	if c.By == claim.ByRuns {
		old, new := &b.log.Networks[k], &l.Networks[c.Network]
		if common := commonPlaces(old, new); len(common) == 0 {
			caution = "The two logs have no place in common: what differs can be the place."
		} else {
			then.Down, then.Up = valuesAt(old, common, downOf), valuesAt(old, common, upOf)
			now.Down, now.Up = valuesAt(new, common, downOf), valuesAt(new, common, upOf)
			if caution = "Hour, phone and server can differ between the two logs."; !slices.Equal(common, []string{""}) {
				caution = "Only runs at " + words.And(common) + " count, which both logs have. " + caution
			}
		}
	}
	c.Than = &claim.Other{Evidence: &then}
	j, err := claim.JudgeAll(c.Claim, now)
	if err == nil && caution != "" {
		j.Cautions = append(j.Cautions, caution)
	}
	return j, err
}

// commonPlaces are the places of runs that two networks have, in the order of the first.
func commonPlaces(a, b *Network) []string {
	var list []string
	for _, p := range places(a) {
		if slices.ContainsFunc(b.Runs, func(r Run) bool { return r.Where == p.where }) {
			list = append(list, p.where)
		}
	}
	return list
}

// valuesAt lists a figure of the runs at some places.
func valuesAt(n *Network, where []string, of func(*Run) quantity.Decimal) []quantity.Decimal {
	var list []quantity.Decimal
	for _, p := range places(n) {
		if slices.Contains(where, p.where) {
			list = append(list, p.values(n, of)...)
		}
	}
	return list
}
