// Package logform is a field log, the plan of a site or a list of holdings as a form has it
// while it is filled in: every value is the text that was typed, whole or not. It is written
// as the TOML that the packages of those files read, and read out of it.
package logform

// Section is a table of a file: its fields, and the tables below it.
type Section struct {
	Key  string // of the tables in TOML
	Name string // of one of them, for people
	Add  string // the button that adds one
	// Named items begin with a name of their own.
	Named bool
	// Lead says what belongs there.
	Lead   string
	Fields []Field
	Lists  []*Section
}

// Sort is how a value is typed, and how TOML writes it.
type Sort uint8

// The sorts of values.
const (
	Line    Sort = iota // a line of text
	Wide                // a long line of text
	Lines               // a text on each line
	Prose               // text of several lines
	Number              // a number, as text if it is none
	Numbers             // numbers with commas between them
	Words               // texts with commas between them
	Choice              // one of a few texts
	Amount              // one of a few numbers
	Check               // yes or nothing
	Date
	Moment   // a time of the day, with or without a date
	Carriers // in the notation
	Network  // the name of a network of the log
)

// Field is a key of a table.
type Field struct {
	Key  string // with dots for a table in the table: "device.name"
	Name string // for people
	Unit string
	Sort Sort
	// Options are those of a choice.
	Options []string
	// Large fields are what one looks at a test for; Kept ones begin as the last one had
	// them.
	Large, Kept bool
	// Folded fields are shown once somebody asks for them.
	Folded bool
	// Kind is the kind of claim that has the field; empty for any.
	Kind string
}

var notes = Field{Key: "notes", Name: "Notes", Sort: Prose, Folded: true}

// spot is where and when a test was.
var spot = []Field{
	{Key: "where", Name: "Place", Kept: true},
	{Key: "when", Name: "Time", Sort: Moment},
}

// Claims are the kinds of statements, by the word that the fields have.
var Claims = []struct{ Kind, Text string }{
	{"total", "adds up to a bandwidth"}, {"count", "has a number of carriers"}, {"peak", "can reach a rate"}, {"measured", "was measured at a rate"},
	{"share", "reaches a share of the peak"}, {"efficiency", "reaches this many bit/s/Hz"}, {"transfer", "moved a file in a time"}, {"latency", "answers within a time"},
	{"reach", "reaches a distance"}, {"site", "has all its carriers on one site"}, {"compare", "has more or less than another network"},
}

