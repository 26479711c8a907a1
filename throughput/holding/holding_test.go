package holding_test

import (
	"slices"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
	"spectally/throughput"
	"spectally/throughput/holding"
)

// each calls check with the best of every network of the nation for every aim.
func each(t *testing.T, l holding.Limits, check func(n *holding.Network, b *holding.Best)) {
	t.Helper()
	f := holding.NewFinder(l)
	for _, text := range nation {
		n := f.Network(blocks(t, text))
		for _, technology := range holding.Technologies() {
			for _, a := range holding.Aims() {
				b, ok := n.Best(technology, a)
				if !ok {
					t.Fatalf("%s: nothing for %s %s", text, technology, a)
				}
				check(n, &b)
			}
		}
	}
	if err := f.Err(); err != nil {
		t.Error(err)
	}
}

// Every best is listed with its widths, passes every rule, uses an uplink that is listed,
// lies inside its blocks, and yields what the search says.
func TestBestHolds(t *testing.T) {
	for _, l := range []holding.Limits{{}, {Carriers: 3, Width: 200 * bands.MHz, UplinkCarriers: 2, Tolerance: 10 * bands.KHz, Layers: 2, Pattern: "DSUUU"}} {
		each(t, l, func(n *holding.Network, b *holding.Best) {
			name := b.Technology.String() + " " + b.Aim.String() + " " + b.Carriers.String()
			a := ca.Assess(b.Carriers)
			for _, f := range a.Findings() {
				if f.Severity != ca.Note {
					t.Errorf("%s: %s", name, f.Message)
				}
			}
			list, _ := a.Listings()
			i := slices.IndexFunc(list, func(x ca.Listing) bool { return x.Name == b.Name })
			if i < 0 || !list[i].Holds() || !list[i].Alone && len(list[i].Listed) == 0 {
				t.Errorf("%s: %s is not listed with these widths", name, b.Name)
			}
			for k := range b.Places {
				p := &b.Places[k]
				if s := p.Span(bands.Downlink); !widened(n.Blocks[b.Blocks[k]].Downlink, l.Tolerance).Covers(s) {
					t.Errorf("%s: %s lies outside its block", name, p.Carrier)
				}
			}
			checkValue(t, name, a, b)
			if l.Carriers != 0 && len(b.Carriers) > l.Carriers || l.Width != 0 && b.Spectrum(bands.Downlink) > l.Width {
				t.Errorf("%s: beyond the limits", name)
			}
			if !b.Proven() {
				t.Errorf("%s: bound %d is above %d", name, b.Bound, b.Value)
			}
		})
	}
}

// checkValue compares the value with the rates and widths of the whole combination.
func checkValue(t *testing.T, name string, a *ca.Assessment, b *holding.Best) {
	t.Helper()
	r, err := throughput.Rate(a)
	if err == nil {
		err = r.Schedule(throughput.Settings{})
	}
	if err != nil {
		t.Fatal(err)
	}
	want := map[holding.Aim]int64{
		holding.DownlinkRate: r.Downlink.Scheduled.Round(), holding.UplinkRate: r.Uplink.Scheduled.Round(),
		holding.DownlinkWidth: int64(b.Spectrum(bands.Downlink)), holding.UplinkWidth: int64(b.Spectrum(bands.Uplink)),
	}[b.Aim]
	if b.Value != want {
		t.Errorf("%s: %d, the combination has %d", name, b.Value, want)
	}
}

func widened(s bands.Span, by bands.Frequency) bands.Span {
	return bands.Span{Low: s.Low - by, High: s.High + by}
}

// More spectrum is never worse, nor does the order of the blocks matter.
func TestMoreSpectrumIsNotWorse(t *testing.T) {
	f := holding.NewFinder(holding.Limits{})
	list := blocks(t, "1805-1815/1710-1720, 1820-1825/1725-1730, 2620-2635/2500-2515, 3410-3450, 3460-3500, 758-763/703-708")
	best := func(list []deploy.Block) (values []int64) {
		n := f.Network(list)
		for _, technology := range holding.Technologies() {
			for _, a := range holding.Aims() {
				b, _ := n.Best(technology, a)
				values = append(values, b.Value)
			}
		}
		return values
	}
	before := best(list)
	turned := slices.Clone(list)
	slices.Reverse(turned)
	if got := best(turned); !slices.Equal(got, before) {
		t.Errorf("in another order %d, not %d", got, before)
	}
	compare := func(what string, list []deploy.Block) {
		for i, v := range best(list) {
			if v < before[i] {
				t.Errorf("%s: %s %s falls from %d to %d", what, holding.Technologies()[i/4], holding.Aims()[i%4], before[i], v)
			}
		}
	}
	for i := range list {
		for _, by := range []bands.Frequency{200 * bands.KHz, 5 * bands.MHz} {
			wider := slices.Clone(list)
			wider[i].Downlink.High += by
			if !wider[i].Uplink.IsZero() {
				wider[i].Uplink.High += by
			}
			compare(wider[i].String(), wider)
		}
	}
	compare("one more block", append(slices.Clone(list), blocks(t, "925-930/880-885")...))
}

// A device takes no more than it has, and what it cannot do does not count.
func TestDevice(t *testing.T) {
	n78, b3 := bands.ID{RAT: bands.NR, Number: 78}, bands.ID{RAT: bands.LTE, Number: 3}
	device := &throughput.Device{Bands: []throughput.DeviceBand{{Band: n78, Layers: 2, Widest: 40 * bands.MHz}, {Band: b3, DownlinkOnly: true}}, Carriers: 2}
	n := holding.NewFinder(holding.Limits{Device: device}).Network(blocks(t, nation[0]))
	b, ok := n.Best(holding.NR, holding.DownlinkWidth)
	if !ok || b.Spectrum(bands.Downlink) != 80*bands.MHz || len(b.Carriers) != 2 || b.Carriers[0].Layers != 2 {
		t.Errorf("%s, want two of 40 MHz with two layers", b.Carriers)
	}
	if b, ok := n.Best(holding.LTE, holding.DownlinkRate); ok {
		t.Errorf("%s without an uplink", b.Carriers)
	}
	if b, ok := n.Best(holding.ENDC, holding.DownlinkRate); ok {
		t.Errorf("%s without an uplink of LTE", b.Carriers)
	}
}

func TestFaultOfPattern(t *testing.T) {
	f := holding.NewFinder(holding.Limits{Pattern: "UUUU?"})
	f.Network(blocks(t, "3410-3500")).Best(holding.NR, holding.DownlinkRate)
	if f.Err() == nil {
		t.Error("a pattern that is none is no fault")
	}
}
