package site

import (
	"math"
	"strconv"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
	"spectally/throughput/internal/words"
)

// EfficiencyKind tells an average from the cell edge.
type EfficiencyKind uint8

// The kinds. The zero kind is none.
const (
	Average  EfficiencyKind = iota + 1 // over the users of a cell
	CellEdge                           // 5th percentile of the users
)

// EfficiencyBasis says how an efficiency follows from what is published or measured.
type EfficiencyBasis uint8

// The bases. The zero basis is none.
const (
	BasisPublished EfficiencyBasis = iota + 1 // the published value as it stands
	BasisBetween                              // between the published values of a smaller and a larger build
	BasisBelow                                // carried on below the smallest build that is published
	BasisHeld                                 // the value of the largest build that is published, for a larger one
	BasisMeasured                             // the planner's own figure
	BasisScaled                               // the planner's own figure, carried over to other ports as the published values change
)

var basisNames = [...]string{
	BasisPublished: "published", BasisBetween: "interpolated", BasisBelow: "extrapolated", BasisHeld: "held",
	BasisMeasured: "measured", BasisScaled: "scaled",
}

// String names the basis: "published", "interpolated", "extrapolated", "held",
// "measured", "scaled".
func (b EfficiencyBasis) String() string {
	if int(b) >= len(basisNames) {
		return ""
	}
	return basisNames[b]
}

// Efficiency is a spectral efficiency in bit/s for each hertz of the effective
// bandwidth, with where it comes from.
type Efficiency struct {
	// Value is in bit/s/Hz, to a thousandth where it is not as published.
	Value exact.Ratio
	Basis EfficiencyBasis
	// Source is the published value it rests on, the one with more ports of two;
	// zero where the planner's own figure is all.
	Source bands.Source
	// Origin is what the planner says of the own figure; empty for a published one.
	Origin string
	// FromMemory tells that a published value behind the figure was not read in its
	// document, or the ports that it is taken to hold for were not.
	FromMemory bool
}

// The ports of a site that the published values are taken to hold for, from memory:
// neither report names any, but the antennas of the evaluations behind them are about
// these. Values between are found on a straight line over the logarithms of ports and
// efficiency; below the smaller build the line goes on; above the larger the value is
// held, since nothing that is published here says more.
const (
	imtAdvancedPorts = 4
	imt2020Ports     = 32
)

// MaxPorts is the most antenna ports of a site that this program takes.
const MaxPorts = 256

// SpectralEfficiency is the efficiency of a cell of a band in an environment whose site
// has a number of ports in the direction: those that transmit in the downlink, those
// that receive in the uplink. It rests on what IMT-2020 (Report ITU-R M.2410) and
// IMT-Advanced (Report ITU-R M.2134, from memory) had to reach at least, and so says
// what a good build should reach under full load, not what a given network does. LTE,
// and NR where nothing is published for it, have what IMT-Advanced had to reach,
// however many ports there are; nothing is published for FR2.
//
// It does not fall as ports are added. It is an error if the environment, the kind or
// the direction is none, the ports are not 1 to MaxPorts, or the band is of FR2.
func SpectralEfficiency(k EfficiencyKind, e Environment, b *bands.Band, d bands.Direction, ports int) (Efficiency, error) {
	switch {
	case e < IndoorHotspot || e > Rural:
		return Efficiency{}, &bands.ValueError{Param: "environment", Got: e.String(), Allowed: words.List(environmentNames[1:])}
	case k != Average && k != CellEdge:
		return Efficiency{}, &bands.ValueError{Param: "efficiency", Got: strconv.Itoa(int(k)), Allowed: "average or cell edge"}
	case d != bands.Downlink && d != bands.Uplink:
		return Efficiency{}, &bands.ValueError{Param: "direction", Got: d.String(), Allowed: "downlink or uplink"}
	}
	if err := checkPorts("ports", ports); err != nil {
		return Efficiency{}, err
	}
	if b.Range.IsFR2() {
		return Efficiency{}, &bands.ValueError{Param: "efficiency in FR2", Got: b.ID.String(), Allowed: "a measured figure: none is published for FR2"}
	}
	p := &loadEfficiencies()[k][e]
	small, large := p.imtAdvanced.in(d), p.imt2020.in(d)
	out := Efficiency{Source: p.imt2020.source, FromMemory: true}
	advanced := b.ID.RAT == bands.LTE || large.IsZero()
	switch {
	case advanced && ports > imtAdvancedPorts:
		return Efficiency{Value: small, Basis: BasisHeld, Source: p.imtAdvanced.source, FromMemory: true}, nil
	case ports >= imt2020Ports && !advanced:
		out.Value, out.Basis = large, BasisPublished
		if ports > imt2020Ports {
			out.Basis = BasisHeld
		}
		return out, nil
	case ports == imtAdvancedPorts:
		return Efficiency{Value: small, Basis: BasisPublished, Source: p.imtAdvanced.source, FromMemory: true}, nil
	case ports > imtAdvancedPorts:
		out.Basis = BasisBetween
	default:
		out.Basis, out.Source = BasisBelow, p.imtAdvanced.source
	}
	if large.IsZero() { // below its only build an environment goes as its neighbour does
		q := &loadEfficiencies()[k][DenseUrban]
		from, to := q.imtAdvanced.in(d), q.imt2020.in(d)
		large = small.Mul(to).Mul(exact.Of(from.Den, from.Num))
	}
	step := math.Log(float64(ports)/imtAdvancedPorts) / math.Log(float64(imt2020Ports)/imtAdvancedPorts)
	value := small.Float() * math.Pow(large.Float()/small.Float(), step)
	out.Value = thousandths(value)
	return out, nil
}

