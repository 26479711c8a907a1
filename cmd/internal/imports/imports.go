// Package imports reads what open platforms and general tools say of a modem or of a
// test: the dump of a phone's telephony registry, the JSON of a modem manager, of a
// throughput test and of a transfer, the summary of a ping, and rows of CSV whose columns
// the user names. It knows no output format.
//
// Fields are read by name, whatever their order and whatever stands beside them. Only the
// names that are asked for are ever read, so that the identities of subscriber, device and
// network, which some of these forms hold too, are gone before anything is kept.
package imports

import (
	"bytes"
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/words"
)

// Format is a form that this package reads.
type Format string

// The forms.
const (
	Telephony  Format = "telephony registry dump"
	Modem      Format = "modem manager"
	Throughput Format = "throughput test JSON"
	Ping       Format = "ping summary"
	Transfers  Format = "transfer JSON"
	CSV        Format = "CSV"
)

// MaxSize bounds what is read.
const MaxSize = 16 << 20

// Import is what a text says.
type Import struct {
	Format    Format
	Networks  []Network // for each phone slot or modem that shows cells
	Runs      []Run
	Transfers []Transfer
	Notes     []Note
}

// Network is what one modem shows of the network that serves it.
type Network struct {
	Carriers   []Carrier
	Neighbours []Cell
	Levels     []Level // that belong to no carrier
	Runs       []Run   // on these carriers
}

// Combination is the serving carriers.
func (n *Network) Combination() ca.Combination {
	list := make(ca.Combination, len(n.Carriers))
	for i := range n.Carriers {
		list[i] = n.Carriers[i].Carrier
	}
	return list
}

// Carrier is a serving carrier.
type Carrier struct {
	ca.Carrier
	Number Number
}

// Number is what the channel number of a carrier was taken for.
type Number string

// What a number is. An open one is written as the SS/PBCH block's, whose range holds the
// centre as well.
const (
	NoNumber   Number = ""
	OfCentre   Number = "centre"
	OfBlock    Number = "ssb"
	OpenNumber Number = "open"
)

// Cell is a cell that does not serve.
type Cell struct {
	Band       bands.ID // zero if it is open
	Channel    int32
	HasChannel bool
	PCI        uint16
	HasPCI     bool
	RSRP       ca.Level
}

// Level is what a modem says of a technology.
type Level struct {
	RAT        bands.RAT
	RSRP, SINR ca.Level
}

// Run is a test. Figures that are not given were not measured.
type Run struct {
	Down, Up                   quantity.Decimal // Mbit/s
	Idle, LoadedDown, LoadedUp quantity.Decimal // ms
	Where, When                string
	Remark                     string
}

// Transfer is a file that was moved.
type Transfer struct {
	Size      quantity.Size
	Seconds   quantity.Decimal
	Direction bands.Direction
}

// Note is what has to be said of the reading: what is missing, open or left out.
type Note struct {
	About string // "carrier 2", "line 7"; empty for the whole
	Text  string
}

// Options say how to read.
type Options struct {
	// Map names the columns of CSV; a text is read as CSV only if it is given.
	Map []Column
	// Loaded is the direction under which a ping ran; zero for an idle line.
	Loaded bands.Direction
}

func (m *Import) note(about, text string) {
	n := Note{about, text}
	if !slices.Contains(m.Notes, n) {
		m.Notes = append(m.Notes, n)
	}
}

// forms is what tells the forms apart, by what stands in them.
var forms = []struct {
	format Format
	is     func(data []byte) bool
	read   func(m *Import, data []byte, o *Options) error
}{
	{Telephony, isTelephony, readTelephony},
	{Modem, isModem, readModem},
	{Throughput, isThroughput, readThroughput},
	{Transfers, isTransfers, readTransfers},
	{Ping, isPing, readPing},
}

const formsAllowed = "a telephony registry dump, a modem manager's JSON, a throughput test's JSON, a ping with its summary, a transfer's JSON, or CSV with --map"

// Read reads a text of any of the forms, which it tells by its content. What cannot be
// read is a *bands.ValueError that quotes nothing of the text but its size.
func Read(data []byte, o Options) (*Import, error) {
	if len(data) > MaxSize {
		return nil, &bands.ValueError{Param: "import", Got: "more than " + strconv.Itoa(MaxSize>>20) + " MiB", Allowed: "at most that"}
	}
	data = bytes.TrimSpace(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")))
	m := &Import{}
	if len(o.Map) > 0 {
		m.Format = CSV
		return m.checked(readCSV(m, data, &o))
	}
	for _, f := range forms {
		if f.is(data) {
			m.Format = f.format
			return m.checked(f.read(m, data, &o))
		}
	}
	if len(data) > 0 && data[0] == '{' && !first(data).is() {
		return nil, unread("JSON that is broken or cut short", "whole JSON of a modem manager, a throughput test or a transfer")
	}
	return nil, unread(words.Counted(len(data), "byte")+" of something else", formsAllowed)
}

// checked refuses an import that brings nothing.
func (m *Import) checked(err error) (*Import, error) {
	if err != nil {
		return nil, err
	}
	for i := range m.Networks {
		n := &m.Networks[i]
		if len(n.Carriers)+len(n.Neighbours)+len(n.Levels) > 0 {
			return m, nil
		}
	}
	if len(m.Runs)+len(m.Transfers) > 0 {
		return m, nil
	}
	reason := "nothing that can be used"
	if len(m.Notes) > 0 {
		reason = m.Notes[0].Text
		if about := m.Notes[0].About; about != "" {
			reason = about + ": " + reason
		}
	}
	return nil, unread(string(m.Format), "one with a carrier, a level, a rate, a latency or a transfer; it has "+reason)
}

func unread(got, allowed string) error {
	return &bands.ValueError{Param: "import", Got: got, Allowed: allowed}
}
