package sitereport

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/throughput/propagation"
)

type coverageValue struct {
	Model    string          `json:"model"`
	Sight    string          `json:"sight"` // empty in free space
	Entry    string          `json:"entry"`
	Clutter  bool            `json:"clutter"` // of ITU-R P.2108 round the UE
	Base     figures.Figure  `json:"base_height_m"`
	User     figures.Figure  `json:"user_height_m"`
	Places   figures.Figure  `json:"places"`
	Distance *figures.Figure `json:"distance_m"`
	Carriers []reachedValue  `json:"carriers"` // each different one
	// Distances are the rates of each sector by distance.
	Distances []distanceValue `json:"distances"`
}

type reachedValue struct {
	Sectors       []string        `json:"sectors"`
	Text          string          `json:"text"`
	Frequency     figures.Figure  `json:"frequency_mhz"`
	Power         figures.Figure  `json:"power_dbm"`
	Gain          figures.Figure  `json:"gain_dbi"`
	EIRP          figures.Figure  `json:"eirp_dbm"`
	PerElement    *figures.Figure `json:"element_dbm"` // EIRP of a resource element
	EntryLoss     figures.Figure  `json:"entry_loss_db"`
	Margin        figures.Figure  `json:"margin_db"`
	Downlink      *reachLink      `json:"dl"`
	Uplink        *reachLink      `json:"ul"`
	RelativeRange *figures.Figure `json:"relative_range"`      // by the first carrier
	BandAlone     *figures.Figure `json:"band_relative_range"` // if nothing but the frequency differed
	PathLoss      *figures.Figure `json:"path_loss_db"`        // at the distance
	RSRP          *figures.Figure `json:"rsrp_dbm"`
	RSRPError     string          `json:"rsrp_error"`
	Extrapolated  []string        `json:"extrapolated"`
	Required      *requiredValue  `json:"refsens"` // null where the plan does not ask
}

type reachLink struct {
	MaxCouplingLoss figures.Figure  `json:"max_coupling_loss_db"`
	MaxPathLoss     figures.Figure  `json:"max_path_loss_db"` // outdoors
	Range           *figures.Figure `json:"range_m"`
	RangeError      string          `json:"range_error"`
}

func (s *study) coverageValue() *coverageValue {
	c := s.Coverage
	if c == nil {
		return nil
	}
	base, user := c.Path.Heights()
	v := &coverageValue{
		Model: c.Path.Scenario.String(), Sight: s.sight(), Entry: c.Entry.String(), Clutter: c.Path.Clutter, Base: level(base), User: level(user),
		Places: trimmed(s.places(), 6), Distance: metres(c.Path.Distance), Carriers: []reachedValue{}, Distances: s.distanceValues(),
	}
	for i := range s.reaches {
		r := &s.reaches[i]
		w := reachedValue{
			Sectors: r.sectors, Text: r.carrier.String(), Frequency: megahertz(r.Frequency), Power: level(r.emission.Power), Gain: level(r.emission.Gain), EIRP: level(r.EIRP),
			EntryLoss: level(r.Entry.DB()), Margin: level(r.Margin), RelativeRange: optional(r.RelativeRange), BandAlone: optional(r.bandAlone),
			RSRPError: errorText(r.RSRPError), Extrapolated: present(r.extrapolations()),
		}
		if r.HasDownlink {
			w.PerElement, w.Downlink = new(level(r.PerElement)), valueOfReach(&r.Downlink)
		}
		if r.HasUplink {
			w.Uplink = valueOfReach(&r.Uplink)
		}
		if c.Requirement != nil {
			w.Required = r.requiredValue()
		}
		if r.HasRSRP {
			w.PathLoss, w.RSRP = new(level(r.At.DB)), new(level(r.RSRP))
		}
		v.Carriers = append(v.Carriers, w)
	}
	return v
}

func valueOfReach(r *propagation.Reach) *reachLink {
	return &reachLink{level(r.MaxCouplingLoss), level(r.MaxPathLoss), metres(r.Range), errorText(r.RangeError)}
}

func optional(v float64) *figures.Figure {
	if v == 0 {
		return nil
	}
	return new(trimmed(v, 3))
}

func errorText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

func (s *study) sight() string {
	if s.Coverage.Path.Scenario == propagation.FreeSpace {
		return ""
	}
	return s.Coverage.Path.Sight.String()
}

// places is the part of places at the edge that are served.
func (s *study) places() float64 {
	if s.Coverage.Places == 0 {
		return 0.5
	}
	return s.Coverage.Places
}

// coveragePart has how far the carriers reach; nothing where the plan does not ask.
func (s *study) coveragePart() []render.Block {
	if s.Coverage == nil {
		return nil
	}
	c := s.Coverage
	base, user := c.Path.Heights()
	facts := render.Facts{
		{Name: "model", Value: strings.TrimSpace(c.Path.Scenario.String() + " " + s.sight())},
		{Name: "round the user", Value: entryWords[c.Entry]},
		{Name: "places served at the edge", Value: string(trimmed(100*s.places(), 2)), Unit: "%"},
	}
	if c.Path.Clutter {
		facts = append(facts, render.Fact{Name: "clutter", Value: "round the user (ITU-R P.2108)"})
	}
	if base > 0 && user > 0 {
		facts = append(facts, render.Fact{Name: "height of the site's antenna", Value: string(level(base)), Unit: "m"}, render.Fact{Name: "height of the phone", Value: string(level(user)), Unit: "m"})
	}
	part := []render.Block{render.Part{Text: "Coverage", Detail: "how far each carrier reaches, and how strong it is"}, facts}
	part = append(part, s.rangeTables()...)
	part = append(part, s.rangeChart(), s.levelTable())
	part = append(part, s.requiredBlocks()...)
	part = append(part, s.distanceBlocks()...)
	if notes := s.reachNotes(); len(notes) > 0 {
		part = append(part, render.Section("Outside the models"), notes)
	}
	return part
}

