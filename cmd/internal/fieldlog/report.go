package fieldlog

import (
	"spectally/cmd/internal/cells"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/quantity"
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
	Blocks int      `json:"n_rb"`
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

// RunReport is one speed test.
type RunReport struct {
	Number int      `json:"number"` // from 1
	Where  string   `json:"where"`
	When   string   `json:"when"`
	Notes  []string `json:"notes"`
	Down   *Reached `json:"down"` // null where not measured
	Up     *Reached `json:"up"`
	// Latencies as they were written; null where not measured.
	Idle       quantity.Decimal `json:"idle_ms"`
	LoadedDown quantity.Decimal `json:"loaded_down_ms"`
	LoadedUp   quantity.Decimal `json:"loaded_up_ms"`
	Added      Loaded           `json:"added_ms"`
	RoundTrips Loaded           `json:"round_trips_per_minute"`
}

// Loaded is a figure under download and under upload; null where not known.
type Loaded struct {
	Down *float64 `json:"down"`
	Up   *float64 `json:"up"`
}

// Reached is a measured rate against what the carriers can yield.
type Reached struct {
	Rate float64 `json:"mbps"`
	// Shares of the maximum rate and of the scheduled rate.
	OfMax       *float64 `json:"share_of_max"`
	OfScheduled *float64 `json:"share_of_scheduled"`
	// Efficiency is over the channel bandwidth of the direction, ActiveEfficiency
	// over that bandwidth weighted by the direction's share of time, in bit/s/Hz.
	Efficiency       *float64 `json:"bit_s_hz"`
	ActiveEfficiency *float64 `json:"bit_s_hz_active"`
	Implied          *Implied `json:"implied"`
	// Exceeds tells which ceiling the rate is above: "maximum", "scheduled" or
	// empty. Flag says so in a sentence.
	Exceeds string `json:"exceeds"`
	Flag    string `json:"flag"`
}

// Implied is what an efficiency asks of modulation, coding and layers at least, see
// [Analyse].
type Implied struct {
	// Layers is the fewest layers that reach the efficiency; 0 if none of those that
	// the carriers have do.
	Layers int `json:"at_least_layers"`
	// Lowest is the row with the lowest product of layers, modulation order and code
	// rate that reaches it; null if none does.
	Lowest *Scheme `json:"lowest"`
	// Options has the lowest row for each number of layers that reaches it.
	Options   []Scheme      `json:"options"`
	Statement string        `json:"statement"`
	Source    render.Source `json:"source"` // of the rows
}

// Scheme is a number of layers with a modulation and code rate of the tables.
type Scheme struct {
	Layers   int     `json:"layers"`
	QAM      int     `json:"qam"`
	CodeRate float64 `json:"code_rate"`
	Index    int     `json:"index"` // I_MCS of NR, CQI of LTE
	// Bits are layers times modulation order times code rate.
	Bits float64 `json:"bits_per_re"`
}

// Spread is the middle and the spread of some values.
type Spread struct {
	Count  int     `json:"count"`
	Median float64 `json:"median"`
	Min    float64 `json:"min"`
	Max    float64 `json:"max"`
	// Quartiles are given for four values and more: the medians of the lower and
	// the upper half, without the middle value of an odd number.
	LowerQuartile *float64 `json:"lower_quartile"`
	UpperQuartile *float64 `json:"upper_quartile"`
}

// Measured is what all runs say together; null where no run says it.
type Measured struct {
	Down *MeasuredRate `json:"down"`
	Up   *MeasuredRate `json:"up"`
}

// MeasuredRate is the rates of all runs in a direction.
type MeasuredRate struct {
	Spread
	// AtMedian and AtBest are the median and the best run against what the carriers
	// can yield.
	AtMedian Reached `json:"at_median"`
	AtBest   Reached `json:"at_best"`
}

// LatencyReport is the round-trip times of all runs in ms; null where not measured.
type LatencyReport struct {
	Idle       *Spread `json:"idle_ms"`
	LoadedDown *Spread `json:"loaded_down_ms"`
	LoadedUp   *Spread `json:"loaded_up_ms"`
	// Added is the median under load less the median without.
	Added Loaded `json:"added_ms"`
	// RoundTrips are 60 000 ms divided by the median under load; IdleRoundTrips by
	// the median without.
	RoundTrips     Loaded   `json:"round_trips_per_minute"`
	IdleRoundTrips *float64 `json:"idle_round_trips_per_minute"`
}

// TransferReport is a file that was moved.
type TransferReport struct {
	Number    int              `json:"number"`
	Size      quantity.Size    `json:"size"`
	Bits      int64            `json:"bits"`
	Seconds   quantity.Decimal `json:"seconds"`
	Direction string           `json:"direction"` // "down" or "up"
	Where     string           `json:"where"`
	When      string           `json:"when"`
	Notes     []string         `json:"notes"`
	Mean      float64          `json:"mean_mbps"`
	// Expected is how long it should have taken at the median of the runs, Median;
	// null without runs in that direction.
	Expected  *float64 `json:"expected_seconds"`
	Median    *float64 `json:"median_mbps"`
	OfMedian  *float64 `json:"share_of_median"`
	Exceeds   string   `json:"exceeds"` // as in Reached
	Statement string   `json:"statement"`
}

// CellsReport is which carriers may belong together on the air.
type CellsReport struct {
	Groups []GroupReport `json:"groups"`
	// Without are the numbers of the carriers without a PCI.
	Without    []int             `json:"without_pci"`
	Remarks    []string          `json:"remarks"`
	Neighbours []NeighbourReport `json:"neighbours"`
	Clashes    []ClashReport     `json:"clashes"`
	Levels     []LevelReport     `json:"levels"`
}

// GroupReport is the carriers of a technology that show the same PCI.
type GroupReport struct {
	RAT       string `json:"rat"`
	PCI       int    `json:"pci"`
	Carriers  []int  `json:"carriers"` // numbers
	Statement string `json:"statement"`
}

// NeighbourReport is a cell that was heard but did not serve.
type NeighbourReport struct {
	Number  int      `json:"number"`
	Band    string   `json:"band"`
	Channel *int32   `json:"channel"`
	Centre  *float64 `json:"centre_mhz"`
	PCI     int      `json:"pci"`
	RSRP    *float64 `json:"rsrp_dbm"`
}

// ClashReport is two cells on one channel whose identities clash.
type ClashReport struct {
	Cells     [2]string      `json:"cells"` // "carrier 2", "neighbour 1"
	Relation  cells.Relation `json:"relation"`
	Statement string         `json:"statement"`
	Source    render.Source  `json:"source"`
}

// LevelReport compares the level of a carrier with that of the one lowest in
// frequency.
type LevelReport struct {
	Carrier     int     `json:"carrier"`
	Reference   int     `json:"reference"`
	Measured    float64 `json:"measured_db"` // below the reference
	Expected    float64 `json:"expected_db"`
	Difference  float64 `json:"difference_db"`
	Within      bool    `json:"within"`
	Approximate bool    `json:"approximate"`
	Statement   string  `json:"statement"`
	// Basis is where the expectation is from.
	Basis string `json:"basis"`
}

// RadioReport holds the ports of a radio against the layers of one phone.
type RadioReport struct {
	Name      string   `json:"name"`
	Ports     string   `json:"ports"` // "8T8R"
	Transmit  int      `json:"transmit_ports"`
	Receive   int      `json:"receive_ports"`
	Antenna   string   `json:"antenna"`
	Connected *int     `json:"connected_transmit_ports"`
	Numbers   []int    `json:"connected_ports"`
	Bands     []string `json:"bands"`
	Notes     []string `json:"notes"`
	// PhoneLayers is the most layers that one phone can get, PhonePorts its receive
	// antennas; Assumed tells that the log does not give these.
	PhoneLayers int  `json:"phone_layers"`
	PhonePorts  int  `json:"phone_ports"`
	Assumed     bool `json:"phone_ports_assumed"`
	// Phones is how many such phones the ports can serve at once at most.
	Phones     int      `json:"phones_at_once"`
	Statements []string `json:"statements"`
}

// SharedCell is a cell that carriers of several networks show alike.
type SharedCell struct {
	Networks  []string `json:"networks"`
	Band      string   `json:"band"`
	Centre    float64  `json:"centre_mhz"`
	PCI       *int     `json:"pci"` // null where not all give the same
	Statement string   `json:"statement"`
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
