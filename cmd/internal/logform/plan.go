package logform

import (
	"spectally/bands/rf"
	"spectally/throughput/propagation"
	"spectally/throughput/site"
)

var (
	settings   = Field{Key: "environment", Name: "Environment", Sort: Choice, Options: site.EnvironmentNames()}
	load       = Field{Key: "load_percent", Name: "Load down", Unit: "%", Sort: Number}
	uplinkLoad = Field{Key: "ul_load_percent", Name: "Load up", Unit: "%", Sort: Number}
)

// sitePlan is the form of a plan of a site.
var sitePlan = &Section{
	Name: "Plan",
	Fields: []Field{
		{Key: "name", Name: "Name"},
		{Key: "date", Name: "Date", Sort: Date},
		settings, load, uplinkLoad,
		{Key: "backhaul.link", Name: "Link, such as 2 Gbit/s"},
		{Key: "traffic.rate_mbps", Name: "Rate of a user down", Unit: "Mbit/s", Sort: Number},
		{Key: "traffic.ul_rate_mbps", Name: "Rate of a user up", Unit: "Mbit/s", Sort: Number},
		{Key: "traffic.active_percent", Name: "Active at once", Unit: "%", Sort: Number},
		{Key: "place", Name: "Place", Folded: true},
		{Key: "author", Name: "Author", Folded: true},
		{Key: "traffic.oversubscription", Name: "Oversubscription", Sort: Number, Folded: true},
		{Key: "traffic.busy_hour_percent", Name: "Busy hour, of a day", Unit: "%", Sort: Number, Folded: true},
		{Key: "backhaul.ul_link", Name: "Link away from the site", Folded: true},
		{Key: "backhaul.transport_percent", Name: "Transport headers", Unit: "%", Sort: Number, Folded: true},
		{Key: "backhaul.security_percent", Name: "Encryption", Unit: "%", Sort: Number, Folded: true},
		{Key: "backhaul.size_by", Name: "Link carries the peak of a", Sort: Choice, Options: []string{"phone", "cell"}, Folded: true},
		{Key: "growth.percent_a_year", Name: "Growth a year", Unit: "%", Sort: Number, Folded: true},
		{Key: "coverage.model", Name: "Path loss model", Sort: Choice, Options: propagation.ScenarioNames(), Folded: true},
		{Key: "coverage.sight", Name: "Sight", Sort: Choice, Options: propagation.SightNames(), Folded: true},
		{Key: "coverage.base_height_m", Name: "Height of the antennas", Unit: "m", Sort: Number, Folded: true},
		{Key: "coverage.user_height_m", Name: "Height of the phone", Unit: "m", Sort: Number, Folded: true},
		{Key: "coverage.street_width_m", Name: "Width of streets", Unit: "m", Sort: Number, Folded: true},
		{Key: "coverage.building_height_m", Name: "Height of buildings", Unit: "m", Sort: Number, Folded: true},
		{Key: "coverage.entry", Name: "Phone is behind", Sort: Choice, Options: propagation.EntryNames(), Folded: true},
		{Key: "coverage.depth_m", Name: "Behind the outer wall", Unit: "m", Sort: Number, Folded: true},
		{Key: "coverage.clutter", Name: "Clutter round the phone", Sort: Check, Folded: true},
		{Key: "coverage.places_percent", Name: "Served places at the edge", Unit: "%", Sort: Number, Folded: true},
		{Key: "coverage.target_mbps", Name: "Rate at the edge down", Unit: "Mbit/s", Sort: Number, Folded: true},
		{Key: "coverage.ul_target_mbps", Name: "Rate at the edge up", Unit: "Mbit/s", Sort: Number, Folded: true},
		{Key: "coverage.distance_m", Name: "Level at the distance", Unit: "m", Sort: Number, Folded: true},
		{Key: "coverage.noise_figure_db", Name: "Noise figure of the phone", Unit: "dB", Sort: Number, Folded: true},
		{Key: "coverage.base_noise_figure_db", Name: "Noise figure of the site", Unit: "dB", Sort: Number, Folded: true},
		{Key: "coverage.sinr_db", Name: "SINR that is needed", Unit: "dB", Sort: Number, Folded: true},
		{Key: "coverage.user_power_dbm", Name: "Power of the phone", Unit: "dBm", Sort: Number, Folded: true},
		{Key: "coverage.uplink_blocks", Name: "Resource blocks of the phone", Sort: Number, Folded: true},
		{Key: "coverage.sensitivity", Name: "Sensitivity", Sort: Choice, Options: []string{"budget", "refsens"}, Folded: true},
		{Key: "coverage.bs_class", Name: "Class of the base station", Sort: Choice, Options: []string{string(rf.WideArea), string(rf.MediumRange), string(rf.LocalArea)}, Folded: true},
		{Key: "coverage.user_power_class", Name: "Power class of the phone", Sort: Amount, Options: []string{"3", "2", "1.5", "1"}, Folded: true},
		{Key: "coverage.user_receive_ports", Name: "Receive ports of the phone", Sort: Amount, Options: []string{"2", "4", "6", "8"}, Folded: true},
		{Key: "coverage.extrapolate", Name: "Beyond the validity of the model", Sort: Check, Folded: true},
		notes,
	},
	Lists: []*Section{
		{Key: "sector", Name: "Sector", Add: "Add a sector", Named: true, Fields: []Field{
			{Key: "name", Name: "Name"},
			{Key: "count", Name: "Alike sectors", Sort: Number},
			settings.folded(), load.folded(), uplinkLoad.folded(),
		}, Lists: []*Section{
			{Key: "radio", Name: "Radio", Add: "Add a radio", Named: true, Fields: []Field{
				{Key: "name", Name: "Name"},
				{Key: "ports", Name: "Ports, such as 8T8R", Kept: true},
				{Key: "carriers", Name: "Carriers in one line", Sort: Carriers},
				{Key: "power_dbm", Name: "Power of a carrier", Unit: "dBm", Sort: Number, Kept: true},
				{Key: "gain_dbi", Name: "Antenna less losses", Unit: "dBi", Sort: Number, Kept: true},
				{Key: "cell_layers", Name: "Layers of the cell down", Sort: Number, Folded: true},
				{Key: "ul_cell_layers", Name: "Layers of the cell up", Sort: Number, Folded: true},
				{Key: "airtime_percent", Name: "Airtime in unlicensed bands", Unit: "%", Sort: Number, Folded: true},
				{Key: "lte_cell", Name: "LTE cell, such as mbsfn=2", Folded: true},
				{Key: "signals", Name: "NR signals, such as ssb=8/20", Folded: true},
				{Key: "measured.dl_bps_hz", Name: "Measured mean down", Unit: "bit/s/Hz", Sort: Number, Folded: true},
				{Key: "measured.ul_bps_hz", Name: "Measured mean up", Unit: "bit/s/Hz", Sort: Number, Folded: true},
				{Key: "measured.dl_edge_bps_hz", Name: "Measured edge down", Unit: "bit/s/Hz", Sort: Number, Folded: true},
				{Key: "measured.ul_edge_bps_hz", Name: "Measured edge up", Unit: "bit/s/Hz", Sort: Number, Folded: true},
				{Key: "measured.origin", Name: "Measured where and when", Folded: true},
				{Key: "measured.ports", Name: "Measured with the ports", Folded: true},
			}},
		}},
		{Key: "option", Name: "Change", Add: "Add a change", Lead: "What the plan would be with other settings, one a line: backhaul.link=10 Gbit/s", Named: true, Fields: []Field{
			{Key: "name", Name: "Name"},
			{Key: "set", Name: "Settings", Sort: Lines},
		}},
	},
}

// held is the form of what networks hold.
var held = &Section{
	Name:   "List",
	Fields: []Field{{Key: "title", Name: "Title"}},
	Lists: []*Section{
		{Key: "network", Name: "Network", Add: "Add a network", Named: true, Fields: []Field{
			{Key: "name", Name: "Name"},
			{Key: "blocks", Name: "Blocks in MHz, such as 1805-1825/1710-1730, 3410-3500", Sort: Wide},
		}, Lists: []*Section{
			{Key: "block", Name: "Block", Add: "Add a block with more to say", Fields: []Field{
				{Key: "range", Name: "MHz, such as 3410-3500"},
				{Key: "bands", Name: "For the bands", Sort: Words},
				{Key: "from", Name: "Usable from", Sort: Date},
				{Key: "note", Name: "Note"},
				{Key: "indoor", Name: "Indoor only", Sort: Check},
				{Key: "shared", Name: "Shared with others", Sort: Check},
			}},
		}},
	},
}

func (f Field) folded() Field {
	f.Folded = true
	return f
}
