// Package siteplan reads the plan of a site: what its sectors send, with how many
// antenna ports, for which traffic and over which link. It says what is wrong with a
// plan, and knows no output format.
//
// A plan is a TOML file. Its keys, * where one has to be there:
//
//	name*          text, one line
//	date           2031-05-14
//	place, author  text, one line
//	notes          text, or a list of texts
//	environment    "indoor-hotspot", "dense-urban", "urban" or "rural", for every sector that
//	               does not say; one of the two has to
//	load_percent   share of the downlink that the busy hour uses, above 0 to 100 (the
//	               default), for every sector that does not say; ul_load_percent for
//	               the uplink
//
//	[traffic]      what users are to have
//	rate_mbps, ul_rate_mbps   the rate of a user; users are counted by those given
//	active_percent            share of the users that are active at once, 0.1 to 100
//	                          (the default)
//	oversubscription          how many times the rates are sold, 1 (the default) to 1000
//	busy_hour_percent         share of a day's traffic in the busy hour
//
//	[backhaul]     the link of the site to the network
//	link           its rate with unit: "10 Gbit/s"; in both directions
//	ul_link        its rate away from the site, where that is another
//	transport_percent         headers of tunnel and transport, as a share of user data
//	security_percent          encryption likewise; 0 is the default
//	size_by        "phone" (the default) or "cell": whether the link has to carry the
//	               peak of one phone, or of a cell with the layers of all its users
//
//	[coverage]     how far the carriers reach; left out where nobody asks
//	model*         "free-space", "uma", "umi", "inh" or "rma", "street" or
//	               "street-residential" (ITU-R P.1411)
//	sight          "los", "nlos" (the default) or "nlos-optional"
//	base_height_m, user_height_m, street_width_m, building_height_m
//	               those of the model if not given
//	entry          what stands round the user: "none" (the default), "low-loss",
//	               "high-loss", "model-a", "vehicle" or "vehicle-metallised" (Report
//	               ITU-R M.2412), "tr38901-low-loss", "tr38901-low-loss-a",
//	               "tr38901-high-loss", "p2109-traditional", "p2109-efficient"
//	clutter        true: clutter round the user by ITU-R P.2108, in free space alone
//	depth_m        metres behind the outer wall; the mean of the model if not given
//	places_percent share of the places at the edge that are to be served, 50 to 99.9;
//	               50 is the default and needs no margin
//	target_mbps, ul_target_mbps   a rate of all carriers of a sector: how far it goes
//	distance_m     where the level (RSRP) is asked for
//	noise_figure_db, base_noise_figure_db   of the phone and of the site
//	sinr_db        what both ends need, 0 by default
//	user_power_dbm, uplink_blocks           what the phone sends, and over how many
//	               resource blocks at the edge; the uplink is left out without them
//	sensitivity    "budget" (the default): by noise figure and sinr_db; "refsens": beside
//	               it, where the level falls to the standard's REFSENS, in both directions
//	bs_class       with "refsens": "wide-area" (the default), "medium-range", "local-area"
//	user_power_class, user_receive_ports    with "refsens": 3 and 2 are the defaults
//	extrapolate    true: work out and mark what is outside the validity of the model
//
//	[growth]       how the traffic grows; left out where nobody asks
//	percent_a_year*
//
//	[[option]]     a change that the planner thinks of
//	name*          text, one line
//	set*           list of settings: ["sector.town.carriers=n78:100 + B3:20"], see Vary
//
//	[[sector]]*    one for each kind of sector
//	name           text, one line; different for each
//	count          how many sectors are alike, 1 to 100
//	environment, load_percent, ul_load_percent   as above
//
//	[[sector.radio]]*   one for each radio of the sector
//	name           text, one line
//	carriers*      text in the carrier notation: "B3:20 + n78:80@640000"
//	ports*         transmit and receive ports: "8T8R"
//	cell_layers, ul_cell_layers   layers in the air at once over all users
//	airtime_percent               share of time in which it has the channel of unlicensed bands
//	lte_cell                      what of its LTE cells is not as usual, see lte.ParseCell
//	signals                       control and reference signals of its NR carriers, see nr.ParseSignals
//	measured       table of efficiencies in bit/s/Hz of the own network: dl_bps_hz,
//	               ul_bps_hz, dl_edge_bps_hz, ul_edge_bps_hz, one at least; origin*
//	               (where they are from); ports that they were measured with
//	power_dbm, gain_dbi   of each carrier over all ports, and of the antenna less
//	               losses; both have to be there with [coverage]
//
// Numbers stand without quotes. Percentages and factors have at most four decimals.
package siteplan

import (
	"spectally/throughput/exact"
	"spectally/throughput/propagation"
	"spectally/throughput/site"
)

// Limits of a plan.
const (
	maxSectors  = 100
	maxRadios   = 32
	maxCarriers = 32 // of a sector: serving cells of a UE, see package ca
)

// Plan is a site as its planner wrote it down.
type Plan struct {
	Date   string // 2031-05-14; empty if not given
	Place  string
	Author string
	Notes  []string // paragraphs
	// Site has the name of the site too. It can be planned without an error.
	Site site.Site
	// Radios has what Site does not know of Site.Sectors[i].Radios[k].
	Radios [][]Radio
	// Coverage is nil where the plan does not ask for it.
	Coverage *propagation.Coverage
	// Target and UplinkTarget are the rates at the cell edge that are asked for.
	Target, UplinkTarget exact.Ratio
	// Growth is that of the traffic in per cent a year; 0 where nobody asks.
	Growth float64
	// Options are changes that the planner thinks of.
	Options []Option
	// Source is the plan as it was written.
	Source string
}

// Radio is what a plan says of a radio beyond its capacity.
type Radio struct {
	Name     string
	Emission propagation.Emission // of each carrier; for Coverage alone
}
