package site

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/exact"
	"spectally/throughput/internal/words"
)

// DefaultCellLayers is the number of layers that a site with a number of ports in a
// direction is assumed to have in the air at once over all users: in the downlink as
// many as ports up to 4, and a quarter of the ports from 16 on, 16 at most; in the
// uplink 2, and an eighth of the ports from 16 on, 8 at most. Common practice, no
// source.
func DefaultCellLayers(d bands.Direction, ports int) int {
	least, part, most := 4, 4, 16
	if d == bands.Uplink {
		least, part, most = 2, 8, 8
	}
	return min(ports, most, max(least, ports/part))
}

// ParsePorts reads the antenna ports of a radio as the trade writes them, transmit
// before receive: "8T8R". Letter case does not matter; each is 1 to MaxPorts.
func ParsePorts(s string) (transmit, receive int, err error) {
	t, r, ok := strings.Cut(strings.ToUpper(strings.TrimSpace(s)), "T")
	r, suffix := strings.CutSuffix(r, "R")
	numbers := strings.Trim(t+r, "0123456789") == ""
	transmit, errT := strconv.Atoi(t)
	receive, errR := strconv.Atoi(r)
	if !ok || !suffix || !numbers || errT != nil || errR != nil || checkPorts("", transmit) != nil || checkPorts("", receive) != nil {
		return 0, 0, &bands.ValueError{Param: "ports", Got: s, Allowed: `transmit and receive ports such as "8T8R", 1 to ` + strconv.Itoa(MaxPorts) + " each"}
	}
	return transmit, receive, nil
}

// maxCellLayers bounds the layers that a planner can give.
const maxCellLayers = 64

// cellLayers are the layers of a radio over all users: those given, else assumed
// ones, but no fewer than one phone has.
func (r *Radio) cellLayers(d bands.Direction, userLayers int) int {
	n := r.Layers
	if d == bands.Uplink {
		n = r.UplinkLayers
	}
	if n == 0 {
		n = DefaultCellLayers(d, r.Ports(d))
	}
	return max(n, userLayers)
}

// check refuses ports and layers that no radio has.
func (r *Radio) check() error {
	for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
		name, layers := "transmit ports", r.Layers
		if d == bands.Uplink {
			name, layers = "receive ports", r.UplinkLayers
		}
		if err := checkPorts(name, r.Ports(d)); err != nil {
			return err
		}
		if most := min(r.Ports(d), maxCellLayers); layers < 0 || layers > most {
			return &bands.ValueError{Param: d.String() + " layers over all users", Got: strconv.Itoa(layers),
				Allowed: "0 (assumed) or 1 to " + strconv.Itoa(most) + ": at most the " + words.Plural(r.Ports(d), "port")}
		}
		if p := r.Measured.ports(d); p < 0 || p > MaxPorts {
			return checkPorts("ports of the measured efficiency", p)
		}
	}
	for _, m := range [...]exact.Ratio{r.Measured.Downlink, r.Measured.Uplink, r.Measured.DownlinkEdge, r.Measured.UplinkEdge} {
		if m.IsZero() {
			continue
		}
		if err := checkFine("measured efficiency", m); err != nil {
			return err
		}
		if m.Num <= 0 || m.Cmp(exact.Whole(maxEfficiency)) > 0 {
			return &bands.ValueError{Param: "measured efficiency", Got: m.String(), Allowed: "above zero, up to " + strconv.Itoa(maxEfficiency) + " bit/s/Hz"}
		}
	}
	return nil
}

// PanelPorts is the most ports that an antenna of a usual size has room for at the
// wavelength of a band: 8 below 1 GHz, 64 below 7.125 GHz, any number in FR2. Common
// practice, no source.
func PanelPorts(b *bands.Band) int {
	span := b.Span(bands.Downlink)
	if span.IsZero() {
		span = b.Span(bands.Uplink)
	}
	switch {
	case span.Low < bands.GHz:
		return 8
	case b.Range.IsFR2():
		return MaxPorts
	}
	return 64
}

// maxEfficiency bounds an efficiency in bit/s/Hz that a planner can give: more than
// any cell has.
const maxEfficiency = 200

// efficiency is that of the radio's cells: the planner's own figure, else what is
// published.
func (r *Radio) efficiency(k EfficiencyKind, e Environment, b *bands.Band, d bands.Direction) (Efficiency, error) {
	own, from := r.Measured.value(k, d), r.Measured.ports(d)
	if !own.IsZero() && (from == 0 || from == r.Ports(d) || b.Range.IsFR2()) { // nothing published for FR2 says what other ports change
		return Efficiency{Value: own, Basis: BasisMeasured, Origin: r.Measured.Origin}, nil
	}
	published, err := SpectralEfficiency(k, e, b, d, r.Ports(d))
	if err != nil || own.IsZero() {
		return published, err
	}
	there, err := SpectralEfficiency(k, e, b, d, from)
	if err != nil {
		return Efficiency{}, err
	}
	return Efficiency{
		Value: thousandths(own.Float() * published.Value.Float() / there.Value.Float()), Basis: BasisScaled,
		Source: published.Source, Origin: r.Measured.Origin, FromMemory: true,
	}, nil
}
