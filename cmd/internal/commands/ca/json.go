package ca

import (
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/listed"
	"spectally/cmd/internal/render"
)

// combinationValue is the answer of the command as JSON shows it.
type combinationValue struct {
	Carriers       []componentValue      `json:"carriers"`
	Kind           string                `json:"kind"`
	Name           string                `json:"name"` // what was typed in place of carriers; else empty
	Configurations []configurationValue  `json:"configurations"`
	Complete       bool                  `json:"configurations_complete"`
	Findings       []render.FindingValue `json:"findings"`
	Totals         combination.Totals    `json:"totals"`
	Valid          bool                  `json:"valid"`
	Blocks         []blockValue          `json:"blocks"`
	Assumptions    []string              `json:"assumptions"`
	Working        []render.Step         `json:"working"`
}

// componentValue is a component carrier. Values that are not known, or that there
// are none of, are null.
type componentValue struct {
	Text      string          `json:"carrier"` // in the notation that the command reads
	Band      string          `json:"band"`
	RAT       string          `json:"rat"`
	Duplex    string          `json:"duplex"`
	Range     string          `json:"range"`
	DL        figures.Figure  `json:"dl_mhz"`
	UL        figures.Figure  `json:"ul_mhz"`
	SCS       *figures.Figure `json:"scs_khz"`
	Channel   *int32          `json:"channel"`
	ULChannel *int32          `json:"ul_channel"`
	DLCentre  *figures.Figure `json:"dl_centre_mhz"`
	ULCentre  *figures.Figure `json:"ul_centre_mhz"`
	DLLow     *figures.Figure `json:"dl_low_mhz"`
	DLHigh    *figures.Figure `json:"dl_high_mhz"`
	ULLow     *figures.Figure `json:"ul_low_mhz"`
	ULHigh    *figures.Figure `json:"ul_high_mhz"`
	RB        *int            `json:"n_rb"`
	ULRB      *int            `json:"ul_n_rb"`
	Transmits bool            `json:"transmits"`
	Pattern   *string         `json:"pattern"`
	DLShare   *figures.Figure `json:"dl_share"`
	Role      *string         `json:"role"`
	PCI       *uint16         `json:"pci"`
	RSRP      *figures.Figure `json:"rsrp_dbm"`
	SINR      *figures.Figure `json:"sinr_db"`
}

type configurationValue struct {
	ID         string        `json:"id"`
	Kind       string        `json:"kind"`
	Listed     bool          `json:"listed"`
	FallbackOf []string      `json:"fallback_of"`
	Nearest    []string      `json:"nearest"`
	Sets       []int         `json:"bandwidth_sets"`
	Refusal    string        `json:"refusal"` // why no set admits the widths
	Parts      []memberValue `json:"parts"`
	Uplinks    []string      `json:"uplinks"`
	Holds      bool          `json:"holds"`
	Source     render.Source `json:"source"`
}

// memberValue is a part of dual connectivity that is checked by itself.
type memberValue struct {
	ID     string        `json:"id"`
	Listed bool          `json:"listed"`
	Sets   []int         `json:"bandwidth_sets"`
	Source render.Source `json:"source"`
}

type blockValue struct {
	Band     string          `json:"band"`
	Carriers []int           `json:"carriers"`
	Known    bool            `json:"contiguity_known"`
	Low      *figures.Figure `json:"low_mhz"`
	High     *figures.Figure `json:"high_mhz"`
	Sum      figures.Figure  `json:"sum_mhz"`
	Classes  []ca.Class      `json:"classes"`
	Spacings []spaceValue    `json:"spacings"`
}

type spaceValue struct {
	Below      int            `json:"below"`
	Above      int            `json:"above"`
	Spacing    figures.Figure `json:"spacing_mhz"`
	Nominal    figures.Figure `json:"nominal_mhz"`
	Contiguous bool           `json:"contiguous"`
}

func (c *found) value() combinationValue {
	v := combinationValue{
		Carriers:       []componentValue{},
		Kind:           c.Kind.String(),
		Name:           c.Name.String(),
		Configurations: []configurationValue{},
		Complete:       c.whole,
		Findings:       combination.Findings(c.Assessment, c.Findings()).Values(),
		Totals:         combination.TotalsOf(&c.totals),
		Valid:          c.Valid(),
		Blocks:         []blockValue{},
		Assumptions:    figures.Present(c.assumptions()),
		Working:        figures.Present([]render.Step(c.working())),
	}
	for i := range c.Carriers {
		v.Carriers = append(v.Carriers, c.componentValue(i))
	}
	for i := range c.listings {
		if l := &c.listings[i]; !l.Alone {
			v.Configurations = append(v.Configurations, valueOfListing(l))
		}
	}
	for i := range c.blocks {
		v.Blocks = append(v.Blocks, valueOfBlock(&c.blocks[i]))
	}
	return v
}

