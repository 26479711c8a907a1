package fieldlog

import (
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
)

// SpotReport is where a run was made, and what the phone showed there; null where it is
// not known.
type SpotReport struct {
	Distance *float64 `json:"distance_m"`
	Lat      *float64 `json:"lat"`
	Lon      *float64 `json:"lon"`
	RSRP     *float64 `json:"rsrp_dbm"`
	SINR     *float64 `json:"sinr_db"`
	Carriers []int    `json:"carriers"` // that were active; all if there are none
}

// RunReport is one speed test.
type RunReport struct {
	Number int    `json:"number"` // from 1
	Where  string `json:"where"`
	When   string `json:"when"`
	SpotReport
	Notes []string `json:"notes"`
	// Expected is what the signal supports on the active carriers; null where a carrier
	// has neither SINR nor RSRP.
	Expected *Expectation `json:"expected"`
	Down     *Reached     `json:"down"` // null where not measured
	Up       *Reached     `json:"up"`
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
	// Shares of the maximum rate, of the scheduled rate, and in the downlink of what the
	// signal supports.
	OfMax       *float64 `json:"share_of_max"`
	OfScheduled *float64 `json:"share_of_scheduled"`
	OfExpected  *float64 `json:"share_of_expected"`
	// Efficiency is over the channel bandwidth of the direction, ActiveEfficiency
	// over that bandwidth weighted by the direction's share of time, in bit/s/Hz.
	Efficiency       *float64 `json:"bps_hz"`
	ActiveEfficiency *float64 `json:"bps_hz_active"`
	Implied          *Implied `json:"implied"`
	// Exceeds tells which ceiling the rate is above: "maximum", "scheduled" or
	// empty. Flag says so in a sentence.
	Exceeds string `json:"exceeds"`
	Flag    string `json:"flag"`
}

// Implied is what a rate asks of modulation, coding and layers, see [Analyse].
type Implied struct {
	// Layers is the fewest layers that reach the rate, with the leanest signals; 0 if none
	// of those that the carriers have do.
	Layers int `json:"at_least_layers"`
	// Lowest is the one of Options with the lowest product of layers, modulation order and
	// code rate; null if there are none.
	Lowest *Scheme `json:"lowest"`
	// Options has for each number of layers the lowest row that reaches the rate in a usual
	// schedule, Leanest in that with the leanest signals.
	Options   []Scheme      `json:"options"`
	Leanest   []Scheme      `json:"leanest"`
	Statement string        `json:"statement"`
	Source    render.Source `json:"source"` // of the rows of the largest constellation
}

// Scheme is a number of layers with a modulation and code rate of the tables.
type Scheme struct {
	Layers   int     `json:"layers"`
	QAM      int     `json:"qam"`
	CodeRate float64 `json:"code_rate"`
	Index    int     `json:"index"` // I_MCS of NR, CQI of LTE
	// Bits are layers times modulation order times code rate.
	Bits  float64 `json:"bits_per_re"`
	Table string  `json:"table"` // of the row, in the specification of the source
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
	// Added is the median, over the places that have both times, of the median under load
	// less the median without.
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
	// Expected is how long it should have taken at the median of the runs at its
	// place, Median; null without such runs in that direction.
	Expected  *float64 `json:"expected_seconds"`
	Median    *float64 `json:"median_mbps"`
	OfMedian  *float64 `json:"share_of_median"`
	Exceeds   string   `json:"exceeds"` // as in Reached
	Statement string   `json:"statement"`
}
