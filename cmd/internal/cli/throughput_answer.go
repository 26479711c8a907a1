package cli

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// The three figures in words.
const (
	meaningMax       = "the standard's ceiling; ignores TDD"
	meaningScheduled = "transport blocks of every slot of a frame"
	meaningExpected  = "by the SINR or RSRP of the carriers"
)

func (k *peak) answer() (*render.Answer, error) {
	working, err := k.working()
	if err != nil {
		return nil, err
	}
	value, err := k.value(working)
	if err != nil {
		return nil, err
	}
	goodput, err := k.goodputTable()
	if err != nil {
		return nil, err
	}
	a := &render.Answer{
		Value:   func() any { return value },
		Data:    dataOfPeak(&value),
		Refuted: k.refuted(),
	}
	a.Document = []render.Block{k.title()}
	if a.Refuted {
		a.Document = append(a.Document, render.Verdict{Tone: render.Bad, Word: "not allowed", Text: "The rates are those of carriers that may not serve together like this: see the findings."})
	}
	a.Document = append(a.Document, k.rateTable(), goodput, k.deviceTable(), k.limitTable(), k.linkTable(), k.frameTable(), k.qualityTable())
	if f := k.findingList(); len(f) > 0 {
		a.Document = append(a.Document, render.Section("Findings"), f)
	}
	a.Document = append(a.Document, working,
		render.List{Kind: render.Assumptions, Items: k.assumptionTexts()},
		render.List{Kind: render.Notes, Items: k.notes()},
		render.List{Kind: render.Cautions, Items: k.cautions()},
		k.sources())
	return a, nil
}

func (k *peak) title() render.Title {
	t := render.Title{Text: k.text, Detail: wordList("peak rates", kindWords[k.site.Kind])}
	if !k.site.Name.IsZero() {
		t = render.Title{Text: k.site.Name.String(), Detail: wordList("peak rates, an upper bound", kindWords[k.site.Kind], k.text)}
	}
	if k.device != nil {
		t.Detail = wordList(t.Detail, "as "+k.deviceName()+" takes them")
	}
	return t
}

func (k *peak) deviceName() string {
	if k.device.Name == "" {
		return "the device"
	}
	return k.device.Name
}

// rateTable has the answer: the three figures in both directions.
func (k *peak) rateTable() *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Header: "rate"},
		{Header: "downlink", Unit: "Mbit/s", Align: render.Number},
		{Header: "uplink", Unit: "Mbit/s", Align: render.Number},
		{Header: "downlink", Unit: "bit/s/Hz", Align: render.Number},
		{Header: "uplink", Unit: "bit/s/Hz", Align: render.Number},
		{Header: "what it is"},
	}}
	down, up := k.sums(bands.Downlink), k.sums(bands.Uplink)
	row := func(name, meaning string, of func(*throughput.Rates) exact.Ratio) {
		d, u := of(&down), of(&up)
		t.Rows = append(t.Rows, []string{name, mbpsText(d), mbpsText(u), perHertzText(d, k.width(bands.Downlink)), perHertzText(u, k.width(bands.Uplink)), meaning})
	}
	row("maximum", meaningMax, func(r *throughput.Rates) exact.Ratio { return r.Max })
	row("scheduled", meaningScheduled, func(r *throughput.Rates) exact.Ratio { return r.Scheduled })
	if !down.Expected.IsZero() {
		row("expected", meaningExpected, func(r *throughput.Rates) exact.Ratio { return r.Expected })
	}
	return t
}

// linkTable has a row for each carrier and direction.
func (k *peak) linkTable() *render.Table {
	t := &render.Table{Title: "Carriers", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "carrier"},
		{Header: "link"},
		{Header: "N_RB", Align: render.Number},
		{Header: "SCS", Unit: "kHz", Align: render.Number},
		{Header: "layers", Align: render.Number},
		{Header: "QAM", Align: render.Number},
		{Header: "maximum", Unit: "Mbit/s", Align: render.Number},
		{Header: "scheduled", Unit: "Mbit/s", Align: render.Number},
		{Header: "expected", Unit: "Mbit/s", Align: render.Number},
		{Header: "scheduled", Unit: "bit/s/Hz", Align: render.Number},
		{Header: "note"},
	}}
	for i := range k.count() {
		p, r := &k.carriers.Carriers[i], &k.taken.Carriers[i]
		for _, d := range directions {
			l := r.Link(d)
			if l.IsZero() {
				continue
			}
			row := []string{strconv.Itoa(k.number(i)), bare(p), downOrUp(d), strconv.Itoa(l.ResourceBlocks), l.SCS.KHz(), strconv.Itoa(l.Layers), constellation(l.QAM),
				mbpsText(l.Max), mbpsText(l.Scheduled), "", perHertzText(l.Scheduled, l.Width), ""}
			if !l.Expected.IsZero() {
				row[9] = mbpsText(l.Expected)
			}
			if !l.Counted {
				row[11] = "not added"
			}
			t.Rows = append(t.Rows, row)
		}
	}
	t.DropEmpty()
	return t
}

