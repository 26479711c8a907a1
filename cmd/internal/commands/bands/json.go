package bands

import (
	"spectally/bands"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
)

// bandValue is a band as JSON shows it.
type bandValue struct {
	ID              string              `json:"id"`
	RAT             string              `json:"rat"`
	Number          int                 `json:"number"`
	Duplex          string              `json:"duplex"`
	Range           string              `json:"range"`
	ULLow           *figures.Figure     `json:"ul_low_mhz"`
	ULHigh          *figures.Figure     `json:"ul_high_mhz"`
	DLLow           *figures.Figure     `json:"dl_low_mhz"`
	DLHigh          *figures.Figure     `json:"dl_high_mhz"`
	Separation      *figures.Figure     `json:"tx_rx_separation_mhz"`
	Names           []string            `json:"names"`
	NameSources     []nameValue         `json:"name_sources"`
	FoundIn         string              `json:"found_in,omitempty"`
	Widths          []widthValue        `json:"channel_bandwidths"`
	AsymmetricPairs []pairValue         `json:"asymmetric_bandwidths"`
	ChannelNumbers  []channelRangeValue `json:"channel_numbers"`
	ListedChannels  []listedValue       `json:"listed_channels"`
	UplinkShift     string              `json:"ul_shift_7p5khz"`
	GSCN            []gscnRangeValue    `json:"gscn"`
	Separations     []separationValue   `json:"tx_rx_separations"`
	Parts           []partValue         `json:"region_limits"`
	SubBands        []subBandValue      `json:"sub_bands"`
	Sensitivities   []sensitivityValue  `json:"refsens,omitempty"`
	Ports           []portsValue        `json:"receive_ports,omitempty"`
	Powers          []powerValue        `json:"ue_power,omitempty"`
	Radiated        []radiatedValue     `json:"radiated,omitempty"`
	Since           *sinceValue         `json:"since,omitempty"`
	Notes           []string            `json:"notes"`
	Source          render.Source       `json:"source"`
}

type nameValue struct {
	Name   string `json:"name"`
	Origin string `json:"origin"`
}

type widthValue struct {
	SCS        figures.Figure  `json:"scs_khz"`
	Width      figures.Figure  `json:"mhz"`
	DLOnly     bool            `json:"dl_only"`
	ULOnly     bool            `json:"ul_only"`
	Optional   bool            `json:"optional"`
	ULOptional bool            `json:"ul_optional"`
	SCellOnly  bool            `json:"scell_only"`
	Blocks     int             `json:"n_rb"`
	Guard      *figures.Figure `json:"min_guard_band_khz"`
	Note       string          `json:"note"`
}

type pairValue struct {
	Set      int            `json:"set"`
	Uplink   figures.Figure `json:"ul_mhz"`
	Downlink figures.Figure `json:"dl_mhz"`
	Note     string         `json:"note"`
}

// channelRangeValue is a run of channel numbers. First, step and last are null
// where only the listed channels hold.
type channelRangeValue struct {
	Direction string         `json:"direction"`
	First     *int32         `json:"first"`
	Step      *int32         `json:"step"`
	Last      *int32         `json:"last"`
	Raster    figures.Figure `json:"raster_khz"`
	Listed    bool           `json:"only_listed"`
	Enhanced  bool           `json:"enhanced"`
	Mandatory bool           `json:"mandatory"`
	Note      string         `json:"note"`
}

type listedValue struct {
	Width      figures.Figure `json:"mhz"`
	Number     int32          `json:"number"`
	Downlink   bool           `json:"dl"`
	Uplink     bool           `json:"ul"`
	FreeRegion bool           `json:"only_free_of_other_technologies"`
	DLTraffic  bool           `json:"only_downlink_operation"`
}

type gscnRangeValue struct {
	SCS     figures.Figure `json:"scs_khz"`
	Pattern string         `json:"pattern"`
	First   *bands.GSCN    `json:"first"`
	Step    *bands.GSCN    `json:"step"`
	Last    *bands.GSCN    `json:"last"`
	List    []bands.GSCN   `json:"list"`
	Narrow  bool           `json:"for_3mhz_channels"`
	Note    string         `json:"note"`
}

type separationValue struct {
	Default *figures.Figure `json:"default_mhz"`
	Min     *figures.Figure `json:"min_mhz"`
	Max     *figures.Figure `json:"max_mhz"`
	Mu      *int            `json:"mu"`
	Note    string          `json:"note"`
}

type partValue struct {
	Region   string         `json:"region"`
	Downlink bool           `json:"dl"`
	Uplink   bool           `json:"ul"`
	Low      figures.Figure `json:"low_mhz"`
	High     figures.Figure `json:"high_mhz"`
}

type subBandValue struct {
	Name string         `json:"name"`
	Low  figures.Figure `json:"low_mhz"`
	High figures.Figure `json:"high_mhz"`
}

// shownInFull is how many bands have their radio requirements in JSON: a list of all would be
// twice as long for it.
const shownInFull = 8

