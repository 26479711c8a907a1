package fieldlog

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestShared(t *testing.T) {
	log := func(first, second, third string) *Report {
		r := Analyse(mustRead(t, "title = 't'\n[[network]]\nname = 'a'\ncarriers = '"+first+"'\n[[network]]\nname = 'b'\ncarriers = '"+second+"'\n[[network]]\nname = 'c'\ncarriers = '"+third+"'\n"))
		checkReport(t, r)
		return r
	}
	r := log("B3:20@1300,pci=7", "B3:20@1815MHz,pci=7", "B7:20@3050 + B3:20@1500")
	if len(r.Shared) != 1 || *r.Shared[0].PCI != 7 || r.Shared[0].Statement != "a and b show a carrier on B3 at 1815 MHz with the same PCI 7: consistent with one cell that the networks share." {
		t.Errorf("%+v", r.Shared)
	}
	r = log("B3:20@1300,pci=7", "B3:20@1300,pci=8", "B3:20@1300")
	if len(r.Shared) != 1 || r.Shared[0].PCI != nil || !strings.Contains(r.Shared[0].Statement, "a and b and c show a carrier on B3 at 1815 MHz: at one place") {
		t.Errorf("%+v", r.Shared)
	}
	if r = log("B3:20,pci=7", "B3:20,pci=7", "n3:20@1815MHz"); len(r.Shared) != 0 {
		t.Errorf("%+v", r.Shared)
	}
}

func TestNeighbours(t *testing.T) {
	n := analysed(t, `carriers = 'B3:20@1550,pci=33'
[[network.neighbour]]
band = "B3"
frequency = 1840
pci = 63
rsrp = -101
[[network.neighbour]]
band = "B3"
channel = 19550
pci = 36
[[network.neighbour]]
band = "B3"
channel = 1551
pci = 33
`)
	var got []string
	for _, c := range n.Cells.Clashes {
		got = append(got, fmt.Sprintf("%s, %s: %s", c.Cells[0], c.Cells[1], c.Relation))
	}
	// 33, 63 and 36 are 3, 3 and 6 modulo 30, and all 0 modulo 3. The third cell is on
	// another channel; EARFCN 19550 is the uplink of 1550.
	want := []string{"carrier 1, neighbour 1: modulo-30", "carrier 1, neighbour 2: modulo-3", "neighbour 1, neighbour 2: modulo-3"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if x := n.Cells.Neighbours[0]; x.Number != 1 || x.Channel != nil || !near(x.Centre, 1840, 0) || x.PCI != 63 || !near(x.RSRP, -101, 0) {
		t.Errorf("%+v", x)
	}
	if x := n.Cells.Neighbours[1]; *x.Channel != 19550 || !near(x.Centre, 1840, 0) || x.RSRP != nil {
		t.Errorf("%+v", x)
	}
}

// TestOverlaps: n78 of 100 MHz round 3650.01 MHz goes to 3700.01 MHz; another of 80 MHz round
// 3720 MHz begins at 3680.
func TestOverlaps(t *testing.T) {
	log := func(first, second string) *Report {
		return Analyse(mustRead(t, "title = 't'\n[[network]]\nname = 'a'\ncarriers = '"+first+"'\n[[network]]\nname = 'b'\ncarriers = '"+second+"'\n"))
	}
	r := log("B3:20@1300 + n78:100@643334", "n78:80@648000 + B7:20@3050")
	if len(r.Overlaps) != 1 || len(r.Shared) != 0 {
		t.Fatalf("%+v", r.Overlaps)
	}
	o := r.Overlaps[0]
	if o.Networks != [2]string{"a", "b"} || o.Carriers != [2]int{2, 1} || o.Bands != [2]string{"n78", "n78"} || o.Low != 3680 || o.High != 3700.01 || math.Abs(o.Width-20.01) > 1e-9 ||
		!strings.Contains(o.Statement, "a on n78 and b on n78 overlap by 20.01 MHz, 3680 to 3700.01 MHz: two networks") {
		t.Errorf("%+v", o)
	}
	for _, test := range []struct {
		first, second string
		overlaps      int
	}{
		{"B3:20@1300", "n3:20@363000", 1}, // the same spectrum under the name of another band
		{"n78:100@643334", "n77:100@643334", 1},
		{"n78:100@643334", "n78:100@643334", 0}, // one channel: shared
		{"n78:100@643334", "n78:100", 0},        // not known where
		{"B3:20@1300", "B3:20@1500", 0},         // 1805 to 1825 and 1825 to 1845
		{"B3:20@1300", "B3:20@1499", 1},
	} {
		if r := log(test.first, test.second); len(r.Overlaps) != test.overlaps {
			t.Errorf("%s, %s: %+v", test.first, test.second, r.Overlaps)
		}
	}
}
