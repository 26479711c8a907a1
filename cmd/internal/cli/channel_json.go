package cli

import (
	"spectally/bands"
	"spectally/cmd/internal/render"
)

// channelValue is the answer of the command as JSON shows it.
type channelValue struct {
	Band        string           `json:"band"`
	Downlink    *carrierValue    `json:"dl"`
	Uplink      *carrierValue    `json:"ul"`
	OnRaster    bool             `json:"on_raster"`
	Nearest     []carrierValue   `json:"nearest"`
	GSCN        []syncValue      `json:"gscn"`
	Width       *figure          `json:"width_mhz"`
	SCS         *figure          `json:"scs_khz"`
	Edges       *edgesValue      `json:"edges"`
	ULEdges     *edgesValue      `json:"ul_edges"`
	Findings    []render.Finding `json:"findings"`
	Assumptions []string         `json:"assumptions"`
	Working     []render.Step    `json:"working"`
}

// carrierValue is a carrier centre. Channel is null between two channel numbers.
type carrierValue struct {
	Channel *int32 `json:"channel"`
	MHz     figure `json:"mhz"`
}

// syncValue is an entry of the synchronisation raster. Channel is its NR-ARFCN;
// null if no number has that frequency.
type syncValue struct {
	GSCN    bands.GSCN `json:"gscn"`
	MHz     figure     `json:"mhz"`
	Channel *int32     `json:"channel"`
	SCS     figure     `json:"scs_khz"`
	Pattern string     `json:"pattern"`
	Note    string     `json:"note"`
}

type edgesValue struct {
	Low    figure  `json:"low_mhz"`
	High   figure  `json:"high_mhz"`
	Blocks int     `json:"n_rb"`
	Guard  *figure `json:"min_guard_band_khz"`
}

func (c *channel) value() channelValue {
	v := channelValue{
		Band:        c.band.ID.String(),
		Downlink:    c.carrierValue(bands.Downlink),
		Uplink:      c.carrierValue(bands.Uplink),
		OnRaster:    c.onRaster,
		Nearest:     []carrierValue{},
		GSCN:        []syncValue{},
		Findings:    present([]render.Finding(c.findings())),
		Assumptions: present(c.assumptions()),
		Working:     present([]render.Step(c.working())),
	}
	for _, n := range c.nearest {
		if f, err := c.band.ChannelFrequency(n); err == nil {
			v.Nearest = append(v.Nearest, carrierValue{&n, megahertz(f)})
		}
	}
	for _, e := range c.entries {
		s := syncValue{GSCN: e.number, MHz: megahertz(e.at), SCS: kilohertz(e.raster.SCS), Pattern: e.raster.Pattern, Note: e.raster.Note}
		if n, exact, err := bands.ARFCNNear(e.at); err == nil && exact {
			s.Channel = new(int32(n))
		}
		v.GSCN = append(v.GSCN, s)
	}
	if c.scs != 0 {
		v.SCS = new(kilohertz(c.scs))
	}
	if c.width != 0 {
		v.Width = new(megahertz(c.width))
		v.Edges, v.ULEdges = c.edgesValue(bands.Downlink), c.edgesValue(bands.Uplink)
		if v.Edges == nil {
			v.Edges = v.ULEdges // a supplementary uplink has no other
		}
	}
	return v
}

func (c *channel) carrierValue(d bands.Direction) *carrierValue {
	f, ok := c.centre[d]
	if !ok {
		return nil
	}
	v := &carrierValue{MHz: megahertz(f)}
	if n, ok := c.number[d]; ok {
		v.Channel = &n
	}
	return v
}

func (c *channel) edgesValue(d bands.Direction) *edgesValue {
	s := c.span(d)
	if s.IsZero() {
		return nil
	}
	v := &edgesValue{Low: megahertz(s.Low), High: megahertz(s.High)}
	if w, ok := c.band.Width(c.scs, c.width); ok {
		v.Blocks = w.ResourceBlocks
		if w.GuardBand != 0 {
			v.Guard = new(kilohertz(w.GuardBand))
		}
	}
	return v
}

// span is the channel in a direction; none if its place or width is not known, or
// the band does not have the width in the direction.
func (c *channel) span(d bands.Direction) bands.Span {
	f, ok := c.centre[d]
	if !ok || c.width == 0 {
		return bands.Span{}
	}
	if w, ok := c.band.Width(c.scs, c.width); !ok || !w.Allows(d) {
		return bands.Span{}
	}
	return bands.Around(f, c.width)
}
