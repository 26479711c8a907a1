package claim

import (
	"math/big"
	"math/rand/v2"
	"strconv"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/quantity"
	"spectally/data/pace"
)

// pool are the carriers that statements are made of: paired, unpaired and supplementary,
// both technologies and ranges.
var pool = []string{"B3:20", "B7:20", "B20:10", "B40:20", "B32:20", "n1:20", "n28:10", "n41:60", "n75:20", "n78:100", "n79:60", "n80:20", "n257:100"}

// drawn is a combination of one to three carriers with some of it stated.
func drawn(draw *rand.Rand) ca.Combination {
	var c ca.Combination
	for range 1 + draw.IntN(3) {
		one, err := ca.Parse(pool[draw.IntN(len(pool))])
		if err != nil {
			panic(err)
		}
		if draw.IntN(2) == 0 {
			settle(draw, &one[0])
		}
		c = append(c, one[0])
	}
	return c
}

// settle states some of what a carrier leaves open.
func settle(draw *rand.Rand, c *ca.Carrier) {
	if c.Layers == 0 && c.Downlink != 0 {
		c.Layers = [...]uint8{0, 1, 2, 4, 8}[draw.IntN(5)]
	}
	if c.QAM == 0 && c.Downlink != 0 {
		c.QAM = [...]uint16{0, 4, 16, 64, 256, 1024}[draw.IntN(6)]
	}
	if c.UplinkLayers == 0 && c.Uplink != 0 {
		c.UplinkLayers = [...]uint8{0, 1, 2}[draw.IntN(3)]
	}
	if c.UplinkQAM == 0 && c.Uplink != 0 {
		c.UplinkQAM = [...]uint16{0, 4, 64, 256}[draw.IntN(4)]
	}
	b, err := bands.Lookup(c.Band)
	if err != nil {
		panic(err)
	}
	if list := b.Spacings(max(c.Downlink, c.Uplink)); c.SCS == 0 && c.Band.RAT == bands.NR && draw.IntN(2) == 0 {
		c.SCS = list[draw.IntN(len(list))]
	}
	if c.Pattern == "" && b.Duplex == bands.TDD && draw.IntN(2) == 0 {
		c.Pattern = [...]string{"DDDSU/10:2:2", "DSUUU/2:2:10", "9DU", "D9U", "7DS2U/6:4:4"}[draw.IntN(5)]
		if c.Band.RAT == bands.LTE {
			c.Pattern = strconv.Itoa(draw.IntN(7))
		}
	}
	if c.Transmit == ca.Open && c.Uplink != 0 && draw.IntN(3) == 0 {
		c.Transmit = ca.Yes
	}
}

// stating is a claim of some kind about carriers, near what they can have.
func stating(draw *rand.Rand) Claim {
	number := func(list ...int64) quantity.Decimal { return quantity.NewDecimal(list[draw.IntN(len(list))], 0) }
	rate := number(1, 20, 75, 150, 300, 600, 1200, 2400, 5000)
	c := Claim{About: draw.IntN(4) == 0, Relation: [...]Relation{"", "", AtLeast, AtMost, MoreThan, LessThan}[draw.IntN(6)]}
	if draw.IntN(3) == 0 {
		c.Direction = bands.Uplink
	}
	switch draw.IntN(8) {
	case 0:
		c.TotalMHz, c.As = number(10, 20, 40, 60, 80, 100, 120, 140, 200), append(AllAs(), "")[draw.IntN(9)]
	case 1:
		c.Carriers, c.As = number(1, 2, 3, 4), append(AllAs(), "")[draw.IntN(9)]
	case 2:
		c.Share, c.Rate = number(5, 20, 50, 80, 100), rate
	case 3:
		c.Efficiency = number(1, 3, 7, 12, 30)
	case 4:
		c.Than, c.By = &Other{Figure: rate, Unit: "Mbit/s"}, ByRate
		if e, ok := evidenceOf(drawn(draw)); ok && draw.IntN(2) == 0 {
			e.Name = "others"
			c.Than = &Other{Evidence: &e}
		}
	case 5:
		c.Transfer, c.Seconds, c.Rate = size("1 GB"), number(2, 8, 13, 80), number(100, 600, 1000, 4000)
	default:
		c.Rate = rate
	}
	return c
}

// evidenceOf is that of carriers; false where the standard does not have them so.
func evidenceOf(c ca.Combination) (Evidence, bool) {
	e, err := NewEvidence(ca.Assess(c))
	e.Keep()
	return e, err == nil
}

