package channel

import (
	"spectally/bands"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// channelValue is the answer of the command as JSON shows it.
type channelValue struct {
	Band        string                `json:"band"`
	Downlink    *carrierValue         `json:"dl"`
	Uplink      *carrierValue         `json:"ul"`
	OnRaster    bool                  `json:"on_raster"`
	Nearest     []carrierValue        `json:"nearest"`
	GSCN        []syncValue           `json:"gscn"`
	Width       *figures.Figure       `json:"width_mhz"`
	SCS         *figures.Figure       `json:"scs_khz"`
	Edges       *edgesValue           `json:"edges"`
	ULEdges     *edgesValue           `json:"ul_edges"`
	Findings    []render.FindingValue `json:"findings"`
	Assumptions []string              `json:"assumptions"`
	Working     []render.Step         `json:"working"`
}

// carrierValue is a carrier centre. Channel is null between two channel numbers.
type carrierValue struct {
	Channel *int32         `json:"channel"`
	MHz     figures.Figure `json:"mhz"`
}

// syncValue is an entry of the synchronisation raster. Channel is its NR-ARFCN;
// null if no number has that frequency.
type syncValue struct {
	GSCN    bands.GSCN     `json:"gscn"`
	MHz     figures.Figure `json:"mhz"`
	Channel *int32         `json:"channel"`
	SCS     figures.Figure `json:"scs_khz"`
	Pattern string         `json:"pattern"`
	Note    string         `json:"note"`
}

type edgesValue struct {
	Low    figures.Figure  `json:"low_mhz"`
	High   figures.Figure  `json:"high_mhz"`
	Blocks int             `json:"n_rb"`
	Guard  *figures.Figure `json:"min_guard_band_khz"`
}

func (c *channel) value() channelValue {
	v := channelValue{
		Band:        c.band.ID.String(),
		Downlink:    c.carrierValue(bands.Downlink),
		Uplink:      c.carrierValue(bands.Uplink),
		OnRaster:    c.onRaster,
		Nearest:     []carrierValue{},
		GSCN:        []syncValue{},
		Findings:    c.findings().Values(),
		Assumptions: figures.Present(c.assumptions()),
		Working:     figures.Present([]render.Step(c.working())),
	}
	for _, n := range c.nearest {
		if f, err := c.band.ChannelFrequency(n); err == nil {
			v.Nearest = append(v.Nearest, carrierValue{&n, figures.MHz(f)})
		}
	}
	for _, e := range c.entries {
		s := syncValue{GSCN: e.number, MHz: figures.MHz(e.at), SCS: figures.KHz(e.raster.SCS), Pattern: e.raster.Pattern, Note: e.raster.Note}
		if n, exact, err := bands.ARFCNNear(e.at); err == nil && exact {
			s.Channel = new(int32(n))
		}
		v.GSCN = append(v.GSCN, s)
	}
	if c.scs != 0 {
		v.SCS = new(figures.KHz(c.scs))
	}
	if c.width != 0 {
		v.Width = new(figures.MHz(c.width))
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
	v := &carrierValue{MHz: figures.MHz(f)}
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
	v := &edgesValue{Low: figures.MHz(s.Low), High: figures.MHz(s.High)}
	if w, ok := c.band.Width(c.scs, c.width); ok {
		v.Blocks = w.ResourceBlocks
		if w.GuardBand != 0 {
			v.Guard = new(figures.KHz(w.GuardBand))
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
