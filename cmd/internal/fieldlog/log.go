// Package fieldlog reads the log that someone at a site writes, says what is wrong
// with it, and works out what the log means: what each network's carriers add up to
// and can yield, what the tests reached of it, which carriers may belong together,
// and which claims hold. It knows no output format.
//
// A log is a TOML file. Its keys, * where one has to be there:
//
//	title*    text, one line
//	date      2031-05-14
//	place     text, one line
//	author    text, one line
//	notes     text, or a list of texts
//	site      table: lat, lon in degrees: where the antennas are, for the runs' distances
//
//	[[network]]*            one for each network
//	name*     text, one line, different for each network
//	device    table: name; kind of a UE of reduced capability ("redcap", "eredcap",
//	          "eredcap-full"); receive_antennas, transmit_antennas (1 to 16); qam, ulqam:
//	          the largest constellation in each direction (64, 256, 1024)
//	carriers  text in the carrier notation: "B3:20 + n78:80@640000"; or instead
//	notes     text, or a list of texts
//
//	[[network.carrier]]     one for each carrier; the first of a technology transmits
//	band*     "n78", "B3" or 3
//	width*    MHz as a number, or downlink and uplink as text: "20/10", "20/0"
//	channel   NR-ARFCN or EARFCN of the carrier centre, or instead
//	frequency carrier centre in the downlink: MHz as a number, or text with its unit
//	scs       subcarrier spacing in kHz
//	ssb       NR-ARFCN of the SS/PBCH block, which most phones show
//	layers, ullayers        MIMO layers
//	qam, ulqam              constellation size
//	scale     scaling factor of TS 38.306: 1, 0.8, 0.75, 0.4
//	rb        resource blocks that are used at most
//	pattern   TDD pattern: "DDDSU/10:2:2"; LTE: "2/7"
//	ul        true or false: the phone transmits on the carrier
//	role      "pcell", "pscell" or "scell"
//	pci       physical cell identity
//	rsrp      dBm
//	sinr      dB
//
//	[[network.radio]]       what was seen of the antenna and the radio
//	name      text, one line
//	ports*    "8T8R": transmit and receive ports
//	antenna   "omni", "sector", "panel" or "indoor"
//	connected ports that are connected: a number of them, or a list [1, 2]
//	bands     list of bands it serves: ["n78"]; all if not given
//	notes     text, or a list of texts
//
//	[[network.neighbour]]   cells that were heard but did not serve
//	band*, pci*, channel or frequency, rsrp
//
//	[[network.run]]         one for each speed test; one figure at least
//	down, up                Mbit/s
//	idle_ms                 round-trip time without load
//	loaded_down_ms, loaded_up_ms   under download, under upload
//	where     text, one line
//	when      18:05, or 2031-05-14 18:05
//	distance_m              from the site; or instead
//	lat, lon  degrees
//	rsrp, sinr              of the serving cell there, dBm and dB
//	carriers  numbers of the carriers that were active: [1, 2]
//	notes     text, or a list of texts
//
//	[[network.transfer]]    one for each file
//	size*     text with its unit: "1 GB" (10^9 bytes), "700 MiB" (700 * 2^20 bytes)
//	seconds*  how long it took
//	direction "down" (the default) or "up"
//	where, when, notes      as in a run
//
//	[[claim]]               one statement each, see [claim.Claim]
//	text      the statement as it was published
//	network   name of the network; may be left out where there is only one
//	about     true if its figures are rough ones
//	direction "down" (the default) or "up"
//	total_mhz, carriers, peak_mbps, measured_mbps, idle_ms, loaded_ms,
//	round_trips_per_minute, same_site (true)
//	share_percent           of the peak; with rate_mbps if it is said of one rate
//	transfer, seconds       size and time; with rate_mbps if it is said of one rate
//	than, earlier           another network of the log, or true: the same in an earlier log;
//	                        with by, and times, percent_more or relation; alike (true) if
//	                        both have the same layers, modulation and pattern
//	distance_m              where rate_mbps is said to be had; against runs that say theirs
//
// Numbers stand without quotes and keep the digits they are written with: the
// tolerance of a claim follows from them.
package fieldlog

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/geodesic"
	"spectally/cmd/internal/quantity"
	"spectally/throughput"
)

// Limits of a log.
const (
	maxNetworks   = 50
	maxCarriers   = 32 // serving cells of a UE, see package ca
	maxRadios     = 50
	maxNeighbours = 200
	maxRuns       = 500
	maxTransfers  = 200
	maxClaims     = 200
)

// Log is what was written down at a site.
type Log struct {
	Title    string
	Date     string // 2031-05-14; empty if not given
	Place    string
	Author   string
	Notes    []string        // paragraphs
	Site     *geodesic.Point // where the antennas are; nil if it is not known
	Networks []Network
	Claims   []Claim
}

// Network is what was seen of one network.
type Network struct {
	Name       string
	Device     Device
	Carriers   ca.Combination // as they were written, without the limits of the device
	Radios     []Radio
	Neighbours []Neighbour
	Runs       []Run
	Transfers  []Transfer
	Notes      []string
}

// Device is the phone or modem. Zero fields are not given.
type Device struct {
	Name                              string
	Kind                              throughput.DeviceKind
	ReceiveAntennas, TransmitAntennas int
	QAM, UplinkQAM                    int // largest constellation size
}

// Radio is the transmitter side as far as it was seen.
type Radio struct {
	Name              string
	Transmit, Receive int    // ports of an nTmR radio
	Antenna           string // "omni", "sector", "panel", "indoor"; empty if not given
	// Connected is the number of transmit ports that are connected, if
	// HasConnected; Ports are their numbers where the log lists them.
	Connected    int
	HasConnected bool
	Ports        []int
	Bands        []bands.ID // that it serves; all if empty
	Notes        []string
}

// Neighbour is a cell that was heard but did not serve.
type Neighbour struct {
	Carrier ca.Carrier // band, channel or frequency, PCI and RSRP alone
}

// Run is one speed test. Figures that are not given were not measured.
type Run struct {
	Down, Up                   quantity.Decimal // Mbit/s
	Idle, LoadedDown, LoadedUp quantity.Decimal // round-trip times in ms
	Where, When                string
	Spot                       Spot
	Notes                      []string
}

// Transfer is a file that was moved.
type Transfer struct {
	Size        quantity.Size
	Seconds     quantity.Decimal
	Direction   bands.Direction
	Where, When string
	Notes       []string
}

// Claim is a statement about a network of the log.
type Claim struct {
	// OtherNetwork is the index of the one that the claim compares its own with; -1 for none.
	OtherNetwork int
	// Earlier tells that the other side is the same network in an earlier log.
	Earlier bool
	claim.Claim
	// Network is its place in Log.Networks; -1 if it is about none.
	Network int
}
