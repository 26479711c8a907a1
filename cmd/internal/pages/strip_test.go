package pages

import (
	"testing"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// A carrier of which only the SS/PBCH block is known is drawn where it can lie: the block at
// 3600 MHz leaves the centre 3564.54 to 3635.46 MHz, the channel 40 MHz to either side, of
// which 3595.46 to 3604.54 is filled wherever it lies.
func TestLooseStrip(t *testing.T) {
	blocks := carrierStrip("n78:80,ssb=640000 + n78:20@651000").Lanes[0].Blocks
	if len(blocks) != 2 || blocks[0].Loose {
		t.Fatalf("%+v", blocks)
	}
	b := blocks[1]
	const khz = bands.KHz
	if want := (bands.Span{Low: 3524_540 * khz, High: 3675_460 * khz}); !b.Loose || b.Use != render.BothUse || b.Edges != want {
		t.Errorf("%+v, want %s", b, want)
	}
	if want := (bands.Span{Low: 3595_460 * khz, High: 3604_540 * khz}); b.Certain != want {
		t.Errorf("certain %s, want %s", b.Certain, want)
	}
	if _, err := render.Render(&render.Answer{Document: []render.Block{carrierStrip("n78:80,ssb=640000")}}, render.Options{Format: render.HTML}); err != nil {
		t.Error(err)
	}
}

// A supplementary uplink is drawn as an uplink alone, a supplementary downlink as a downlink
// alone, for every band of the kind.
func TestSupplementaryStrips(t *testing.T) {
	seen := map[bands.Duplex]int{}
	for _, b := range bands.All(0) {
		want := render.UplinkUse
		switch b.Duplex {
		case bands.SUL:
		case bands.SDL:
			want = render.DownlinkUse
		default:
			continue
		}
		seen[b.Duplex]++
		widths := b.Widths()
		if len(widths) == 0 {
			continue
		}
		blocks := carrierStrip(b.ID.String() + ":" + widths[len(widths)-1].Width.MHz()).Lanes[0].Blocks
		if len(blocks) != 1 || blocks[0].Use != want || blocks[0].Within != b.Span(map[render.Use]bands.Direction{render.UplinkUse: bands.Uplink, render.DownlinkUse: bands.Downlink}[want]) {
			t.Errorf("%s: %+v", b.ID, blocks)
		}
	}
	if seen[bands.SUL] < 10 || seen[bands.SDL] < 3 {
		t.Errorf("tested are %v", seen)
	}
}
