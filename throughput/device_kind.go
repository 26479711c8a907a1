package throughput

import (
	"strconv"
	"sync"

	"spectally/bands"
	"spectally/ca"
	"spectally/data"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
	"spectally/throughput/internal/words"
)

// DeviceKind is a sort of UE for which the standard has limits of its own.
type DeviceKind uint8

// The kinds. The zero DeviceKind is a UE without such limits.
const (
	RedCap      DeviceKind = iota + 1 // reduced capability (TS 38.306 clause 4.2.21)
	ERedCap                           // enhanced reduced capability, reduced baseband bandwidth (clause 4.2.22)
	ERedCapFull                       // the same with full baseband bandwidth
)

var kindNames = [...]string{RedCap: "redcap", ERedCap: "eredcap", ERedCapFull: "eredcap-full"}

// DeviceKindNames lists the names that [ParseDeviceKind] reads.
func DeviceKindNames() []string { return kindNames[1:] }

// ParseDeviceKind reads the name of a kind; letter case does not matter.
func ParseDeviceKind(s string) (DeviceKind, error) {
	i, err := words.Parse("kind of device", s, kindNames[1:])
	return DeviceKind(i + 1), err
}

// String names the kind: "RedCap", "eRedCap"; empty for a UE without limits of its own.
func (k DeviceKind) String() string {
	switch k {
	case RedCap:
		return "RedCap"
	case ERedCap, ERedCapFull:
		return "eRedCap"
	}
	return ""
}

// isERedCap tells whether the rate of the kind is fixed by its product v * Qm * f.
func (k DeviceKind) isERedCap() bool { return k == ERedCap || k == ERedCapFull }

// kindFacts are the limits of a kind.
type kindFacts struct {
	widest    [2]bands.Frequency // by FR1 and FR2; zero where the kind is not for the range
	narrowest bands.Frequency    // in FR1
	blocks    [2]int             // at most, with 15 and 30 kHz; zero for all of the width
	product   [2]exact.Ratio     // v * Qm * f with one and two layers; none if it is not fixed
	source    bands.Source
}

var loadKindFacts = sync.OnceValue(func() *[ERedCapFull + 1]kindFacts {
	f := &[ERedCapFull + 1]kindFacts{}
	tables := data.Lazy("nr_redcap")()
	t := data.Find(tables, "redcap")
	red := kindFacts{source: t.Source}
	for i, row := range t.Rows {
		red.widest[i] = mustMHz(row[1])
		if row[2] != "" {
			red.narrowest = mustMHz(row[2])
		}
	}
	f[RedCap] = red
	t = data.Find(tables, "eredcap")
	for i, row := range t.Rows {
		k := kindFacts{widest: [2]bands.Frequency{mustMHz(row[1]), 0}, narrowest: red.narrowest, source: t.Source}
		for n := range k.blocks {
			if row[2+n] != "" {
				k.blocks[n] = printed.Int(row[2+n])
			}
			k.product[n] = printed.Ratio(row[4+n])
		}
		f[ERedCap+DeviceKind(i)] = k
	}
	return f
})

// mustMHz reads a width of an embedded table.
func mustMHz(s string) bands.Frequency {
	f, err := bands.ParseMHz(s)
	if err != nil {
		panic("throughput: embedded table: " + err.Error())
	}
	return f
}

// product is v * Qm * f of the kind with a number of layers; none if the kind leaves it to
// the UE.
func (k DeviceKind) product(layers int) exact.Ratio {
	if !k.isERedCap() {
		return exact.Ratio{}
	}
	return loadKindFacts()[k].product[min(max(layers, 1), 2)-1]
}

// band is what the device has in a band, with the limits of its kind; nil if it does not
// have the band.
func (d *Device) band(id bands.ID) *DeviceBand {
	for i := range d.Bands {
		if d.Bands[i].Band != id {
			continue
		}
		b := d.Bands[i]
		if d.Kind == 0 {
			return &b
		}
		branches := d.ReceivePorts
		if branches == 0 {
			branches = 2 // as many as the kind can have
		}
		if b.Layers == 0 || b.Layers > branches {
			b.Layers = branches
		}
		b.UplinkLayers = 1
		// 64QAM where the UE signals no more (TS 38.306 clause 4.1.2).
		if b.QAM == 0 {
			b.QAM = 64
		}
		if b.UplinkQAM == 0 {
			b.UplinkQAM = 64
		}
		return &b
	}
	return nil
}

