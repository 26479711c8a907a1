package question

import (
	"math/big"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// Measured is what a test showed, in Mbit/s and ms; what was not measured is not given.
type Measured struct {
	Down, Up, Idle, Loaded quantity.Decimal
}

func (m *Measured) given() bool {
	return m.Down.IsGiven() || m.Up.IsGiven() || m.Idle.IsGiven() || m.Loaded.IsGiven()
}

// ReadMeasured reads figures as they are typed, each in its field; an error has the name of the
// flag as its place.
func ReadMeasured(down, up, ping string) (m Measured, err error) {
	for _, f := range [...]struct {
		name, text string
		value      *quantity.Decimal
	}{{"--down", down, &m.Down}, {"--up", up, &m.Up}} {
		if f.text == "" {
			continue
		}
		if *f.value, err = quantity.Mbps.Parse(f.text); err != nil {
			return m, command.At(f.name, err)
		}
	}
	if ping != "" {
		if m.Idle, m.Loaded, err = ParsePing(ping); err != nil {
			return m, command.At("--ping", err)
		}
	}
	return m, nil
}

// ParsePing reads round-trip times in ms: "21", or "21/74" without and with load.
func ParsePing(s string) (idle, loaded quantity.Decimal, err error) {
	bad := &bands.ValueError{Param: "latency", Got: s, Allowed: "ms without load, or without and with load, such as 21/74"}
	first, second, both := strings.Cut(s, "/")
	idle, err = quantity.Milliseconds.Parse(first)
	if err == nil && both {
		loaded, err = quantity.Milliseconds.Parse(second)
	}
	if err != nil || idle.Sign() <= 0 || both && loaded.Sign() <= 0 {
		return quantity.Decimal{}, quantity.Decimal{}, bad
	}
	if both && loaded.Compare(idle) < 0 {
		bad.Allowed, bad.Nearest = "the time without load first", loaded.String()+"/"+idle.String()
		return quantity.Decimal{}, quantity.Decimal{}, bad
	}
	return idle, loaded, nil
}

// carriers answers for carriers, or for the carriers of a configuration.
func carriers(q *Question, m Measured) ([]render.Block, error) {
	a, err := ca.AssessText(q.Text)
	if err != nil {
		return nil, err
	}
	x, err := combination.Of(a)
	if err != nil {
		return nil, err
	}
	t := &x.Totals
	doc := []render.Block{verdict(a)}
	width := "downlink " + t.Downlink.MHz() + " MHz, uplink " + t.Uplink.MHz() + " MHz, on the air " + t.Occupied.MHz() + " MHz"
	if q.Kind == Configuration {
		width = "at most " + width
	}
	f := render.Facts{{Name: "bandwidth", Value: width}}
	if !a.Valid() {
		rates := "none: not allowed as given"
		if m.given() {
			rates = "none: not allowed as given, so the measurement is not compared"
		}
		return append(doc, append(f, render.Fact{Name: "rates", Value: rates})), nil
	}
	if err := x.Rate(0, throughput.Settings{}); err != nil {
		return append(doc, append(f, render.Fact{Name: "rates", Value: err.Error()})), nil
	}
	for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
		if r := x.Rates.Sum(d); r.Max.Num > 0 {
			f = append(f, render.Fact{Name: d.String(), Value: mbps(r.Scheduled) + " Mbit/s scheduled (usual network), " + mbps(r.Max) + " maximum"})
		}
	}
	measured, err := held(m, a, x.Rates)
	if err != nil {
		return nil, err
	}
	f = append(f, measured...)
	own := combination.InterferenceOf(a)
	f = append(f, own.Fact()...)
	if text := strings.Join(x.Assumed(), "; "); text != "" {
		f = append(f, render.Fact{Name: "assumed", Value: text})
	}
	return append(doc, f), nil
}

// mbps writes a rate in Mbit/s with a decimal.
func mbps(r exact.Ratio) string {
	return big.NewRat(r.Num, r.Den*1_000_000).FloatString(1)
}

// verdict tells whether and as what the carriers may be aggregated.
func verdict(a *ca.Assessment) render.Verdict {
	if !a.Valid() {
		f, _ := a.FirstError()
		return render.Verdict{Tone: render.Bad, Word: "not allowed", Text: f.Message}
	}
	if l, _ := a.Decisive(); l != nil {
		text := "as " + l.Name.String()
		if sets := l.BandwidthSets(); len(sets) > 0 {
			text += map[bool]string{true: ", bandwidth set ", false: ", bandwidth sets "}[len(sets) == 1] + figures.List(sets, ", ")
		}
		return render.Verdict{Tone: render.Good, Word: "allowed", Text: text + "."}
	}
	return render.Verdict{Tone: render.Good, Word: "allowed", Text: "One carrier needs no configuration."}
}

// held holds a measurement against what a usual network schedules or, above that, against
// the maximum.
func held(m Measured, a *ca.Assessment, r *throughput.Result) (render.Facts, error) {
	var f render.Facts
	for _, x := range [...]struct {
		name  string
		value quantity.Decimal
		in    bands.Direction
	}{{"measured", m.Down, bands.Downlink}, {"measured up", m.Up, bands.Uplink}} {
		sum := r.Sum(x.in)
		if !x.value.IsGiven() || sum.Scheduled.Num <= 0 {
			continue
		}
		text := percent(x.value, sum.Scheduled) + " of scheduled"
		if above(x.value, sum.Scheduled) {
			text += ", " + percent(x.value, sum.Max) + " of the maximum"
		}
		if above(x.value, sum.Max) {
			b, err := throughput.BoundsOf(a.Combination(), x.in)
			if err != nil {
				return nil, err
			}
			text = percent(x.value, sum.Max) + " of the maximum"
			if above(x.value, b.Most.Max) {
				text = "standard allows " + mbps(b.Most.Max)
			}
			text += ": check unit and carriers"
		}
		f = append(f, render.Fact{Name: x.name, Value: x.value.String() + " Mbit/s, " + text})
	}
	if m.Idle.IsGiven() {
		text := m.Idle.String() + " ms idle"
		if m.Loaded.IsGiven() {
			added := new(big.Rat).Sub(m.Loaded.Rat(), m.Idle.Rat())
			text += " / " + m.Loaded.String() + " ms loaded: " + "+" + added.FloatString(0) + " ms, " + claim.RoundTripsPerMinute(m.Loaded.Rat()).FloatString(0) + " round trips a minute"
		}
		f = append(f, render.Fact{Name: "latency", Value: text})
	}
	return f, nil
}

// above tells whether a value in Mbit/s exceeds a rate.
func above(value quantity.Decimal, rate exact.Ratio) bool {
	return value.Rat().Cmp(big.NewRat(rate.Num, rate.Den*1_000_000)) > 0
}

// percent is a value in Mbit/s as a share of a rate.
func percent(value quantity.Decimal, rate exact.Ratio) string {
	return new(big.Rat).Mul(value.Rat(), big.NewRat(100_000_000*rate.Den, rate.Num)).FloatString(0) + " %"
}
