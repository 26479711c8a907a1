// Package combination has the answer about carriers that serve one UE together in the
// one form in which every command gives it: in JSON, under the same names with the same
// digits.
package combination

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// Answer is what is known of carriers that serve one UE together.
type Answer struct {
	*ca.Assessment
	Frames []throughput.Frame // of the carriers; zero where the band is not known
	Totals ca.Totals
	Blocks []ca.SubBlock
	// Rates are what the carriers can yield; nil where that is not known or not asked.
	Rates *throughput.Result
}

// Of gathers the answer, without rates. It is an error if a TDD pattern cannot be read.
func Of(a *ca.Assessment) (*Answer, error) {
	frames, err := throughput.Frames(a)
	if err != nil {
		return nil, err
	}
	shares, err := throughput.DownlinkShares(a)
	if err != nil {
		return nil, err
	}
	return &Answer{Assessment: a, Frames: frames, Totals: a.Totals(shares), Blocks: a.SubBlocks()}, nil
}

// Rate works out what the carriers can yield on a kind of device.
func (x *Answer) Rate(kind throughput.DeviceKind, s throughput.Settings) error {
	r, err := throughput.RateOn(x.Assessment, kind)
	if err == nil {
		err = r.Schedule(s)
	}
	if err != nil {
		return err
	}
	x.Rates = r
	return nil
}

// Sum is what the carriers can yield together in a direction, and the spectrum of the
// links that count: zero where nothing is sent in it, or nothing is known.
func (x *Answer) Sum(d bands.Direction) (sum throughput.Rates, width bands.Frequency) {
	if x.Rates == nil {
		return sum, 0
	}
	for i := range x.Rates.Carriers {
		if l := x.Rates.Carriers[i].Link(d); l.Counted {
			width += l.Width
			for j := range i {
				if x.Rates.Carriers[j].Link(d).Counted {
					width -= x.SharedWidth(i, j, d)
				}
			}
		}
	}
	sum = x.Rates.Sum(d)
	if width == 0 {
		none := exact.Whole(0)
		sum = throughput.Rates{Max: none, Schedulable: none, Scheduled: none}
	}
	return sum, width
}

// SumValue is Sum for JSON.
func (x *Answer) SumValue(d bands.Direction) Rates {
	sum, width := x.Sum(d)
	return RatesOf(&sum, width)
}
