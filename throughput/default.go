package throughput

import (
	"spectally/bands"
	"spectally/throughput/exact"
)

// fourReceivePorts are the bands in which a UE has four receive antenna ports
// unless it is of a smaller kind; two in all others (TS 38.101-1 V19.5.0 clause
// 7.2). n90 follows n41, whose requirements apply to it.
var fourReceivePorts = [...]uint16{7, 38, 41, 48, 77, 78, 79, 90, 104}

// Sources of the defaults.
var (
	sourceReceivePorts = bands.Source{Spec: "TS 38.101-1", Version: "19.5.0", Table: "clause 7.2"}
	sourceLTEPorts     = bands.Source{Spec: "TS 36.101", Version: "19.6.0", Table: "clause 7.2"}
	sourceModulation   = bands.Source{Spec: "TS 38.306", Version: "19.2.0", Table: "clause 4.1.2"}
	sourceLTECategory  = bands.Source{Spec: "TS 36.306", Version: "19.2.0", Table: "4.1A-2"}
)

// DefaultLayers is the number of MIMO layers that is assumed where a carrier does
// not say: in the downlink as many as the receive antenna ports that the standard
// asks of a UE, in the uplink one.
func DefaultLayers(b *bands.Band, d bands.Direction) int {
	if d == bands.Uplink {
		return 1
	}
	if b.ID.RAT == bands.NR {
		for _, n := range fourReceivePorts {
			if b.ID.Number == n {
				return 4
			}
		}
	}
	return 2
}

// DefaultQAM is the constellation size that is assumed where a carrier does not
// say: what TS 38.306 clause 4.1.2 takes where a UE signals nothing better (256QAM
// in the FR1 downlink, 64QAM in FR2 and in the uplink), and 64QAM for LTE.
func DefaultQAM(b *bands.Band, d bands.Direction) int {
	if d == bands.Downlink && b.ID.RAT == bands.NR && !b.Range.IsFR2() {
		return 256
	}
	return 64
}

// defaultLTEFrame is the frame of a TDD carrier of LTE that does not say: uplink-
// downlink configuration 2 with special subframe configuration 7. Common practice,
// no source: the standards leave it to the network.
const defaultLTEFrame = "2/7"

// assistedDownlink is how many of ten subframes of a carrier of licensed-assisted access are
// downlink where it does not say and the UE transmits on it, as in defaultLTEFrame: the other
// two are uplink. Common practice, no source.
const assistedDownlink = 8

// DefaultAirtime is the share of time in which a network has the channel of a band for
// shared-spectrum channel access, both directions together: all of it. How much others leave
// and listening takes is not in the standards.
func DefaultAirtime() exact.Ratio { return exact.Whole(1) }
