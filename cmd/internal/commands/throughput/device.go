package throughput

import (
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// deviceTable sets what the site offers beside what the device takes.
func (k *peak) deviceTable() *render.Table {
	t := &render.Table{Title: "Site and device", Columns: []render.Column{
		{Header: "rate"},
		{Header: "site, down", Unit: "Mbit/s", Align: render.Number},
		{Header: "device, down", Unit: "Mbit/s", Align: render.Number},
		{Header: "site, up", Unit: "Mbit/s", Align: render.Number},
		{Header: "device, up", Unit: "Mbit/s", Align: render.Number},
	}}
	if k.served == nil {
		return t
	}
	down, _ := k.sums(bands.Downlink)
	up, _ := k.sums(bands.Uplink)
	row := func(name string, of func(*throughput.Rates) exact.Ratio) {
		t.Rows = append(t.Rows, []string{name, figures.MbpsText(of(&k.offered.Downlink)), figures.MbpsText(of(&down)), figures.MbpsText(of(&k.offered.Uplink)), figures.MbpsText(of(&up))})
	}
	row("maximum", func(r *throughput.Rates) exact.Ratio { return r.Max })
	row("schedulable", func(r *throughput.Rates) exact.Ratio { return r.Schedulable })
	row("scheduled", func(r *throughput.Rates) exact.Ratio { return r.Scheduled })
	if !k.offered.Downlink.Expected.IsZero() {
		row("expected", func(r *throughput.Rates) exact.Ratio { return r.Expected })
	}
	return t
}

// limitTable names what limits.
func (k *peak) limitTable() *render.Table {
	t := &render.Table{Title: "What limits", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "item"},
		{Header: "site"},
		{Header: "device"},
		{Header: "so"},
	}}
	if k.served == nil {
		return t
	}
	for _, l := range k.served.Limits {
		number := ""
		if l.Carrier > 0 {
			number = strconv.Itoa(l.Carrier)
		}
		t.Rows = append(t.Rows, []string{number, l.Item, l.Site, l.Device, l.Text})
	}
	if len(t.Rows) == 0 {
		t.Rows = [][]string{{"", "nothing", "", "", "The device takes all that the site offers."}}
	}
	if !k.served.Complete {
		t.Rows = append(t.Rows, []string{"", "choice", "", "", "There are too many ways to choose carriers to look at all of them: a better choice may exist."})
	}
	t.DropEmpty()
	return t
}
