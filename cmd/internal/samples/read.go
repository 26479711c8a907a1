package samples

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"unicode/utf8"

	"spectally/bands"
	"spectally/cmd/internal/batch"
)

// Reader reads files of samples. What it has found out about carriers and networks is
// kept from row to row and from file to file.
type Reader struct {
	Map Map
	// Zoneless tells that times without a zone were read, which count as UTC.
	Zoneless bool

	networks map[string]string
	servings map[string]*Serving
	yields   map[string]*yield
	key      []byte
}

// Bounds of what is kept. Servings beyond are read again.
const (
	mostServings = 4096
	mostNetworks = 50
	longestName  = 200
)

// File is a file of samples while it is read.
type File struct {
	reader *Reader
	rows   *batch.Rows
	layout layout
	sample Sample
	fault  string
}

// Open begins a file of CSV with a header, or of JSON lines; None finds out by its first
// mark. An error is a *bands.ValueError if it is about a column.
func (r *Reader) Open(in io.Reader, form batch.Form, separator byte) (*File, error) {
	rows, err := batch.OpenRows(in, form, separator)
	if err != nil {
		return nil, err
	}
	if r.servings == nil {
		r.networks, r.servings, r.yields = map[string]string{}, map[string]*Serving{}, map[string]*yield{}
	}
	names := rows.Names()
	if names == nil {
		names = keys(r.Map)
		rows.Keys(names)
	}
	l, err := newLayout(names, r.Map)
	if err != nil {
		return nil, err
	}
	return &File{reader: r, rows: rows, layout: *l}, nil
}

// Next reads a row; false at the end of the file, of which Err tells more.
func (f *File) Next() bool {
	if !f.rows.Next() {
		return false
	}
	f.fault = f.rows.Fault()
	if f.fault == "" {
		f.fault = f.read()
	}
	return true
}

// Sample is the sample of the row, until the next is read.
func (f *File) Sample() *Sample { return &f.sample }

// Line is the line on which the row begins, counted from 1.
func (f *File) Line() int64 { return f.rows.Line() }

// Fault is the reason why the row cannot be used; empty if it can.
func (f *File) Fault() string { return f.fault }

// Err is why the file ended, unless that is its end.
func (f *File) Err() error { return f.rows.Err() }

// field is the text of a field; nil if it is empty or there is none.
func (f *File) field(of field) []byte {
	if column := f.layout.column[of]; column >= 0 {
		if text := f.rows.Field(column); len(text) > 0 {
			return text
		}
	}
	return nil
}

// refused says that a field is not what it may be.
func refused(of field, text []byte) string {
	info := &fieldInfos[of]
	return (&bands.ValueError{Param: info.name, Got: short(string(text)), Allowed: info.what + "; empty if it is not known"}).Error()
}

// number reads a field as a whole number between two bounds, in the unit in which
// samples are kept; given tells whether there is one. A fault is the reason why it is
// none.
func (f *File) number(of field, places int, low, high int64) (n int64, given bool, fault string) {
	text := f.field(of)
	if text == nil {
		return 0, false, ""
	}
	n, ok := parseFixed(text, places)
	if !ok || n < low || n > high {
		return 0, false, refused(of, text)
	}
	return n, true, ""
}

// Bounds of numbers, in the units in which samples are kept.
const (
	degreePlaces = 9
	farthest     = 10_000_000_000 // mm
	farFromSite  = 1_000_000_000  // mm
	mostRate     = 1_000_000_000  // kbit/s
	mostLatency  = 600_000_000    // us
)

// parts read the fields of a row, each some of them.
var parts = [...]func(*File, *Sample) string{
	(*File).readTime, (*File).readPlace, (*File).readNetwork, (*File).readCell, (*File).readLevels, (*File).readRates,
}

// read reads the fields of the row; the result is the reason why it cannot be used.
func (f *File) read() string {
	s := &f.sample
	*s = Empty()
	for _, part := range parts {
		if fault := part(f, s); fault != "" {
			return fault
		}
	}
	if !s.Seen() && s.Down == Missing && s.Up == Missing && s.Latency == Missing && !s.Timed && s.Place.Kind == Nowhere {
		return "nothing in it: a row needs a time, a place or a measurement"
	}
	if s.Serving != nil && s.Down != Missing {
		if most := s.Serving.Max(); most > 0 && int64(s.Down) > most {
			if most = s.Serving.Ceiling(); int64(s.Down) > most {
				return fmt.Sprintf("down %s Mbit/s: more than any layers and modulation yield on %s, %s Mbit/s", inThousands(int64(s.Down)), s.Serving.Text, inThousands(most))
			}
		}
	}
	return ""
}

// inThousands writes a number of thousandths.
func inThousands(n int64) string { return strconv.FormatFloat(float64(n)/1000, 'f', -1, 64) }

func (f *File) readTime(s *Sample) string {
	text := f.field(fieldTime)
	if text == nil {
		return ""
	}
	if !looksLikeDate(text) {
		at, ok := parseFixed(text, f.layout.places[fieldTime])
		if !ok || at < 0 {
			return refused(fieldTime, text)
		}
		s.At, s.Timed = at, true
		return ""
	}
	at, zoned, ok := parseTime(text)
	if !ok {
		return refused(fieldTime, text)
	}
	if !zoned {
		f.reader.Zoneless = true
	}
	s.At, s.Timed = at, true
	return ""
}

