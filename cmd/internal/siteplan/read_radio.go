package siteplan

import (
	"spectally/cmd/internal/tomlcarrier"
	"spectally/cmd/internal/tomlfile"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
	"spectally/throughput/site"
)

// maxCellLayers bounds the layers over all users.
const maxCellLayers = 64

const portsAllowed = `transmit and receive ports such as "8T8R"`

func (r *reader) radio(t *tomlfile.Table) (site.Radio, Radio) {
	var radio site.Radio
	var more Radio
	more.Name, _ = t.Text("name", tomlfile.Optional, lineOfText)
	if text, ok := t.Single("carriers", tomlfile.Required, `carriers in the notation, in quotes: "B3:20 + n78:80@640000"`); ok {
		radio.Carriers = tomlcarrier.Read(t, "carriers", text, maxCarriers)
	}
	radio.TransmitPorts, radio.ReceivePorts = readPorts(t, tomlfile.Required)
	radio.Layers = readLayers(t, "cell_layers", "downlink", radio.TransmitPorts)
	radio.UplinkLayers = readLayers(t, "ul_cell_layers", "uplink", radio.ReceivePorts)
	if text, ok := t.Text("signals", tomlfile.Optional, nr.SignalsAllowed); ok {
		g, err := nr.ParseSignals(text)
		if err != nil {
			t.Report("signals", err)
		}
		radio.Schedule.Signals = g
	}
	if text, ok := t.Text("lte_cell", tomlfile.Optional, lte.CellAllowed); ok {
		c, err := lte.ParseCell(text)
		if err != nil {
			t.Report("lte_cell", err)
		}
		radio.Schedule.LTE = c
	}
	if share, ok := readShare(t, "airtime_percent", "the share of time in which the site has the channel of unlicensed bands, in per cent", "0.1", "100"); ok {
		radio.Schedule.Airtime = share
	}
	if m := t.Sub("measured"); m != nil {
		readMeasured(m, &radio.Measured)
	}
	const power, gain = "the power of each carrier over all ports, in dBm", "the gain of the antenna less losses, in dBi"
	for _, v := range []struct {
		key, allowed string
		low, high    int64
		to           *float64
	}{{"power_dbm", power, -30, 90, &more.Emission.Power}, {"gain_dbi", gain, -30, 60, &more.Emission.Gain}} {
		d, ok := t.Number(v.key, tomlfile.Optional, v.low, v.high, v.allowed)
		if ok {
			*v.to = d.Float()
		}
		if r.coverage != nil && !t.Has(v.key) {
			t.Missing(v.key, v.allowed+", which [coverage] needs")
		}
	}
	t.Finish()
	tryRadio(t, &radio)
	return radio, more
}

// readLayers reads layers over all users; ports is 0 where they could not be read.
func readLayers(t *tomlfile.Table, key, direction string, ports int) int {
	most := maxCellLayers
	if ports > 0 {
		most = min(most, ports)
	}
	n, _ := t.Whole(key, tomlfile.Optional, 1, int64(most), "a number of "+direction+" layers over all users, at most the ports,")
	return n
}

func readPorts(t *tomlfile.Table, need tomlfile.Need) (transmit, receive int) {
	s, ok := t.Single("ports", need, portsAllowed)
	if !ok {
		return 0, 0
	}
	transmit, receive, err := site.ParsePorts(s)
	if err != nil {
		t.Report("ports", tomlfile.Renamed(err, "ports"))
	}
	return transmit, receive
}

// maxEfficiency bounds an efficiency in bit/s/Hz: more than any cell has.
const maxEfficiency = "200"

func readMeasured(t *tomlfile.Table, to *site.Measured) {
	any := false
	for _, v := range []struct {
		key, what string
		to        *exact.Ratio
	}{
		{"dl_bps_hz", "the average", &to.Downlink}, {"ul_bps_hz", "the average", &to.Uplink},
		{"dl_edge_bps_hz", "the 5th percentile", &to.DownlinkEdge}, {"ul_edge_bps_hz", "the 5th percentile", &to.UplinkEdge},
	} {
		any = any || t.Has(v.key)
		*v.to, _ = readFactor(t, v.key, v.what+" in bit/s/Hz", "0.0001", maxEfficiency, 1)
	}
	if !any {
		t.Missing("efficiency", "at least one of dl_bps_hz, ul_bps_hz, dl_edge_bps_hz and ul_edge_bps_hz")
	}
	to.Origin, _ = t.Text("origin", tomlfile.Required, "where the figures are from, a line of text")
	to.TransmitPorts, to.ReceivePorts = readPorts(t, tomlfile.Optional)
	t.Finish()
}
