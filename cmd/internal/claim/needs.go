package claim

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/words"
	"spectally/throughput"
)

// level is a number of layers and a constellation that open links are given.
type level struct {
	layers uint8
	qam    uint16
}

// levels lists what open links can be given, those that carry least first, and of equals
// those with fewer layers.
func levels() []level {
	var list []level
	for _, layers := range [...]uint8{1, 2, 4, 8} {
		for _, qam := range [...]uint16{4, 16, 64, 256, 1024} {
			list = append(list, level{layers, qam})
		}
	}
	slices.SortStableFunc(list, func(a, b level) int { return a.bits() - b.bits() })
	return list
}

// bits of a resource element over all layers.
func (l level) bits() int {
	order := 0
	for qam := l.qam; qam > 1; qam >>= 1 {
		order++
	}
	return int(l.layers) * order
}

// needs is the least that lets the carriers reach a rate: the usual pattern and as few
// layers and as small a constellation as will do, on as few carriers as will do. Empty
// if no such level is found.
func (e *Evidence) needs(d bands.Direction, reaches func(*big.Rat) bool) []string {
	rate := func(c ca.Combination) (*big.Rat, bool) {
		r, err := throughput.Rate(ca.Assess(c))
		if err == nil {
			err = r.Schedule(throughput.Settings{})
		}
		if err != nil {
			return nil, false
		}
		if d == bands.Uplink {
			return mbps(r.Uplink.Schedulable), true
		}
		return mbps(r.Downlink.Schedulable), true
	}
	for _, patterned := range [...]bool{false, true} {
		base := slices.Clone(e.Stated)
		pattern := ""
		if patterned {
			if pattern = e.openPatterns(base, d); pattern == "" {
				break
			}
		}
		for _, l := range levels() {
			raised := e.raise(base, d, l, nil)
			if v, ok := rate(raised); !ok || !reaches(v) {
				continue
			}
			var need []string
			if text := e.levelText(base, raised, d, l, rate, reaches); text != "" && l != levels()[0] {
				need = append(need, text)
			}
			if pattern != "" {
				need = append(need, pattern)
			} else if text := e.patternText(); text != "" {
				need = append(need, text)
			}
			if text := e.spacingText(d); text != "" {
				need = append(need, text)
			}
			if v, ok := rate(e.raise(base, d, level{2, 64}, nil)); ok && !reaches(v) {
				need = append(need, "with 2 layers of 64QAM it is at most "+trim(v, 1)+" Mbit/s")
			}
			return need
		}
	}
	return nil
}

// raise gives the open links of carriers a level, as far as they can have it; of the
// carriers listed alone, if any are.
func (e *Evidence) raise(c ca.Combination, d bands.Direction, l level, only []int) ca.Combination {
	raised := slices.Clone(c)
	for i := range raised {
		p := &raised[i]
		if only != nil && !slices.Contains(only, i) {
			continue
		}
		layers, qam := &p.Layers, &p.QAM
		if d == bands.Uplink {
			layers, qam = &p.UplinkLayers, &p.UplinkQAM
		}
		if !e.hasLink(i, d) {
			continue
		}
		fits := func() bool {
			_, err := throughput.Rate(ca.Assess(ca.Combination{*p}))
			return err == nil
		}
		if *layers == 0 {
			for *layers = l.layers; *layers > 1 && !fits(); *layers /= 2 {
			}
		}
		if *qam == 0 {
			for *qam = l.qam; *qam > 4 && !fits(); *qam /= 4 {
			}
		}
	}
	return raised
}

func (e *Evidence) hasLink(i int, d bands.Direction) bool {
	return e.Rates != nil && !e.Rates.Carriers[i].Link(d).IsZero()
}

