package fieldlog

import (
	"spectally/cmd/internal/cells"
	"spectally/cmd/internal/render"
)

// CellsReport is which carriers may belong together on the air.
type CellsReport struct {
	Groups []GroupReport `json:"groups"`
	// Without are the numbers of the carriers without a PCI.
	Without    []int             `json:"without_pci"`
	Remarks    []string          `json:"remarks"`
	Neighbours []NeighbourReport `json:"neighbours"`
	Clashes    []ClashReport     `json:"clashes"`
	Levels     []LevelReport     `json:"levels"`
	// Pairs are the hints of all pairs of carriers at one site.
	Pairs []PairReport `json:"pairs"`
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

// PairReport is what two carriers say about one site.
type PairReport struct {
	Carriers [2]int `json:"carriers"` // numbers
	// Hint is how strong it is: "strong", "fair", "weak", "none" or "against".
	Hint   cells.Strength `json:"hint"`
	Reason string         `json:"reason"`
}

// LevelReport compares the level of a carrier with that of one lower in frequency.
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

// Overlap is spectrum that carriers of two networks both take up, in part or under another
// band's name.
type Overlap struct {
	Networks [2]string `json:"networks"`
	Carriers [2]int    `json:"carriers"` // numbers in the networks
	Bands    [2]string `json:"bands"`
	Low      float64   `json:"low_mhz"`
	High     float64   `json:"high_mhz"`
	Width    float64   `json:"width_mhz"`
	// Statement says what it can mean.
	Statement string `json:"statement"`
}

// SharedCell is a cell that carriers of several networks show alike.
type SharedCell struct {
	Networks  []string `json:"networks"`
	Band      string   `json:"band"`
	Centre    float64  `json:"centre_mhz"`
	PCI       *int     `json:"pci"` // null where not all give the same
	Statement string   `json:"statement"`
}
