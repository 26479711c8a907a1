package batch

import (
	"strconv"

	"spectally/bands"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// answer is what is known of a combination, as rows need it. Many rows share one.
type answer struct {
	// reason says why the carriers cannot be used; empty if they can.
	reason string
	valid  bool
	// columns are the columns that the carriers decide, as the rows are written.
	columns          []byte
	downlink, uplink ceilings
}

// ceilings are what a measured rate is held against.
type ceilings struct {
	max, scheduled rate
	width          uint64 // channel bandwidth in hertz; 0 if there is none
}

// rate is a rate in bit/s, num/den, made ready for shares: scaled is den times what
// makes Mbit/s bit/s and a share a number of 1/scale. The zero rate is none.
type rate struct{ num, scaled uint64 }

func rateOf(r exact.Ratio) rate {
	if r.Num <= 0 || r.Den <= 0 || uint64(r.Den) > maxDenominator {
		return rate{}
	}
	return rate{uint64(r.Num), uint64(r.Den) * bitsOfMega * scale}
}

// maxDenominator is the largest that rate can hold. Rates are sums of bits over
// frames, so that their denominators stay far below.
const maxDenominator = (1<<64 - 1) / (bitsOfMega * scale)

func ceilingsOf(r *throughput.Rates, width bands.Frequency) ceilings {
	return ceilings{rateOf(r.Max), rateOf(r.Scheduled), uint64(width)}
}

// answerOf writes what was found out about a combination.
func (s *style) answerOf(f *finding) *answer {
	if f.reason != "" {
		return &answer{reason: f.reason}
	}
	a := &answer{valid: f.rule == ""}
	dst := make([]byte, 0, 256)
	if a.valid {
		dst = s.value(dst, columnValid, "true")
	} else {
		dst = s.value(dst, columnValid, "false")
	}
	dst = s.text(dst, columnFirstError, string(f.rule))
	dst = s.text(dst, columnConfiguration, f.configuration)
	dst = s.numbers(dst, columnSets, f.sets)
	dst = s.value(dst, columnDL, f.total.Downlink.MHz())
	dst = s.value(dst, columnUL, f.total.Uplink.MHz())
	dst = s.value(dst, columnOccupied, f.total.Occupied.MHz())
	dst = s.value(dst, columnEquivalent, f.total.DownlinkEquivalent.MHz())
	dst = s.mbps(dst, columnDLMax, f.downlink.Max)
	dst = s.mbps(dst, columnULMax, f.uplink.Max)
	dst = s.mbps(dst, columnDLSchedulable, f.downlink.Schedulable)
	dst = s.mbps(dst, columnULSchedulable, f.uplink.Schedulable)
	dst = s.mbps(dst, columnDLScheduled, f.downlink.Scheduled)
	dst = s.mbps(dst, columnULScheduled, f.uplink.Scheduled)
	dst = s.value(dst, columnHits, strconv.Itoa(f.hits))
	dst = s.text(dst, columnWorst, f.worst)
	a.columns = append(make([]byte, 0, len(dst)), dst...)
	a.downlink = ceilingsOf(&f.downlink, f.total.Downlink)
	a.uplink = ceilingsOf(&f.uplink, f.total.Uplink)
	return a
}