// levelText says which level is needed and on how many of the carriers that leave it
// open; empty if none leaves anything open.
func (e *Evidence) levelText(base, raised ca.Combination, d bands.Direction, l level, rate func(ca.Combination) (*big.Rat, bool), reaches func(*big.Rat) bool) string {
	var open []int
	layersOpen, qamOpen := false, false
	for i := range base {
		layers, qam := base[i].Layers, base[i].QAM
		if d == bands.Uplink {
			layers, qam = base[i].UplinkLayers, base[i].UplinkQAM
		}
		if e.hasLink(i, d) && (layers == 0 || qam == 0) {
			open = append(open, i)
			layersOpen, qamOpen = layersOpen || layers == 0, qamOpen || qam == 0
		}
	}
	if len(open) == 0 {
		return ""
	}
	var what []string
	if layersOpen {
		what = append(what, plural(int(l.layers), "layer"))
	}
	if qamOpen {
		what = append(what, strconv.Itoa(int(l.qam))+"QAM")
	}
	text := strings.Join(what, " of ")
	if len(open) == 1 {
		return text + " in " + base[open[0]].Band.String()
	}
	for n := 1; n < len(open); n++ {
		for _, only := range subsets(open, n) {
			if v, ok := rate(e.raise(base, d, l, only)); ok && reaches(v) {
				return text + " on at least " + strconv.Itoa(n) + " of the " + strconv.Itoa(len(open)) + " carriers (" + e.names(only) + "), the usual on the rest"
			}
		}
	}
	all := "all " + strconv.Itoa(len(open))
	if len(open) == 2 {
		all = "both"
	}
	return text + " on " + all + " carriers, as far as their bands have it"
}

// names lists the bands of carriers, each once.
func (e *Evidence) names(list []int) string {
	var names []string
	for _, i := range list {
		if name := e.Stated[i].Band.String(); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return words.And(names)
}

// spacingText names the subcarrier spacings that were taken where a band has others;
// empty if nothing was.
func (e *Evidence) spacingText(d bands.Direction) string {
	var list []string
	for i := range e.Stated {
		c, p := &e.Stated[i], &e.Assessment.Carriers[i]
		if c.SCS != 0 || c.Band.RAT != bands.NR || !e.hasLink(i, d) || len(p.Info.Spacings(p.Width(d))) < 2 {
			continue
		}
		if text := p.Spacing.String() + " in " + c.Band.String(); !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "a subcarrier spacing of " + words.And(list)
}

// subsets lists the ways to take n of a list, at most as many as are worth a look.
func subsets(list []int, n int) [][]int {
	const many = 200
	var sets [][]int
	var add func(from int, taken []int)
	add = func(from int, taken []int) {
		if len(taken) == n {
			sets = append(sets, slices.Clone(taken))
			return
		}
		for i := from; i < len(list) && len(sets) < many; i++ {
			add(i+1, append(taken, list[i]))
		}
	}
	add(0, nil)
	return sets
}

// patternText says that the assumed patterns are needed; empty if none is assumed.
func (e *Evidence) patternText() string {
	var list []string
	for i := range e.Rates.Carriers {
		if f := &e.Rates.Carriers[i].Frame; f.Assumed {
			if text := "pattern " + f.String() + " in " + e.Stated[i].Band.String(); !slices.Contains(list, text) {
				list = append(list, text)
			}
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "the TDD " + words.And(list) + ", or one with a larger share for the direction"
}

// openPatterns gives carriers that leave their pattern open one that has almost all of
// the time for a direction, and says so; empty if there are none.
func (e *Evidence) openPatterns(c ca.Combination, d bands.Direction) string {
	var list []string
	for i := range c {
		if f := &e.Rates.Carriers[i].Frame; f.Assumed && c[i].Pattern == "" && e.hasLink(i, d) {
			c[i].Pattern = generous(c[i].Band.RAT, d, e.Rates.Carriers[i].Link(d).SCS)
			if name := c[i].Band.String(); !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "a TDD pattern with nearly all of the time for the " + d.String() + " in " + words.And(list)
}

// generous is a pattern with all of the time, or as good as all, for a direction.
func generous(rat bands.RAT, d bands.Direction, scs bands.Frequency) string {
	if rat == bands.LTE {
		return map[bool]string{true: "0", false: "5"}[d == bands.Uplink]
	}
	return strconv.Itoa(int(10*scs/(15*bands.KHz))) + map[bool]string{true: "U", false: "D"}[d == bands.Uplink]
}
