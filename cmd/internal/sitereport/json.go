package sitereport

import (
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// siteValue is the answer as JSON shows it. Shares are parts of 1, widths MHz, rates
// Mbit/s. What there is not is null.
type siteValue struct {
	Name        string            `json:"name"`
	Date        string            `json:"date"`
	Place       string            `json:"place"`
	Author      string            `json:"author"`
	Notes       []string          `json:"notes"`
	Sectors     []sectorValue     `json:"sectors"`
	Site        totalValue        `json:"site"`
	Limits      []limitValue      `json:"limits"`
	WhatIf      []changeValue     `json:"what_if"` // the best first
	Builds      []buildValue      `json:"builds"`
	PortsChange []string          `json:"ports_change"`
	PortsKeep   []string          `json:"ports_keep"`
	Options     []comparedValue   `json:"options"` // the plan itself first; none if it has no options
	Growth      *growth           `json:"growth"`
	Coverage    *coverageValue    `json:"coverage"`
	Assumptions []assumptionValue `json:"assumptions"`
	Cautions    []string          `json:"cautions"`
	Sources     []render.Source   `json:"sources"`
	Working     []render.Step     `json:"working"`
}

// capacityValue is a direction of a carrier, a sector or the site.
type capacityValue struct {
	Width           figures.Figure `json:"width_mhz"`
	Effective       figures.Figure `json:"effective_mhz"`    // weighted by the share of time
	Max             figures.Figure `json:"max_rate_mbps"`    // one phone
	Schedulable     figures.Figure `json:"schedulable_mbps"` // one phone
	Scheduled       figures.Figure `json:"scheduled_mbps"`   // one phone
	CellMax         figures.Figure `json:"cell_max_rate_mbps"`
	CellSchedulable figures.Figure `json:"cell_schedulable_mbps"`
	CellScheduled   figures.Figure `json:"cell_scheduled_mbps"`
	FullLoad        figures.Figure `json:"full_load_mbps"`
	BusyHour        figures.Figure `json:"busy_hour_mbps"`
	Edge            figures.Figure `json:"edge_mbps"`
}

type linkValue struct {
	capacityValue
	Share          figures.Figure  `json:"share"`
	Layers         int             `json:"layers"` // one phone
	CellLayers     int             `json:"cell_layers"`
	QAM            int             `json:"qam"`
	LayersAssumed  bool            `json:"layers_assumed"`
	QAMAssumed     bool            `json:"qam_assumed"`
	InUser         bool            `json:"in_sector_peak"` // the peak of one phone in the sector counts it
	Efficiency     efficiencyValue `json:"efficiency"`
	EdgeEfficiency efficiencyValue `json:"edge_efficiency"`
	LimitedBy      string          `json:"limited_by"` // spectrum or layers
}

type efficiencyValue struct {
	Value      figures.Figure `json:"bps_hz"`
	Basis      string         `json:"basis"`
	Source     *render.Source `json:"source"`
	Origin     string         `json:"origin"` // of the planner's own figure
	FromMemory bool           `json:"from_memory"`
}

type carrierValue struct {
	combination.Carrier
	Radio    int        `json:"radio"` // of the sector, counted from 1
	Name     string     `json:"radio_name"`
	Transmit int        `json:"transmit_ports"`
	Receive  int        `json:"receive_ports"`
	Downlink *linkValue `json:"dl"`
	Uplink   *linkValue `json:"ul"`
}

type sectorValue struct {
	Number            int            `json:"sector"`
	Name              string         `json:"name"`
	Count             int            `json:"count"`
	Environment       string         `json:"environment"`
	Load              figures.Figure `json:"load"`
	UplinkLoad        figures.Figure `json:"ul_load"`
	combination.Value                // of one phone that uses all carriers
	Carriers          []carrierValue `json:"carriers"`
	Downlink          *capacityValue `json:"dl"`
	Uplink            *capacityValue `json:"ul"`
	Backhaul          backhaulValue  `json:"backhaul"` // of one such sector by itself
	Users             *usersValue    `json:"users"`
}

// totalValue is the whole site.
type totalValue struct {
	Sectors  int            `json:"sectors"`
	Downlink *capacityValue `json:"dl"`
	Uplink   *capacityValue `json:"ul"`
	Backhaul backhaulValue  `json:"backhaul"`
	Users    *usersValue    `json:"users"`
	Volume   volumeValue    `json:"volume"`
}

type backhaulValue struct {
	Factor   figures.Figure `json:"overhead_factor"`
	Downlink linkNeedValue  `json:"dl"`
	Uplink   linkNeedValue  `json:"ul"`
}

type linkNeedValue struct {
	Peak      figures.Figure  `json:"peak_mbps"`
	Means     figures.Figure  `json:"busy_hour_mbps"`
	By        string          `json:"by"` // peak or busy-hour: the larger
	Need      figures.Figure  `json:"need_mbps"`
	Link      *figures.Figure `json:"link_mbps"`
	Enough    *bool           `json:"enough"`
	Delivered figures.Figure  `json:"delivered_mbps"` // of the busy hour, what the link lets through
}

type usersValue struct {
	Active int64  `json:"active"`
	Served int64  `json:"served"`
	By     string `json:"by"` // the direction that decides
}

type volumeValue struct {
	BusyHourShare figures.Figure `json:"busy_hour_share"`
	BusyHour      bytesValue     `json:"busy_hour"`
	Day           bytesValue     `json:"day"`
	Month         bytesValue     `json:"month"`
}

type bytesValue struct {
	Downlink figures.Figure `json:"dl_gb"`
	Uplink   figures.Figure `json:"ul_gb"`
}

type limitValue struct {
	Direction string `json:"direction"`
	Kind      string `json:"kind"`
	Text      string `json:"text"`
}

type changeValue struct {
	Kind            string         `json:"kind"`
	Text            string         `json:"text"`
	Note            string         `json:"note"`
	Gain            figures.Figure `json:"dl_gain_mbps"` // of the busy hour, on the air
	UplinkGain      figures.Figure `json:"ul_gain_mbps"`
	Delivered       figures.Figure `json:"dl_delivered_gain_mbps"`
	UplinkDelivered figures.Figure `json:"ul_delivered_gain_mbps"`
	Need            figures.Figure `json:"dl_need_gain_mbps"` // of the link
	UplinkNeed      figures.Figure `json:"ul_need_gain_mbps"`
}

type buildValue struct {
	Ports            int            `json:"ports"`
	ArrayGain        figures.Figure `json:"array_gain_db"`
	CellLayers       int            `json:"cell_layers"`
	UplinkCellLayers int            `json:"ul_cell_layers"`
	Downlink         *capacityValue `json:"dl"`
	Uplink           *capacityValue `json:"ul"`
	Backhaul         backhaulValue  `json:"backhaul"`
	Users            *usersValue    `json:"users"`
	Text             []string       `json:"text"`
}

type assumptionValue struct {
	Text   string         `json:"text"`
	Source *render.Source `json:"source"`
}

// Answers are values of the types that JSON shows: for a plan, for plans side by
// side, and for the rows of many sites.
func Answers() []any { return []any{siteValue{}, plansValue{}, []rowValue{}} }