func downOrUp(d bands.Direction) string {
	if d == bands.Uplink {
		return "up"
	}
	return "down"
}

// bare is a carrier without its place and keys.
func bare(p *ca.Placed) string {
	return ca.Carrier{Band: p.Band, Downlink: p.Downlink, Uplink: p.Uplink}.String()
}

func constellation(qam int) string {
	if qam == 2 {
		return "pi/2-BPSK"
	}
	return strconv.Itoa(qam)
}

// frameTable says how TDD carriers divide their time.
func (k *peak) frameTable() *render.Table {
	t := &render.Table{Title: "TDD frames", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "carrier"},
		{Header: "pattern"},
		{Header: "downlink", Unit: "%", Align: render.Number},
		{Header: "guard", Unit: "%", Align: render.Number},
		{Header: "uplink", Unit: "%", Align: render.Number},
	}}
	for i := range k.count() {
		p, f := &k.carriers.Carriers[i], &k.taken.Carriers[i].Frame
		if p.Info.Duplex != bands.TDD {
			continue
		}
		dl, ul := f.Share(bands.Downlink), f.Share(bands.Uplink)
		t.Rows = append(t.Rows, []string{strconv.Itoa(k.number(i)), bare(p), f.String(), percent(dl), guardText(dl, ul), percent(ul)})
	}
	return t
}

// guardText is the time that neither direction has; empty where each may have all of it.
func guardText(dl, ul exact.Ratio) string {
	used := dl.Add(ul)
	if used.Num > used.Den {
		return ""
	}
	return percent(exact.Of(used.Den-used.Num, used.Den).Reduced())
}

func (k *peak) qualityTable() *render.Table {
	t := &render.Table{Title: "What the signal lets expect in the downlink", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "carrier"},
		{Header: "SINR", Unit: "dB", Align: render.Number},
		{Header: "ceiling by RSRP", Unit: "dB", Align: render.Number},
		{Header: "per layer", Unit: "bit/s/Hz", Align: render.Number},
		{Header: "CQI", Align: render.Number},
		{Header: "MCS", Align: render.Number},
		{Header: "expected", Unit: "Mbit/s", Align: render.Number},
		{Header: "note"},
	}}
	for i := range k.count() {
		q, ok := k.taken.Quality(i)
		if !ok {
			continue
		}
		v := valueOfQuality(&q)
		row := []string{strconv.Itoa(k.number(i)), bare(&k.carriers.Carriers[i]), string(v.SINR), optional(v.Ceiling), strconv.FormatFloat(q.Efficiency, 'f', 3, 64),
			optional(v.CQI), optional(v.MCS), mbpsText(q.Rate), ""}
		var notes []string
		if q.FromRSRP {
			notes = append(notes, "SINR not known: its ceiling is taken")
		}
		if q.Capped {
			notes = append(notes, "the scheduled rate limits")
		}
		if q.HasCeiling && q.SINR > q.Ceiling {
			notes = append(notes, "SINR above the ceiling: the receiver is better than its noise figure says")
		}
		row[8] = strings.Join(notes, "; ")
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}

func (k *peak) goodputTable() (*render.Table, error) {
	t := &render.Table{Title: "What is left of the scheduled rate", Columns: []render.Column{
		{Header: "counted as"},
		{Header: "downlink", Unit: "Mbit/s", Align: render.Number},
		{Header: "uplink", Unit: "Mbit/s", Align: render.Number},
	}}
	if !k.flag.goodput {
		return t, nil
	}
	down, err := k.goodput(bands.Downlink)
	if err != nil {
		return nil, err
	}
	up, err := k.goodput(bands.Uplink)
	if err != nil {
		return nil, err
	}
	t.Rows = [][]string{
		{"transport blocks", mbpsText(k.sums(bands.Downlink).Scheduled), mbpsText(k.sums(bands.Uplink).Scheduled)},
		{"IP packets", mbpsText(down.IP), mbpsText(up.IP)},
		{"TCP payload", mbpsText(down.TCP), mbpsText(up.TCP)},
	}
	return t, nil
}

func (k *peak) findingList() render.Findings {
	var list render.Findings
	for _, f := range k.findings {
		r := render.Finding{Severity: render.Severity(f.Severity.String()), Rule: string(f.Rule), Message: f.Message, Source: render.Source(f.Source)}
		if f.Carrier > 0 {
			r.Number, r.Carrier = f.Carrier, k.site.carrierName(f.Carrier-1)
		}
		list = append(list, r)
	}
	slices.SortStableFunc(list, func(a, b render.Finding) int { return severityRank(b.Severity) - severityRank(a.Severity) })
	return list
}
