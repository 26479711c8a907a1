// Package walk works out what the samples of a walk or a drive tell: distributions by
// network, band and cell, what a signal quality yielded against what it lets expect, how
// the level falls with distance and how far it therefore reaches, where cells change and
// where there are none. Samples come one by one and are not kept, but for what is
// bounded; except for what follows the way (changes, gaps, the strip) their order does
// not matter. It knows no files and no output format.
package walk

import "spectally/cmd/internal/render"

// Report is what samples tell. Its fields are those of the JSON output; what is not
// known is null.
type Report struct {
	Files    []string  `json:"files"`
	Samples  int64     `json:"samples"` // that were used
	Networks []Network `json:"networks"`
	// LeftOut are samples that cannot be, the first of them; LeftOutCount counts all.
	LeftOut      []LeftOut       `json:"left_out"`
	LeftOutCount int64           `json:"left_out_count"`
	Notes        []string        `json:"notes,omitempty"`
	Assumptions  []string        `json:"assumptions"`
	Cautions     []string        `json:"cautions"`
	Sources      []render.Source `json:"sources"`

	// Site is where distances are from, if it was given.
	Site *Site `json:"site"`
	// Unjoined counts samples that the track does not reach.
	Unjoined int64 `json:"without_place_on_track"`
}

// Site is a place: latitude and longitude, or metres.
type Site struct {
	Lat *float64 `json:"lat"`
	Lon *float64 `json:"lon"`
	X   *float64 `json:"x_m"`
	Y   *float64 `json:"y_m"`
}

// LeftOut is a row that was not used, and why.
type LeftOut struct {
	File   string `json:"file"`
	Line   int64  `json:"line"`
	Reason string `json:"reason"`
}

// Measured are the distributions of a group of samples. Levels are those of a cell; rates
// and latency are those of the phone while the first carrier was in the group.
type Measured struct {
	Samples int64        `json:"samples"`
	RSRP    *Percentiles `json:"rsrp"`    // dBm
	RSRQ    *Percentiles `json:"rsrq"`    // dB
	SINR    *Percentiles `json:"sinr"`    // dB
	Down    *Percentiles `json:"down"`    // Mbit/s
	Up      *Percentiles `json:"up"`      // Mbit/s
	Latency *Percentiles `json:"latency"` // ms
}

// Percentiles are some of a distribution: the smallest sample that so many per cent of
// the samples do not exceed.
type Percentiles struct {
	N   int64   `json:"n"`
	P5  float64 `json:"p5"`
	P25 float64 `json:"p25"`
	P50 float64 `json:"p50"`
	P75 float64 `json:"p75"`
	P95 float64 `json:"p95"`
	// Exact is false where there are too many samples to keep; the relative error is
	// stats.RelativeError at most then.
	Exact bool `json:"exact"`
}

// Network is what the samples of a network tell.
type Network struct {
	Name string `json:"name"`
	Measured
	// Shares of what the carriers can schedule, and of what the signal lets expect.
	OfScheduled *Percentiles `json:"share_of_scheduled"`
	OfExpected  *Percentiles `json:"share_of_expected"`
	BySINR      []Bin        `json:"by_sinr"`
	ByRSRP      []Bin        `json:"by_rsrp"`
	Bands       []Band       `json:"bands"`
	Offsets     []Offset     `json:"offsets"`
	Carriers    []CarrierUse `json:"carriers"`
	// Changes are cell changes, the first of them; ChangeCount counts all, PingPongs
	// those that soon went back.
	Changes     []Change `json:"changes"`
	ChangeCount int64    `json:"change_count"`
	PingPongs   int64    `json:"ping_pong_count"`
	Gaps        []Gap    `json:"gaps"`
	GapCount    int64    `json:"gap_count"`
	// Way is how far the samples go; null without places. Seconds is how long.
	Way     *float64 `json:"way_m"`
	Seconds *float64 `json:"seconds"`
	// Backwards counts samples older than the one before: they are not part of the way.
	Backwards int64 `json:"out_of_order"`

	// Curve are the percentiles 0, 1, 2 … 100 of RSRP, for a drawing; nil without any.
	Curve  []float64 `json:"-"`
	Strip  Strip     `json:"-"`
	Points []Point   `json:"-"`
	// Thinned tells that Points has one sample out of so many.
	Thinned int `json:"-"`
}

