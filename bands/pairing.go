package bands

// Pairing is where the channel of the other direction lies for a channel of a
// paired band.
type Pairing struct {
	// Centre is its carrier centre; zero if the tables leave it open.
	Centre Frequency
	// Possible tells whether it fits into the band at all. It does not for the
	// upper downlink of bands 66 and 70, which has no uplink beside it.
	Possible bool
}

// Pair finds the channel of the other direction, of the given width, for a channel
// of width own whose carrier centre in direction d is f. It is at the same place in
// a TDD band, and a transmit-receive separation away in a paired one: at the
// default, else at an alternative or inside the range that the band has. Channels of
// different width need not be at the separation exactly: the narrower one lies
// within the wider one moved by the separation (TS 38.101-1 clause 5.3.6, from
// memory), so that its centre is known only where a single place is left.
func (b *Band) Pair(d Direction, f, own, width Frequency) Pairing {
	other := Uplink
	if d == Uplink {
		other = Downlink
	}
	if !b.Has(other) || !b.Span(d).Contains(f) {
		return Pairing{}
	}
	if b.Duplex == TDD {
		return Pairing{Centre: f, Possible: true}
	}
	span := b.Span(other)
	low, high := span.Low+width/2, span.High-width/2
	if low > high {
		return Pairing{}
	}
	list := b.separations()
	if len(list) == 0 {
		return Pairing{Possible: true}
	}
	slack := max(own-width, width-own) / 2
	var found Pairing
	for i := range list {
		s := &list[i]
		if s.HasDefault {
			centre := f + s.Default
			if d == Downlink {
				centre = f - s.Default
			}
			from, to := max(low, centre-slack), min(high, centre+slack)
			switch {
			case from > to:
			case from < to:
				found.Possible = true
			case len(list) > 1 && !b.mayUse(other, Around(from, width)):
				found.Possible = true
			default:
				return Pairing{Centre: from, Possible: true}
			}
		}
		if s.HasRange {
			from, to := f+s.Min, f+s.Max
			if d == Downlink {
				from, to = f-s.Max, f-s.Min
			}
			found.Possible = found.Possible || max(low, from-slack) <= min(high, to+slack)
		}
	}
	return found
}

// mayUse tells whether a channel lies in a part of the band that the notes of the
// band table allow everywhere.
func (b *Band) mayUse(d Direction, channel Span) bool {
	limited := false
	for _, p := range b.parts {
		if p.Region != "all" || d == Downlink && !p.Downlink || d == Uplink && !p.Uplink {
			continue
		}
		if p.Span.Covers(channel) {
			return true
		}
		limited = true
	}
	return !limited
}
