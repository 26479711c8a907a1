package cells

import (
	"fmt"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// Heard is a cell that a receiver hears on a channel.
type Heard struct {
	Name   string // in words: "carrier 2", "neighbour 1"
	Band   bands.ID
	PCI    uint16
	Centre bands.Frequency // of its downlink carrier; 0 if its place is not known
}

// Relation is what the identities of two cells on one channel have in common.
type Relation uint8

// The relations, the most serious first.
const (
	SameIdentity Relation = iota + 1 // the same PCI
	Modulo30                         // the same remainder modulo 30, and so modulo 3
	Modulo3                          // the same remainder modulo 3
)

var relationNames = [...]string{SameIdentity: "same-pci", Modulo30: "modulo-30", Modulo3: "modulo-3"}

// String names the relation in kebab case.
func (r Relation) String() string {
	if int(r) >= len(relationNames) {
		return ""
	}
	return relationNames[r]
}

// MarshalText implements encoding.TextMarshaler.
func (r Relation) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// Clash is two cells on the same channel whose identities have something in common
// that makes them harder to tell apart.
type Clash struct {
	A, B     int // places in the list of cells
	Relation Relation
	// Statement says what the clash means, in one sentence.
	Statement string
	Source    render.Source
}

// Clashes finds the pairs of cells of one band that stand on the same carrier
// centre and whose PCI clash. Cells whose place is not known are not compared.
func Clashes(list []Heard) []Clash {
	var clashes []Clash
	for i := range list {
		for j := i + 1; j < len(list); j++ {
			x, y := &list[i], &list[j]
			if x.Band != y.Band || x.Centre == 0 || x.Centre != y.Centre {
				continue
			}
			if c, ok := compare(x, y); ok {
				c.A, c.B = i, j
				clashes = append(clashes, c)
			}
		}
	}
	return clashes
}

func compare(x, y *Heard) (Clash, bool) {
	pair := fmt.Sprintf("%s (PCI %d) and %s (PCI %d) on %s at %s MHz", x.Name, x.PCI, y.Name, y.PCI, x.Band, x.Centre.MHz())
	nr := x.Band.RAT == bands.NR
	switch {
	case x.PCI == y.PCI:
		return Clash{Relation: SameIdentity, Source: PCISource(x.Band.RAT),
			Statement: pair + ": the same identity, so either one cell written down twice or two cells that a phone can't tell apart."}, true
	case x.PCI%30 == y.PCI%30:
		c := Clash{Relation: Modulo30, Source: render.Source{Spec: "TS 36.211", Table: "clause 5.5.1.3"},
			Statement: fmt.Sprintf("%s: both %d modulo 30, so by default they use the same group of uplink reference sequences, and the same primary synchronisation signal.", pair, x.PCI%30)}
		if nr {
			c.Source = render.Source{Spec: "TS 38.211", Table: "clause 6.4.1.1.1.2"}
		}
		return c, true
	case x.PCI%3 == y.PCI%3:
		c := Clash{Relation: Modulo3, Source: PCISource(x.Band.RAT),
			Statement: fmt.Sprintf("%s: both %d modulo 3, so they transmit the same primary synchronisation signal; where both are strong, finding and measuring the weaker one gets harder.", pair, x.PCI%3)}
		if !nr {
			c.Statement = c.Statement[:len(c.Statement)-1] + ", and with two or more antenna ports their cell-specific reference signals fall on each other."
		}
		return c, true
	}
	return Clash{}, false
}
