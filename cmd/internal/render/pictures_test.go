package render

import "spectally/bands"

func mhz(low, high float64) bands.Span {
	return bands.Span{Low: bands.Frequency(low * 1e6), High: bands.Frequency(high * 1e6)}
}

// pictures is an answer in parts with every kind of drawing, of two networks of an
// invented harbour.
func pictures() *Answer {
	one := Lane{Name: "Lanternwick", Blocks: []SpectrumBlock{
		{Band: "B3", Use: DownlinkUse, Edges: mhz(1810, 1830), Channels: []Channel{{Carrier: 1, Width: 20 * bands.MHz, Edges: mhz(1810, 1830)}}},
		{Band: "B3", Use: UplinkUse, Edges: mhz(1715, 1735), Channels: []Channel{{Carrier: 1, Width: 20 * bands.MHz, Edges: mhz(1715, 1735)}}},
		{Band: "n78", Use: BothUse, Edges: mhz(3500, 3660), Channels: []Channel{
			{Carrier: 2, Width: 100 * bands.MHz, Edges: mhz(3500, 3600)}, {Carrier: 3, Width: 60 * bands.MHz, Edges: mhz(3600, 3660), Silent: true}}},
	}}
	two := Lane{Name: "Gullhaven", Blocks: []SpectrumBlock{
		{Band: "B1", Use: DownlinkUse, Edges: mhz(2110, 2120), Channels: []Channel{{Carrier: 1, Width: 10 * bands.MHz, Edges: mhz(2110, 2120)}}},
		{Band: "B1", Use: UplinkUse, Edges: mhz(1920, 1930), Channels: []Channel{{Carrier: 1, Width: 10 * bands.MHz, Edges: mhz(1920, 1930)}}},
		{Band: "B3", Use: DownlinkUse, Edges: mhz(1850, 1865), Channels: []Channel{{Carrier: 2, Width: 15 * bands.MHz, Edges: mhz(1850, 1865)}}},
		{Band: "B3", Use: UplinkUse, Edges: mhz(1755, 1770), Channels: []Channel{{Carrier: 2, Width: 15 * bands.MHz, Edges: mhz(1755, 1770), Silent: true}}},
		{Band: "n75", Use: DownlinkUse, Within: mhz(1432, 1517), Channels: []Channel{{Carrier: 3, Width: 20 * bands.MHz}}},
		{Band: "n78", Use: BothUse, Edges: mhz(3450, 3500), Channels: []Channel{{Carrier: 4, Width: 50 * bands.MHz, Edges: mhz(3450, 3500)}}},
	}}
	one2 := one
	one2.Name = ""
	return &Answer{Document: []Block{
		Title{"Two networks of the harbour", "an invented place"},
		Paragraph("What follows is made up."),
		Part{"Lanternwick", "LTE with NR"},
		Verdict{Good, "allowed", "The carriers form DC_3A_n78C."},
		&Spectrum{Title: "Spectrum", Lanes: []Lane{one2}},
		&Bars{Title: "Measured against possible", Unit: "Mbit/s", Of: "direction", Groups: []BarGroup{
			{Name: "downlink", Bars: []Bar{
				{Name: "measured, median of 3 runs", Value: "612", Low: "588", High: "640", Remark: "27.2 % of the maximum"},
				{Name: "scheduled", Value: "1702.3", Fill: Hatched},
				{Name: "maximum", Value: "2249.2", Fill: Hollow}}},
			{Name: "uplink", Bars: []Bar{
				{Name: "measured, median of 3 runs", Value: "58.4", Low: "49.7", High: "61.5", Remark: "23.4 % of the maximum"},
				{Name: "maximum", Value: "250", Fill: Hollow}}},
		}},
		Section("Reasons"),
		Points{"Same PCI: consistent with one site.", "Different PCI: different cells."},
		Part{"Side by side", ""},
		&Spectrum{Title: "Spectrum of both", Lanes: []Lane{one, two}},
		&Bars{Title: "Peaks", Unit: "Mbit/s", Of: "network", Groups: []BarGroup{
			{Name: "Lanternwick", Bars: []Bar{{Name: "maximum", Value: "2249.2", Fill: Hollow}}},
			{Name: "Gullhaven", Bars: []Bar{{Name: "maximum", Value: "890", Fill: Hollow}}},
		}},
		Working{{"sum", "a + b", "1 + 2", "3", Source{"TS 38.306", "19.2.0", "clause 4.1.2"}}},
		List{Cautions, []string{"A peak is a ceiling, not a promise."}},
		Sources{{"TS 38.306", "19.2.0", "clause 4.1.2"}},
	}}
}
