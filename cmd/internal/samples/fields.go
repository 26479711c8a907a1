package samples

import (
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/words"
)

// field is something that a row may have.
type field uint8

// The fields, in the order in which they are listed.
const (
	fieldTime field = iota
	fieldLat
	fieldLon
	fieldX
	fieldY
	fieldDistance
	fieldNetwork
	fieldCarriers
	fieldBand
	fieldChannel
	fieldWidth
	fieldPCI
	fieldRSRP
	fieldRSRQ
	fieldSINR
	fieldDown
	fieldUp
	fieldLatency
	fieldCount
)

// unit is a unit that a number may have, with the power of ten that makes it the one in
// which samples are kept.
type unit struct {
	name   string
	places int
}

var (
	metres = []unit{{"m", 3}, {"km", 6}, {"mm", 0}} // kept in millimetres
	rates  = []unit{{"Mbit/s", 3}, {"kbit/s", 0}, {"bit/s", -3}, {"Gbit/s", 6}}
	times  = []unit{{"ms", 3}, {"s", 6}, {"us", 0}}            // kept in microseconds
	epochs = []unit{{"s", 9}, {"ms", 6}, {"us", 3}, {"ns", 0}} // kept in nanoseconds
)

// fieldInfo says what a field is. The first of its units is the usual one.
type fieldInfo struct {
	name, what string
	units      []unit
	measure    quantity.Measure // how people write the units
}

var fieldInfos = [fieldCount]fieldInfo{
	fieldTime:     {"time", "a date and time such as 2031-05-14T18:05:03Z, or seconds since 1970", epochs, quantity.Seconds},
	fieldLat:      {"lat", "degrees north, -90 to 90", nil, quantity.Plain},
	fieldLon:      {"lon", "degrees east, -180 to 180", nil, quantity.Plain},
	fieldX:        {"x_m", "metres east, within 10 000 km", metres, quantity.Metres},
	fieldY:        {"y_m", "metres north, within 10 000 km", metres, quantity.Metres},
	fieldDistance: {"distance_m", "metres from the site, 0 to 1 000 km", metres, quantity.Metres},
	fieldNetwork:  {"network", "a name", nil, quantity.Plain},
	fieldCarriers: {"carriers", "carriers such as n78:80@640000 + B3:20, the serving cell's first", nil, quantity.Plain},
	fieldBand:     {"band", "a band such as n78 or B3", nil, quantity.Plain},
	fieldChannel:  {"channel", "an NR-ARFCN or EARFCN of the downlink of the band", nil, quantity.Plain},
	fieldWidth:    {"width_mhz", "a channel bandwidth in MHz", nil, quantity.Plain},
	fieldPCI:      {"pci", "0 to 1007 for NR, 0 to 503 for LTE", nil, quantity.Plain},
	fieldRSRP:     {"rsrp", "-156 to -31 dBm", nil, quantity.Plain},
	fieldRSRQ:     {"rsrq", "-43 to 20 dB", nil, quantity.Plain},
	fieldSINR:     {"sinr", "-23 to 40 dB", nil, quantity.Plain},
	fieldDown:     {"down", "Mbit/s, 0 to 1 000 000", rates, quantity.Mbps},
	fieldUp:       {"up", "Mbit/s, 0 to 1 000 000", rates, quantity.Mbps},
	fieldLatency:  {"latency", "ms above zero, up to 600 000", times, quantity.Milliseconds},
}

// Fields lists the names of the fields that a row may have.
func Fields() []string {
	names := make([]string, fieldCount)
	for i := range fieldInfos {
		names[i] = fieldInfos[i].name
	}
	return names
}

// Column is a column of another name, and the unit of its numbers if it is not the
// usual one.
type Column struct{ Name, Unit string }

// Map says which columns fields are read from; a field that it does not have is read
// from the column of its own name.
type Map map[string]Column

