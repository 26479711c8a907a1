package interference

import (
	"slices"
	"strings"
	"sync"

	"spectally/data"
)

// Isolation is a row of the tables of cross-band isolation: how much sensitivity a downlink
// may lose because the filters of the UE let through what an uplink in another band leaks.
type Isolation struct {
	Entry
	// Falls says where the downlink lies in the leakage: ACLR1 and ACLR2 are the first and
	// the second adjacent channel of the uplink, >ACLR2 is beyond. Two stand for two uplinks.
	Falls string
	// Together tells that the row holds with the one beside it in the table: two uplinks at
	// once, which are both in Uplinks.
	Together bool
}

var isolationTables = data.Lazy("msd_isolation")

// twoUplinks is the table whose rows stand in pairs.
const twoUplinks = "7.3A.6-3"

var isolations = sync.OnceValue(func() []Isolation {
	var list []Isolation
	for _, t := range isolationTables() {
		r := newReader(t)
		for i, row := range t.Rows {
			r.row = row
			uplink := r.uplink("uplink", "1")
			uplink.setBlocks(r.text("blocks"))
			if t.Table == twoUplinks && i%2 == 1 {
				last := &list[len(list)-1]
				last.Uplinks = append(last.Uplinks, uplink)
				last.Falls += ", " + r.text("falls")
				continue
			}
			e := Isolation{Falls: r.text("falls"), Together: t.Table == twoUplinks}
			e.Source, e.PowerClass, e.Uplinks, e.Downlink = t.Source, PowerClass(r.text("class")), []Allocation{uplink}, r.downlink()
			e.MSD, e.HasMSD = r.decibels("msd")
			e.MSD2Tx, e.Has2Tx = r.decibels("msd-2tx")
			list = append(list, e)
		}
	}
	return list
})

// Isolations lists every row of the tables of cross-band isolation: TS 38.101-1 clauses
// 7.3A.6 and 7.3C.2, TS 38.101-3 clauses 7.3B.2.3.4 and 7.3B.2.3a.3.
func Isolations() []Isolation { return slices.Clone(isolations()) }

// Isolated returns the rows of cross-band isolation between what the carriers transmit and
// what they receive, for a UE of a power class as in [Listed], by downlink. The rows are
// test points: how much is lost elsewhere depends on how far apart the carriers are.
func Isolated(carriers []Carrier, class PowerClass) []Isolation {
	printed := isolatedIn(carriers, class)
	if class != Class2 && class != Class15 {
		return printed
	}
	for _, e := range isolatedIn(carriers, Class3) {
		if slices.ContainsFunc(printed, func(p Isolation) bool { return p.sameBands(&e) }) {
			continue
		}
		if raised, ok := e.raisedAs("isolation", class); ok && !e.Together && !shared(e.Uplinks[0].Band) {
			e.Entry = raised
			printed = append(printed, e)
		}
	}
	return printed
}

func isolatedIn(carriers []Carrier, class PowerClass) []Isolation {
	var list []Isolation
	for i, e := range isolations() {
		if e.PowerClass != class || !slices.ContainsFunc(carriers, func(c Carrier) bool { return !c.Downlink.IsZero() && c.Band == e.Downlink.Band }) {
			continue
		}
		sent := true
		for _, u := range e.Uplinks {
			sent = sent && slices.ContainsFunc(carriers, func(c Carrier) bool { return !c.Uplink.IsZero() && c.Band == u.Band })
		}
		if sent {
			list = append(list, isolations()[i])
		}
	}
	slices.SortStableFunc(list, func(a, b Isolation) int {
		return strings.Compare(a.Downlink.Band.String(), b.Downlink.Band.String())
	})
	return list
}

func (e *Isolation) sameBands(other *Isolation) bool {
	return e.Downlink.Band == other.Downlink.Band && slices.EqualFunc(e.Uplinks, other.Uplinks, func(a, b Allocation) bool { return a.Band == b.Band })
}
