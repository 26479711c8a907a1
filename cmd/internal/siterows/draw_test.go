package siterows

import (
	"fmt"
	"io"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
	"spectally/throughput/site"
)

// drawn is a site drawn at random, and the rows that describe it.
type drawn struct {
	site *site.Site
	rows []map[string]string
}

var (
	drawnCarriers = []string{"n78:100", "n78:40", "B3:20", "B7:10", "n28:10", "n75:20", "n80:20", "n1:20,layers=2", "n38:20", "B40:20", "n41:60", "B20:10", "n78:80,pci=12,rsrp=-90"}
	drawnPorts    = []int{2, 4, 8, 16, 32, 64}
)

// percentOf draws a percentage: as the file has it, and as a part of 1.
func percentOf(r *rand.Rand, least int) (string, exact.Ratio) {
	n := least + r.IntN(101-least)
	return strconv.Itoa(n), exact.Of(int64(n), 100).Reduced()
}

// drawSite draws a site together with its rows. What rows repeat or leave out is drawn
// too.
func drawSite(tb testing.TB, r *rand.Rand, name string) drawn {
	d := drawn{site: &site.Site{Name: name}}
	ofSite := map[string]string{}
	if r.IntN(2) == 0 {
		n := 1 + r.Int64N(50)
		ofSite["rate_mbps"], d.site.Traffic.Rate = strconv.FormatInt(n, 10), exact.Whole(n*1_000_000)
		ofSite["active_percent"], d.site.Traffic.Activity = percentOf(r, 1)
	}
	if r.IntN(2) == 0 {
		ofSite["ul_rate_mbps"], d.site.Traffic.UplinkRate = "0.5", exact.Whole(500_000)
		ofSite["oversubscription"], d.site.Traffic.Oversubscription = "12.5", exact.Of(25, 2)
	}
	if r.IntN(2) == 0 {
		ofSite["busy_hour_percent"], d.site.Traffic.BusyHourShare = percentOf(r, 5)
	}
	if r.IntN(2) == 0 {
		n := 1 + r.Int64N(20)
		ofSite["link"], d.site.Backhaul.Downlink = strconv.FormatInt(n, 10)+" Gbit/s", exact.Whole(n*1_000_000_000)
		d.site.Backhaul.Uplink = d.site.Backhaul.Downlink
	}
	if r.IntN(3) == 0 {
		ofSite["ul_link"], d.site.Backhaul.Uplink = "300 Mbit/s", exact.Whole(300_000_000)
	}
	if r.IntN(3) == 0 {
		ofSite["transport_percent"], d.site.Backhaul.Transport = percentOf(r, 1)
		ofSite["security_percent"], d.site.Backhaul.Security = percentOf(r, 1)
		ofSite["size_by"], d.site.Backhaul.CellPeak = "cell", true
	}
	first := true
	for i := range 1 + r.IntN(3) {
		s := site.Sector{Name: string(rune('a' + i)), Environment: site.Environment(1 + r.IntN(3))}
		ofSector := map[string]string{"environment": s.Environment.String()}
		if r.IntN(2) == 0 {
			s.Count = 1 + r.IntN(4)
			ofSector["count"] = strconv.Itoa(s.Count)
			ofSector["load_percent"], s.Load = percentOf(r, 1)
			ofSector["ul_load_percent"], s.UplinkLoad = percentOf(r, 1)
		}
		for k := range 1 + r.IntN(3) {
			row, radio := drawRadio(tb, r)
			s.Radios = append(s.Radios, radio)
			row["site"], row["sector"] = name, s.Name
			for key, v := range ofSector {
				if k == 0 || r.IntN(2) == 0 {
					row[key] = v
				}
			}
			for key, v := range ofSite {
				if first || r.IntN(2) == 0 {
					row[key] = v
				}
			}
			first = false
			d.rows = append(d.rows, row)
		}
		d.site.Sectors = append(d.site.Sectors, s)
	}
	return d
}

func drawRadio(tb testing.TB, r *rand.Rand) (map[string]string, site.Radio) {
	text := drawnCarriers[r.IntN(len(drawnCarriers))]
	list, err := ca.Parse(text)
	if err != nil {
		tb.Fatal(err)
	}
	radio := site.Radio{Carriers: list, TransmitPorts: drawnPorts[r.IntN(len(drawnPorts))], ReceivePorts: drawnPorts[r.IntN(len(drawnPorts))]}
	row := map[string]string{"carrier": text, "ports": fmt.Sprintf("%dT%dR", radio.TransmitPorts, radio.ReceivePorts)}
	if r.IntN(3) == 0 {
		radio.Layers, radio.UplinkLayers = radio.TransmitPorts/2, radio.ReceivePorts/2
		row["cell_layers"], row["ul_cell_layers"] = strconv.Itoa(radio.Layers), strconv.Itoa(radio.UplinkLayers)
	}
	if r.IntN(3) == 0 {
		radio.Measured = site.Measured{Downlink: exact.Of(7, 2), UplinkEdge: exact.Of(1, 20), Origin: "counters, \"spring\""}
		row["dl_bps_hz"], row["ul_edge_bps_hz"], row["origin"] = "3.5", "0.05", `counters, "spring"`
		if r.IntN(2) == 0 {
			radio.Measured.TransmitPorts, radio.Measured.ReceivePorts = 8, 4
			row["measured_ports"] = "8T4R"
		}
	}
	return row, radio
}

// writeRows writes rows as CSV under all columns.
func writeRows(rows []map[string]string) string {
	var b strings.Builder
	var names []string
	for _, c := range Columns() {
		names = append(names, c.Name)
	}
	b.WriteString(strings.Join(names, ",") + "\n")
	for _, row := range rows {
		for i, name := range names {
			if i > 0 {
				b.WriteByte(',')
			}
			v := row[name]
			if strings.ContainsAny(v, `,"`) {
				v = `"` + strings.ReplaceAll(v, `"`, `""`) + `"`
			}
			b.WriteString(v)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// manyRows makes the text of a file of sites as it is read: three sectors with a number
// of carriers at each site.
type manyRows struct {
	rows, carriers int
	made           int
	left           string
}

const manyHeader = "site,sector,environment,carrier,ports,load_percent,rate_mbps,link\n"

var manyCarriers = []string{"n78:100,32T32R", "B3:20,4T4R", "n28:10,2T2R", "B7:20,8T8R", "n1:20,4T4R"}

func (m *manyRows) row() string {
	n := m.made
	number, within := n/(3*m.carriers), n%(3*m.carriers)
	environment := site.EnvironmentNames()[number%3]
	return fmt.Sprintf("site %d,%c,%s,%s,%d,2,10 Gbit/s\n", number, 'a'+within/m.carriers, environment, manyCarriers[within%m.carriers], 30+number%50)
}

// Read implements io.Reader.
func (m *manyRows) Read(b []byte) (int, error) {
	for m.left == "" {
		switch {
		case m.made == m.rows:
			return 0, io.EOF
		case m.made == 0:
			m.left = manyHeader
		}
		m.left += m.row()
		m.made++
	}
	n := copy(b, m.left)
	m.left = m.left[n:]
	return n, nil
}

// plainCarrier is a carrier without what a file of sites leaves out of it.
func plainCarrier(c ca.Carrier) ca.Carrier {
	c.PCI, c.HasPCI, c.RSRP, c.SINR = 0, false, ca.Level{}, ca.Level{}
	return c
}

var bothDirections = [...]bands.Direction{bands.Downlink, bands.Uplink}
