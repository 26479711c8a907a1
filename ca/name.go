package ca

import (
	"strconv"

	"spectally/bands"
)

// Kind tells what a name of the standard stands for.
type Kind uint8

// The kinds of names. The zero Kind is none.
const (
	KindLTE   Kind = iota + 1 // one E-UTRA carrier, no aggregation: 3A
	KindNR                    // one NR carrier, no aggregation: n78A
	KindLTECA                 // E-UTRA carrier aggregation: CA_3A-7A
	KindNRCA                  // NR carrier aggregation: CA_n3A-n78A
	KindENDC                  // E-UTRA with NR, the master cell E-UTRA: DC_3A_n78A
	KindNEDC                  // NR with E-UTRA, the master cell NR: DC_n78A_3A
	KindNRDC                  // NR dual connectivity: DC_n78A-n257A
	KindSUL                   // NR with a supplementary uplink: SUL_n78A-n80A
)

var kindNames = [...]string{"none", "lte", "nr", "lte-ca", "nr-ca", "en-dc", "ne-dc", "nr-dc", "sul"}

// String writes the kind as it stands in output: "nr-ca", "en-dc".
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "kind " + strconv.Itoa(int(k))
}

// Component is what a configuration has in one band.
type Component struct {
	Band bands.ID
	// Blocks holds the bandwidth class of every sub-block of contiguous
	// carriers: n78(2A) has two of class A, n41(A-C) one of A and one of C.
	Blocks []Class
	// Cell is, for a supplementary uplink, the downlink band of the cell that
	// it belongs to; it is the zero ID for every other component and where the
	// name does not say.
	Cell bands.ID
	// Shared marks an NR uplink that shares a carrier with the E-UTRA uplink
	// in turn ("ULSUP-TDM"). Only uplink configurations have it.
	Shared bool
}

// Carriers returns the number of carriers of the component.
func (c Component) Carriers() int {
	n := 0
	for _, b := range c.Blocks {
		n += b.carriers(c.Band)
	}
	return n
}

// Joined is the intra-band contiguous part of E-UTRA and NR: the (n)41AA of
// DC_(n)41AA. The zero Joined is none.
type Joined struct {
	Band uint16 // the number of both bands
	LTE  Class  // the class of the E-UTRA sub-block
	NR   Class  // the class of the NR sub-block
}

// Parts is a name taken to pieces. The order of components and of the blocks
// in them does not matter to [NewName]; [Name.Parts] gives them in order.
type Parts struct {
	Kind Kind
	// LTE and NR hold one component for every band. The blocks of Joined are
	// among theirs.
	LTE, NR []Component
	Joined  Joined
}

// Name is the name of a configuration of carriers in its canonical form: kinds
// as the standard spells them, bands in rising order, equal sub-blocks of an NR
// band counted in brackets. Names of the same configuration are equal with ==.
// The zero Name is none.
//
// Only the form is checked: that a name can be written does not mean that the
// standard lists the configuration.
type Name struct {
	text string
	kind Kind
}

// String writes the name as the standard does: "CA_n3A-n78(2A)".
func (n Name) String() string { return n.text }

// Kind tells what the name stands for.
func (n Name) Kind() Kind { return n.kind }

// IsZero reports whether n is no name.
func (n Name) IsZero() bool { return n.text == "" }

// MarshalText writes the name as [Name.String] does.
func (n Name) MarshalText() ([]byte, error) { return []byte(n.text), nil }

// UnmarshalText reads a name as [ParseName] does.
func (n *Name) UnmarshalText(text []byte) error {
	m, err := ParseName(string(text))
	if err != nil {
		return err
	}
	*n = m
	return nil
}

// Parts takes the name to pieces.
func (n Name) Parts() Parts {
	if n.IsZero() {
		return Parts{}
	}
	p, err := parseParts(n.text)
	if err != nil {
		// A Name is only made by NewName, whose output the parser reads.
		panic("ca: " + err.Error())
	}
	p.normalise()
	return p
}

// Components returns the components of the name, those of E-UTRA first, each
// technology in order of band.
func (n Name) Components() []Component {
	p := n.Parts()
	return append(p.LTE, p.NR...)
}

// Carriers returns the number of downlink carriers that the name stands for:
// supplementary uplinks are not counted.
func (n Name) Carriers() int {
	total := 0
	for _, c := range n.Components() {
		if !supplementary(c.Band) {
			total += c.Carriers()
		}
	}
	return total
}

// supplementary reports whether an NR band has an uplink only: duplex mode SUL
// of TS 38.101-1 Table 5.2-1.
func supplementary(id bands.ID) bool {
	if id.RAT != bands.NR {
		return false
	}
	switch id.Number {
	case 80, 81, 82, 83, 84, 86, 89, 95, 97, 98, 99:
		return true
	}
	return false
}
