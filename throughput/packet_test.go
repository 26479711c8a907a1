package throughput

import (
	"errors"
	"fmt"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
)

// TestGoodput checks the way from blocks to payload on whole packets: blocks that
// hold exactly ten packets each with their headers, and a cut packet's headers.
func TestGoodput(t *testing.T) {
	h := PacketHeaders{MAC: 3, RLC: 3, PDCP: 3, SDAP: 1, Segment: 8, IP: 20, TCP: 32, Packet: 1500}
	block := int64(8 * (10*1510 + 8))
	blocks := exact.Whole(1000) // a second
	g, err := h.Goodput(blocks.Mul(exact.Whole(block)), blocks)
	if err != nil || g.IP != (exact.Whole(8*10*1500*1000)) || g.TCP != (exact.Whole(8*10*1448*1000)) {
		t.Errorf("%+v, %v", g, err)
	}
	if g, err := h.Goodput(exact.Whole(1000), exact.Whole(1000)); err != nil || g.IP.Num != 0 || g.TCP.Num != 0 {
		t.Errorf("blocks with room for headers alone: %+v, %v", g, err)
	}
	for _, h := range []PacketHeaders{DefaultPacketHeaders, LTEPacketHeaders} {
		rate := exact.Whole(1e9)
		g, err := h.Goodput(rate, exact.Whole(2000))
		if err != nil || g.TCP.Cmp(g.IP) >= 0 || g.IP.Cmp(rate) >= 0 || g.TCP.Float() < 0.95e9 {
			t.Errorf("%+v: %s and %s, %v", h, g.IP, g.TCP, err)
		}
	}
}

func TestGoodputErrors(t *testing.T) {
	for _, c := range []struct {
		param  string
		change func(*PacketHeaders)
	}{
		{"MAC header bytes", func(h *PacketHeaders) { h.MAC = -1 }},
		{"RLC header bytes", func(h *PacketHeaders) { h.RLC = 256 }},
		{"SDAP header bytes", func(h *PacketHeaders) { h.SDAP = -1 }},
		{"segment header bytes", func(h *PacketHeaders) { h.Segment = -1 }},
		{"packet bytes", func(h *PacketHeaders) { h.Packet = 40 }},
		{"packet bytes", func(h *PacketHeaders) { h.Packet = 65536 }},
	} {
		h := DefaultPacketHeaders
		c.change(&h)
		_, err := h.Goodput(exact.Whole(1e6), exact.Whole(1000))
		var e *bands.ValueError
		if !errors.As(err, &e) || e.Param != c.param {
			t.Errorf("%+v: %v, want an error about %s", h, err, c.param)
		}
	}
}

func ExamplePacketHeaders_Goodput() {
	g, err := DefaultPacketHeaders.Goodput(exact.Whole(1e9), exact.Whole(2000))
	fmt.Printf("%.1f Mbit/s of IP, %.1f Mbit/s of TCP payload, %v\n", g.IP.Mbps(), g.TCP.Mbps(), err)
	// Output:
	// 993.3 Mbit/s of IP, 966.8 Mbit/s of TCP payload, <nil>
}