// reduce brings carrier i down to what the kind of the device takes of it; false if that is
// nothing. A UE of reduced capability uses a part of a carrier that is wider than it.
func (s *serving) reduce(i int, c *ca.Carrier, b *DeviceBand) bool {
	kind := s.device.Kind
	if kind == 0 {
		return true
	}
	p, id, facts := &s.site.assessment.Carriers[i], c.Band.String(), &loadKindFacts()[kind]
	name := "A " + kind.String() + " UE"
	if kind.isERedCap() {
		name = "An eRedCap UE"
	}
	refuse := func(item, site, device, text string) bool {
		s.limit(Limit{i + 1, item, site, device, name + " " + text})
		return false
	}
	at, wide := 0, 0 // which widest channel, which most blocks
	if p.Info.Range.IsFR2() {
		at = 1
	}
	if p.Spacing == 30*bands.KHz {
		wide = 1
	}
	width := p.DownlinkWidth
	switch {
	case c.Band.RAT != bands.NR:
		return refuse("technology", "LTE", "NR", "is one of NR: it does not take "+id+".")
	case width == 0:
		return refuse("downlink", "none", "one carrier", "has one carrier with a downlink, which "+id+" has not.")
	case facts.widest[at] == 0:
		return refuse("frequency range", p.Info.Range.String(), "FR1", "has FR1 alone.")
	case kind.isERedCap() && p.Spacing == 60*bands.KHz:
		return refuse("subcarrier spacing", "60 kHz", "15 or 30 kHz", "does not have 60 kHz.")
	case at == 0 && width < facts.narrowest:
		return refuse("width", width.MHz()+" MHz", facts.narrowest.MHz()+" MHz", "takes channels of at least "+facts.narrowest.MHz()+" MHz.")
	}
	most := p.DownlinkBlocks
	if width > facts.widest[at] {
		n, err := bands.ResourceBlocks(p.Info.Range, p.Spacing, facts.widest[at])
		if err != nil {
			return refuse("subcarrier spacing", p.Spacing.String(), "one of "+facts.widest[at].MHz()+" MHz", "takes "+facts.widest[at].MHz()+" MHz at most, which has no such subcarrier spacing.")
		}
		most = min(most, n)
	}
	if n := facts.blocks[wide]; n != 0 {
		most = min(most, n)
	}
	if used := p.UsedBlocks(bands.Downlink); most < used {
		c.RB = uint16(most)
		s.limit(Limit{i + 1, "resource blocks", strconv.Itoa(used), strconv.Itoa(most), name + " uses at most " + words.Plural(most, "resource block") + " of " + id + "."})
	}
	if product := kind.product(min(b.Layers, 2)); product.Den != 0 {
		s.limit(Limit{i + 1, "rate", "", "v * Qm * f = " + strconv.FormatFloat(product.Float(), 'f', -1, 64), name + " has about 10 Mbit/s each way (TS 38.306 clause 4.2.22.2)."})
	}
	if b.HalfDuplex {
		s.limit(Limit{i + 1, "duplex", "both directions at once", "one at a time", "The device is half-duplex in " + id + ": downlink and uplink take turns, so their rates are not reached at once."})
	}
	return true
}

// Alone is a carrier as a UE of the kind with a number of receive branches (0: open) takes
// it by itself, and what limits it; ok is false if it takes nothing of it. A carrier that
// cannot be rated is an error.
func (k DeviceKind) Alone(c ca.Carrier, branches int) (taken ca.Carrier, limits []Limit, ok bool, err error) {
	d := &Device{Kind: k, ReceivePorts: min(branches, 2), Bands: []DeviceBand{{Band: c.Band}}}
	list, _ := d.FillIn(ca.Combination{c})
	r, err := Rate(ca.Assess(list))
	if err != nil {
		return c, nil, false, err
	}
	s := d.Serve(r)
	if len(s.Carriers) == 0 {
		return c, s.Limits, false, nil
	}
	return s.Carriers[0], s.Limits, true, nil
}
