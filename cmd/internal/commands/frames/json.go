package frames

import (
	"errors"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/throughput/exact"
)

// framesValue is the answer of the command as JSON shows it.
type framesValue struct {
	Pattern        string                `json:"pattern"`
	RAT            string                `json:"rat"`
	SCS            *figures.Figure       `json:"scs_khz"`
	Slots          []slotValue           `json:"slots"` // of one period; subframes of a frame in LTE
	Shares         sharesValue           `json:"shares"`
	Spans          []spanValue           `json:"spans"`
	Periods        []periodValue         `json:"periods"` // NR, a row for each subcarrier spacing
	SpecialAssumed bool                  `json:"special_assumed"`
	Valid          bool                  `json:"valid"`
	Findings       []render.FindingValue `json:"findings"`
	Assumptions    []string              `json:"assumptions"`
	Working        []render.Step         `json:"working"`
}

type slotValue struct {
	Slot    int     `json:"slot"`
	Kind    string  `json:"kind"`
	DL      int     `json:"dl_symbols"`
	Guard   int     `json:"guard_symbols"`
	UL      int     `json:"ul_symbols"`
	Symbols *string `json:"symbols"` // null in FDD, where both directions have all
	Format  *int    `json:"slot_format"`
}

type shareValue struct {
	Exact string         `json:"exact"` // a fraction
	Share figures.Figure `json:"share"`
}

type sharesValue struct {
	Downlink shareValue `json:"dl"`
	Guard    shareValue `json:"guard"`
	Uplink   shareValue `json:"ul"`
}

// spanValue counts slots in a time.
type spanValue struct {
	MS      figures.Figure `json:"ms"`
	Slots   int            `json:"slots"`
	D       int            `json:"d"`
	S       int            `json:"s"`
	U       int            `json:"u"`
	DL      int            `json:"dl_symbols"`
	Guard   int            `json:"guard_symbols"`
	UL      int            `json:"ul_symbols"`
	Drawing string         `json:"drawing"`
}

type periodValue struct {
	SCS    figures.Figure   `json:"scs_khz"`
	Slot   figures.Figure   `json:"slot_ms"`
	Total  figures.Figure   `json:"total_ms"`
	Parts  []figures.Figure `json:"periods_ms"`
	Holds  bool             `json:"holds"`
	Reason string           `json:"reason"`
}

// span counts the slots of a time from the start of a period.
func (k *frames) span(ms exact.Ratio, slots int) spanValue {
	v := spanValue{MS: figures.Decimals(ms, 1, 6), Slots: slots}
	var b strings.Builder
	for i := range slots {
		s := &k.slots[i%len(k.slots)]
		switch s.kind {
		case "D":
			v.D++
		case "S":
			v.S++
		case "U":
			v.U++
		}
		v.DL, v.Guard, v.UL = v.DL+s.dl, v.Guard+s.guard, v.UL+s.ul
		if i > 0 && i%len(k.slots) == 0 {
			b.WriteByte(' ')
		}
		b.WriteString(s.kind)
	}
	v.Drawing = b.String()
	return v
}

// spans counts a period, 10 ms and 20 ms at the subcarrier spacing, or at the only
// one at which the pattern holds; LTE a frame and two.
func (k *frames) spans() []spanValue {
	if k.RAT == bands.LTE {
		return []spanValue{k.span(exact.Whole(10), 10), k.span(exact.Whole(20), 20)}
	}
	if len(k.checks) != 1 {
		return nil
	}
	c := &k.checks[0]
	list := []spanValue{k.span(c.total, len(k.slots))}
	for _, t := range [...]int64{10, 20} {
		slots := exact.Whole(t).Mul(exact.Of(c.slot.Den, c.slot.Num))
		if c.err == nil && exact.Ratio.Cmp(c.total, exact.Whole(t)) != 0 {
			list = append(list, k.span(exact.Whole(t), int(slots.Num)))
		}
	}
	return list
}

func (k *frames) value() framesValue {
	v := framesValue{
		Pattern: k.String(), RAT: k.RAT.String(), Slots: []slotValue{}, Spans: figures.Present(k.spans()), Periods: []periodValue{},
		SpecialAssumed: k.Pattern.SpecialAssumed(), Valid: !k.refuted, Findings: k.findings().Values(), Assumptions: figures.Present(k.assumptions()), Working: k.working(),
	}
	if k.scs != 0 {
		v.SCS = new(figures.KHz(k.scs))
	}
	for i := range k.slots {
		s := &k.slots[i]
		w := slotValue{Slot: i, Kind: s.kind, DL: s.dl, Guard: s.guard, UL: s.ul}
		if !s.downlinkInUplink {
			w.Symbols = new(s.drawing())
		}
		if s.format >= 0 {
			w.Format = &s.format
		}
		v.Slots = append(v.Slots, w)
	}
	for i, share := range [...]*shareValue{&v.Shares.Downlink, &v.Shares.Guard, &v.Shares.Uplink} {
		*share = shareValue{k.share(i).String(), figures.Decimals(k.share(i), 1, 6)}
	}
	for i := range k.checks {
		c := &k.checks[i]
		p := periodValue{SCS: figures.KHz(c.scs), Slot: figures.Milliseconds(c.slot), Total: figures.Milliseconds(c.total), Parts: []figures.Figure{}, Holds: c.err == nil, Reason: c.reason()}
		for _, part := range c.periods {
			p.Parts = append(p.Parts, figures.Milliseconds(part))
		}
		v.Periods = append(v.Periods, p)
	}
	return v
}

// reason says which periods there are where this one does not exist.
func (c *periodCheck) reason() string {
	if v, ok := errors.AsType[*bands.ValueError](c.err); ok {
		return v.Allowed
	}
	return ""
}