// Set reads "field=column" or "field=column:unit".
func (m Map) Set(s string) error {
	name, column, ok := strings.Cut(s, "=")
	if !ok || column == "" {
		return &bands.ValueError{Param: "mapping", Got: s, Allowed: m.Allowed()}
	}
	info := findField(name)
	if info == nil {
		return &bands.ValueError{Param: "field", Got: name, Allowed: words.Or(Fields()), Nearest: words.Nearest(name, Fields())}
	}
	if _, twice := m[info.name]; twice {
		return &bands.ValueError{Param: "field", Got: name, Allowed: "given once"}
	}
	c := Column{Name: column}
	if i := strings.LastIndexByte(column, ':'); i > 0 && len(info.units) > 0 {
		c = Column{column[:i], info.measure.Canonical(column[i+1:])}
		if c.places(info) == noUnit {
			return &bands.ValueError{Param: "unit of " + info.name, Got: c.Unit, Allowed: words.Or(info.unitNames())}
		}
	}
	m[info.name] = c
	return nil
}

// Allowed says what Set reads.
func (Map) Allowed() string {
	return "field=column or field=column:unit, such as rsrp=signal or down=rate:kbit/s"
}

// String implements pflag.Value.
func (m Map) String() string {
	var list []string
	for i := range fieldInfos {
		if c, ok := m[fieldInfos[i].name]; ok {
			list = append(list, strings.TrimSuffix(fieldInfos[i].name+"="+c.Name+":"+c.Unit, ":"))
		}
	}
	return strings.Join(list, " ")
}

// Type implements pflag.Value.
func (Map) Type() string { return "FIELD=COLUMN[:UNIT]" }

func findField(name string) *fieldInfo {
	for i := range fieldInfos {
		if fieldInfos[i].name == name {
			return &fieldInfos[i]
		}
	}
	return nil
}

func (f *fieldInfo) unitNames() []string {
	var names []string
	for _, u := range f.units {
		names = append(names, u.name)
	}
	return names
}

const noUnit = -100

// places is the power of ten of the column's unit; noUnit if the field has no such unit.
func (c *Column) places(f *fieldInfo) int {
	for i, u := range f.units {
		if u.name == c.Unit || c.Unit == "" && i == 0 {
			return u.places
		}
	}
	return noUnit
}

// layout says where the fields stand in a row, and in what unit.
type layout struct {
	column [fieldCount]int // -1 for none
	places [fieldCount]int
}

// newLayout finds the columns of the fields in a header. Letter case does not matter in
// names that are not mapped.
func newLayout(header []string, m Map) (*layout, error) {
	l := &layout{}
	found := 0
	for f := range fieldCount {
		info := &fieldInfos[f]
		column, mapped := m[info.name]
		if !mapped {
			column.Name = info.name
		}
		l.places[f] = column.places(info)
		l.column[f] = -1
		for at, name := range header {
			if name != column.Name && (mapped || !strings.EqualFold(name, column.Name)) {
				continue
			}
			if l.column[f] >= 0 {
				return nil, &bands.ValueError{Param: "column", Got: short(name), Allowed: "one column of that name, since it is read"}
			}
			l.column[f] = at
			found++
		}
		if mapped && l.column[f] < 0 {
			return nil, &bands.ValueError{Param: "column for " + info.name, Got: column.Name, Allowed: short(strings.Join(header, ", ")), Nearest: words.Nearest(column.Name, header)}
		}
	}
	if found == 0 {
		return nil, &bands.ValueError{Param: "header", Got: short(strings.Join(header, ",")), Allowed: "columns such as " + strings.Join(Fields(), ", ") + "; --map names others"}
	}
	return l, nil
}

// keys are the keys of JSON lines in the order of the fields.
func keys(m Map) []string {
	list := make([]string, fieldCount)
	for f := range fieldInfos {
		list[f] = fieldInfos[f].name
		if c, ok := m[list[f]]; ok {
			list[f] = c.Name
		}
	}
	return list
}
