package channel

import (
	"errors"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// blockValue is where a carrier can lie of which the SS/PBCH block is known.
type blockValue struct {
	Band       string         `json:"band"`
	Width      figures.Figure `json:"width_mhz"`
	SCS        figures.Figure `json:"scs_khz"`
	SSB        blockAt        `json:"ssb"`
	CentreLow  figures.Figure `json:"centre_low_mhz"`
	CentreHigh figures.Figure `json:"centre_high_mhz"`
	Edges      edgeValue      `json:"edges"`   // of all places
	Certain    *edgeValue     `json:"certain"` // filled at every place; null if nothing is
}

type blockAt struct {
	Channel *int32         `json:"channel"`
	MHz     figures.Figure `json:"mhz"`
	GSCN    *int           `json:"gscn"` // null off the synchronisation raster
}

type edgeValue struct {
	Low  figures.Figure `json:"low_mhz"`
	High figures.Figure `json:"high_mhz"`
}

// answerBlock says where a carrier can lie whose SS/PBCH block is at a number or frequency.
func answerBlock(args []string, f *channelFlags) (*render.Answer, error) {
	b, text, first, err := readChannelArgs(args)
	if err != nil {
		return nil, err
	}
	place := command.Argument(first)
	if b.ID.RAT != bands.NR {
		return nil, command.At("--ssb", &bands.ValueError{Param: "band with SS/PBCH blocks", Got: b.ID.String(), Allowed: "an NR band"})
	}
	if f.gscn {
		return nil, command.Conflict("ssb", "gscn", "the one asks for the carrier, the other for blocks")
	}
	if !f.width.IsSet {
		return nil, command.At("--ssb", errors.New("not without --width: it asks where a carrier of that width lies"))
	}
	n, at, err := readPlace(text)
	if err != nil {
		return nil, command.At(place, err)
	}
	if n >= 0 {
		if at, err = b.ChannelFrequency(n); err != nil {
			return nil, command.At(place, err)
		}
	}
	width, scs := f.width.Value, f.scs.Value
	if !f.scs.IsSet {
		scs = b.DefaultSpacing(width)
	}
	if err := b.CheckWidth(bands.Downlink, width, scs); err != nil {
		return nil, command.At("--width", err)
	}
	within, err := readWithin(f.within)
	if err != nil {
		return nil, command.At("--within", err)
	}
	centres, err := b.CentresAround(at, width, scs, within)
	if err != nil {
		return nil, command.At(place, err)
	}
	low, high := bands.Around(centres.Low, width), bands.Around(centres.High, width)
	v := blockValue{
		Band: b.ID.String(), Width: figures.MHz(width), SCS: figures.KHz(scs), SSB: blockAt{MHz: figures.MHz(at)},
		CentreLow: figures.MHz(centres.Low), CentreHigh: figures.MHz(centres.High), Edges: edgeValue{figures.MHz(low.Low), figures.MHz(high.High)},
	}
	if m, exact, err := bands.ARFCNNear(at); err == nil && exact {
		v.SSB.Channel = new(int32(m))
	}
	block := render.Fact{Name: "SS/PBCH block", Value: at.MHz(), Unit: "MHz", Remark: "off the synchronisation raster: of a secondary cell or of EN-DC"}
	if g, on := b.BlockRaster(at, width); on {
		v.SSB.GSCN = new(int(g))
		block.Remark = "GSCN " + strconv.Itoa(int(g))
	}
	facts := render.Facts{block,
		{Name: "centre", Value: span(centres), Unit: "", Remark: "on the raster, with the block inside the carrier"},
		{Name: "channel", Value: span(bands.Span{Low: low.Low, High: high.High}), Remark: "somewhere within"},
	}
	if high.Low < low.High {
		v.Certain = &edgeValue{figures.MHz(high.Low), figures.MHz(low.High)}
		facts = append(facts, render.Fact{Name: "certain", Value: span(bands.Span{Low: high.Low, High: low.High}), Remark: "filled wherever it lies"})
	}
	data := &render.Table{Rows: [][]string{{v.Band, string(v.SSB.MHz), string(v.CentreLow), string(v.CentreHigh), string(v.Edges.Low), string(v.Edges.High)}}}
	for _, key := range [...]string{"band", "ssb_mhz", "centre_low_mhz", "centre_high_mhz", "low_mhz", "high_mhz"} {
		data.Columns = append(data.Columns, render.Column{Key: key, Header: key})
	}
	return &render.Answer{
		Value:    func() any { return v },
		Document: []render.Block{render.Title{Text: v.Band + ":" + width.MHz() + " around an SS/PBCH block", Detail: "where the carrier can lie"}, facts, render.Sources{render.Source(b.Source), render.Source(b.WidthSource())}},
		Data:     data,
	}, nil
}

func span(s bands.Span) string { return s.Low.MHz() + "–" + s.High.MHz() + " MHz" }

// readWithin reads a block of spectrum in megahertz: "3560-3660"; none if it is empty.
func readWithin(text string) (bands.Span, error) {
	if text == "" {
		return bands.Span{}, nil
	}
	e := &bands.ValueError{Param: "block of spectrum", Got: text, Allowed: "its edges in MHz, such as 3560-3660"}
	low, high, ok := strings.Cut(strings.TrimSuffix(strings.TrimSpace(text), "MHz"), "-")
	if !ok {
		return bands.Span{}, e
	}
	l, err1 := bands.ParseMHz(strings.TrimSpace(low))
	h, err2 := bands.ParseMHz(strings.TrimSpace(high))
	if err1 != nil || err2 != nil || l >= h {
		return bands.Span{}, e
	}
	return bands.Span{Low: l, High: h}, nil
}