func bandValues(found []foundBand) []bandValue {
	values := make([]bandValue, len(found))
	for i := range found {
		b := found[i].Band
		v := bandValue{
			ID:          b.ID.String(),
			RAT:         b.ID.RAT.String(),
			Number:      int(b.ID.Number),
			Duplex:      b.Duplex.String(),
			Range:       b.Range.String(),
			Names:       figures.Present(spectrum.NameTexts(b)),
			NameSources: []nameValue{},
			FoundIn:     found[i].foundIn(),
			UplinkShift: b.UplinkShift(),
			Notes:       figures.Present(noteTexts(b)),
			Source:      render.Source(b.Source),
		}
		v.ULLow, v.ULHigh = figures.Edges(b.Uplink)
		v.DLLow, v.DLHigh = figures.Edges(b.Downlink)
		if s, ok := usualSeparation(b); ok {
			v.Separation = new(figures.MHz(s))
		}
		for _, n := range b.Names() {
			v.NameSources = append(v.NameSources, nameValue{n.Text, n.Origin})
		}
		v.addWidths(b)
		v.addNumbers(b)
		v.addLimits(b)
		if len(found) <= shownInFull {
			v.addRadio(b)
		}
		values[i] = v
	}
	return values
}

func (v *bandValue) addWidths(b *bands.Band) {
	v.Widths, v.AsymmetricPairs = []widthValue{}, []pairValue{}
	for _, w := range b.Widths() {
		value := widthValue{
			SCS:        figures.KHz(w.SCS),
			Width:      figures.MHz(w.Width),
			DLOnly:     w.Marks&bands.DownlinkOnly != 0,
			ULOnly:     w.Marks&bands.UplinkOnly != 0,
			Optional:   w.Marks&bands.Optional != 0,
			ULOptional: w.Marks&bands.UplinkOptional != 0,
			SCellOnly:  w.Marks&bands.SCellOnly != 0,
			Blocks:     w.ResourceBlocks,
			Note:       w.Note,
		}
		if w.GuardBand != 0 {
			value.Guard = new(figures.KHz(w.GuardBand))
		}
		v.Widths = append(v.Widths, value)
	}
	for _, p := range b.WidthPairs() {
		v.AsymmetricPairs = append(v.AsymmetricPairs, pairValue{p.Set, figures.MHz(p.Uplink), figures.MHz(p.Downlink), p.Note})
	}
}

func (v *bandValue) addNumbers(b *bands.Band) {
	v.ChannelNumbers, v.ListedChannels, v.GSCN = []channelRangeValue{}, []listedValue{}, []gscnRangeValue{}
	for _, r := range append(b.Rasters(), b.EnhancedRasters()...) {
		value := channelRangeValue{
			Direction: r.Direction.Short(),
			Raster:    figures.KHz(r.Spacing),
			Listed:    r.Listed || r.Step == 0,
			Enhanced:  r.Enhanced,
			Mandatory: r.Mandatory,
			Note:      r.Note,
		}
		if r.Step != 0 {
			value.First, value.Step, value.Last = &r.First, &r.Step, &r.Last
		}
		v.ChannelNumbers = append(v.ChannelNumbers, value)
	}
	for _, c := range b.ListedChannels() {
		v.ListedChannels = append(v.ListedChannels, listedValue{figures.MHz(c.Width), c.Number, c.Downlink, c.Uplink, c.RestrictedToFree, c.DownlinkOnlyTraffic})
	}
	for _, s := range b.SyncRasters() {
		value := gscnRangeValue{SCS: figures.KHz(s.SCS), Pattern: s.Pattern, List: figures.Present(s.List), Narrow: s.Narrow, Note: s.Note}
		if s.Step != 0 {
			value.First, value.Step, value.Last = &s.First, &s.Step, &s.Last
		}
		v.GSCN = append(v.GSCN, value)
	}
}

func (v *bandValue) addLimits(b *bands.Band) {
	v.Separations, v.Parts, v.SubBands = []separationValue{}, []partValue{}, []subBandValue{}
	for _, s := range b.Separations() {
		value := separationValue{Note: s.Note}
		if s.HasDefault {
			value.Default = new(figures.MHz(s.Default))
		}
		if s.HasRange {
			value.Min, value.Max = new(figures.MHz(s.Min)), new(figures.MHz(s.Max))
		}
		if s.Numerology >= 0 {
			value.Mu = &s.Numerology
		}
		v.Separations = append(v.Separations, value)
	}
	for _, p := range b.Parts() {
		v.Parts = append(v.Parts, partValue{p.Region, p.Downlink, p.Uplink, figures.MHz(p.Span.Low), figures.MHz(p.Span.High)})
	}
	for _, s := range b.SubBands() {
		v.SubBands = append(v.SubBands, subBandValue{s.Name, figures.MHz(s.Span.Low), figures.MHz(s.Span.High)})
	}
}
