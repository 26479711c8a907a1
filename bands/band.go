package bands

import "strings"

// Band is an operating band as the tables list it.
type Band struct {
	ID       ID
	Range    Range // none for LTE
	Duplex   Duplex
	Uplink   Span // none where the band has no uplink
	Downlink Span // none where the band has no downlink
	// Note holds what the notes of the band table say, in our words; parts are
	// separated by "; ". Empty for most bands.
	Note   string
	Source Source

	widths      []ChannelWidth
	widthSource Source
	rasters     []Raster
	parts       []Part

	complete func() // reads what the band has beside its row, once; nil if nothing is left
}

// completed is the band with all that it has.
func (b *Band) completed() *Band {
	if b.complete != nil {
		b.complete()
	}
	return b
}

// Span is the spectrum of the band in one direction; none where the band does
// not have that direction.
func (b *Band) Span(d Direction) Span {
	switch d {
	case Downlink:
		return b.Downlink
	case Uplink:
		return b.Uplink
	}
	return Span{}
}

// Has tells whether the band has the direction.
func (b *Band) Has(d Direction) bool { return !b.Span(d).IsZero() }

// IsShared tells whether the band is for shared-spectrum channel access alone
// (TS 37.213): n46, n96 and n102, and LTE band 46 for licensed-assisted access.
func (b *Band) IsShared() bool {
	switch b.ID {
	case ID{NR, 46}, ID{NR, 96}, ID{NR, 102}, ID{LTE, 46}:
		return true
	}
	return false
}

// IsUnlicensed tells whether a network has to share the channel of the band with others:
// bands of shared-spectrum channel access, licensed-assisted access and unlicensed operation
// (TS 37.213; the notes of TS 38.101-2 Table 5.2-1 on n263).
func (b *Band) IsUnlicensed() bool {
	return b.IsShared() || b.LicensedAssisted() || strings.Contains(b.Note, "unlicensed operation")
}

// LicensedAssisted tells whether the band is for licensed-assisted access alone: LTE
// bands 46 and 49, whose carriers have frame structure type 3 (TS 36.101 Table 5.5-1,
// TS 36.211 clause 4.3) and are secondary cells.
func (b *Band) LicensedAssisted() bool {
	return b.ID == ID{LTE, 46} || b.ID == ID{LTE, 49}
}
