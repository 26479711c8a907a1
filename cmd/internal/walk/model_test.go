package walk_test

import (
	"bytes"
	"io"
	"math"
	"strconv"
	"testing"

	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
	"spectally/cmd/internal/walkmodel"
)

var atSite = walk.Settings{Site: samples.Place{Kind: samples.Geographic, A: walkmodel.Site.Lat, B: walkmodel.Site.Lon}}

// read takes all samples of files of CSV in.
func read(tb testing.TB, set walk.Settings, files ...io.Reader) *walk.Report {
	tb.Helper()
	c := walk.New(set)
	reader := &samples.Reader{}
	for _, in := range files {
		f, err := reader.Open(in, batch.CSV, 0)
		if err != nil {
			tb.Fatal(err)
		}
		for f.Next() {
			if f.Fault() != "" {
				c.LeaveOut("", f.Line(), f.Fault())
			} else if reason, ok := c.Add(f.Sample()); !ok {
				c.LeaveOut("", f.Line(), reason)
			}
		}
		if f.Err() != nil {
			tb.Fatal(f.Err())
		}
	}
	return c.Report()
}

func modelled(tb testing.TB, seed uint64) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := walkmodel.Write(&b, seed); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// TestTruth: slope and spread of an invented walk come back within their confidence
// intervals of 95 %, for at least 90 seeds of 100 in each band.
func TestTruth(t *testing.T) {
	slopes, spreads, levels := map[string]int{}, map[string]int{}, map[string]int{}
	const seeds = 100
	for seed := range uint64(seeds) {
		r := read(t, atSite, bytes.NewReader(modelled(t, seed)))
		if r.Samples != walkmodel.Samples || r.LeftOutCount != walkmodel.Bad {
			t.Fatalf("seed %d: %d samples, %d left out: %v", seed, r.Samples, r.LeftOutCount, r.LeftOut)
		}
		for _, truth := range walkmodel.Truths {
			f := fitOf(t, r, truth.Network, truth.Band)
			count(slopes, truth.Band, f.SlopeLow <= truth.Slope && truth.Slope <= f.SlopeHigh)
			count(spreads, truth.Band, f.SigmaLow <= truth.Sigma && truth.Sigma <= f.SigmaHigh)
			at := truth.At100 + truth.Slope*math.Log10(f.Reference/100)
			count(levels, truth.Band, f.InterceptLow <= at && at <= f.InterceptHigh)
		}
	}
	t.Logf("within their intervals in %d seeds: slopes %v, spreads %v, intercepts %v", seeds, slopes, spreads, levels)
	for _, truth := range walkmodel.Truths {
		if slopes[truth.Band] < 90 || spreads[truth.Band] < 90 || levels[truth.Band] < 90 {
			t.Errorf("%s: slope within in %d seeds, spread in %d, intercept in %d", truth.Band, slopes[truth.Band], spreads[truth.Band], levels[truth.Band])
		}
	}
}

func count(m map[string]int, key string, yes bool) {
	if yes {
		m[key]++
	}
}

func fitOf(tb testing.TB, r *walk.Report, network, band string) *walk.Fit {
	tb.Helper()
	for i := range r.Networks {
		for j := range r.Networks[i].Bands {
			if b := &r.Networks[i].Bands[j]; r.Networks[i].Name == network && b.Band == band && b.Fit != nil {
				return b.Fit
			}
		}
	}
	tb.Fatalf("no fit of %s in %s", band, network)
	return nil
}

func text(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
