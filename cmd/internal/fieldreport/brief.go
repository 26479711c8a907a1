package fieldreport

import (
	"math/big"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// brief is the report on a screen: a line for each network, what stands out, and what was
// measured at each place.
func brief(r *fieldlog.Report, title render.Title) []render.Block {
	doc := []render.Block{title}
	if place := commonPlace(r); place != "" {
		doc = append(doc, render.Section("Medians at "+place))
	}
	doc = append(doc, briefFacts(r), outstanding(r), placesTable(r))
	doc = append(doc, earlierPart(r.Earlier)...)
	return append(doc,
		render.List{Kind: render.Cautions, Items: []string{"One place, time, phone and server. Never read a phone while driving."}})
}

// commonPlace is where the medians of all networks are of; empty where that differs.
func commonPlace(r *fieldlog.Report) string {
	place := ""
	for i := range r.Comparison {
		if p := r.Comparison[i].Place; i > 0 && p != place {
			return ""
		} else {
			place = p
		}
	}
	return place
}

func briefFacts(r *fieldlog.Report) render.Facts {
	var facts render.Facts
	for i := range r.Comparison {
		c := &r.Comparison[i]
		over := string(c.Downlink) + " MHz"
		value := "no rate measured over " + over
		if c.MedianDown != nil {
			value = mbps(c.MedianDown) + " Mbit/s"
			if c.OfScheduled != nil && *c.OfScheduled > 0 { // of the carriers that were active
				value += ", " + percent(c.OfScheduled) + " % of the " + mbps(new(*c.MedianDown / *c.OfScheduled)) + " scheduled"
			}
			value += ", over " + over
		}
		if !r.Networks[i].Valid {
			value += "; the carriers are not allowed together"
		}
		facts = append(facts, render.Fact{Name: c.Network, Value: value})
	}
	if len(r.Claims) > 0 {
		facts = append(facts, render.Fact{Name: counted(len(r.Claims), "claim"), Value: tally(r)})
	}
	return facts
}

// outstanding are the few things that tell the networks apart, and the spectrum that two of
// them take up; of one network, what
// the gap to the scheduled rate can come from.
func outstanding(r *fieldlog.Report) render.Points {
	if len(r.Networks) == 1 {
		if gap := r.Networks[0].Gap; gap != "" {
			return render.Points{gap}
		}
		return nil
	}
	var points render.Points
	if fast, slow := extremes(r, func(c *fieldlog.Compared) *float64 { return c.MedianDown }); fast != nil {
		points = append(points, fast.Network+" is the fastest: "+mbps(fast.MedianDown)+" Mbit/s, "+times(*fast.MedianDown, *slow.MedianDown)+" times "+slow.Network+".")
	}
	if most, least := extremes(r, func(c *fieldlog.Compared) *float64 { return c.Added }); most != nil {
		points = append(points, "Under download "+least.Network+" adds least latency, "+rounded(least.Added, msPlaces)+" ms; "+most.Network+" most, "+rounded(most.Added, msPlaces)+" ms.")
	}
	for _, s := range r.Shared {
		points = append(points, s.Statement)
	}
	for _, o := range r.Overlaps {
		points = append(points, o.Statement)
	}
	return points[:min(len(points), mostOutstanding)]
}

// mostOutstanding is how many things are said ahead of all others.
const mostOutstanding = 4

// extremes finds the networks with the largest and the smallest figure; nil where fewer
// than two have it, or all have the same.
func extremes(r *fieldlog.Report, of func(*fieldlog.Compared) *float64) (most, least *fieldlog.Compared) {
	for i := range r.Comparison {
		c := &r.Comparison[i]
		x := of(c)
		if x == nil {
			continue
		}
		if most == nil || *x > *of(most) {
			most = c
		}
		if least == nil || *x < *of(least) {
			least = c
		}
	}
	if most == nil || *of(most) == *of(least) || *of(least) <= 0 {
		return nil, nil
	}
	return most, least
}

// times writes how many times one number is another, with a decimal.
func times(a, b float64) string {
	x, ok := new(big.Rat).SetString(exact(a))
	y, other := new(big.Rat).SetString(exact(b))
	if !ok || !other {
		return ""
	}
	return x.Quo(x, y).FloatString(1)
}

// placesTable has the medians of every network by place, and the share of the scheduled rate.
func placesTable(r *fieldlog.Report) *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Header: "place", Typed: true},
		{Header: "network", Typed: true},
		{Header: "down", Unit: "Mbit/s", Align: render.Number, Deciding: true},
		{Header: "share", Unit: "%", Align: render.Number},
		{Header: "up", Unit: "Mbit/s", Align: render.Number},
		{Header: "idle", Unit: "ms", Align: render.Number},
		{Header: "loaded", Unit: "ms", Align: render.Number},
	}}
	for _, where := range wheres(r) {
		shown := where
		if shown == "" {
			shown = "not stated"
		}
		for i := range r.Networks {
			for j := range r.Networks[i].Places {
				p := &r.Networks[i].Places[j]
				if p.Where != where {
					continue
				}
				row := []string{shown, r.Networks[i].Name, "", "", "", rounded(p.Idle, msPlaces), rounded(p.LoadedDown, msPlaces)}
				if p.Down != nil {
					row[2], row[3] = mbps(&p.Down.Rate), percent(p.Down.OfScheduled)
				}
				if p.Up != nil {
					row[4] = mbps(&p.Up.Rate)
				}
				t.Rows, shown = append(t.Rows, row), ""
			}
		}
	}
	t.DropEmpty()
	return t
}

// wheres lists the places of all networks in their order.
func wheres(r *fieldlog.Report) []string {
	var list []string
	seen := map[string]bool{}
	for i := range r.Networks {
		for j := range r.Networks[i].Places {
			if w := r.Networks[i].Places[j].Where; !seen[w] {
				seen[w] = true
				list = append(list, w)
			}
		}
	}
	return list
}