func (f *File) readPlace(s *Sample) string {
	const degree = 1_000_000_000
	lat, hasLat, fault := f.number(fieldLat, degreePlaces, -90*degree, 90*degree)
	if fault != "" {
		return fault
	}
	lon, hasLon, fault := f.number(fieldLon, degreePlaces, -180*degree, 180*degree)
	if fault != "" {
		return fault
	}
	if hasLat != hasLon {
		return "lat and lon: one is there without the other"
	}
	if hasLat && lat == 0 && lon == 0 {
		return "lat and lon are both 0: what a receiver without a fix writes"
	}
	x, hasX, fault := f.number(fieldX, f.layout.places[fieldX], -farthest, farthest)
	if fault != "" {
		return fault
	}
	y, hasY, fault := f.number(fieldY, f.layout.places[fieldY], -farthest, farthest)
	if fault != "" {
		return fault
	}
	if hasX != hasY {
		return "x_m and y_m: one is there without the other"
	}
	switch {
	case hasLat:
		s.Place = Place{Geographic, float64(lat) / degree, float64(lon) / degree}
	case hasX:
		s.Place = Place{Planar, float64(x) / 1000, float64(y) / 1000}
	}
	d, given, fault := f.number(fieldDistance, f.layout.places[fieldDistance], 0, farFromSite)
	s.Distance, s.HasDistance = float64(d)/1000, given
	return fault
}

func (f *File) readNetwork(s *Sample) string {
	text := f.field(fieldNetwork)
	name, known := f.reader.networks[string(text)]
	if !known {
		switch {
		case len(text) > longestName || !utf8.Valid(text):
			return "network: a name is UTF-8 and has at most " + strconv.Itoa(longestName) + " bytes"
		case len(f.reader.networks) >= mostNetworks:
			return "network " + strconv.Quote(short(string(text))) + ": there are " + strconv.Itoa(mostNetworks) + " others already, the most that are told apart"
		}
		name = string(text)
		f.reader.networks[name] = name
	}
	s.Network = name
	return ""
}

// readCell reads the carriers and the identity of the serving cell.
func (f *File) readCell(s *Sample) string {
	carriers, band := f.field(fieldCarriers), f.field(fieldBand)
	channel, width := f.field(fieldChannel), f.field(fieldWidth)
	if carriers != nil || band != nil {
		r := f.reader
		key := carriers
		if carriers == nil {
			r.key = r.key[:0]
			for _, part := range [...][]byte{band, channel, width} {
				r.key = append(append(r.key, 0), part...)
			}
			key = r.key
		}
		serving, known := r.servings[string(key)]
		if !known {
			var err error
			if serving, err = r.parse(string(carriers), string(band), string(channel), string(width)); err != nil {
				return err.Error()
			}
			if len(r.servings) >= mostServings {
				clear(r.servings)
			}
			r.servings[string(key)] = serving
		}
		s.Serving = serving
		first := &serving.Carriers[0]
		s.PCI, s.RSRP, s.SINR = first.PCI, first.RSRP, first.SINR
	}
	most := int64(1007)
	if s.Serving != nil {
		most = int64(HighestPCI(s.Serving.Carriers[0].Band.RAT))
	}
	pci, given, fault := f.number(fieldPCI, 0, 0, most)
	if text := f.field(fieldPCI); bytes.IndexByte(text, '.') >= 0 {
		return refused(fieldPCI, text)
	}
	if given {
		s.PCI = int32(pci)
	}
	return fault
}

// parse reads carriers in the notation, or those of the columns band, channel and width.
func (r *Reader) parse(carriers, band, channel, width string) (*Serving, error) {
	if carriers != "" {
		return parseServing(carriers, r.yields)
	}
	s, err := parseServing(fromColumns(band, channel, width), r.yields)
	if err != nil || width != "" || channel == "" || len(s.Carriers) != 1 {
		return s, err
	}
	n, err := strconv.ParseInt(channel, 10, 32)
	if err != nil || n < 0 {
		return nil, fmt.Errorf("%s", refused(fieldChannel, []byte(channel)))
	}
	if s.Carriers[0], err = newCarrier(placed(s.Carriers[0].Band, int32(n))); err != nil {
		return nil, err
	}
	s.Text = s.Carriers[0].Name()
	return s, nil
}

func (f *File) readLevels(s *Sample) string {
	if fault := f.level(fieldRSRP, LowestRSRP, HighestRSRP, &s.RSRP); fault != "" {
		return fault
	}
	if fault := f.level(fieldRSRQ, LowestRSRQ, HighestRSRQ, &s.RSRQ); fault != "" {
		return fault
	}
	return f.level(fieldSINR, LowestSINR, HighestSINR, &s.SINR)
}

func (f *File) level(of field, low, high int16, to *int16) (fault string) {
	n, given, fault := f.number(of, 2, int64(low), int64(high))
	if given {
		*to = int16(n)
	}
	return fault
}

func (f *File) readRates(s *Sample) string {
	if fault := f.rate(fieldDown, 0, mostRate, &s.Down); fault != "" {
		return fault
	}
	if fault := f.rate(fieldUp, 0, mostRate, &s.Up); fault != "" {
		return fault
	}
	return f.rate(fieldLatency, 1, mostLatency, &s.Latency)
}

func (f *File) rate(of field, low, high int64, to *int32) (fault string) {
	n, given, fault := f.number(of, f.layout.places[of], low, high)
	if given {
		*to = int32(n)
	}
	return fault
}

// short is a text cut to what an error can quote.
func short(s string) string {
	const most = 80
	if len(s) <= most {
		return s
	}
	n := most
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n] + "…"
}
