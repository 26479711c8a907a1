package holdingreport

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/holdings"
	"spectally/throughput"
	"spectally/throughput/holding"
)

type answerJSON struct {
	Title    string        `json:"title"`
	Networks []networkJSON `json:"networks"`
}

type networkJSON struct {
	Name    string       `json:"name"`
	Totals  totalsJSON   `json:"totals"`
	Blocks  []blockJSON  `json:"blocks"`
	Best    []bestJSON   `json:"best"`
	Next    []nextJSON   `json:"next"`
	Changes []changeJSON `json:"changes"`
}

type totalsJSON struct {
	DL figures.Figure `json:"dl_mhz"`
	UL figures.Figure `json:"ul_mhz"`
}

type spanJSON struct {
	Low  figures.Figure `json:"low_mhz"`
	High figures.Figure `json:"high_mhz"`
}

type blockJSON struct {
	DL      *spanJSON    `json:"dl"`
	UL      *spanJSON    `json:"ul"`
	Note    string       `json:"note"`
	From    string       `json:"from"`
	Shared  bool         `json:"shared"`
	Indoor  bool         `json:"indoor"`
	Layouts []layoutJSON `json:"layouts"`
}

type layoutJSON struct {
	Band     string         `json:"band"`
	Carriers []carrierJSON  `json:"carriers"`
	NRB      int            `json:"n_rb"`
	ULNRB    int            `json:"ul_n_rb"`
	Unused   figures.Figure `json:"unused_mhz"`
	BestAt   []string       `json:"best_at"`
	Left     []leftJSON     `json:"left"`
}

type leftJSON struct {
	MHz     figures.Figure   `json:"mhz"`
	Reason  string           `json:"reason"`
	Instead []figures.Figure `json:"instead_mhz"`
	Over    figures.Figure   `json:"over_khz"`
}

type carrierJSON struct {
	Carrier string       `json:"carrier"`
	DL      *channelJSON `json:"dl"`
	UL      *channelJSON `json:"ul"`
	GSCN    *int32       `json:"gscn"`
	NRB     int          `json:"n_rb"`
}

type channelJSON struct {
	Channel int32          `json:"channel"`
	MHz     figures.Figure `json:"mhz"`
	Low     figures.Figure `json:"low_mhz"`
	High    figures.Figure `json:"high_mhz"`
}

type bestJSON struct {
	Technology    string         `json:"technology"`
	By            string         `json:"by"`
	Configuration string         `json:"configuration"`
	Carriers      []string       `json:"carriers"`
	Places        []carrierJSON  `json:"places"`
	DLMHz         figures.Figure `json:"dl_mhz"`
	ULMHz         figures.Figure `json:"ul_mhz"`
	DL            ratesJSON      `json:"dl"`
	UL            ratesJSON      `json:"ul"`
	Proven        bool           `json:"proven"`
	Bound         figures.Figure `json:"bound"` // in Mbit/s or MHz
	LimitedBy     []string       `json:"limited_by"`
}

type ratesJSON struct {
	Max         figures.Figure `json:"max_rate_mbps"`
	Schedulable figures.Figure `json:"schedulable_mbps"`
	Scheduled   figures.Figure `json:"scheduled_mbps"`
}

type nextJSON struct {
	Carriers []string       `json:"carriers"`
	Added    string         `json:"added"`
	Instead  string         `json:"instead"`
	Gain     figures.Figure `json:"gain_mbps"`
	Lacks    string         `json:"lacks"`
	Rule     string         `json:"rule"`
}

type changeJSON struct {
	Kind          string         `json:"kind"`
	From          []string       `json:"from"`
	To            []string       `json:"to"`
	Gain          figures.Figure `json:"gain_mbps"`
	Configuration string         `json:"configuration"`
	Held          bool           `json:"held"`
	Remark        string         `json:"remark"`
}

// value is the whole answer for JSON, with what changes would bring.
func (s *study) value(h *holdings.Holdings, l holding.Limits) any {
	if whole, err := work(h, l, true); err == nil {
		s = whole
	}
	out := answerJSON{Title: s.title, Networks: []networkJSON{}}
	for i := range s.networks {
		out.Networks = append(out.Networks, s.networkValue(i))
	}
	return out
}

func (s *study) networkValue(i int) networkJSON {
	n := &s.networks[i]
	out := networkJSON{Name: n.name, Blocks: []blockJSON{}, Best: []bestJSON{}, Next: []nextJSON{}, Changes: []changeJSON{},
		Totals: totalsJSON{figures.MHz(n.spectrumOf(bands.Downlink)), figures.MHz(n.spectrumOf(bands.Uplink))}}
	for k := range n.held {
		out.Blocks = append(out.Blocks, blockValue(&n.held[k], n.rooms[k]))
	}
	for k := range n.best {
		out.Best = append(out.Best, n.bestValue(&n.best[k]))
	}
	for k := range n.next {
		x := &n.next[k]
		v := nextJSON{Carriers: carrierTexts(x.Carriers), Added: x.Added.String(), Gain: mbps(x.Value - n.top.Value), Lacks: lackText(x), Rule: string(x.Finding.Rule)}
		if x.Instead != (ca.Carrier{}) {
			v.Instead = x.Instead.String()
		}
		out.Next = append(out.Next, v)
	}
	for k := range n.change {
		c := &n.change[k]
		out.Changes = append(out.Changes, changeJSON{c.Kind.String(), blockTexts(c.From), blockTexts(c.To), mbps(c.Gain), c.Best.Name.String(), c.Held, s.remark(i, c)})
	}
	return out
}

