package siterows

import (
	"math/big"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
	"spectally/throughput/exact"
	"spectally/throughput/site"
)

// level is what a column speaks of.
type level uint8

const (
	ofSite level = iota
	ofSector
	ofRow
)

// value is what a field holds. Two fields say the same if their values are equal.
type value struct {
	ratio exact.Ratio
	whole [2]int
	text  string
}

// parts are the places that the fields of a row fill.
type parts struct {
	site   *site.Site
	sector *site.Sector
	radio  *site.Radio
}

// column is a column that a file may have.
type column struct {
	name     string
	of       level
	required bool // in the header; a field may be empty where the rows before say it
	// each tells that every row needs a value.
	each bool
	what string // that is allowed, for errors
	// read reads a field that is not empty.
	read func(c *column, text string) (value, error)
	set  func(p parts, v value)
}

// The places of the columns that the reader itself needs.
const (
	columnSite = iota
	columnSector
	columnEnvironment
	columnCarrier
	columnPorts
)

const (
	whatEfficiency = "bit/s/Hz, above zero and up to 200, with 4 decimals at most"
	whatLayers     = "a whole number from 1 to 64"
)

// columns are in the words of a site plan, see package siteplan. They are a function,
// since nothing but a run with rows needs them.
func columns() []column {
	percent := func(name string, of level, least, most, what string, set func(p parts) *exact.Ratio) column {
		return column{name: name, of: of, what: "per cent, " + what + " " + most + ", with 4 decimals at most",
			read: factor(least, most, 100), set: func(p parts, v value) { *set(p) = v.ratio }}
	}
	efficiency := func(name string, set func(m *site.Measured) *exact.Ratio) column {
		return column{name: name, of: ofRow, what: whatEfficiency, read: factor("0.0001", "200", 1),
			set: func(p parts, v value) { *set(&p.radio.Measured) = v.ratio }}
	}
	mbps := func(name string, set func(t *site.Traffic) *exact.Ratio) column {
		return column{name: name, of: ofSite, what: "Mbit/s, 0.001 to 1000000, in whole bit/s", read: readMbps,
			set: func(p parts, v value) { *set(&p.site.Traffic) = v.ratio }}
	}
	return []column{
		columnSite:        {name: "site", of: ofRow, required: true, each: true, what: "the name of the site", read: readName, set: func(parts, value) {}},
		columnSector:      {name: "sector", of: ofRow, required: true, each: true, what: "the name of the sector", read: readName, set: func(parts, value) {}},
		columnEnvironment: {name: "environment", of: ofSector, required: true, what: words(site.EnvironmentNames()), read: readEnvironment, set: func(p parts, v value) { p.sector.Environment = site.Environment(v.whole[0]) }},
		columnCarrier:     {name: "carrier", of: ofRow, required: true, each: true, what: "one carrier in the notation, such as n78:80@640000", read: readName, set: func(parts, value) {}},
		columnPorts: {name: "ports", of: ofRow, required: true, each: true, what: `transmit and receive ports such as "8T8R"`, read: readPorts,
			set: func(p parts, v value) { p.radio.TransmitPorts, p.radio.ReceivePorts = v.whole[0], v.whole[1] }},
		{name: "count", of: ofSector, what: "a whole number from 1 to 100", read: whole(1, 100), set: func(p parts, v value) { p.sector.Count = v.whole[0] }},
		percent("load_percent", ofSector, "0.0001", "100", "above zero and up to", func(p parts) *exact.Ratio { return &p.sector.Load }),
		percent("ul_load_percent", ofSector, "0.0001", "100", "above zero and up to", func(p parts) *exact.Ratio { return &p.sector.UplinkLoad }),
		{name: "cell_layers", of: ofRow, what: whatLayers, read: whole(1, 64), set: func(p parts, v value) { p.radio.Layers = v.whole[0] }},
		{name: "ul_cell_layers", of: ofRow, what: whatLayers, read: whole(1, 64), set: func(p parts, v value) { p.radio.UplinkLayers = v.whole[0] }},
		efficiency("dl_bps_hz", func(m *site.Measured) *exact.Ratio { return &m.Downlink }),
		efficiency("ul_bps_hz", func(m *site.Measured) *exact.Ratio { return &m.Uplink }),
		efficiency("dl_edge_bps_hz", func(m *site.Measured) *exact.Ratio { return &m.DownlinkEdge }),
		efficiency("ul_edge_bps_hz", func(m *site.Measured) *exact.Ratio { return &m.UplinkEdge }),
		{name: "origin", of: ofRow, what: "where the efficiencies are from", read: readName, set: func(p parts, v value) { p.radio.Measured.Origin = v.text }},
		{name: "measured_ports", of: ofRow, what: `the ports that the efficiencies were measured with, such as "8T8R"`, read: readPorts,
			set: func(p parts, v value) {
				p.radio.Measured.TransmitPorts, p.radio.Measured.ReceivePorts = v.whole[0], v.whole[1]
			}},
		mbps("rate_mbps", func(t *site.Traffic) *exact.Ratio { return &t.Rate }),
		mbps("ul_rate_mbps", func(t *site.Traffic) *exact.Ratio { return &t.UplinkRate }),
		percent("active_percent", ofSite, "0.1", "100", "0.1 to", func(p parts) *exact.Ratio { return &p.site.Traffic.Activity }),
		{name: "oversubscription", of: ofSite, what: "a number from 1 to 1000, with 4 decimals at most", read: factor("1", "1000", 1),
			set: func(p parts, v value) { p.site.Traffic.Oversubscription = v.ratio }},
		percent("busy_hour_percent", ofSite, "4.1667", "100", "4.1667 (a day without a busy hour) to", func(p parts) *exact.Ratio { return &p.site.Traffic.BusyHourShare }),
		{name: "link", of: ofSite, what: "a rate with its unit, such as 10 Gbit/s", read: readLink, set: func(p parts, v value) { p.site.Backhaul.Downlink = v.ratio }},
		{name: "ul_link", of: ofSite, what: "a rate with its unit, such as 10 Gbit/s", read: readLink, set: func(p parts, v value) { p.site.Backhaul.Uplink = v.ratio }},
		percent("transport_percent", ofSite, "0", "100", "0 to", func(p parts) *exact.Ratio { return &p.site.Backhaul.Transport }),
		percent("security_percent", ofSite, "0", "100", "0 to", func(p parts) *exact.Ratio { return &p.site.Backhaul.Security }),
		{name: "size_by", of: ofSite, what: "phone or cell", read: readSizeBy, set: func(p parts, v value) { p.site.Backhaul.CellPeak = v.text == "cell" }},
	}
}