func thousandths(v float64) exact.Ratio { return exact.Of(int64(math.Round(v*1000)), 1000).Reduced() }

func checkPorts(param string, ports int) error {
	if ports >= 1 && ports <= MaxPorts {
		return nil
	}
	return &bands.ValueError{Param: param, Got: strconv.Itoa(ports), Allowed: "1 to " + strconv.Itoa(MaxPorts)}
}

// PublishedEfficiency is a row of the tables behind [SpectralEfficiency].
type PublishedEfficiency struct {
	Kind             EfficiencyKind
	Environment      Environment
	Ports            int // that the value is taken to hold for
	Downlink, Uplink exact.Ratio
	Source           bands.Source
	FromMemory       bool // the values themselves
}

// PublishedEfficiencies lists the values behind [SpectralEfficiency].
func PublishedEfficiencies() []PublishedEfficiency {
	var list []PublishedEfficiency
	for k := Average; k <= CellEdge; k++ {
		for e := IndoorHotspot; e <= Rural; e++ {
			p := &loadEfficiencies()[k][e]
			for i, row := range [...]*efficiencyRow{&p.imtAdvanced, &p.imt2020} {
				if row.downlink.IsZero() {
					continue // nothing is published
				}
				list = append(list, PublishedEfficiency{k, e, [...]int{imtAdvancedPorts, imt2020Ports}[i], row.downlink, row.uplink, row.source, row.fromMemory})
			}
		}
	}
	return list
}

// PeakEfficiencyRequired is the peak spectral efficiency in bit/s/Hz that IMT-2020 has
// to reach in a direction (Report ITU-R M.2410 clause 4.2).
func PeakEfficiencyRequired(d bands.Direction) (exact.Ratio, bands.Source) {
	t := data.Find(efficiencyTables(), "imt2020-peak")
	row := efficiencyRow{downlink: printed.Ratio(t.Rows[0][0]), uplink: printed.Ratio(t.Rows[0][1])}
	return row.in(d), t.Source
}

type efficiencyRow struct {
	downlink, uplink exact.Ratio
	source           bands.Source
	fromMemory       bool
}

func (r *efficiencyRow) in(d bands.Direction) exact.Ratio {
	if d == bands.Uplink {
		return r.uplink
	}
	return r.downlink
}

var (
	efficiencyTables = data.Lazy("spectral_efficiency")
	loadEfficiencies = sync.OnceValue(func() *[CellEdge + 1][Rural + 1]struct{ imtAdvanced, imt2020 efficiencyRow } {
		all := new([CellEdge + 1][Rural + 1]struct{ imtAdvanced, imt2020 efficiencyRow })
		for k, name := range [...]string{Average: "average", CellEdge: "edge"} {
			if name == "" {
				continue
			}
			for i, report := range [...]string{"imtadvanced-", "imt2020-"} {
				t := data.Find(efficiencyTables(), report+name)
				for _, row := range t.Rows {
					e, err := ParseEnvironment(row[0])
					if err != nil {
						panic("throughput: " + err.Error())
					}
					r := efficiencyRow{printed.Ratio(row[1]), printed.Ratio(row[2]), t.Source, strings.Contains(t.Note, "from memory")}
					if i == 0 {
						all[k][e].imtAdvanced = r
					} else {
						all[k][e].imt2020 = r
					}
				}
			}
		}
		return all
	})
)
