package fieldreport

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/walkreport"
)

var kindWords = map[string]string{
	"lte":    "one LTE carrier",
	"nr":     "one NR carrier",
	"lte-ca": "LTE carrier aggregation",
	"nr-ca":  "NR carrier aggregation",
	"en-dc":  "EN-DC: LTE with NR, the master cell LTE",
	"ne-dc":  "NE-DC: NR with LTE, the master cell NR",
	"nr-dc":  "NR dual connectivity",
	"sul":    "NR with a supplementary uplink",
}

// networkPart is all that the report says of one network.
func networkPart(n *fieldlog.NetworkReport) []render.Block {
	kind := kindWords[n.Kind]
	if kind == "" {
		kind = n.Kind
	}
	part := []render.Block{
		render.Part{Text: n.Name, Detail: sentence(kind, deviceWords(&n.Device))},
		verdict(n),
	}
	part = append(part, paragraphs(n.Notes)...)
	part = append(part, strip("Spectrum", n), carrierTable(n), linkTable(n), totalTable(n), partTable(n))
	if len(n.Findings) > 0 {
		part = append(part, render.Section("Findings"), combination.SeverestFirst(slices.Clone(n.Found)))
	}
	part = append(part, configurationTable(n), n.Interference.Fact())
	part = append(part, rateBlocks(n)...)
	part = append(part, latencyBlocks(n)...)
	part = append(part, transferBlocks(n)...)
	part = append(part, cellBlocks(n)...)
	part = append(part, radioBlocks(n)...)
	if n.Walk != nil {
		part = append(part, walkreport.Blocks(n.Walk)...)
	}
	return append(part, render.List{Kind: render.Assumptions, Items: ownAssumptions(n)})
}

func deviceWords(d *fieldlog.DeviceReport) string {
	words := sentence(d.Name)
	if d.ReceiveAntennas > 0 {
		words = sentence(words, counted(d.ReceiveAntennas, "receive antenna"))
	}
	if d.TransmitAntennas > 0 {
		words = sentence(words, counted(d.TransmitAntennas, "transmit antenna"))
	}
	if d.QAM > 0 {
		words = sentence(words, "up to "+strconv.Itoa(d.QAM)+"QAM")
	}
	return words
}

// ownAssumptions lists what the figures of this network alone rest on. What is assumed
// of several bands stands on one line.
func ownAssumptions(n *fieldlog.NetworkReport) []string {
	var texts []string
	of := make(map[string][]string) // bands by what is assumed of them
	for _, a := range n.Assumptions {
		if len(a.Carriers) == 0 {
			continue
		}
		text := a.Said.Text
		if _, known := of[text]; !known {
			texts = append(texts, text)
		}
		if band := a.Said.Band; band != (bands.ID{}) && !slices.Contains(of[text], band.String()) {
			of[text] = append(of[text], band.String())
		}
	}
	for i, text := range texts {
		texts[i] = strings.TrimSpace(strings.Join(of[text], ", ") + " " + text)
	}
	return texts
}

func carrierTable(n *fieldlog.NetworkReport) *render.Table {
	t := &render.Table{Title: "Carriers", Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "band"},
		{Header: "duplex"},
		{Header: "role"},
		{Header: "downlink", Unit: "MHz", Align: render.Number},
		{Header: "uplink", Unit: "MHz", Align: render.Number},
		{Header: "transmits"},
		{Header: "channel", Align: render.Number},
		{Header: "centre", Unit: "MHz", Align: render.Number},
		{Header: "PCI", Align: render.Number},
		{Header: "RSRP", Unit: "dBm", Align: render.Number},
		{Header: "SINR", Unit: "dB", Align: render.Number},
	}}
	for i := range n.Carriers {
		c := &n.Carriers[i]
		row := []string{strconv.Itoa(c.Number), c.Band, c.Duplex, figures.Optional(c.Role), "", "", "", "", "", figures.Optional(c.PCI), figures.Optional(c.RSRP), figures.Optional(c.SINR)}
		lead := c.Downlink
		if c.Downlink != nil {
			row[4] = string(c.Downlink.Width)
		} else {
			lead = c.Uplink
		}
		if c.Uplink != nil {
			row[5] = string(c.Uplink.Width)
		}
		if lead != nil {
			row[7], row[8] = figures.Optional(lead.Channel), figures.Optional(lead.Centre)
		}
		if c.Transmits {
			row[6] = "yes"
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}

// linkTable has what the rates of each carrier rest on.
func linkTable(n *fieldlog.NetworkReport) *render.Table {
	t := &render.Table{Title: "What each carrier can yield", Detail: true, Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "band"},
		{Header: "direction"},
		{Header: "SCS", Unit: "kHz", Align: render.Number},
		{Header: "N_RB", Align: render.Number},
		{Header: "layers", Align: render.Number},
		{Header: "QAM", Align: render.Number},
		{Header: "pattern"},
		{Header: "maximum", Unit: "Mbit/s", Align: render.Number},
		{Header: "schedulable", Unit: "Mbit/s", Align: render.Number},
		{Header: "scheduled", Unit: "Mbit/s", Align: render.Number, Deciding: true},
		{Header: "expected", Unit: "Mbit/s", Align: render.Number},
	}}
	for i := range n.Carriers {
		c := &n.Carriers[i]
		for _, d := range [...]struct {
			name string
			link *combination.Link
		}{{"downlink", c.Downlink}, {"uplink", c.Uplink}} {
			if d.link == nil || d.link.Rated == nil {
				continue
			}
			l := d.link
			t.Rows = append(t.Rows, []string{strconv.Itoa(c.Number), c.Band, d.name, figures.Optional(l.SCS), figures.Optional(l.Blocks), integer(l.Layers), integer(l.QAM), figures.Optional(c.Pattern),
				mbpsOf(l.Max), mbpsOf(l.Schedulable), mbpsOf(l.Scheduled), mbpsOf(l.Expected)})
		}
	}
	t.DropEmpty()
	return t
}
