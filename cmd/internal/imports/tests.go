package imports

import (
	"bytes"
	"math/big"
	"strings"
	"time"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/words"
)

func isThroughput(data []byte) bool {
	t := first(data)
	return t.at("start").is() && (t.at("end").is() || t.at("intervals").is() || t.at("error").is())
}

// readThroughput reads the results of throughput tests: the rate that the receiver saw, and
// the mean round-trip time under load where the sender's streams state one.
func readThroughput(m *Import, data []byte, _ *Options) error {
	list, whole := objects(data)
	if !whole {
		m.note("", "cut short after "+words.Counted(len(list), "whole test"))
	}
	for i, t := range list {
		about := "test " + itoa(i+1)
		down := false
		if r, ok := t.at("start", "test_start", "reverse").rat(); ok {
			down = r.Sign() != 0
		} else {
			m.note(about, "no direction (start.test_start.reverse): taken for an upload")
		}
		var run Run
		end := t.at("end")
		rate, from := receivedRate(end, "sum_received", "sum", "sum_sent")
		if from == "sum_sent" {
			m.note(about, "no rate of the receiver (end.sum_received): that of the sender")
		}
		rtt := meanRTT(end)
		if down {
			run.Down, run.LoadedDown = rate, rtt
		} else {
			run.Up, run.LoadedUp = rate, rtt
		}
		if other, _ := receivedRate(end, "sum_received_bidir_reverse", "sum_bidir_reverse"); other.IsGiven() {
			run.Down = other
		}
		if !run.Down.IsGiven() && !run.Up.IsGiven() {
			m.note(about, "no rate (end.sum_received.bits_per_second)")
			continue
		}
		if at, ok := t.at("start", "timestamp", "timesecs").rat(); ok && at.IsInt() && at.Num().IsInt64() && at.Sign() > 0 && at.Num().Int64() < 1<<36 {
			run.When = time.Unix(at.Num().Int64(), 0).UTC().Format("2006-01-02 15:04")
		} else {
			m.note(about, "no time (start.timestamp.timesecs)")
		}
		m.Runs = append(m.Runs, run)
	}
	return nil
}

// receivedRate is the rate in Mbit/s of the first sum that has one, and its name.
func receivedRate(end tree, names ...string) (quantity.Decimal, string) {
	for _, name := range names {
		if d, ok := decimal(scaled(end.at(name, "bits_per_second"), 1, 1_000_000), maxMbps); ok {
			return d, name
		}
	}
	return quantity.Decimal{}, ""
}

// meanRTT is the mean of what the streams state, in ms.
func meanRTT(end tree) quantity.Decimal {
	sum, n := new(big.Rat), int64(0)
	for _, s := range end.at("streams").list() {
		if r := scaled(s.at("sender", "mean_rtt"), 1, 1000); r != nil && r.Sign() > 0 {
			sum, n = sum.Add(sum, r), n+1
		}
	}
	if n == 0 {
		return quantity.Decimal{}
	}
	d, _ := decimal(sum.Mul(sum, big.NewRat(1, n)), maxMs)
	return d
}

func isTransfers(data []byte) bool {
	t := first(data)
	return t.at("time_total").is() || t.at("speed_download").is()
}

// readTransfers reads transfers, one object for each.
func readTransfers(m *Import, data []byte, _ *Options) error {
	list, whole := objects(data)
	if !whole {
		m.note("", "cut short after "+words.Counted(len(list), "whole transfer"))
	}
	for i, t := range list {
		about := "transfer " + itoa(i+1)
		seconds, ok := decimal(scaled(t.at("time_total"), 1, 1), maxSeconds)
		if !ok {
			m.note(about, "no duration (time_total)")
			continue
		}
		moved := false
		for _, d := range [...]struct {
			name      string
			direction bands.Direction
		}{{"size_download", bands.Downlink}, {"size_upload", bands.Uplink}} {
			bytes, ok := t.at(d.name).rat()
			if !ok || !bytes.IsInt() || bytes.Sign() <= 0 {
				continue
			}
			if size, err := quantity.ParseSize(bytes.Num().String() + " B"); err == nil {
				m.Transfers, moved = append(m.Transfers, Transfer{size, seconds, d.direction}), true
			}
		}
		if !moved {
			m.note(about, "no size (size_download, size_upload)")
		}
		m.connectTime(t)
	}
	return nil
}

// connectTime takes the time of the TCP handshake, one round trip on an idle line.
func (m *Import) connectTime(t tree) {
	from, to := scaled(t.at("time_namelookup"), 1000, 1), scaled(t.at("time_connect"), 1000, 1)
	if from == nil || to == nil {
		return
	}
	if d, ok := decimal(to.Sub(to, from), maxMs); ok {
		m.Runs = append(m.Runs, Run{Idle: d, Remark: "TCP handshake before the transfer: time_connect - time_namelookup"})
	}
}

var (
	roundTrips = expression(`(?m)^(?:rtt|round-trip) min/avg/max/(?:mdev|stddev) = ([0-9.]+)/([0-9.]+)/([0-9.]+)/([0-9.]+) ms`)
	losses     = expression(`(?m)^(\d+) packets transmitted, (\d+) (?:packets )?received,.*?([0-9.]+)% packet loss`)
)

func isPing(data []byte) bool {
	return bytes.Contains(data, []byte("packets transmitted")) || roundTrips().Match(data)
}

// readPing reads the summary of a ping: its mean, as the latency of an idle line or of one
// under load.
func readPing(m *Import, data []byte, o *Options) error {
	all := roundTrips().FindAllSubmatch(data, -1)
	lost := losses().FindAllSubmatch(data, -1)
	if len(all) == 0 {
		m.note("", "no round-trip times (rtt min/avg/max/mdev): no answer, or cut short")
		return nil
	}
	for i, r := range all {
		mean, ok := ratOf(string(r[2]))
		if !ok {
			m.note("ping "+itoa(i+1), "its mean is no number")
			continue
		}
		d, ok := decimal(mean, maxMs)
		if !ok {
			m.note("ping "+itoa(i+1), "its mean is no round-trip time")
			continue
		}
		var run Run
		switch o.Loaded {
		case bands.Downlink:
			run.LoadedDown = d
		case bands.Uplink:
			run.LoadedUp = d
		default:
			run.Idle = d
		}
		run.Remark = "ping: mean of min/avg/max " + strings.Join([]string{string(r[1]), string(r[2]), string(r[3])}, "/") + " ms"
		if i < len(lost) {
			run.Remark += ", " + string(lost[i][2]) + " of " + string(lost[i][1]) + " answered"
		}
		m.Runs = append(m.Runs, run)
	}
	if o.Loaded == 0 {
		m.note("", "taken for an idle line; --loaded down or up says otherwise")
	}
	return nil
}
