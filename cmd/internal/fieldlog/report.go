package fieldlog

import (
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/render"
)

// Report is what a log means. Its fields are those of the JSON output. A figure that
// is not known is null; shares are parts of 1.
type Report struct {
	Title    string          `json:"title"`
	Date     string          `json:"date"`
	Place    string          `json:"place"`
	Author   string          `json:"author"`
	Notes    []string        `json:"notes"`
	Networks []NetworkReport `json:"networks"`
	// Comparison has one row for each network, in the same order.
	Comparison []Compared      `json:"comparison"`
	Shared     []SharedCell    `json:"shared_cells"`
	Claims     []ClaimReport   `json:"claims"`
	Cautions   []string        `json:"cautions"`
	Sources    []render.Source `json:"sources"`
}

// NetworkReport is what the log says and means of one network.
type NetworkReport struct {
	Name   string       `json:"name"`
	Device DeviceReport `json:"device"`
	Notes  []string     `json:"notes"`
	// Notation is the combination in the carrier notation.
	Notation string          `json:"combination"`
	Kind     string          `json:"kind"`
	Carriers []CarrierReport `json:"carriers"`
	// Blocks are the carriers of each band that follow each other without a gap, in
	// rising frequency, and those whose place is not known.
	Blocks []BlockReport `json:"blocks"`
	// Configurations are those that the carriers can form; Complete tells whether
	// they are all.
	Configurations []ConfigurationReport `json:"configurations"`
	Complete       bool                  `json:"configurations_complete"`
	Findings       []render.Finding      `json:"findings"`
	Valid          bool                  `json:"valid"`
	Totals         Totals                `json:"totals"`
	// Peak is null where the rates cannot be worked out; PeakError says why.
	Peak        *Peak              `json:"peak"`
	PeakError   string             `json:"peak_error"`
	Assumptions []AssumptionReport `json:"assumptions"`
	Runs        []RunReport        `json:"runs"`
	Measured    Measured           `json:"measured"`
	Latency     LatencyReport      `json:"latency"`
	Transfers   []TransferReport   `json:"transfers"`
	Cells       CellsReport        `json:"cells"`
	Radios      []RadioReport      `json:"radios"`
}

// DeviceReport is the phone or modem. Zero figures are not given.
type DeviceReport struct {
	Name             string `json:"name"`
	ReceiveAntennas  int    `json:"receive_antennas,omitempty"`
	TransmitAntennas int    `json:"transmit_antennas,omitempty"`
	QAM              int    `json:"qam,omitempty"`
	UplinkQAM        int    `json:"ulqam,omitempty"`
}

// CarrierReport is one carrier.
type CarrierReport struct {
	Number int    `json:"number"` // from 1
	Text   string `json:"text"`   // in the notation, as it was written
	Band   string `json:"band"`
	RAT    string `json:"rat"`
	Duplex string `json:"duplex"`
	Range  string `json:"range"`
	Role   string `json:"role"`
	// Channel is the channel number as it was written.
	Channel   *int32   `json:"channel"`
	PCI       *int     `json:"pci"`
	RSRP      *float64 `json:"rsrp_dbm"`
	SINR      *float64 `json:"sinr_db"`
	SCS       float64  `json:"scs_khz"`
	Transmits bool     `json:"transmits"`
	// Pattern is the TDD pattern the rates rest on; empty outside TDD.
	Pattern        string      `json:"pattern"`
	PatternAssumed bool        `json:"pattern_assumed"`
	DownlinkShare  *float64    `json:"dl_share"`
	Downlink       *LinkReport `json:"dl"` // null where there is no such direction
	Uplink         *LinkReport `json:"ul"`
}

// LinkReport is one direction of a carrier.
type LinkReport struct {
	Width float64 `json:"mhz"`
	// Low, Centre and High are the channel edges and its centre; null where the
	// place is not known.
	Low    *float64 `json:"low_mhz"`
	Centre *float64 `json:"centre_mhz"`
	High   *float64 `json:"high_mhz"`
	// CentreLow and CentreHigh are between what the centre lies if only the SS/PBCH block
	// of the carrier is known; null else.
	CentreLow  *float64 `json:"centre_low_mhz"`
	CentreHigh *float64 `json:"centre_high_mhz"`
	Blocks     int      `json:"n_rb"`
	// Layers and QAM are those of the rates; zero where there are none, as in an
	// uplink on which the phone does not transmit.
	Layers        int    `json:"layers"`
	QAM           int    `json:"qam"`
	LayersAssumed bool   `json:"layers_assumed"`
	QAMAssumed    bool   `json:"qam_assumed"`
	Counted       bool   `json:"counted"` // adds to the sum
	Rates         *Rates `json:"rates"`
}