func blockTexts(list []deploy.Block) []string {
	texts := make([]string, len(list))
	for i, b := range list {
		texts[i] = b.String()
	}
	return texts
}

func carrierTexts(c ca.Combination) []string {
	texts := make([]string, len(c))
	for i := range c {
		texts[i] = c[i].String()
	}
	return texts
}

func spanValue(s bands.Span) *spanJSON {
	if s.IsZero() {
		return nil
	}
	return &spanJSON{figures.MHz(s.Low), figures.MHz(s.High)}
}

func blockValue(b *holdings.Block, rooms []room) blockJSON {
	out := blockJSON{DL: spanValue(b.Downlink), UL: spanValue(b.Uplink), Note: b.Note, From: b.From, Shared: b.Shared, Indoor: b.Indoor, Layouts: []layoutJSON{}}
	for i := range rooms {
		r := &rooms[i]
		if len(r.layouts) == 0 {
			out.Layouts = append(out.Layouts, layoutJSON{Band: r.band.ID.String(), Carriers: []carrierJSON{}, BestAt: []string{}, Unused: figures.MHz(leftWidth(r.left)), Left: leftValues(r.left)})
		}
		for k := range r.layouts {
			l := &r.layouts[k]
			v := layoutJSON{Band: r.band.ID.String(), NRB: l.ResourceBlocks, ULNRB: l.UplinkResourceBlocks, Unused: figures.MHz(l.Unused), Left: leftValues(l.Left), Carriers: placeValues(l.Carriers)}
			for _, t := range l.Traits {
				v.BestAt = append(v.BestAt, t.String())
			}
			out.Layouts = append(out.Layouts, v)
		}
	}
	return out
}

func leftValues(list []deploy.Left) []leftJSON {
	out := []leftJSON{}
	for _, l := range list {
		v := leftJSON{MHz: figures.MHz(l.Width), Reason: l.Reason.String(), Over: figures.KHz(l.Over), Instead: []figures.Figure{}}
		for _, w := range l.Instead {
			v.Instead = append(v.Instead, figures.MHz(w))
		}
		out = append(out, v)
	}
	return out
}

func placeValues(list []deploy.Carrier) []carrierJSON {
	out := []carrierJSON{}
	for i := range list {
		c := &list[i]
		v := carrierJSON{Carrier: c.Carrier.String(), NRB: c.ResourceBlocks}
		v.DL = channelValue(c.Channel, c.DownlinkCentre, c.Span(bands.Downlink))
		v.UL = channelValue(c.UplinkChannel, c.UplinkCentre, c.Span(bands.Uplink))
		if c.Sync != 0 {
			v.GSCN = new(int32(c.Sync))
		}
		out = append(out, v)
	}
	return out
}

func channelValue(number int32, centre bands.Frequency, s bands.Span) *channelJSON {
	if s.IsZero() {
		return nil
	}
	return &channelJSON{number, figures.MHz(centre), figures.MHz(s.Low), figures.MHz(s.High)}
}

func (n *network) bestValue(b *holding.Best) bestJSON {
	out := bestJSON{Technology: b.Technology.String(), By: b.Aim.String(), Configuration: b.Name.String(), Carriers: carrierTexts(b.Carriers), Places: placeValues(b.Places),
		DLMHz: figures.MHz(b.Spectrum(bands.Downlink)), ULMHz: figures.MHz(b.Spectrum(bands.Uplink)), Proven: b.Proven(), LimitedBy: []string{}}
	if out.Bound = mbps(b.Bound); b.Aim == holding.DownlinkWidth || b.Aim == holding.UplinkWidth {
		out.Bound = figures.MHz(bands.Frequency(b.Bound))
	}
	if r, err := rates(b.Carriers); err == nil {
		out.DL, out.UL = ratesValue(&r.Downlink), ratesValue(&r.Uplink)
	}
	for _, x := range n.found.Next(b) {
		out.LimitedBy = append(out.LimitedBy, nextText(&x)+": "+lackText(&x))
	}
	return out
}

func ratesValue(r *throughput.Rates) ratesJSON {
	return ratesJSON{figures.Mbps(r.Max), figures.Mbps(r.Schedulable), figures.Mbps(r.Scheduled)}
}

// Answers are values of the types that JSON shows.
func Answers() []any { return []any{answerJSON{}} }
