package ca

import "spectally/bands"

// Carrier is a component carrier as its user describes it: a band, a width and
// whatever else is known. Zero fields are not given. Carriers compare with ==.
//
// That a carrier can be written does not mean that the standard allows it;
// [Check] tells.
type Carrier struct {
	Band bands.ID
	// Downlink and Uplink are the channel bandwidths in each direction. Uplink
	// zero means downlink only. In a band without one of the directions the
	// width of that direction is ignored if it equals the other.
	Downlink, Uplink bands.Frequency
	// Channel is the channel number of the carrier centre, an NR-ARFCN or an
	// EARFCN, if HasChannel. A number of the uplink places the carrier as well.
	Channel    int32
	HasChannel bool
	// Centre is the carrier centre in the downlink, or in the uplink of a
	// supplementary uplink, if it was given as a frequency; else zero.
	Centre bands.Frequency
	// SSB is the NR-ARFCN of the SS/PBCH block, the number that most phones show; zero
	// if not given. By itself it places the carrier within a range.
	SSB bands.ARFCN

	SCS          bands.Frequency // subcarrier spacing
	Layers       uint8           // MIMO layers in the downlink
	UplinkLayers uint8
	QAM          uint16 // constellation size in the downlink: 4 to 1024
	UplinkQAM    uint16 // 2 stands for pi/2-BPSK
	Scale        uint16 // scaling factor of TS 38.306 clause 4.1.2 in hundredths: 100, 80, 75, 40
	RB           uint16 // at most so many resource blocks are used; zero for all
	Transmit     Choice // whether the UE transmits on the carrier
	Role         Role
	Pattern      string // TDD pattern, upper case; package throughput reads it
	PCI          uint16 // physical cell identity, if HasPCI
	HasPCI       bool
	RSRP         Level // reference signal received power in dBm, if given
	SINR         Level // in dB, if given
}

// IsPlaced tells whether the carrier says where in the band it is.
func (c *Carrier) IsPlaced() bool { return c.HasChannel || c.Centre != 0 }

// Choice is a yes or no that may be left open.
type Choice uint8

// The choices. The zero Choice is open.
const (
	Open Choice = iota
	Yes
	No
)

// Role is the part a carrier plays in a cell group.
type Role uint8

// The roles (TS 38.331 and TS 36.331, definitions). The zero Role is open.
const (
	PCell  Role = iota + 1 // primary cell of the master cell group
	PSCell                 // primary cell of the secondary cell group
	SCell                  // secondary cell
)

var roleNames = [...]string{PCell: "pcell", PSCell: "pscell", SCell: "scell"}

// String writes the role as the notation does: "pcell", "pscell", "scell".
func (r Role) String() string {
	if int(r) >= len(roleNames) {
		return ""
	}
	return roleNames[r]
}

// Combination is a list of carriers that serve one UE together.
type Combination []Carrier
