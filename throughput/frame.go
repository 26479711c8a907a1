package throughput

import (
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// Frame is how a carrier divides its time between the directions.
type Frame struct {
	RAT bands.RAT
	// Pattern holds for NR in TDD bands; none in paired and supplementary bands.
	Pattern nr.TDDPattern
	// LTE holds for LTE: FDD in paired and supplementary bands, type 3 in bands of
	// licensed-assisted access.
	LTE lte.Frame
	// Assumed tells that the carrier did not say.
	Assumed bool
}

// frameOf reads the pattern of a carrier, or assumes one for a TDD carrier.
func frameOf(p *ca.Placed) (Frame, error) {
	f := Frame{RAT: p.Band.RAT}
	if p.Info.Duplex != bands.TDD {
		if p.Pattern != "" {
			return f, &bands.ValueError{Param: "pattern", Got: p.Pattern, Allowed: "none: " + p.Band.String() + " is " + p.Info.Duplex.String(), Source: p.Info.Source}
		}
		return f, nil
	}
	if p.Info.LicensedAssisted() {
		return assistedFrame(p)
	}
	f.Assumed = p.Pattern == ""
	var err error
	switch {
	case p.Band.RAT == bands.LTE && f.Assumed:
		f.LTE, err = lte.ParseFrame(defaultLTEFrame)
	case p.Band.RAT == bands.LTE:
		if f.LTE, err = lte.ParseFrame(p.Pattern); err == nil && !f.LTE.TDD() {
			err = &bands.ValueError{Param: "pattern", Got: p.Pattern, Allowed: "an uplink-downlink configuration such as 2/7: " + p.Band.String() + " is TDD"}
		}
	case f.Assumed:
		f.Pattern = nr.DefaultTDDPattern(p.Spacing)
	default:
		if f.Pattern, err = nr.ParseTDDPattern(p.Pattern); err == nil {
			_, err = f.Pattern.Periods(p.Spacing)
		}
	}
	return f, err
}

// assistedFrame is that of a carrier of licensed-assisted access: all of its subframes are
// downlink where the UE does not transmit on it, most of them where it does.
func assistedFrame(p *ca.Placed) (f Frame, err error) {
	f = Frame{RAT: bands.LTE, Assumed: p.Pattern == "" || strings.EqualFold(p.Pattern, "type3")}
	if f.Assumed {
		down := lte.Subframes
		if transmits(p) {
			down = assistedDownlink
		}
		f.LTE, err = lte.NewType3(down)
		return f, err
	}
	if f.LTE, err = lte.ParseFrame(p.Pattern); err == nil && !f.LTE.Type3() {
		err = &bands.ValueError{Param: "pattern", Got: p.Pattern, Allowed: "type3 with the downlink subframes of a frame, such as type3/8: " + p.Band.String() + " is for licensed-assisted access", Source: p.Info.Source}
	}
	return f, err
}

// String writes the frame as the key "pattern" of the carrier notation has it;
// "FDD" where there is no pattern.
func (f Frame) String() string {
	switch {
	case f.RAT == bands.LTE:
		return f.LTE.String()
	case f.Pattern.IsZero():
		return "FDD"
	}
	return f.Pattern.String()
}

// Share is the share of time of a direction: 1 where there is no pattern. Guard time
// belongs to neither.
func (f Frame) Share(d bands.Direction) exact.Ratio {
	if f.RAT != bands.LTE {
		return f.Pattern.Share(d)
	}
	s := f.LTE.Shares()
	if d == bands.Uplink {
		return exact.Of(int64(s.Uplink), lte.FrameTs).Reduced()
	}
	return exact.Of(int64(s.Downlink), lte.FrameTs).Reduced()
}

// DownlinkShare is the downlink share of time of carrier i, counted from 0, in the
// form that ca.Assessment.Totals asks for.
func (r *Result) DownlinkShare(i int) ca.Share {
	s := r.Carriers[i].Frame.Share(bands.Downlink)
	return ca.Share{Part: s.Num, Whole: s.Den}
}

// Frames tells how the carriers of a combination divide their time, by their patterns,
// assumed ones where they give none, without working out rates. A pattern that does
// not hold is a *CarrierError. The frame of a carrier of an unknown band is zero.
func Frames(a *ca.Assessment) ([]Frame, error) {
	frames := make([]Frame, len(a.Carriers))
	for i := range a.Carriers {
		p := &a.Carriers[i]
		if p.Info == nil {
			continue
		}
		f, err := frameOf(p)
		if err != nil {
			return nil, &CarrierError{Carrier: i + 1, Text: p.Carrier.String(), Err: err}
		}
		frames[i] = f
	}
	return frames, nil
}

// DownlinkShares tells the downlink shares of time of the carriers of a combination
// in the form that ca.Assessment.Totals asks for; see [Frames]. A carrier of an
// unknown band has the whole time.
func DownlinkShares(a *ca.Assessment) (func(i int) ca.Share, error) {
	frames, err := Frames(a)
	if err != nil {
		return nil, err
	}
	return func(i int) ca.Share {
		if frames[i].RAT == 0 {
			return ca.Share{Part: 1, Whole: 1}
		}
		s := frames[i].Share(bands.Downlink)
		return ca.Share{Part: s.Num, Whole: s.Den}
	}, nil
}