var entryWords = map[propagation.Entry]string{
	propagation.OpenAir: "open air", propagation.LowLossBuilding: "a building with plain glass", propagation.HighLossBuilding: "a building with coated glass",
	propagation.ModelABuilding: "a building, model A", propagation.Vehicle: "a car", propagation.VehicleMetallised: "a car with coated windows",
	propagation.Wall38901Low: "a building with plain glass (TR 38.901)", propagation.Wall38901LowA: "a building of plywood with plain glass (TR 38.901)", propagation.Wall38901High: "a building with coated glass (TR 38.901)",
	propagation.EntryTraditional: "a traditional building (ITU-R P.2109)", propagation.EntryEfficient: "a thermally efficient building (ITU-R P.2109)",
}

// rangeTables have the loss that each link stands, and how far that goes.
func (s *study) rangeTables() []render.Block {
	losses := &render.Table{Title: "Loss that each link stands", Columns: []render.Column{
		{Header: "carrier"},
		{Header: "sector", Typed: true},
		{Header: "direction"},
		{Header: "coupling loss", Unit: "dB", Align: render.Number},
		{Header: "antenna", Unit: "dBi", Align: render.Number},
		{Header: "entry", Unit: "dB", Align: render.Number},
		{Header: "margin", Unit: "dB", Align: render.Number},
		{Header: "path loss", Unit: "dB", Align: render.Number},
	}}
	ranges := &render.Table{Title: "Range", Columns: []render.Column{
		{Header: "carrier"},
		{Header: "sector", Typed: true},
		{Header: "direction"},
		{Header: "range", Unit: "m", Align: render.Number},
		{Header: "times the first, down", Align: render.Number},
		{Header: "by band alone", Align: render.Number},
		{Header: "mark"},
	}}
	for i := range s.reaches {
		r := &s.reaches[i]
		head := []string{carrierName(&r.carrier), strings.Join(r.sectors, ", ")}
		row := func(d bands.Direction, l *propagation.Reach, relative, alone string) {
			losses.Rows = append(losses.Rows, append(head[:2:2], directionWord(d), levelText(l.MaxCouplingLoss), levelText(r.emission.Gain), levelText(r.Entry.DB()), levelText(r.Margin), levelText(l.MaxPathLoss)))
			ranges.Rows = append(ranges.Rows, append(head[:2:2], directionWord(d), metresText(l.Range), relative, alone, mark(l)))
		}
		relative, alone := factorText(r.RelativeRange), factorText(r.bandAlone)
		if r.HasDownlink {
			row(bands.Downlink, &r.Downlink, relative, alone)
			relative, alone = "", ""
		}
		if r.HasUplink {
			row(bands.Uplink, &r.Uplink, relative, alone)
		}
	}
	ranges.DropEmpty()
	return []render.Block{losses, ranges}
}

// mark says what a range is where the model does not hold.
func mark(l *propagation.Reach) string {
	switch {
	case l.RangeError != nil:
		return "outside the model"
	case len(l.Beyond) > 0:
		return "extrapolated"
	}
	return ""
}

// factorText writes a ratio of ranges; empty for none.
func factorText(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', 2, 64)
}

func (s *study) levelTable() *render.Table {
	title := "Power"
	if d := s.Coverage.Path.Distance; d > 0 {
		title = "Power, and level at " + string(trimmed(d, 1)) + " m"
	}
	t := &render.Table{Title: title, Columns: []render.Column{
		{Header: "carrier"},
		{Header: "sector", Typed: true},
		{Header: "centre", Unit: "MHz", Align: render.Number},
		{Header: "N_RB", Align: render.Number},
		{Header: "EIRP", Unit: "dBm", Align: render.Number},
		{Header: "of an element", Unit: "dBm", Align: render.Number},
		{Header: "path loss", Unit: "dB", Align: render.Number},
		{Header: "RSRP", Unit: "dBm", Align: render.Number},
		{Header: "mark"},
	}}
	for i := range s.reaches {
		r := &s.reaches[i]
		if !r.HasDownlink {
			continue
		}
		row := []string{carrierName(&r.carrier), strings.Join(r.sectors, ", "), r.Frequency.MHz(), itoa(r.blocks), levelText(r.EIRP), levelText(r.PerElement), "", "", ""}
		switch {
		case r.HasRSRP:
			row[6], row[7] = levelText(r.At.DB), levelText(r.RSRP)
			if len(r.At.Beyond) > 0 || len(r.Entry.Beyond) > 0 {
				row[8] = "extrapolated"
			}
		case r.RSRPError != nil:
			row[8] = "outside the model"
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}

func (s *study) rangeChart() *render.Bars {
	b := &render.Bars{Title: "Range of each carrier", Unit: "m", Of: "carrier", Legend: "Solid: downlink. Hatched: uplink."}
	for i := range s.reaches {
		r := &s.reaches[i]
		var bars []render.Bar
		if r.HasDownlink && r.Downlink.Range > 0 {
			bars = append(bars, render.Bar{Name: "downlink", Value: metresText(r.Downlink.Range)})
		}
		if r.HasUplink && r.Uplink.Range > 0 {
			bars = append(bars, render.Bar{Name: "uplink", Value: metresText(r.Uplink.Range), Fill: render.Hatched})
		}
		if len(bars) > 0 {
			b.Groups = append(b.Groups, render.BarGroup{Name: carrierName(&r.carrier) + ", " + strings.Join(r.sectors, ", "), Bars: bars})
		}
	}
	return b
}