// TestNothingOpenDecides: no verdict that a claim holds or fails changes when what its
// carriers leave open takes any value that the standard admits.
func TestNothingOpenDecides(t *testing.T) {
	draw := rand.New(rand.NewPCG(36, 213))
	tried := map[Verdict]int{}
	for range pace.Times(400, 20) {
		c := drawn(draw)
		e, ok := evidenceOf(c)
		if !ok {
			continue
		}
		statement := stating(draw)
		if o := statement.Than; o != nil && o.Evidence != nil {
			if _, both := without(c, o.Evidence.Stated); both {
				continue // taken for the same carriers
			}
		}
		j, err := Judge(statement, e)
		if err != nil || j.Verdict == Undecided {
			continue
		}
		for range 2 {
			filled := append(ca.Combination{}, c...)
			for i := range filled {
				settle(draw, &filled[i])
			}
			f, ok := evidenceOf(filled)
			if !ok || f.onePhone().verdict != e.onePhone().verdict {
				continue // not admissible
			}
			again, err := Judge(statement, f)
			if err != nil {
				t.Fatal(err)
			}
			if len(again.Readings) > 0 && again.Kind == ShareOfPeak && again.Readings[0].Low > 100 {
				continue // the rate stated cannot have been sent
			}
			tried[j.Verdict]++
			if again.Verdict != j.Verdict {
				t.Errorf("%s of %s: %s (%s)\n\twith %s: %s (%s)", j.Statement, c, j.Verdict, j.Summary, filled, again.Verdict, again.Summary)
			}
		}
	}
	if least := pace.Times(50, 20); tried[Holds] < least || tried[Fails] < least {
		t.Errorf("only %v were filled in", tried)
	}
}

// TestMoreNeverFails: a rate that is reached at least is not failed with more layers, a
// larger constellation, or the next wider channel.
func TestMoreNeverFails(t *testing.T) {
	draw := rand.New(rand.NewPCG(38, 214))
	tried := 0
	for range pace.Times(200, 20) {
		c := drawn(draw)
		for i := range c {
			settle(draw, &c[i])
		}
		e, ok := evidenceOf(c)
		if !ok {
			continue
		}
		statement := Claim{Rate: quantity.NewDecimal([...]int64{1, 20, 75, 150, 300}[draw.IntN(5)], 0), Relation: AtLeast}
		if draw.IntN(3) == 0 {
			statement.Direction = bands.Uplink
		}
		j, err := Judge(statement, e)
		if err != nil || j.Verdict != Holds {
			continue
		}
		for i := range c {
			for _, more := range []func(*ca.Carrier){
				func(c *ca.Carrier) { c.Layers *= 2 },
				func(c *ca.Carrier) { c.UplinkLayers *= 2 },
				func(c *ca.Carrier) { c.QAM *= 4 },
				func(c *ca.Carrier) { c.UplinkQAM *= 4 },
				wider,
			} {
				raised := append(ca.Combination{}, c...)
				more(&raised[i])
				r, ok := evidenceOf(raised)
				if !ok || raised[i] == c[i] || r.onePhone().verdict != Holds {
					continue
				}
				tried++
				if again, err := Judge(statement, r); err != nil || again.Verdict == Fails {
					t.Errorf("%s of %s holds; %s: %s", j.Statement, c, raised, again.Summary)
				}
			}
		}
	}
	if tried < pace.Times(80, 20) {
		t.Errorf("only %d were raised", tried)
	}
}

// wider gives a carrier the next wider channel that its band has.
func wider(c *ca.Carrier) {
	b, err := bands.Lookup(c.Band)
	if err != nil {
		panic(err)
	}
	width, d := c.Downlink, bands.Downlink
	if width == 0 {
		width, d = c.Uplink, bands.Uplink
	}
	for _, w := range b.WidthsIn(d, c.SCS) {
		if w <= width {
			continue
		}
		if c.Uplink == c.Downlink {
			c.Uplink = w
		}
		if d == bands.Uplink {
			c.Uplink = w
		} else {
			c.Downlink = w
		}
		return
	}
}

// TestNeedsAreEnough: what a claim needs lets it hold, and it needs no part of it less.
func TestNeedsAreEnough(t *testing.T) {
	draw := rand.New(rand.NewPCG(38, 306))
	tried := 0
	for range pace.Times(50, 10) {
		c := drawn(draw)
		e, ok := evidenceOf(c)
		if !ok {
			continue
		}
		statement := Claim{Rate: quantity.NewDecimal([...]int64{20, 75, 150, 300, 900}[draw.IntN(5)], 0)}
		if draw.IntN(3) == 0 {
			statement.Direction = bands.Uplink
		}
		j, err := Judge(statement, e)
		if err != nil || j.Verdict != Undecided || len(j.Needs) == 0 || e.Rates == nil || e.onePhone().verdict != Holds {
			continue
		}
		if _, known := e.boundsOf(statement.direction()); !known {
			continue
		}
		b := statedAs(statement.Rate, false)
		enough := e.enough(statement.direction(), func(rate *big.Rat) bool { return b.meets(AtLeast, rate) })
		if enough == nil {
			t.Errorf("%s of %s: nothing is enough, but it needs %q", j.Statement, c, j.Needs)
			continue
		}
		f, ok := evidenceOf(enough)
		if !ok {
			t.Fatalf("%s cannot be", enough)
		}
		tried++
		if again, err := Judge(statement, f); err != nil || again.Verdict != Holds {
			t.Errorf("%s of %s needs %q, but %s: %s", j.Statement, c, j.Needs, enough, again.Summary)
		}
	}
	if tried < pace.Times(12, 10) {
		t.Errorf("only %d were tried", tried)
	}
}
