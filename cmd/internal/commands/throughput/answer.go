package throughput

import (
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/listed"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// The three figures in words.
const (
	meaningMax         = "standard's ceiling"
	meaningSchedulable = "any network, at most"
	meaningScheduled   = "usual network"
)

func (k *peak) answer() (*render.Answer, error) {
	rows, err := k.rows()
	if err != nil {
		return nil, err
	}
	goodput, err := k.goodputTable()
	if err != nil {
		return nil, err
	}
	a := &render.Answer{
		Value:   func() any { return k.value(rows) },
		Data:    linkColumns().Data(slices.Concat(rows.links, rows.sums)),
		Refuted: k.refuted(),
	}
	a.Document = []render.Block{k.title()}
	if a.Refuted {
		a.Document = append(a.Document, render.Verdict{Tone: render.Bad, Word: "not allowed", Text: "These carriers may not serve one UE together like this: see the findings."})
	}
	carriers := linkColumns().People("", rows.links)
	carriers.MergeAlike()
	var peaks []*link
	if !k.flag.signals.Value.IsZero() {
		peaks = rows.links
	}
	a.Document = append(a.Document, k.rateTable(), goodput, k.deviceTable(), k.limitTable(), carriers,
		peakColumns.People("Peak data rate as TR 37.910 counts it: elements at code rate 948/1024, over the time of the direction, without DataRate", peaks))
	found := combination.SeverestFirst(combination.Findings(k.site, k.findings))
	if len(found) > 0 && found[0].Severity != render.Note {
		a.Document = append(a.Document, render.Section("Findings"), found)
		found = nil
	}
	a.Document = append(a.Document, render.Details(func() []render.Block { return k.details(rows, found) }))
	if k.carriers != nil {
		a.Document = append(a.Document, k.carriers.AssumedList())
	}
	a.Document = append(a.Document,
		render.List{Kind: render.Cautions, Items: k.cautions()},
		k.sources())
	return a, nil
}

// details are what the short answer leaves out, with findings that are notes alone.
func (k *peak) details(r *rows, notes render.Findings) []render.Block {
	doc := []render.Block{k.frameTable(), qualityColumns.People("What the signal supports", r.qualities)}
	if len(notes) > 0 {
		doc = append(doc, render.Section("Findings"), notes)
	}
	return append(doc, render.Explained(k.working),
		render.List{Kind: render.Assumptions, Items: k.assumptionTexts()},
		render.List{Kind: render.Notes, Items: k.notes()})
}

func (k *peak) title() render.Title {
	t := render.Title{Text: k.text, Detail: words.List("peak rates", listed.Kinds[k.site.Kind])}
	if !k.site.Name.IsZero() {
		t = render.Title{Text: k.site.Name.String(), Detail: words.List("peak rates, an upper bound", listed.Kinds[k.site.Kind], k.text)}
	}
	if k.device != nil {
		t.Detail = words.List(t.Detail, "as "+k.deviceName()+" takes them")
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
		{Header: "downlink", Unit: "bit/s/Hz", Align: render.Number, Minor: true},
		{Header: "uplink", Unit: "bit/s/Hz", Align: render.Number, Minor: true},
		{Header: "what it is"},
	}}
	down, downWidth := k.sums(bands.Downlink)
	up, upWidth := k.sums(bands.Uplink)
	row := func(name, meaning string, of func(*throughput.Rates) exact.Ratio) {
		d, u := of(&down), of(&up)
		t.Rows = append(t.Rows, []string{name, figures.MbpsText(d), figures.MbpsText(u), figures.PerHertzText(d, downWidth), figures.PerHertzText(u, upWidth), meaning})
	}
	row("maximum", meaningMax, func(r *throughput.Rates) exact.Ratio { return r.Max })
	row("schedulable", meaningSchedulable, func(r *throughput.Rates) exact.Ratio { return r.Schedulable })
	row("scheduled", meaningScheduled, func(r *throughput.Rates) exact.Ratio { return r.Scheduled })
	if !down.Expected.IsZero() {
		row("expected", k.meaningOfExpected(), func(r *throughput.Rates) exact.Ratio { return r.Expected })
	}
	return t
}

// meaningOfExpected says from what an expected rate is estimated.
func (k *peak) meaningOfExpected() string {
	for i := range k.count() {
		if q, ok := k.taken.Quality(i); ok && q.FromRSRP {
			return "estimate from RSRP"
		}
	}
	return "estimate from SINR"
}

func downOrUp(d bands.Direction) string {
	if d == bands.Uplink {
		return "up"
	}
	return "down"
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
		t.Rows = append(t.Rows, []string{strconv.Itoa(k.number(i)), combination.Bare(p), f.String(), figures.Percent(dl), guardText(dl, ul), figures.Percent(ul)})
	}
	return t
}

// guardText is the time that neither direction has; empty where each may have all of it.
func guardText(dl, ul exact.Ratio) string {
	used := dl.Add(ul)
	if used.Num > used.Den {
		return ""
	}
	return figures.Percent(exact.Of(used.Den-used.Num, used.Den).Reduced())
}

func (k *peak) goodputTable() (*render.Table, error) {
	t := &render.Table{Title: "Left of the scheduled rate", Columns: []render.Column{
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
	sumDown, _ := k.sums(bands.Downlink)
	sumUp, _ := k.sums(bands.Uplink)
	t.Rows = [][]string{
		{"transport blocks", figures.MbpsText(sumDown.Scheduled), figures.MbpsText(sumUp.Scheduled)},
		{"IP packets", figures.MbpsText(down.IP), figures.MbpsText(up.IP)},
		{"TCP payload", figures.MbpsText(down.TCP), figures.MbpsText(up.TCP)},
	}
	return t, nil
}
