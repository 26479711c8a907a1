package ca

import "spectally/bands"

// Spacing is the nominal spacing of two contiguous aggregated carriers, with how it
// came about.
type Spacing struct {
	Nominal bands.Frequency
	// Grid is the step to which the nominal spacing is rounded.
	Grid bands.Frequency
	// Tolerance is how far from nominal shared-spectrum carriers may be.
	Tolerance bands.Frequency
	// SCS is the subcarrier spacing of the largest numerology that both widths
	// share, mu0; zero where the rule does not use one.
	SCS    bands.Frequency
	Source bands.Source

	fine bool // the band has a raster that divides every subcarrier spacing
}

// GridAt is the step on which spacings below the nominal one are allowed for
// carriers of which scs is the wider subcarrier spacing: the least common multiple
// of channel raster and subcarrier spacing.
func (s *Spacing) GridAt(scs bands.Frequency) bands.Frequency {
	if s.fine && scs != 0 {
		return scs
	}
	return s.Grid
}

var (
	spacingFR1 = bands.Source{Spec: "TS 38.101-1", Version: "19.5.0", Table: "clause 5.4A.1"}
	spacingFR2 = bands.Source{Spec: "TS 38.101-2", Version: "19.4.0", Table: "clause 5.4A.1"}
	spacingLTE = bands.Source{Spec: "TS 36.101", Version: "19.6.0", Table: "clause 5.7.1A"}
)

// NominalSpacing is the nominal distance between the centres of two neighbouring
// carriers of intra-band contiguous carrier aggregation:
//
//	LTE: floor((BW1 + BW2 − 0.1 |BW1 − BW2|) / 0.6) · 0.3 MHz
//	FR1, 100 kHz raster: floor((BW1 + BW2 − 2 |GB1 − GB2|) / 0.6) · 0.3 MHz
//	FR1, other rasters:  floor((BW1 + BW2 − 2 |GB1 − GB2|) / (0.015 · 2^(n+1))) · 0.015 · 2^n MHz, n = mu0
//	FR2-1:               floor((BW1 + BW2 − 2 |GB1 − GB2|) / (0.06 · 2^(n+1))) · 0.06 · 2^n MHz, n = mu0 − 2
//	FR2-2:               ceil((BW1 + BW2) / 100.8) · 50.4 MHz
//
// mu0 is the largest numerology that the band offers for both widths (30 kHz if
// they share none, FR1 only), GB the minimum guard bands at it. The NR formulas
// are written from knowledge of the clause. A width that the band does not have
// is an error. The tolerance of LTE band 46 is that of the NR band of the same
// spectrum: its lists of carrier centres are made for spacings of 19.8 and 20.1 MHz
// (from memory).
func NominalSpacing(b *bands.Band, bw1, bw2 bands.Frequency) (Spacing, error) {
	c1, c2, err := atCommonSpacing(b, bw1, bw2)
	if err != nil {
		return Spacing{}, err
	}
	difference := max(bw1-bw2, bw2-bw1)
	if b.ID.RAT == bands.LTE {
		step := 300 * bands.KHz
		s := Spacing{Nominal: (bw1 + bw2 - difference/10) / (2 * step) * step, Grid: step, Source: spacingLTE}
		if b.ID.Number == 46 {
			s.Tolerance = step
		}
		return s, nil
	}
	if b.Range == bands.FR22 {
		step := 50_400 * bands.KHz
		return Spacing{Nominal: (bw1 + bw2 + 2*step - 1) / (2 * step) * step, Grid: step, Source: spacingFR2}, nil
	}
	d := bw1 + bw2 - 2*max(c1.GuardBand-c2.GuardBand, c2.GuardBand-c1.GuardBand)
	s := Spacing{SCS: c1.SCS, Source: spacingFR1}
	step := c1.SCS // 15 kHz · 2^mu0, and 60 kHz · 2^(mu0 − 2)
	switch {
	case b.Range.IsFR2():
		s.Source, s.fine = spacingFR2, true
	case b.HasRaster(100 * bands.KHz):
		step = 300 * bands.KHz
		s.fine = b.HasRaster(15 * bands.KHz) // n90
	default:
		s.fine = true
	}
	s.Nominal, s.Grid = d/(2*step)*step, step
	if b.IsShared() {
		s.Tolerance = 300 * bands.KHz
	}
	return s, nil
}

// atCommonSpacing returns two widths of a band at mu0, the largest numerology that
// it offers for both; at 30 kHz if they share none, as happens in FR1 alone. In
// FR2-2, where no rule asks for it, the numerologies may differ.
func atCommonSpacing(b *bands.Band, bw1, bw2 bands.Frequency) (c1, c2 bands.ChannelWidth, err error) {
	c1, c2, ok := b.WidestSpacing(bw1, bw2)
	if ok {
		return c1, c2, nil
	}
	for _, w := range [...]bands.Frequency{bw1, bw2} {
		if !b.HasWidth(bands.Downlink, w) && !b.HasWidth(bands.Uplink, w) {
			return c1, c2, b.CheckWidth(lead(b), w, 0)
		}
	}
	if c1, err = atOwnSpacing(b, bw1); err != nil {
		return c1, c2, err
	}
	c2, err = atOwnSpacing(b, bw2)
	return c1, c2, err
}

// atOwnSpacing returns a width that shares no numerology with its neighbour.
func atOwnSpacing(b *bands.Band, width bands.Frequency) (c bands.ChannelWidth, err error) {
	c = bands.ChannelWidth{SCS: 30 * bands.KHz, Width: width}
	if b.Range == bands.FR22 {
		c.SCS = b.DefaultSpacing(width)
	}
	if c.ResourceBlocks, err = bands.ResourceBlocks(b.Range, c.SCS, width); err != nil {
		return c, err
	}
	c.GuardBand, err = bands.GuardBand(b.Range, c.SCS, width)
	return c, err
}
