package holding_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
	"spectally/data/pace"
	"spectally/throughput"
	"spectally/throughput/holding"
)

// pool are small blocks of which brute force can look at every combination.
var pool = []string{
	"1805-1815/1710-1720", "1830-1840/1735-1745", "2110-2120/1920-1930", "2130-2135/1940-1945", "2620-2630/2500-2510", "791-801/832-842",
	"758-768/703-713", "925-930/880-885", "3410-3420", "3500.01-3515.01", "3700-3710", "1452-1462", "2570-2580", "1930-1940/1850-1860", "1995-2005/1695-1700",
	"2110-2130/1710-1715", "869-874/824-829", "617-622/663-668", "2590-2600", "3600-3615",
}

// ways lists everything that a block can have: nothing, one carrier or two, of one band,
// contiguous or apart, or of two bands side by side.
func ways(b deploy.Block) []ca.Combination {
	list := []ca.Combination{nil}
	add := func(layouts ...deploy.Layout) {
		var c ca.Combination
		for _, l := range layouts {
			for i := range l.Carriers {
				c = append(c, l.Carriers[i].Carrier)
			}
		}
		list = append(list, c)
	}
	var rooms []deploy.Room
	for _, r := range deploy.Rooms(b) {
		if r.Band.Duplex != bands.SUL && r.Band.ID.String() != "n90" {
			rooms = append(rooms, r)
		}
	}
	for _, r := range rooms {
		for _, v := range r.Widths() {
			one, ok := r.Fit(deploy.Run{v})
			if !ok {
				continue
			}
			add(one)
			for _, w := range r.Widths() {
				if l, ok := r.Fit(deploy.Run{v, w}); ok {
					add(l)
				}
				if l, ok := r.Fit(deploy.Run{v}, deploy.Run{w}); ok {
					add(l)
				}
			}
			for _, other := range rooms {
				for _, w := range other.Widths() {
					if other.Band == r.Band {
						continue
					}
					for _, gap := range []bands.Frequency{0, 16 * bands.KHz} {
						if l, ok := other.Above(one.Edges.High + gap).Fit(deploy.Run{w}); ok {
							add(one, l)
						}
					}
				}
			}
		}
	}
	return list
}

// brute is the best of blocks by going through every combination and asking package ca
// about each.
func brute(t *testing.T, list []deploy.Block, l *holding.Limits) map[string]int64 {
	best := make(map[string]int64)
	all := make([][]ca.Combination, len(list))
	for i, b := range list {
		all[i] = ways(b)
	}
	var walk func(i int, have ca.Combination)
	walk = func(i int, have ca.Combination) {
		if i < len(list) {
			for _, w := range all[i] {
				walk(i+1, slices.Concat(have, w))
			}
			return
		}
		technology, ok := holds(have)
		if !ok || l.Carriers != 0 && len(have) > l.Carriers {
			return
		}
		a := ca.Assess(have)
		r, err := throughput.Rate(a)
		if err == nil {
			err = r.Schedule(throughput.Settings{})
		}
		if err != nil {
			t.Fatal(err)
		}
		width := a.Sum(func(int) ca.Share { return ca.Share{Part: 1, Whole: 1} }).Downlink
		if l.Width != 0 && width > l.Width {
			return
		}
		best[technology+" dl-rate"] = max(best[technology+" dl-rate"], r.Downlink.Scheduled.Round())
		best[technology+" dl-mhz"] = max(best[technology+" dl-mhz"], int64(width))
	}
	walk(0, nil)
	return best
}

// holds tells whether the standard lists what the carriers form, with an uplink that
// they can have, and the technology.
func holds(c ca.Combination) (technology string, ok bool) {
	if len(c) == 0 {
		return "", false
	}
	a := ca.Assess(c)
	if slices.ContainsFunc(a.RuleFindings(), func(f ca.Finding) bool { return f.Severity == ca.Error || f.Rule == ca.RuleOverlap }) {
		return "", false
	}
	technology = map[ca.Kind]string{ca.KindLTE: "lte", ca.KindLTECA: "lte", ca.KindNR: "nr", ca.KindNRCA: "nr", ca.KindENDC: "en-dc"}[a.Kind]
	if len(c) == 1 {
		return technology, a.Carriers[0].UplinkWidth != 0
	}
	forms, _ := a.Formed()
	for _, f := range forms {
		for _, n := range []ca.Name{f.Name, dual(f.Name)} {
			for _, x := range ca.FindAll(n) {
				if !hasUplink(a, x) {
					continue
				}
				for _, w := range f.Ways {
					if admission, err := x.Admit(w); err == nil && admission.Admitted() {
						return technology, true
					}
				}
			}
		}
	}
	return technology, false
}

// dual is NR carrier aggregation as dual connectivity.
func dual(n ca.Name) ca.Name {
	if n.Kind() != ca.KindNRCA {
		return ca.Name{}
	}
	p := n.Parts()
	p.Kind = ca.KindNRDC
	n, _ = ca.NewName(p)
	return n
}

func hasUplink(a *ca.Assessment, x ca.Configuration) bool {
	able := func(id bands.ID) bool {
		return slices.ContainsFunc(a.Carriers, func(p ca.Placed) bool { return p.Band == id && p.UplinkWidth != 0 })
	}
	for _, u := range x.Uplinks() {
		if u.Name.IsZero() {
			continue
		}
		if !slices.ContainsFunc(u.Name.Components(), func(c ca.Component) bool { return !able(c.Band) || c.Carriers() > 1 || c.Shared }) {
			return true
		}
	}
	for i := range a.Carriers {
		p := ca.Parts{NR: []ca.Component{{Band: a.Carriers[i].Band, Blocks: []ca.Class{"A"}}}}
		if a.Carriers[i].Band.RAT == bands.LTE {
			p.LTE, p.NR = p.NR, nil
		}
		if n, err := ca.NewName(p); err == nil && able(a.Carriers[i].Band) && x.Kind() != ca.KindENDC && x.Kind() != ca.KindNRDC {
			if _, ok := x.AllowsUplink(n); ok {
				return true
			}
		}
	}
	return false
}

func TestBestAgainstBruteForce(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range pace.Times(6, 6) {
		var list []deploy.Block
		var text []string
		for _, i := range random.Perm(len(pool))[:2+random.IntN(2)] {
			b := blocks(t, pool[i])[0]
			if slices.ContainsFunc(list, b.Overlaps) {
				continue
			}
			list, text = append(list, b), append(text, pool[i])
		}
		limits := holding.Limits{Carriers: random.IntN(4)}
		if random.IntN(3) == 0 {
			limits.Width = bands.Frequency(15+random.IntN(20)) * bands.MHz
		}
		want := brute(t, list, &limits)
		n := holding.NewFinder(limits).Network(list)
		for _, technology := range holding.Technologies() {
			for _, a := range holding.Aims()[:2] {
				b, _ := n.Best(technology, a)
				key := fmt.Sprint(technology, " ", a)
				if b.Value != want[key] || !b.Proven() {
					t.Errorf("%s, %d carriers, %s: %s is %d with %s (bound %d), brute force %d", strings.Join(text, ", "), limits.Carriers, limits.Width, key, b.Value, b.Carriers, b.Bound, want[key])
				}
			}
		}
	}
}
