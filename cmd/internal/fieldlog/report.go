package fieldlog

import (
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/walk"
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
	Comparison []Compared   `json:"comparison"`
	Shared     []SharedCell `json:"shared_cells"`
	Overlaps   []Overlap    `json:"overlaps"`
	// Earlier is what has changed since an earlier log; null without one.
	Earlier  *EarlierReport  `json:"earlier"`
	Claims   []ClaimReport   `json:"claims"`
	Cautions []string        `json:"cautions"`
	Sources  []render.Source `json:"sources"`
}

// NetworkReport is what the log says and means of one network.
type NetworkReport struct {
	Name   string       `json:"name"`
	Device DeviceReport `json:"device"`
	Notes  []string     `json:"notes"`
	// Notation is the combination in the carrier notation.
	Notation string `json:"combination"`
	// Value is the answer about the carriers; Name stands above its own.
	combination.Value
	// Found are the findings with the names of their carriers.
	Found render.Findings `json:"-"`
	// Downlink and Uplink are what the combination can yield: null figures where that
	// cannot be worked out; PeakError says why.
	Downlink    combination.Rates  `json:"dl"`
	Uplink      combination.Rates  `json:"ul"`
	PeakError   string             `json:"peak_error"`
	Assumptions []AssumptionReport `json:"assumptions"`
	// Expected is what the signal of the carriers supports; null where one has neither SINR
	// nor RSRP. Gap says what measured rates below the scheduled ones can come from.
	Expected  *Expectation     `json:"expected"`
	Gap       string           `json:"gap"`
	Runs      []RunReport      `json:"runs"`
	Measured  Measured         `json:"measured"`
	Places    []PlaceReport    `json:"places"`
	Latency   LatencyReport    `json:"latency"`
	Transfers []TransferReport `json:"transfers"`
	Cells     CellsReport      `json:"cells"`
	Radios    []RadioReport    `json:"radios"`
	// Walk is what the runs with a distance, a place or a level tell as samples of a walk;
	// null if there are none.
	Walk *walk.Report `json:"walk"`
}

// DeviceReport is the phone or modem. Zero figures are not given.
type DeviceReport struct {
	Name             string `json:"name"`
	ReceiveAntennas  int    `json:"receive_antennas,omitempty"`
	TransmitAntennas int    `json:"transmit_antennas,omitempty"`
	QAM              int    `json:"qam,omitempty"`
	UplinkQAM        int    `json:"ulqam,omitempty"`
}

// AssumptionReport is something the rates rest on that the log does not say.
type AssumptionReport struct {
	Carriers []int         `json:"carriers"` // numbers; none where it holds for all
	Text     string        `json:"text"`
	Source   render.Source `json:"source"`
	// Said has the band apart from what is assumed of it.
	Said assumed.Statement `json:"-"`
}

// Compared is a network's row of the comparison; null where not known.
type Compared struct {
	Network            string          `json:"network"`
	Carriers           int             `json:"carriers"`
	Downlink           figures.Figure  `json:"dl_mhz"`
	Uplink             figures.Figure  `json:"ul_mhz"`
	DownlinkEquivalent figures.Figure  `json:"dl_equivalent_mhz"`
	Max                *figures.Figure `json:"max_rate_mbps"`
	Schedulable        *figures.Figure `json:"schedulable_mbps"`
	Scheduled          *figures.Figure `json:"scheduled_mbps"`
	// Place is where the medians are of: the place with the most runs.
	Place            string   `json:"place"`
	MedianDown       *float64 `json:"median_down_mbps"`
	BestDown         *float64 `json:"best_down_mbps"`
	MedianUp         *float64 `json:"median_up_mbps"`
	OfMax            *float64 `json:"share_of_max"` // of the median
	OfScheduled      *float64 `json:"share_of_scheduled"`
	Efficiency       *float64 `json:"bps_hz"`
	ActiveEfficiency *float64 `json:"bps_hz_active"`
	Idle             *float64 `json:"idle_ms"` // medians
	Loaded           *float64 `json:"loaded_down_ms"`
	Added            *float64 `json:"added_down_ms"`
	RoundTrips       *float64 `json:"round_trips_per_minute"`
}

// ClaimReport is a claim of the log and what became of it.
type ClaimReport struct {
	Number  int    `json:"number"`
	Network string `json:"network"` // empty if it is about none
	*claim.Judgement
}
