package fieldreport

import (
	"strconv"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// comparisonPart shows the networks side by side; nothing for one network alone.
func comparisonPart(r *fieldlog.Report) []render.Block {
	if len(r.Networks) < 2 {
		return nil
	}
	lanes := make([]render.Lane, len(r.Networks))
	for i := range r.Networks {
		lanes[i] = render.Lane{Name: r.Networks[i].Name, Blocks: laneOf(&r.Networks[i])}
	}
	var shared render.Points
	for _, s := range r.Shared {
		shared = append(shared, s.Statement)
	}
	for _, o := range r.Overlaps {
		shared = append(shared, o.Statement)
	}
	return []render.Block{
		render.Part{Text: "Side by side", Detail: "the " + counted(len(r.Networks), "network") + " at this place"},
		widthTable(r), rateTable(r), waitTable(r),
		&render.Spectrum{Title: "Spectrum of each", Lanes: lanes},
		chart(r),
		shared,
	}
}

func widthTable(r *fieldlog.Report) *render.Table {
	t := &render.Table{Title: "Bandwidth", Columns: []render.Column{
		{Header: "network", Typed: true},
		{Header: "carriers", Align: render.Number},
		{Header: "downlink", Unit: "MHz", Align: render.Number},
		{Header: "uplink", Unit: "MHz", Align: render.Number},
		{Header: "downlink equivalent", Unit: "MHz", Align: render.Number},
	}}
	for i := range r.Comparison {
		c := &r.Comparison[i]
		t.Rows = append(t.Rows, []string{c.Network, strconv.Itoa(c.Carriers), string(c.Downlink), string(c.Uplink), weighted(c.DownlinkEquivalent)})
	}
	return t
}

func rateTable(r *fieldlog.Report) *render.Table {
	t := &render.Table{Title: "Rates", Columns: []render.Column{
		{Header: "network", Typed: true},
		{Header: "maximum", Unit: "Mbit/s", Align: render.Number},
		{Header: "schedulable", Unit: "Mbit/s", Align: render.Number},
		{Header: "scheduled", Unit: "Mbit/s", Align: render.Number},
		{Header: "median down", Unit: "Mbit/s", Align: render.Number, Deciding: true},
		{Header: "best down", Unit: "Mbit/s", Align: render.Number},
		{Header: "of maximum", Unit: "%", Align: render.Number},
		{Header: "efficiency", Unit: "bit/s/Hz", Align: render.Number},
		{Header: "median up", Unit: "Mbit/s", Align: render.Number},
	}}
	for i := range r.Comparison {
		c := &r.Comparison[i]
		t.Rows = append(t.Rows, []string{c.Network, mbpsOf(c.Max), mbpsOf(c.Schedulable), mbpsOf(c.Scheduled), mbps(c.MedianDown), mbps(c.BestDown), percent(c.OfMax), rounded(c.Efficiency, efficiencyPlaces), mbps(c.MedianUp)})
	}
	t.DropEmpty()
	return t
}

func waitTable(r *fieldlog.Report) *render.Table {
	t := &render.Table{Title: "Latency, medians", Columns: []render.Column{
		{Header: "network", Typed: true},
		{Header: "idle", Unit: "ms", Align: render.Number},
		{Header: "under download", Unit: "ms", Align: render.Number},
		{Header: "added", Unit: "ms", Align: render.Number},
		{Header: "round trips", Unit: "a minute", Align: render.Number},
	}}
	known := false
	for i := range r.Comparison {
		c := &r.Comparison[i]
		known = known || c.Idle != nil || c.Loaded != nil
		t.Rows = append(t.Rows, []string{c.Network, rounded(c.Idle, msPlaces), rounded(c.Loaded, msPlaces), rounded(c.Added, msPlaces), rounded(c.RoundTrips, 0)})
	}
	if !known {
		t.Rows = nil
	}
	t.DropEmpty()
	return t
}

// chart draws the downlinks of all networks on one scale.
func chart(r *fieldlog.Report) *render.Bars {
	b := &render.Bars{Title: "Downlink, measured against possible", Unit: "Mbit/s", Of: "network"}
	for i := range r.Networks {
		d := directionsOf(&r.Networks[i])[0]
		if bars := d.bars(); len(bars) > 0 {
			b.Groups = append(b.Groups, render.BarGroup{Name: r.Networks[i].Name, Bars: bars})
		}
	}
	return b
}

// comparisonData is the table for CSV, a row for each network, with the figures of
// JSON under its names.
func comparisonData(r *fieldlog.Report) *render.Table {
	t := &render.Table{}
	for _, key := range []string{"network", "carriers", "dl_mhz", "ul_mhz", "dl_equivalent_mhz", "max_rate_mbps", "schedulable_mbps", "scheduled_mbps", "median_down_mbps", "best_down_mbps", "median_up_mbps",
		"share_of_max", "share_of_scheduled", "bps_hz", "bps_hz_active", "idle_ms", "loaded_down_ms", "added_down_ms", "round_trips_per_minute", "configuration", "allowed"} {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key, Typed: key == "network"})
	}
	for i := range r.Comparison {
		c := &r.Comparison[i]
		n := &r.Networks[i]
		configuration := ""
		if list := holding(n); len(list) > 0 {
			configuration = list[0].ID
		}
		t.Rows = append(t.Rows, []string{c.Network, strconv.Itoa(c.Carriers), string(c.Downlink), string(c.Uplink), string(c.DownlinkEquivalent),
			figures.Optional(c.Max), figures.Optional(c.Schedulable), figures.Optional(c.Scheduled), optional(c.MedianDown), optional(c.BestDown), optional(c.MedianUp),
			optional(c.OfMax), optional(c.OfScheduled), optional(c.Efficiency), optional(c.ActiveEfficiency),
			optional(c.Idle), optional(c.Loaded), optional(c.Added), optional(c.RoundTrips), configuration, strconv.FormatBool(n.Valid)})
	}
	return t
}