func (c *found) componentValue(i int) componentValue {
	p := &c.Carriers[i]
	v := componentValue{
		Text: p.Carrier.String(), Band: p.Band.String(), RAT: p.Band.RAT.String(),
		DL: figures.MHz(p.DownlinkWidth), UL: figures.MHz(p.UplinkWidth), Transmits: p.Transmits,
	}
	if p.Spacing != 0 {
		v.SCS = new(figures.KHz(p.Spacing))
	}
	if p.Role != 0 {
		v.Role = new(p.Role.String())
	}
	if p.HasPCI {
		v.PCI = &p.PCI
	}
	if p.RSRP.IsGiven() {
		v.RSRP = new(figures.Figure(p.RSRP.String()))
	}
	if p.SINR.IsGiven() {
		v.SINR = new(figures.Figure(p.SINR.String()))
	}
	if p.HasChannel {
		v.Channel = &p.Channel
	}
	if p.Info == nil {
		v.DL, v.UL = figures.MHz(p.Downlink), figures.MHz(p.Uplink)
		return v
	}
	v.Duplex, v.Range = p.Info.Duplex.String(), p.Info.Range.String()
	if n, ok := channelNumber(p, leading(p.Info)); ok {
		v.Channel = &n
	}
	if n, ok := channelNumber(p, bands.Uplink); ok {
		v.ULChannel = &n
	}
	if p.DownlinkCentre != 0 {
		v.DLCentre = new(figures.MHz(p.DownlinkCentre))
	}
	if p.UplinkCentre != 0 {
		v.ULCentre = new(figures.MHz(p.UplinkCentre))
	}
	v.DLLow, v.DLHigh = figures.Edges(p.Span(bands.Downlink))
	v.ULLow, v.ULHigh = figures.Edges(p.Span(bands.Uplink))
	if p.DownlinkBlocks != 0 {
		v.RB = &p.DownlinkBlocks
	}
	if p.UplinkBlocks != 0 {
		v.ULRB = &p.UplinkBlocks
		if p.DownlinkWidth == 0 {
			v.RB = v.ULRB
		}
	}
	if p.Info.Duplex == bands.TDD {
		v.Pattern = new(c.frames[i].String())
		v.DLShare = new(figures.Figure(strconv.FormatFloat(c.frames[i].Share(bands.Downlink).Float(), 'f', -1, 64)))
	}
	return v
}

// channelNumber is the channel number of a carrier in a direction; false if its
// place is not known or between two numbers.
func channelNumber(p *ca.Placed, d bands.Direction) (int32, bool) {
	centre := p.CentreIn(d)
	if centre == 0 {
		return 0, false
	}
	n, exact, err := p.Info.ChannelNumber(d, centre)
	return n, exact && err == nil
}

func valueOfListing(l *ca.Listing) configurationValue {
	v := configurationValue{
		ID:         l.Name.String(),
		Kind:       l.Name.Kind().String(),
		Listed:     len(l.Listed) > 0,
		FallbackOf: listed.Names(l.FallbackOf),
		Nearest:    []string{},
		Sets:       figures.Present(l.BandwidthSets()),
		Refusal:    l.Admission.RefusalText(),
		Parts:      []memberValue{},
		Uplinks:    []string{},
		Holds:      l.Holds(),
		Source:     render.Source(l.Source()),
	}
	if !l.Supported() {
		for _, near := range ca.NearestTo(l.Name) {
			v.Nearest = append(v.Nearest, near.Configuration.Name().String())
		}
	}
	for i := range l.Admission.Members {
		m := &l.Admission.Members[i]
		v.Parts = append(v.Parts, memberValue{m.Name.String(), m.Alone || m.Found && m.Configuration.Name() == m.Name, figures.Present(m.Sets), render.Source(m.Source)})
	}
	seen := map[string]bool{}
	for _, k := range l.Listed {
		for _, u := range k.Uplinks() {
			if !seen[u.Text] {
				seen[u.Text] = true
				v.Uplinks = append(v.Uplinks, u.Text)
			}
		}
	}
	return v
}

func valueOfBlock(b *ca.SubBlock) blockValue {
	v := blockValue{
		Band:     b.Band.ID.String(),
		Carriers: make([]int, len(b.Carriers)),
		Known:    b.Known,
		Sum:      figures.MHz(b.Sum),
		Classes:  figures.Present(b.Classes),
		Spacings: []spaceValue{},
	}
	for i, n := range b.Carriers {
		v.Carriers[i] = n + 1
	}
	v.Low, v.High = figures.Edges(b.Edges)
	for i := range b.Neighbours {
		g := &b.Neighbours[i]
		v.Spacings = append(v.Spacings, spaceValue{g.Below + 1, g.Above + 1, figures.MHz(g.Apart), figures.MHz(g.Spacing.Nominal), g.Contiguous()})
	}
	return v
}
