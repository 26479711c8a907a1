// Package devicefile reads what a UE can take from a file that its user wrote.
//
//	name = "a phone"          # in answers; may be left out
//	kind = "redcap"           # or "eredcap", "eredcap-full": a UE of reduced capability
//	receive_antennas = 1      # of such a UE: 1 or 2
//	carriers = 5              # downlink carriers at once; lte_carriers, nr_carriers by technology
//	uplink_carriers = 2       # carriers on which it transmits
//	width_mhz = 220           # downlink megahertz at once; lte_width_mhz, nr_width_mhz by technology
//	configurations = ["DC_3A-7A_n78A"]   # they bring their fallbacks
//
//	[[band]]                  # one for each band that it has
//	band = "n78"
//	layers = 4                # downlink layers; ullayers in the uplink
//	qam = 256                 # largest constellation in the downlink; ulqam in the uplink
//	widest_mhz = 100          # widest channel
//	downlink_only = false     # true: it does not transmit in the band
//	half_duplex = false       # true: it does not receive while it transmits (paired bands of a UE of reduced capability)
//
// Only band is needed, in one table at least; what is left out is open.
package devicefile

import (
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/tomlfile"
	"spectally/throughput"
)

// Limits of what a file may hold.
const (
	maxBands          = 200
	maxConfigurations = 1000
	maxCarriers       = 32   // serving cells of a UE (TS 38.331, from memory)
	maxWidth          = 6400 // MHz
)

// Read reads a file. Everything that is wrong with it is reported at once: the error
// is of type tomlfile.Problems, in order of line. The name is for messages alone.
func Read(name string, data []byte) (*throughput.Device, error) {
	f := tomlfile.Parse(name, data)
	d := readDevice(f.Root())
	if p := f.Problems(); len(p) > 0 {
		return nil, p
	}
	return d, nil
}

func readDevice(t *tomlfile.Table) *throughput.Device {
	d := &throughput.Device{}
	d.Name, _ = t.Text("name", tomlfile.Optional, "a line of text")
	if word, ok := t.Choice("kind", throughput.DeviceKindNames()...); ok {
		var err error
		if d.Kind, err = throughput.ParseDeviceKind(word); err != nil {
			t.Report("kind", err)
		}
	}
	d.ReceivePorts, _ = t.Whole("receive_antennas", tomlfile.Optional, 1, 2, "a number of receive branches of a UE of reduced capability")
	if d.Kind == 0 && t.Has("receive_antennas") && !t.Has("kind") {
		t.Refuse("receive_antennas", strconv.Itoa(d.ReceivePorts), "nothing without kind: layers are those of each band")
	}
	d.Carriers = readCount(t, "carriers")
	d.LTECarriers = readCount(t, "lte_carriers")
	d.NRCarriers = readCount(t, "nr_carriers")
	d.UplinkCarriers = readCount(t, "uplink_carriers")
	d.Width = readWidth(t, "width_mhz")
	d.LTEWidth = readWidth(t, "lte_width_mhz")
	d.NRWidth = readWidth(t, "nr_width_mhz")
	tables := t.Subs("band", "band", maxBands)
	if len(tables) == 0 && !t.Has("band") {
		t.Missing("band", "one table at least under the header [[band]]")
	}
	whole := true
	for _, b := range tables {
		if band, ok := readBand(b, d); ok {
			d.Bands = append(d.Bands, band)
		} else {
			whole = false
		}
	}
	d.Configurations = readConfigurations(t)
	if whole {
		checkConfigurations(t, d)
	}
	t.Finish()
	return d
}

func readCount(t *tomlfile.Table, key string) int {
	n, _ := t.Whole(key, tomlfile.Optional, 1, maxCarriers, "a number of carriers")
	return n
}

func readWidth(t *tomlfile.Table, key string) bands.Frequency {
	allowed := "a width in MHz above 0, up to " + strconv.Itoa(maxWidth)
	n, ok := t.PositiveIn(key, tomlfile.Optional, &quantity.Megahertz, maxWidth, "a width in MHz")
	if !ok {
		return 0
	}
	f, err := bands.ParseMHz(n.String())
	if err != nil {
		t.Refuse(key, n.String(), allowed+", whole hertz")
		return 0
	}
	return f
}

