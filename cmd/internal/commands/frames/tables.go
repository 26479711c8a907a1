package frames

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

func (k *frames) shareTable() *render.Table {
	t := &render.Table{Title: "Shares of time", Columns: []render.Column{
		{Header: "part"},
		{Header: "symbols", Align: render.Number},
		{Header: "exact", Align: render.Number},
		{Header: "share", Unit: "%", Align: render.Number},
	}}
	if k.RAT == bands.LTE {
		t.Columns[1].Header, t.Columns[1].Unit = "time", "Ts"
	}
	for i, name := range shareNames {
		t.Rows = append(t.Rows, []string{name, strconv.FormatInt(k.shares[i], 10), k.share(i).String(), figures.Percent(k.share(i))})
	}
	return t
}

// spanFacts draws the slots.
func (k *frames) spanFacts() render.Facts {
	var facts render.Facts
	for _, s := range k.spans() {
		if s.MS == "20" && len(k.slots) < s.Slots && s.Slots/2%len(k.slots) == 0 {
			continue // twice the same 10 ms
		}
		facts = append(facts, render.Fact{Name: string(s.MS) + " ms", Value: s.Drawing})
	}
	if len(facts) == 0 {
		facts = append(facts, render.Fact{Name: "one period", Value: letters(k.slots)})
	}
	if !k.paired() {
		return facts
	}
	return nil
}

func (k *frames) paired() bool { return k.slots[0].downlinkInUplink }

func (k *frames) spanTable() *render.Table {
	t := &render.Table{Title: "Slots and symbols", Columns: []render.Column{
		{Header: "in", Unit: "ms", Align: render.Number},
		{Header: "slots", Align: render.Number},
		{Header: "D", Align: render.Number},
		{Header: "S", Align: render.Number},
		{Header: "U", Align: render.Number},
		{Header: "downlink", Unit: "symbols", Align: render.Number},
		{Header: "guard", Unit: "symbols", Align: render.Number},
		{Header: "uplink", Unit: "symbols", Align: render.Number},
	}}
	if k.paired() {
		return t
	}
	if k.RAT == bands.LTE {
		t.Title, t.Columns[1].Header = "Subframes and symbols", "subframes"
	}
	for _, s := range k.spans() {
		row := []string{string(s.MS)}
		for _, n := range [...]int{s.Slots, s.D, s.S, s.U, s.DL, s.Guard, s.UL} {
			row = append(row, strconv.Itoa(n))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// slotTable shows the symbols of the slots, those alike that follow each other
// together.
func (k *frames) slotTable() *render.Table {
	t := &render.Table{Title: "Slots of a period", Columns: []render.Column{
		{Header: "slot"},
		{Header: "kind"},
		{Header: "symbols"},
		{Header: "downlink", Align: render.Number},
		{Header: "guard", Align: render.Number},
		{Header: "uplink", Align: render.Number},
		{Header: "slot format", Align: render.Number},
	}}
	if k.RAT == bands.LTE {
		t.Title, t.Columns[0].Header = "Subframes of a frame", "subframe"
	}
	if k.paired() {
		return t
	}
	for i := 0; i < len(k.slots); {
		j := i + 1
		for j < len(k.slots) && k.slots[j] == k.slots[i] {
			j++
		}
		s := &k.slots[i]
		number, format := strconv.Itoa(i), ""
		if j > i+1 {
			number += "–" + strconv.Itoa(j-1)
		}
		if s.format >= 0 {
			format = strconv.Itoa(s.format)
		}
		t.Rows = append(t.Rows, []string{number, s.kind, s.drawing(), strconv.Itoa(s.dl), strconv.Itoa(s.guard), strconv.Itoa(s.ul), format})
		i = j
	}
	t.DropEmpty()
	return t
}

func (k *frames) periodTable() *render.Table {
	t := &render.Table{Title: "Period by subcarrier spacing", Columns: []render.Column{
		{Header: "SCS", Unit: "kHz", Align: render.Number},
		{Header: "slot", Unit: "ms", Align: render.Number},
		{Header: "pattern", Unit: "ms", Align: render.Number},
		{Header: "exists"},
		{Header: "as"},
	}}
	if len(k.checks) < 2 {
		return t
	}
	for i := range k.checks {
		c := &k.checks[i]
		row := []string{c.scs.KHz(), string(figures.Milliseconds(c.slot)), string(figures.Milliseconds(c.total)), "no", ""}
		if c.err == nil {
			var parts []string
			for _, p := range c.periods {
				parts = append(parts, string(figures.Milliseconds(p)))
			}
			row[3], row[4] = "yes", strings.Join(parts, " + ")+" ms"
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
