package holding

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// Aim is what a search looks for.
type Aim uint8

// The aims.
const (
	DownlinkRate  Aim = iota // the highest scheduled rate in the downlink
	DownlinkWidth            // the most megahertz in the downlink
	UplinkRate               // the highest scheduled rate in the uplink
	UplinkWidth              // the most megahertz in the uplink
	aims
)

// Aims lists the aims in order.
func Aims() []Aim { return []Aim{DownlinkRate, DownlinkWidth, UplinkRate, UplinkWidth} }

// String names the aim as it stands in output: "dl-rate".
func (a Aim) String() string { return [...]string{"dl-rate", "dl-mhz", "ul-rate", "ul-mhz"}[a] }

// Direction is the direction that the aim is about.
func (a Aim) Direction() bands.Direction {
	if a >= UplinkRate {
		return bands.Uplink
	}
	return bands.Downlink
}

// Technology is what a phone uses together.
type Technology uint8

// The technologies.
const (
	LTE  Technology = iota // E-UTRA alone
	NR                     // NR alone, in carrier aggregation or dual connectivity
	ENDC                   // E-UTRA with NR
	technologies
)

// Technologies lists the technologies in order.
func Technologies() []Technology { return []Technology{LTE, NR, ENDC} }

// String names the technology as it stands in output: "lte", "nr", "en-dc".
func (t Technology) String() string { return [...]string{"lte", "nr", "en-dc"}[t] }

func (t Technology) kinds() []ca.Kind {
	switch t {
	case LTE:
		return []ca.Kind{ca.KindLTECA}
	case NR:
		return []ca.Kind{ca.KindNRCA, ca.KindNRDC}
	}
	return []ca.Kind{ca.KindENDC}
}

// Limits bound what a phone takes; zero fields leave it open.
type Limits struct {
	// Carriers bounds the downlink carriers, UplinkCarriers those on which the phone
	// transmits, Width the sum of the downlink channel bandwidths.
	Carriers, UplinkCarriers int
	Width                    bands.Frequency
	// Layers, QAM and Pattern are those of every carrier in the place of the usual
	// ones; a device lowers them to what it has.
	Layers, UplinkLayers int
	QAM, UplinkQAM       int
	Pattern              string // of TDD carriers of NR
	// Tolerance is how far a channel may cross an edge of its block.
	Tolerance bands.Frequency
	Device    *throughput.Device
}

// bounds are limits with those of the device.
type bounds struct {
	carriers, uplink int
	width            bands.Frequency
	byRAT            [bands.NR + 1]struct {
		carriers int
		width    bands.Frequency
	}
}

func (l *Limits) bounds() bounds {
	b := bounds{carriers: l.Carriers, uplink: l.UplinkCarriers, width: l.Width}
	if d := l.Device; d != nil {
		b.carriers = least(b.carriers, d.Carriers)
		b.uplink = least(b.uplink, d.UplinkCarriers)
		b.width = least(b.width, d.Width)
		b.byRAT[bands.LTE].carriers, b.byRAT[bands.LTE].width = d.LTECarriers, d.LTEWidth
		b.byRAT[bands.NR].carriers, b.byRAT[bands.NR].width = d.NRCarriers, d.NRWidth
	}
	return b
}

// least is the smaller of two limits, of which zero is none.
func least[T int | bands.Frequency](a, b T) T {
	if a == 0 || b != 0 && b < a {
		return b
	}
	return a
}

// use is what a combination has used of the bounds.
type use struct {
	carriers int
	width    bands.Frequency
	byRAT    [bands.NR + 1]struct {
		carriers int
		width    bands.Frequency
	}
}

func (u *use) add(rat bands.RAT, carriers int, width bands.Frequency) {
	u.carriers += carriers
	u.width += width
	u.byRAT[rat].carriers += carriers
	u.byRAT[rat].width += width
}

// hold tells whether the use keeps within the bounds.
func (b *bounds) hold(u *use) bool {
	ok := (b.carriers == 0 || u.carriers <= b.carriers) && (b.width == 0 || u.width <= b.width)
	for rat := range b.byRAT {
		x, y := &b.byRAT[rat], &u.byRAT[rat]
		ok = ok && (x.carriers == 0 || y.carriers <= x.carriers) && (x.width == 0 || y.width <= x.width)
	}
	return ok
}