// Rates are the three figures of a peak, in Mbit/s; null where not known.
type Rates struct {
	Max       *float64 `json:"max_rate_mbps"`
	Scheduled *float64 `json:"scheduled_mbps"`
	Expected  *float64 `json:"expected_mbps"`
}

// Peak is what the combination can yield.
type Peak struct {
	Downlink Rates `json:"dl"`
	Uplink   Rates `json:"ul"`
}

// BlockReport is carriers of a band that follow each other without a gap.
type BlockReport struct {
	Band     string `json:"band"`
	Carriers []int  `json:"carriers"` // numbers
	// Low and High are the edges of the aggregated channel in the downlink, in the
	// uplink of a supplementary uplink; null for carriers whose place is not known,
	// which stand together in the last block of their band.
	Low    *float64 `json:"low_mhz"`
	High   *float64 `json:"high_mhz"`
	Placed bool     `json:"placed"`
	// Gap is the distance to the next block of the band; null at the last.
	Gap *float64 `json:"gap_to_next_mhz"`
}

// ConfigurationReport is a configuration of the standard that the carriers can form.
type ConfigurationReport struct {
	ID            string   `json:"id"`
	Listed        bool     `json:"listed"`
	FallbackOf    []string `json:"fallback_of"`
	BandwidthSets []int    `json:"bandwidth_sets"` // that admit these widths
	// Holds tells whether the standard has it with these widths.
	Holds bool `json:"holds"`
}

// Total is spectrum under the four meanings of a total.
type Total struct {
	Downlink           float64 `json:"dl_mhz"`
	Uplink             float64 `json:"ul_mhz"`
	Occupied           float64 `json:"occupied_mhz"`
	DownlinkEquivalent float64 `json:"dl_equivalent_mhz"`
}

// Totals are the totals of a combination and of its parts.
type Totals struct {
	Total
	ByRAT    map[string]Total `json:"by_rat"`
	ByBand   map[string]Total `json:"by_band"`
	ByRange  map[string]Total `json:"by_range"`
	ByDuplex map[string]Total `json:"by_duplex"`
	BySite   map[string]Total `json:"by_site"`
}

// AssumptionReport is something the rates rest on that the log does not say.
type AssumptionReport struct {
	Carriers []int         `json:"carriers"` // numbers; none where it holds for all
	Text     string        `json:"text"`
	Source   render.Source `json:"source"`
}

// Compared is a network's row of the comparison; null where not known.
type Compared struct {
	Network            string   `json:"network"`
	Carriers           int      `json:"carriers"`
	Downlink           float64  `json:"dl_mhz"`
	Uplink             float64  `json:"ul_mhz"`
	DownlinkEquivalent float64  `json:"dl_equivalent_mhz"`
	Max                *float64 `json:"max_rate_mbps"`
	Scheduled          *float64 `json:"scheduled_mbps"`
	MedianDown         *float64 `json:"median_down_mbps"`
	BestDown           *float64 `json:"best_down_mbps"`
	MedianUp           *float64 `json:"median_up_mbps"`
	OfMax              *float64 `json:"share_of_max"` // of the median
	OfScheduled        *float64 `json:"share_of_scheduled"`
	Efficiency         *float64 `json:"bit_s_hz"`
	ActiveEfficiency   *float64 `json:"bit_s_hz_active"`
	Idle               *float64 `json:"idle_ms"` // medians
	Loaded             *float64 `json:"loaded_down_ms"`
	Added              *float64 `json:"added_down_ms"`
	RoundTrips         *float64 `json:"round_trips_per_minute"`
}

// ClaimReport is a claim of the log and what became of it.
type ClaimReport struct {
	Number  int    `json:"number"`
	Network string `json:"network"` // empty if it is about none
	*claim.Judgement
}
