package bands

import "testing"

// For spans of drawn places the numbers are those that a walk over all of them finds.
func TestWithin(t *testing.T) {
	for _, c := range []struct {
		band  ID
		d     Direction
		width Frequency
	}{
		{ID{NR, 78}, Downlink, 100 * MHz}, {ID{NR, 3}, Uplink, 20 * MHz}, {ID{NR, 41}, Downlink, 40 * MHz}, {ID{NR, 46}, Downlink, 20 * MHz},
		{ID{LTE, 3}, Downlink, 20 * MHz}, {ID{LTE, 20}, Uplink, 10 * MHz}, {ID{NR, 257}, Downlink, 400 * MHz}, {ID{NR, 80}, Uplink, 10 * MHz},
	} {
		b, err := Lookup(c.band)
		if err != nil {
			t.Fatal(err)
		}
		own := b.Span(c.d)
		begin, end, ok := b.NumberRange(c.d)
		if !ok {
			t.Fatalf("%v has no numbers", c.band)
		}
		for i := range Frequency(12) {
			span := Span{own.Low + own.Width()*i/13, own.Low + own.Width()*(i+2)/13 + 7}
			var want []int32
			for n := begin; n <= end; n++ {
				f, err := b.ChannelFrequency(n)
				if err == nil && span.Contains(f) && own.Covers(Around(f, c.width)) && b.OnRaster(c.d, n, c.width) {
					want = append(want, n)
				}
			}
			first, last, ok := b.Within(c.d, span, c.width)
			if ok != (len(want) > 0) || ok && (first != want[0] || last != want[len(want)-1]) {
				t.Errorf("%v %v %v in %v: %d to %d, %v; want %v", c.band, c.d, c.width, span, first, last, ok, want)
			}
		}
	}
}