// readBand reads a band; false if there is none, so that nothing can be said of it.
func readBand(t *tomlfile.Table, d *throughput.Device) (throughput.DeviceBand, bool) {
	before := d.Bands
	var b throughput.DeviceBand
	text, ok := t.Single("band", tomlfile.Required, `a band such as "n78", "B3" or 3`)
	info := &bands.Band{}
	if ok {
		id, err := bands.ParseID(text)
		if err == nil {
			info, err = bands.Lookup(id)
		}
		switch {
		case err != nil:
			t.Report("band", tomlfile.Renamed(err, "band"))
			ok = false
		case slices.ContainsFunc(before, func(o throughput.DeviceBand) bool { return o.Band == id }):
			t.Refuse("band", text, "each band once")
			ok = false
		}
		b.Band = id
	}
	b.Layers, _ = t.Whole("layers", tomlfile.Optional, 1, 8, "a number of downlink layers")
	b.UplinkLayers, _ = t.Whole("ullayers", tomlfile.Optional, 1, 8, "a number of uplink layers")
	b.QAM = readQAM(t, "qam", "4, 16, 64, 256 or 1024", 4, 16, 64, 256, 1024)
	b.UplinkQAM = readQAM(t, "ulqam", "2 (pi/2-BPSK), 4, 16, 64 or 256", 2, 4, 16, 64, 256)
	b.Widest = readWidth(t, "widest_mhz")
	b.DownlinkOnly, _ = t.Bool("downlink_only")
	b.HalfDuplex, _ = t.Bool("half_duplex")
	if ok && b.HalfDuplex && (d.Kind == 0 || info.Duplex != bands.FDD || info.Range.IsFR2()) {
		t.Refuse("half_duplex", "true", "a paired band of FR1, of a device with kind")
	}
	if ok {
		checkBand(t, info, &b)
	}
	t.Finish()
	return b, ok
}

func readQAM(t *tomlfile.Table, key, allowed string, sizes ...int) int {
	const what = "the size of the largest constellation"
	n, ok := t.Whole(key, tomlfile.Optional, int64(sizes[0]), int64(sizes[len(sizes)-1]), what)
	if ok && !slices.Contains(sizes, n) {
		t.Refuse(key, strconv.Itoa(n), what+": "+allowed)
		return 0
	}
	return n
}

// checkBand refuses what the band or its technology does not have.
func checkBand(t *tomlfile.Table, info *bands.Band, b *throughput.DeviceBand) {
	refuse := func(d bands.Direction, key, got string) {
		if !info.Has(d) && t.Has(key) {
			t.Refuse(key, got, "nothing: "+info.ID.String()+" is "+info.Duplex.String()+" and has no "+d.String())
		}
	}
	refuse(bands.Downlink, "layers", strconv.Itoa(b.Layers))
	refuse(bands.Downlink, "qam", strconv.Itoa(b.QAM))
	refuse(bands.Uplink, "ullayers", strconv.Itoa(b.UplinkLayers))
	refuse(bands.Uplink, "ulqam", strconv.Itoa(b.UplinkQAM))
	if info.ID.RAT == bands.LTE {
		if b.UplinkLayers > 4 {
			t.Refuse("ullayers", strconv.Itoa(b.UplinkLayers), "1 to 4 in LTE")
		}
		if b.UplinkQAM == 2 {
			t.Refuse("ulqam", "2", "4, 16, 64 or 256 in LTE")
		}
	}
}

func readConfigurations(t *tomlfile.Table) []ca.Name {
	const allowed = `names of the standard such as ["DC_3A-7A_n78A", "CA_n78(2A)"]`
	list, _ := t.List("configurations", allowed)
	if len(list) > maxConfigurations {
		t.Refuse("configurations", strconv.Itoa(len(list))+" names", "at most "+strconv.Itoa(maxConfigurations))
		return nil
	}
	var names []ca.Name
	for _, s := range list {
		n, err := ca.ParseName(s)
		switch {
		case err != nil:
			t.Report("configurations", tomlfile.Renamed(err, "configurations"))
		case slices.Contains(names, n):
			t.Refuse("configurations", s, "each configuration once")
		default:
			names = append(names, n)
		}
	}
	return names
}

// checkConfigurations refuses configurations with bands that the device does not have.
func checkConfigurations(t *tomlfile.Table, d *throughput.Device) {
	for _, n := range d.Configurations {
		for _, c := range n.Components() {
			if !slices.ContainsFunc(d.Bands, func(b throughput.DeviceBand) bool { return b.Band == c.Band }) {
				t.Refuse("configurations", n.String(), "configurations of the bands that are listed; there is no [[band]] "+c.Band.String())
				break
			}
		}
	}
}