// fieldLog is the form of a field log.
var fieldLog = &Section{
	Name: "Log",
	Fields: []Field{
		{Key: "title", Name: "Title"},
		{Key: "date", Name: "Date", Sort: Date},
		{Key: "place", Name: "Place"},
		{Key: "author", Name: "Author"},
		{Key: "site.lat", Name: "Site, latitude", Sort: Number, Folded: true},
		{Key: "site.lon", Name: "Site, longitude", Sort: Number, Folded: true},
		notes,
	},
	Lists: []*Section{
		{Key: "network", Name: "Network", Add: "Add a network", Named: true, Fields: []Field{
			{Key: "name", Name: "Name"},
			{Key: "carriers", Name: "Carriers in one line", Sort: Carriers},
			{Key: "device.name", Name: "Device", Kept: true},
			{Key: "device.receive_antennas", Name: "Receive antennas", Sort: Number, Kept: true},
			{Key: "device.transmit_antennas", Name: "Transmit antennas", Sort: Number, Kept: true, Folded: true},
			{Key: "device.qam", Name: "Largest constellation down", Sort: Amount, Options: []string{"64", "256", "1024"}, Kept: true, Folded: true},
			{Key: "device.ulqam", Name: "Largest constellation up", Sort: Amount, Options: []string{"16", "64", "256"}, Kept: true, Folded: true},
			{Key: "device.kind", Name: "Reduced capability", Sort: Choice, Options: []string{"redcap", "eredcap", "eredcap-full"}, Kept: true, Folded: true},
			notes,
		}, Lists: []*Section{
			{Key: "run", Name: "Speed test", Add: "Add a speed test", Fields: append([]Field{
				{Key: "down", Name: "Down", Unit: "Mbit/s", Sort: Number, Large: true},
				{Key: "up", Name: "Up", Unit: "Mbit/s", Sort: Number, Large: true},
				{Key: "idle_ms", Name: "Ping idle", Unit: "ms", Sort: Number, Large: true},
				{Key: "loaded_down_ms", Name: "Ping, download", Unit: "ms", Sort: Number, Large: true},
				{Key: "loaded_up_ms", Name: "Ping, upload", Unit: "ms", Sort: Number, Large: true},
			}, append(spot,
				Field{Key: "rsrp", Name: "RSRP", Unit: "dBm", Sort: Number},
				Field{Key: "sinr", Name: "SINR", Unit: "dB", Sort: Number},
				Field{Key: "distance_m", Name: "Distance from the site", Unit: "m", Sort: Number, Folded: true},
				Field{Key: "lat", Name: "Latitude", Sort: Number, Folded: true},
				Field{Key: "lon", Name: "Longitude", Sort: Number, Folded: true},
				Field{Key: "carriers", Name: "Carriers that were active", Sort: Numbers, Folded: true},
				notes)...)},
			{Key: "transfer", Name: "Transfer", Add: "Add a transfer", Fields: append([]Field{
				{Key: "size", Name: "Size, such as 1 GB"},
				{Key: "seconds", Name: "Took", Unit: "s", Sort: Number, Large: true},
				{Key: "direction", Name: "Direction", Sort: Choice, Options: []string{"down", "up"}},
			}, append(spot, notes)...)},
			{Key: "neighbour", Name: "Neighbour", Add: "Add a neighbour", Lead: "A cell that was heard but did not serve.", Fields: []Field{
				{Key: "band", Name: "Band"},
				{Key: "channel", Name: "Channel", Sort: Number},
				{Key: "frequency", Name: "or MHz", Sort: Number, Folded: true},
				{Key: "pci", Name: "PCI", Sort: Number},
				{Key: "rsrp", Name: "RSRP", Unit: "dBm", Sort: Number},
			}},
			{Key: "radio", Name: "Antenna", Add: "Add an antenna", Lead: "What was seen from where one may stand.", Fields: []Field{
				{Key: "name", Name: "Name"},
				{Key: "ports", Name: "Ports, such as 8T8R"},
				{Key: "antenna", Name: "Sort", Sort: Choice, Options: []string{"omni", "sector", "panel", "indoor"}},
				{Key: "connected", Name: "Connected ports", Sort: Numbers, Folded: true},
				{Key: "bands", Name: "Bands", Sort: Words},
				notes,
			}},
		}},
		{Key: "claim", Name: "Claim", Add: "Add a claim", Fields: []Field{
			{Key: "text", Name: "As it was published"},
			{Key: "network", Name: "Network", Sort: Network},
			{Key: "total_mhz", Name: "MHz", Sort: Number, Kind: "total"},
			{Key: "as", Name: "in the", Sort: Choice, Options: []string{"downlink", "uplink", "both", "occupied", "equivalent", "lte", "nr", "network"}, Kind: "total"},
			{Key: "carriers", Name: "Number of carriers", Sort: Number, Kind: "count"},
			{Key: "peak_mbps", Name: "Rate, Mbit/s", Sort: Number, Kind: "peak"},
			{Key: "measured_mbps", Name: "Rate, Mbit/s", Sort: Number, Kind: "measured"},
			{Key: "share_percent", Name: "Share, %", Sort: Number, Kind: "share"},
			{Key: "of", Name: "of the total of", Sort: Choice, Options: []string{"lte", "nr"}, Kind: "share"},
			{Key: "bps_hz", Name: "bit/s/Hz", Sort: Number, Kind: "efficiency"},
			{Key: "transfer", Name: "Size, such as 1 GB", Kind: "transfer"},
			{Key: "seconds", Name: "Seconds", Sort: Number, Kind: "transfer"},
			{Key: "rate_mbps", Name: "said of the rate, Mbit/s", Sort: Number, Kind: "transfer"},
			{Key: "idle_ms", Name: "Idle, ms", Sort: Number, Kind: "latency"},
			{Key: "loaded_ms", Name: "Under load, ms", Sort: Number, Kind: "latency"},
			{Key: "round_trips_per_minute", Name: "Round trips a minute", Sort: Number, Kind: "latency"},
			{Key: "distance_m", Name: "Distance, m", Sort: Number, Kind: "reach"},
			{Key: "same_site", Name: "All from one site", Sort: Check, Kind: "site"},
			{Key: "than", Name: "than", Sort: Network, Kind: "compare"},
			{Key: "by", Name: "compared by", Sort: Choice, Options: []string{"bandwidth", "rate", "measured"}, Kind: "compare"},
			{Key: "times", Name: "Times as much", Sort: Number, Kind: "compare"},
			{Key: "percent_more", Name: "Per cent more", Sort: Number, Kind: "compare"},
			{Key: "alike", Name: "Both sides alike", Sort: Check, Kind: "compare"},
			{Key: "direction", Name: "Direction", Sort: Choice, Options: []string{"down", "up"}, Folded: true},
			{Key: "relation", Name: "Figure is", Sort: Choice, Options: []string{"equal", "at least", "at most", "more than", "less than"}, Folded: true},
			{Key: "earlier", Name: "Of the earlier log", Sort: Check, Folded: true},
			{Key: "about", Name: "Rough figure", Sort: Check, Folded: true},
		}},
	},
}
