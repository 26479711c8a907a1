package ca

import "spectally/bands"

// Spacing is the nominal spacing of two contiguous aggregated carriers, with how it
// came about.
type Spacing struct {
	Nominal bands.Frequency
	// Grid is the step on which smaller spacings are allowed.
	Grid bands.Frequency
	// Tolerance is how far from nominal shared-spectrum carriers may be.
	Tolerance bands.Frequency
	// SCS is the subcarrier spacing of the largest numerology that both widths
	// share, mu0; zero where the rule does not use one.
	SCS    bands.Frequency
	Source bands.Source
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
// is an error.
func NominalSpacing(b *bands.Band, bw1, bw2 bands.Frequency) (Spacing, error) {
	difference := max(bw1-bw2, bw2-bw1)
	if b.ID.RAT == bands.LTE {
		step := 300 * bands.KHz
		return Spacing{Nominal: (bw1 + bw2 - difference/10) / (2 * step) * step, Grid: step, Source: spacingLTE}, nil
	}
	if b.Range == bands.FR22 {
		step := 50_400 * bands.KHz
		return Spacing{Nominal: (bw1 + bw2 + 2*step - 1) / (2 * step) * step, Grid: step, Source: spacingFR2}, nil
	}
	scs := commonSpacing(b, bw1, bw2)
	if scs == 0 && !b.Range.IsFR2() {
		scs = 30 * bands.KHz
	}
	g1, err := bands.GuardBand(b.Range, scs, bw1)
	if err != nil {
		return Spacing{}, err
	}
	g2, err := bands.GuardBand(b.Range, scs, bw2)
	if err != nil {
		return Spacing{}, err
	}
	d := bw1 + bw2 - 2*max(g1-g2, g2-g1)
	s := Spacing{SCS: scs, Source: spacingFR1}
	step := scs // 15 kHz · 2^mu0, and 60 kHz · 2^(mu0 − 2)
	switch {
	case b.Range.IsFR2():
		s.Source = spacingFR2
	case b.HasRaster(100 * bands.KHz):
		step = 300 * bands.KHz
	}
	s.Nominal, s.Grid = d/(2*step)*step, step
	if b.IsShared() {
		s.Tolerance = 300 * bands.KHz
	}
	return s, nil
}

// commonSpacing is the largest subcarrier spacing that the band offers for both
// widths; zero if there is none.
func commonSpacing(b *bands.Band, bw1, bw2 bands.Frequency) bands.Frequency {
	for _, scs := range [...]bands.Frequency{960 * bands.KHz, 480 * bands.KHz, 120 * bands.KHz, 60 * bands.KHz, 30 * bands.KHz, 15 * bands.KHz} {
		if _, ok := b.Width(scs, bw1); !ok {
			continue
		}
		if _, ok := b.Width(scs, bw2); ok {
			return scs
		}
	}
	return 0
}
