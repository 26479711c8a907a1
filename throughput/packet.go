package throughput

import (
	"strconv"

	"spectally/bands"
	"spectally/throughput/exact"
)

// PacketHeaders are the bytes that stand between transport blocks and what an
// application sees.
type PacketHeaders struct {
	// MAC, RLC, PDCP and SDAP stand before every IP packet.
	MAC, RLC, PDCP, SDAP int
	// Segment is what each transport block takes more because its last packet is
	// cut: the headers of the rest of it in the next block.
	Segment int
	// IP and TCP are headers within a packet, options included.
	IP, TCP int
	// Packet is the length of an IP packet, its headers included.
	Packet int
}

// DefaultPacketHeaders is what this program assumes for NR: a MAC subheader with
// a 16-bit length (3 bytes), RLC acknowledged mode and PDCP with 18-bit sequence
// numbers (3 bytes each), an SDAP header (1 byte), 8 bytes for a cut packet (MAC
// subheader and RLC header with segment offset), IPv4 and TCP without options (20
// bytes each), packets of 1500 bytes. The header sizes are those of TS 38.321,
// TS 38.322, TS 38.323 and TS 37.324, from memory. There is no header
// compression, no retransmission and no control traffic.
var DefaultPacketHeaders = PacketHeaders{MAC: 3, RLC: 3, PDCP: 3, SDAP: 1, Segment: 8, IP: 20, TCP: 20, Packet: 1500}

// LTEPacketHeaders is the same for LTE, without SDAP and with 10-bit RLC and
// 12-bit PDCP sequence numbers (TS 36.321, TS 36.322, TS 36.323, from memory).
var LTEPacketHeaders = PacketHeaders{MAC: 3, RLC: 2, PDCP: 2, Segment: 7, IP: 20, TCP: 20, Packet: 1500}

// Goodput is a rate as the layers above see it, in bit/s.
type Goodput struct {
	IP  exact.Ratio // IP packets, their headers included
	TCP exact.Ratio // payload of TCP
}

// Goodput takes a rate of transport block bits and the number of blocks in a
// second down to IP packets and TCP payload. Packets follow each other without
// padding.
func (h *PacketHeaders) Goodput(rate, blocksPerSecond exact.Ratio) (Goodput, error) {
	if err := h.check(); err != nil {
		return Goodput{}, err
	}
	layer2 := h.MAC + h.RLC + h.PDCP + h.SDAP
	bits := rate.Add(blocksPerSecond.Mul(exact.Whole(-8 * int64(h.Segment))))
	if bits.Num <= 0 {
		return Goodput{exact.Whole(0), exact.Whole(0)}, nil
	}
	all := int64(h.Packet + layer2)
	return Goodput{
		IP:  bits.Mul(exact.Of(int64(h.Packet), all)),
		TCP: bits.Mul(exact.Of(int64(h.Packet-h.IP-h.TCP), all)),
	}, nil
}

func (h *PacketHeaders) check() error {
	for _, f := range [...]struct {
		name  string
		bytes int
	}{{"MAC", h.MAC}, {"RLC", h.RLC}, {"PDCP", h.PDCP}, {"SDAP", h.SDAP}, {"segment", h.Segment}, {"IP", h.IP}, {"TCP", h.TCP}} {
		if f.bytes < 0 || f.bytes > 255 {
			return &bands.ValueError{Param: f.name + " header bytes", Got: strconv.Itoa(f.bytes), Allowed: "0 to 255"}
		}
	}
	if h.Packet <= h.IP+h.TCP || h.Packet > 65535 {
		return &bands.ValueError{Param: "packet bytes", Got: strconv.Itoa(h.Packet),
			Allowed: "more than its IP and TCP headers, at most 65535"}
	}
	return nil
}
