package bands

import (
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
)

// registry holds the bands of one technology, by number and in order.
type registry struct {
	all      []*Band
	byNumber []*Band
}

func newRegistry(all []*Band) *registry {
	slices.SortFunc(all, func(a, b *Band) int { return a.ID.Compare(b.ID) })
	r := &registry{all: all}
	if len(all) > 0 {
		r.byNumber = make([]*Band, all[len(all)-1].ID.Number+1)
	}
	for _, b := range all {
		r.byNumber[b.ID.Number] = b
	}
	return r
}

// lazyRegistry loads a registry when it is first asked for. A band is looked up
// often, so asking again costs no more than reading a variable.
type lazyRegistry struct {
	loaded atomic.Pointer[registry]
	load   func() *registry
}

func (l *lazyRegistry) get() *registry {
	if r := l.loaded.Load(); r != nil {
		return r
	}
	return l.first()
}

func (l *lazyRegistry) first() *registry { // apart, so that get is inlined
	r := l.load()
	l.loaded.Store(r)
	return r
}

var (
	nrBands  = lazyRegistry{load: lazy(loadNR)}
	lteBands = lazyRegistry{load: lazy(loadLTE)}
	noBands  registry
)

func (r RAT) bands() *registry {
	switch r {
	case LTE:
		return lteBands.get()
	case NR:
		return nrBands.get()
	}
	return &noBands
}

// Lookup finds a band. A band that the tables do not have is a ValueError that
// names the nearest one: what a slip of the finger makes of it, else by its number.
func Lookup(id ID) (*Band, error) {
	r := id.RAT.bands()
	if int(id.Number) < len(r.byNumber) {
		if b := r.byNumber[id.Number]; b != nil {
			return b.completed(), nil
		}
	}
	return nil, unknownBand(id)
}

func unknownBand(id ID) error {
	e := &ValueError{Param: "band", Got: id.String(), Allowed: "a band of the operating-band tables"}
	r := id.RAT.bands()
	if len(r.all) == 0 {
		return e
	}
	e.Param = id.RAT.String() + " band"
	nearest := r.all[0]
	for _, b := range r.all {
		if distance(b.ID.Number, id.Number) < distance(nearest.ID.Number, id.Number) {
			nearest = b
		}
	}
	e.Nearest, e.Source = nearest.ID.String(), nearest.Source
	other := ID{NR + LTE - id.RAT, id.Number}
	if o := other.RAT.bands(); int(other.Number) < len(o.byNumber) && o.byNumber[other.Number] != nil {
		e.Nearest += ", or " + other.RAT.String() + " band " + strconv.Itoa(int(other.Number)) + " written " + other.String()
	} else if near := Misspelt(strings.ToLower(id.String())); near != nil {
		e.Nearest, e.Source = near.ID.String(), near.Source
	}
	return e
}

// Misspelt returns the band that a slip of the finger has made s of, which is in lower
// case: the band whose name is s with its parts exchanged or with one letter too many,
// else one that differs from it in one letter; nil if there is none.
func Misspelt(s string) *Band {
	if len(s) < 2 || len(s) > 6 || !strings.ContainsAny(s, "0123456789") {
		return nil
	}
	var best *Band
	for _, b := range All(0) {
		name := strings.ToLower(b.ID.String())
		switch {
		case s == name[1:]+name[:1], strings.HasPrefix(s, name) && len(s) == len(name)+1:
			return b
		case best == nil && EditDistance(s, name) == 1:
			best = b
		}
	}
	return best
}

func distance(a, b uint16) int {
	if a > b {
		return int(a - b)
	}
	return int(b - a)
}

// All lists every band of a technology in order of number; every band of both,
// LTE first, for the zero RAT.
func All(rat RAT) []*Band {
	if rat == 0 {
		return slices.Concat(All(LTE), All(NR))
	}
	all := slices.Clone(rat.bands().all)
	for _, b := range all {
		b.completed()
	}
	return all
}

// Match is a band found by something that lies in one of its directions.
type Match struct {
	Band *Band
	// Downlink and Uplink tell in which directions the thing lies; both in TDD.
	Downlink, Uplink bool
}

// At finds every band that contains the frequency, edges included, LTE first,
// in order of number.
func At(f Frequency) []Match {
	var room [24]Match // more than lie at any frequency: one allocation, for the result
	found := appendAt(room[:0], LTE, f)
	return slices.Clone(appendAt(found, NR, f))
}

// ByChannel finds every band of a technology to which a channel number belongs,
// in order of number: at most one for an EARFCN, all that contain its frequency
// for an NR-ARFCN. Numbers that no band has find none. The number need not lie on
// the channel raster.
func ByChannel(rat RAT, n int32) []Match {
	switch rat {
	case LTE:
		if m, _, err := EARFCN(n).Find(); err == nil {
			return []Match{m}
		}
	case NR:
		if f, err := ARFCN(n).Frequency(); err == nil {
			var room [24]Match
			return slices.Clone(appendAt(room[:0], NR, f))
		}
	}
	return nil
}

func appendAt(found []Match, rat RAT, f Frequency) []Match {
	for _, b := range rat.bands().all {
		m := Match{b, b.Downlink.Contains(f), b.Uplink.Contains(f)}
		if m.Downlink || m.Uplink {
			b.completed()
			found = append(found, m)
		}
	}
	return found
}
