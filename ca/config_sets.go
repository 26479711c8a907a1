package ca

import (
	"strings"

	"spectally/bands"
)

// Limit is a restriction on the use of a width in a set.
type Limit uint8

// The limits that the notes of the tables put on widths. The zero Limit is none.
const (
	LimitDownlink      Limit = iota + 1 // downlink only
	LimitSCell                          // only as a secondary cell
	LimitDownlinkSCell                  // only as a secondary cell without uplink
	LimitOptional                       // optional for the UE
	LimitUplinkRange                    // uplink only in part of the band
)

var limitCodes = [...]string{"", "dl", "scell", "dlscell", "opt", "ulrange"}

var limitWords = [...]string{
	"none", "downlink only", "only as an SCell", "only as a downlink SCell", "optional for the UE",
	"uplink only in part of the band",
}

// String says the limit in words: "downlink only".
func (l Limit) String() string {
	if int(l) < len(limitWords) {
		return limitWords[l]
	}
	return "unknown limit"
}

// Code writes the limit in short: "dl", "scell", "dlscell", "opt", "ulrange".
func (l Limit) Code() string {
	if int(l) < len(limitCodes) {
		return limitCodes[l]
	}
	return ""
}

func limitOf(code string) Limit {
	for i, c := range limitCodes {
		if c == code {
			return Limit(i)
		}
	}
	panic("ca: embedded list: limit " + code) // the tests read every limit
}

// WidthLimit is a width and the limit on its use.
type WidthLimit struct {
	Width bands.Frequency
	Limit Limit
}

// Set is a bandwidth combination set, or one of its alternatives.
type Set struct {
	// BCS is the number of the set.
	BCS int
	// Alternative counts, from 1, the rows of a set within one band: a
	// combination is allowed when it fits any one of them. All other sets have
	// one.
	Alternative int
	// MaxAggregated is what the widths of all carriers together must not exceed;
	// zero where the table states none.
	MaxAggregated bands.Frequency
	// Lower is, within one band of EN-DC and NE-DC, the technology whose carriers
	// are lower in frequency; zero for all other sets.
	Lower bands.RAT
	// Components holds the bands in the order of the table; within one band its
	// carriers, or its sub-blocks where they refer to sets of their own.
	Components []SetComponent
	Source     bands.Source
}

// SetComponent is what a set allows in a band.
type SetComponent struct {
	Band bands.ID
	// Carriers holds, for every carrier, the widths that it may have, in rising
	// order. Where Ref refers to a set with alternatives it holds what any of
	// them allows; not every combination is allowed then.
	Carriers [][]bands.Frequency
	// Ref is the set of another configuration that the table refers to:
	// "CA_n78C_BCS1". Empty where it lists widths.
	Ref string
	// All tells that the table refers to all widths of the band.
	All bool
	// Contiguous tells that the carriers lie side by side in the order given,
	// rising in frequency, though they have no set of their own.
	Contiguous bool
	// Limits holds the limits on single widths.
	Limits []WidthLimit
}

// Sets returns the bandwidth combination sets that the table gives the
// configuration: none for EN-DC and
// NE-DC of several bands, whose sets are those of their members, see
// [Configuration.Members], and for those whose sets are not certain. The sets of
// NR-DC are those of the NR CA configuration of the same bands.
func (c Configuration) Sets() []Set {
	e, source := c.setEntry()
	if e == nil {
		return nil
	}
	rows := e.setRows()
	sets := make([]Set, 0, len(rows))
	for i := range rows {
		r := &rows[i]
		s := Set{
			BCS:           int(r.bcs),
			Alternative:   int(r.alt),
			MaxAggregated: bands.Frequency(r.max) * widthUnit,
			Lower:         r.lower,
			Source:        source,
		}
		for k := range r.cells {
			x := &r.cells[k]
			last := len(s.Components) - 1
			if r.form == rowOfBlocks && last >= 0 && x.ref == "" && s.Components[last].Ref == "" {
				s.Components[last].Carriers = append(s.Components[last].Carriers, x.allowed(c.band(x.band)).list())
				s.Components[last].All = s.Components[last].All && x.all
				continue
			}
			s.Components = append(s.Components, c.component(x))
		}
		sets = append(sets, s)
	}
	return sets
}

func (c Configuration) component(x *cell) SetComponent {
	id := c.band(x.band)
	s := SetComponent{Band: id, Ref: x.ref, All: x.all, Limits: x.limits}
	switch {
	case x.ref != "":
		for _, w := range nestedWidths(x, id) {
			s.Carriers = append(s.Carriers, w.list())
		}
		if id != x.band {
			s.Ref = strings.ReplaceAll(s.Ref, x.band.InName(), id.InName())
		}
	case x.fixed != nil:
		s.Contiguous = true
		for _, w := range x.fixed {
			s.Carriers = append(s.Carriers, []bands.Frequency{bands.Frequency(w) * widthUnit})
		}
	default:
		s.Carriers = [][]bands.Frequency{x.allowed(id).list()}
	}
	return s
}

// nestedWidths returns the widths of every carrier of a nested set, joined over
// its alternatives.
func nestedWidths(x *cell, id bands.ID) []widthSet {
	if x.nested == nil {
		return nil
	}
	var out []widthSet
	rows := x.nested.setRows()
	for i := range rows {
		if rows[i].bcs != x.bcs {
			continue
		}
		var list []widthSet
		for k := range rows[i].cells {
			inner := &rows[i].cells[k]
			if inner.ref != "" {
				list = append(list, nestedWidths(inner, id)...)
			} else {
				list = append(list, inner.allowed(id))
			}
		}
		for k, w := range list {
			if k < len(out) {
				out[k] |= w
			} else {
				out = append(out, w)
			}
		}
	}
	return out
}

// setTables gives, for the tables that list EN-DC and NE-DC in one band, those
// that hold their sets (TS 38.101-3 clause 5.3B.1).
var setTables = map[string]string{
	"5.5B.2-1":  "5.3B.1.2-1",
	"5.5B.2a-1": "5.3B.1a.2-1",
	"5.5B.3-1":  "5.3B.1.3-1",
	"5.5B.3-2":  "5.3B.1.3-2",
}

// setEntry returns the entry that has the sets of the configuration and the
// table they stand in: that of the NR CA configuration of the same bands for
// NR-DC, that of clause 5.3B for EN-DC and NE-DC in one band; nil if it has no
// sets of its own.
func (c Configuration) setEntry() (*entry, bands.Source) {
	e := c.record()
	switch e.kind {
	case KindNRDC:
		e = nrFamily.find("CA_" + strings.TrimPrefix(e.name, "DC_"))
	case KindENDC, KindNEDC:
		for e = endcIntraFamily.find(e.name); e != nil && !e.holdsSets(c.record()); e = e.next {
		}
	}
	if e == nil {
		return nil, bands.Source{}
	}
	return e, e.table.Source
}

// holdsSets tells whether an entry of clause 5.3B has the sets of a listing of
// clause 5.5B of the same name.
func (e *entry) holdsSets(listing *entry) bool {
	return e.table.Table == setTables[listing.table.Table] && e.line(" note ") == listing.line(" note ")
}
