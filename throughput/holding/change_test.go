package holding_test

import (
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/holding"
)

func TestChanges(t *testing.T) {
	f := holding.NewFinder(holding.Limits{})
	n := f.Network(blocks(t, "3410-3450, 3480-3520, 1805-1815/1710-1720"))
	other := f.Network(blocks(t, "3450-3480"))
	seen := make(map[holding.ChangeKind]bool)
	for _, c := range f.Changes(n, []*holding.Network{other}, holding.DownlinkRate, 5*bands.MHz, 10*bands.MHz) {
		seen[c.Kind] = true
		top, _ := n.Top(holding.DownlinkRate)
		if c.Gain <= 0 || c.Best.Value != top.Value+c.Gain {
			t.Errorf("%s: gain %d of %d gives %d", c.Kind, c.Gain, top.Value, c.Best.Value)
		}
		if c.Kind == holding.Wider && c.From[0].String() == "3410-3450" && c.To[0].String() != "3400-3450" && c.To[0].String() != "3405-3450" {
			t.Errorf("%s becomes %s, where the other network is", c.From[0], c.To[0])
		}
		if c.Kind == holding.Swapped && (c.To[0].String() != "3450-3490") {
			t.Errorf("swap to %s", c.To[0])
		}
	}
	for _, k := range []holding.ChangeKind{holding.Wider, holding.OneWhole, holding.Swapped} {
		if !seen[k] {
			t.Errorf("no change of the kind %s brings anything", k)
		}
	}
}

func TestNext(t *testing.T) {
	f := holding.NewFinder(holding.Limits{Carriers: 2})
	n := f.Network(blocks(t, "1805-1825/1710-1730, 758-768/703-713, 3410-3500"))
	b, _ := n.Best(holding.ENDC, holding.DownlinkRate)
	next := n.Next(&b)
	if len(next) == 0 || next[0].Lacks != holding.LackLimit || next[0].Value <= b.Value {
		t.Errorf("next after %s: %+v, want one beyond two carriers", b.Carriers, next)
	}
	n = holding.NewFinder(holding.Limits{}).Network(blocks(t, nation[3]))
	b, _ = n.Best(holding.LTE, holding.DownlinkRate)
	for _, x := range n.Next(&b) {
		if a := ca.Assess(x.Carriers); x.Lacks == holding.LackListed && a.Valid() {
			t.Errorf("%s is listed", x.Carriers)
		}
	}
}
