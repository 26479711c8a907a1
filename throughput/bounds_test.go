package throughput

import (
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
)

// TestBounds: what a carrier yields lies within the bounds of one that leaves it open,
// and a carrier that leaves nothing open has one rate. TS 36.213 V19.3.0 Table
// 7.1.7.2.1-1: 75.376 Mbit/s a layer of 20 MHz with 64QAM.
func TestBounds(t *testing.T) {
	bounds := func(s string, d bands.Direction) Bounds {
		t.Helper()
		c, err := ca.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		b, err := BoundsOf(c, d)
		if err != nil {
			t.Fatal(s, err)
		}
		return b
	}
	if b := bounds("B3:20,layers=2,qam=64", bands.Downlink); b.Least != b.Most || b.Most.Max != (exact.Whole(150_752_000)) {
		t.Errorf("nothing is open, but the bounds are %+v", b)
	}
	for _, test := range []struct {
		open, stated string
		d            bands.Direction
	}{
		{"B3:20 + n78:100", "B3:20,layers=4,qam=256 + n78:100,layers=2,qam=64,pattern=7DS2U/6:4:4", bands.Downlink},
		{"n78:100", "n78:100,scs=60,layers=4,pattern=DDDSU/10:2:2", bands.Downlink},
		{"n78:100", "n78:100,ullayers=2,ulqam=256,pattern=DSUUU/10:2:2", bands.Uplink},
		{"B40:20", "B40:20,layers=2,pattern=1/7", bands.Downlink},
		{"B3:20 + B7:20", "B3:20,ul=1,ullayers=1 + B7:20,ul=1,ulqam=64", bands.Uplink},
		{"B3:20 + B7:20", "B3:20,ul=0 + B7:20,ul=1,ulqam=16", bands.Uplink},
		{"n78:80 + n80:20", "n78:80 + n80:20,ul=1", bands.Uplink},
	} {
		wide, narrow := bounds(test.open, test.d), bounds(test.stated, test.d)
		if narrow.Least.Scheduled.Cmp(wide.Least.Scheduled) < 0 || narrow.Most.Scheduled.Cmp(wide.Most.Scheduled) > 0 ||
			narrow.Least.Max.Cmp(wide.Least.Max) < 0 || narrow.Most.Max.Cmp(wide.Most.Max) > 0 {
			t.Errorf("%s: %+v is not within %+v of %s", test.stated, narrow, wide, test.open)
		}
	}
	if c, err := ca.Parse("n77:300"); err != nil {
		t.Fatal(err)
	} else if b, err := BoundsOf(c, bands.Downlink); err == nil {
		t.Errorf("a width that does not exist: %+v", b)
	}
}

func BenchmarkBounds(b *testing.B) {
	c, err := ca.Parse("B3:20 + B7:20 + n78:80 + B40:20")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := BoundsOf(c, bands.Downlink); err != nil {
			b.Fatal(err)
		}
	}
}