// Column tells of a column that a file may have.
type Column struct {
	Name     string
	Required bool
	What     string // that a field may hold
	Of       string // what it speaks of: "site", "sector" or "carrier"
}

// Columns lists the columns that a file may have.
func Columns() []Column {
	var list []Column
	for _, c := range columns() {
		list = append(list, Column{c.name, c.required, c.what, [...]string{ofSite: "site", ofSector: "sector", ofRow: "carrier"}[c.of]})
	}
	return list
}

// fault says that a field is not what its column allows. Of a number with a decimal comma
// closest is the one with a point.
func (c *column) fault(text string) error {
	e := &bands.ValueError{Param: c.name, Got: short(text), Allowed: c.what}
	if fixed := strings.Replace(text, ",", ".", 1); fixed != text {
		if _, err := c.read(c, fixed); err == nil {
			e.Nearest = fixed
		}
	}
	return e
}

func readName(_ *column, text string) (value, error) { return value{text: text}, nil }

func readEnvironment(c *column, text string) (value, error) {
	e, err := site.ParseEnvironment(text)
	if err != nil {
		return value{}, &bands.ValueError{Param: c.name, Got: short(text), Allowed: c.what, Nearest: nearest(text, site.EnvironmentNames())}
	}
	return value{whole: [2]int{int(e)}}, nil
}

func readSizeBy(c *column, text string) (value, error) {
	for _, word := range [...]string{"phone", "cell"} {
		if strings.EqualFold(word, text) {
			return value{text: word}, nil
		}
	}
	return value{}, c.fault(text)
}

func readPorts(c *column, text string) (value, error) {
	transmit, receive, err := site.ParsePorts(text)
	if err != nil {
		return value{}, &bands.ValueError{Param: c.name, Got: short(text), Allowed: c.what + ", 1 to " + strconv.Itoa(site.MaxPorts) + " each"}
	}
	return value{whole: [2]int{transmit, receive}}, nil
}

func whole(least, most int) func(c *column, text string) (value, error) {
	return func(c *column, text string) (value, error) {
		n, err := strconv.Atoi(text)
		if err != nil || n < least || n > most {
			return value{}, c.fault(text)
		}
		return value{whole: [2]int{n}}, nil
	}
}

// fineness bounds the decimals of a number to four, so that sums stay exact.
const fineness = 10_000

// factor reads a decimal between two limits, which are decimals too, and divides it.
func factor(least, most string, by int64) func(c *column, text string) (value, error) {
	low, high := number(least), number(most)
	return func(c *column, text string) (value, error) {
		d, err := quantity.ParseDecimal(text)
		if err != nil || d.Compare(low) < 0 || d.Compare(high) > 0 {
			return value{}, c.fault(text)
		}
		r := d.Rat()
		if !new(big.Rat).Mul(r, big.NewRat(fineness, 1)).IsInt() {
			return value{}, c.fault(text)
		}
		return value{ratio: ratio(r.Quo(r, big.NewRat(by, 1)))}, nil
	}
}

func number(s string) quantity.Decimal {
	d, err := quantity.ParseDecimal(s)
	if err != nil {
		panic("siterows: bad limit " + s)
	}
	return d
}

// ratio is a fraction whose terms are known to fit.
func ratio(r *big.Rat) exact.Ratio {
	return exact.Of(r.Num().Int64(), r.Denom().Int64())
}

func readMbps(c *column, text string) (value, error) {
	d, err := quantity.Mbps.Parse(text)
	if err != nil {
		return value{}, c.fault(text)
	}
	bits := d.Rat()
	bits.Mul(bits, big.NewRat(1_000_000, 1))
	if !bits.IsInt() || bits.Cmp(big.NewRat(1_000, 1)) < 0 || bits.Cmp(big.NewRat(1_000_000_000_000, 1)) > 0 {
		return value{}, c.fault(text)
	}
	return value{ratio: ratio(bits)}, nil
}

func readLink(c *column, text string) (value, error) {
	rate, err := quantity.ParseRate(text)
	if err != nil {
		return value{}, c.fault(text)
	}
	return value{ratio: exact.Whole(rate.BitsPerSecond())}, nil
}