// Band is what the samples of a band tell.
type Band struct {
	Band string `json:"band"`
	Measured
	OfScheduled *Percentiles `json:"share_of_scheduled"`
	OfExpected  *Percentiles `json:"share_of_expected"`
	BySINR      []Bin        `json:"by_sinr"`
	ByRSRP      []Bin        `json:"by_rsrp"`
	Fit         *Fit         `json:"fit"`
	Reach       []Reach      `json:"reach"`
	Cells       []Cell       `json:"cells"`

	Scatter []Dot `json:"-"`
}

// Cell is what the samples of a cell tell.
type Cell struct {
	Channel *int32 `json:"channel"`
	PCI     *int32 `json:"pci"`
	Name    string `json:"cell"`
	Measured
	Fit *Fit `json:"fit"`
}

// Bin holds the rates of samples of which a level lies in a range.
type Bin struct {
	Low  float64 `json:"low"` // included
	High float64 `json:"high"`
	N    int64   `json:"n"`
	// P25 to P75 are measured, Expected is the mean of what the SINR lets expect; Mbit/s.
	P25      float64  `json:"p25_mbps"`
	P50      float64  `json:"p50_mbps"`
	P75      float64  `json:"p75_mbps"`
	Expected *float64 `json:"expected_mbps"`
}

// Fit is a line fitted to levels against the logarithm of distance:
// intercept + slope * log10(distance/reference). Intervals are of 95 %.
type Fit struct {
	N             int64   `json:"n"`
	Slope         float64 `json:"slope_db_per_decade"`
	SlopeLow      float64 `json:"slope_low"`
	SlopeHigh     float64 `json:"slope_high"`
	Intercept     float64 `json:"intercept_dbm"`
	InterceptLow  float64 `json:"intercept_low"`
	InterceptHigh float64 `json:"intercept_high"`
	Reference     float64 `json:"reference_m"`
	Sigma         float64 `json:"sigma_db"`
	SigmaLow      float64 `json:"sigma_low"`
	SigmaHigh     float64 `json:"sigma_high"`
	Least         float64 `json:"least_m"`
	Most          float64 `json:"most_m"`
}

// Reach is how far a level is kept by a fit: in the median, and in 90 % of places.
type Reach struct {
	Level        float64 `json:"rsrp_dbm"`
	Median       float64 `json:"median_m"`
	P90          float64 `json:"p90_m"`
	Extrapolated bool    `json:"extrapolated"` // either is beyond the samples
}

// Offset compares the fitted level of a band with that of the lowest at a distance.
type Offset struct {
	Band      string  `json:"band"`
	Reference string  `json:"reference"`
	At        float64 `json:"at_m"`
	// Offset is how far the band lies above the reference in dB, Expected what frequency
	// alone makes of it.
	Offset   float64 `json:"offset_db"`
	Low      float64 `json:"offset_low"`
	High     float64 `json:"offset_high"`
	Expected float64 `json:"expected_db"`
	// Within tells whether they differ by no more than cells.LevelMargin.
	Within bool `json:"within_margin"`
}

// CarrierUse is how a carrier came and went.
type CarrierUse struct {
	Carrier string  `json:"carrier"`
	Samples int64   `json:"samples"`
	Share   float64 `json:"share"` // of the samples of the network
	Came    int64   `json:"came"`
	Went    int64   `json:"went"`
}

// Spot is where and when something is: what is not known is null.
type Spot struct {
	Time string   `json:"time"` // RFC 3339; empty if not known
	Lat  *float64 `json:"lat"`
	Lon  *float64 `json:"lon"`
	X    *float64 `json:"x_m"`
	Y    *float64 `json:"y_m"`
	// Distance is that from the site, Way that along the way.
	Distance *float64 `json:"distance_m"`
	Way      *float64 `json:"way_m"`
}

// Change is a change of the serving cell.
type Change struct {
	Spot
	From   string   `json:"from"`
	To     string   `json:"to"`
	Before *float64 `json:"rsrp_before"`
	After  *float64 `json:"rsrp_after"`
	// PingPong tells that the change goes back to a cell that was left shortly before.
	PingPong bool `json:"ping_pong"`
}

// Gap is a stretch without coverage, or without samples.
type Gap struct {
	Spot
	Kind    GapKind  `json:"kind"`
	Metres  *float64 `json:"length_m"`
	Seconds *float64 `json:"seconds"`
}

// GapKind says what is missing in a gap.
type GapKind string

// The kinds of gaps.
const (
	NoCoverage GapKind = "no-coverage" // no cell, or one below the level of a gap
	NoSamples  GapKind = "no-samples"
)

// Dot is so many samples about a distance and a level.
type Dot struct {
	Distance, Level float64
	N               int64
}
