package interference

import "spectally/bands"

// Kind is how a product comes about.
type Kind uint8

// The kinds of products. The zero Kind is none.
const (
	// Harmonic is a multiple of one uplink on a downlink.
	Harmonic Kind = iota + 1
	// Mixing is an uplink, or a multiple of it, at a multiple of what a receiver is tuned to:
	// the harmonic of its oscillator brings it into the channel. The oscillator may stand
	// anywhere in the channel, so that the multiple is as many times as wide.
	Mixing
	// Intermodulation is the product of two or three uplinks on a downlink.
	Intermodulation
)

// String names the kind: "harmonic", "mixing", "intermodulation".
func (k Kind) String() string {
	switch k {
	case Harmonic:
		return "harmonic"
	case Mixing:
		return "mixing"
	case Intermodulation:
		return "intermodulation"
	}
	return "none"
}

// Hit is how near a product comes to a downlink.
type Hit uint8

// The hits. The zero Hit is none.
const (
	None   Hit = iota // farther away than the margin
	Near              // beside the channel, within the margin
	Direct            // the product and the channel overlap
)

// String names the hit: "direct", "near", "none".
func (h Hit) String() string {
	switch h {
	case Direct:
		return "direct"
	case Near:
		return "near"
	}
	return "none"
}

// Places tells in how many of the places that the carriers can take a downlink is hit.
type Places uint8

// The shares of places. The zero Places stands for carriers whose place is known.
const (
	Known      Places = iota
	NoPlaces          // hit in none
	SomePlaces        // hit in some
	AllPlaces         // hit in all
)

// String writes "no", "some" or "all"; the empty string where the places are known.
func (p Places) String() string {
	return [...]string{"", "no", "some", "all"}[p]
}

// Source is an uplink that takes part in a product.
type Source struct {
	Carrier     int8 // counted from 0
	Coefficient int8
}

// Product is a product of uplinks and the downlink to which it is compared.
type Product struct {
	Kind Kind
	// Order is the sum of the absolute coefficients.
	Order int8
	// ReceiverOrder is the multiple of the receiver's oscillator: 1 but for Mixing.
	ReceiverOrder int8
	// Uplinks counts the sources; see [Product.Sources].
	Uplinks int8
	sources [3]Source
	// Victim is the carrier whose downlink it is, counted from 0.
	Victim int
	// Span is the product, over all places of carriers that have none.
	Span   bands.Span
	Hit    Hit
	Places Places
	// Offset is how far the centre of the product lies above that of the downlink times
	// the receiver's order. It is known where the places are, else zero.
	Offset bands.Frequency
	// Distance is the spectrum between the product and the downlink times the receiver's
	// order; zero where they meet. Without places it is the least there is.
	Distance bands.Frequency
}

// Sources lists the uplinks of the product.
func (p *Product) Sources() []Source { return p.sources[:p.Uplinks] }
