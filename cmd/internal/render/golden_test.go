package render

import (
	"testing"

	"spectally/cmd/internal/golden"
)

// sample is an answer with every kind of block, about a carrier of an invented
// network.
func sample() *Answer {
	bands := Source{"TS 38.101-1", "19.5.0", "5.2-1"}
	raster := Source{"TS 38.104", "19.4.0", "5.4.2.1-1"}
	carriers := &Table{
		Title: "Carriers",
		Columns: []Column{
			{Key: "carrier", Header: "carrier"},
			{Key: "dl_mhz", Header: "downlink", Unit: "MHz", Align: Number},
			{Key: "share", Header: "share", Unit: "%", Align: Number},
			{Key: "remark", Header: "remark"},
			{Key: "n_rb", Header: "N_RB", Align: Number, Detail: true},
		},
		Rows: [][]string{
			{"n78:100", "3540.96", "62.5", "a wide carrier with a remark that needs more room than a narrow terminal has", "273"},
			{"B3:20", "1815", "12.5", "ordinary | with a bar, \"quotes\" and *stars*", "100"},
			{"東京:5", "-", "0.25", "wide letters", "25"},
		},
		Source: bands,
	}
	return &Answer{
		Value: func() any {
			return map[string]any{
				"carriers": []string{"n78:100", "B3:20"},
				"low":      1e-9,
				"high":     3.5e21,
				"share":    0.625,
				"markup":   "a < b & c",
			}
		},
		Document: []Block{
			Title{"n78 and B3", "what two carriers of the invented town of Harbour Mouth add up to"},
			Verdict{Good, "valid", "the carriers may be aggregated."},
			Facts{
				{Name: "downlink", Value: "120", Unit: "MHz", Source: bands},
				{Name: "per carrier", Value: "0.5", Unit: "MHz", Remark: "at least"},
				{Name: "kind", Value: "EN-DC"},
			},
			carriers,
			&Table{Title: "Only with the working", Columns: carriers.Columns[:1], Rows: [][]string{{"n78:100"}}, Detail: true},
			Section("Findings"),
			Findings{
				{Error, "band-exists", 1, "n79x", "there is no such band.", bands},
				{Warning, "on-raster", 2, "n78:100", "n78:100 lies 5 kHz off the raster.", raster},
				{Note, "contiguity-unknown", 0, "", "no channel was given.", Source{}},
			},
			Paragraph("A sentence after the findings that is long enough to be broken into more than one line where the terminal is narrow, and keeps 3540.96 MHz together."),
			Working{
				{"frequency of NR-ARFCN 636064", "F_REF = F_REF-Offs + ΔF_Global (N_REF − N_REF-Offs)", "3000 MHz + 15 kHz × (636064 − 600000)", "3540.96 MHz", raster},
				{Name: "downlink bandwidth", Formula: "sum of the channel bandwidths", Numbers: "100 MHz + 20 MHz", Result: "120 MHz"},
			},
			List{Assumptions, []string{"30 kHz subcarrier spacing, since none was given"}},
			List{Cautions, []string{"A peak is a ceiling, not a promise."}},
			List{Notes, []string{"The invented network has two carriers."}},
			List{Notes, nil},
			Sources{bands, raster, bands, {"TS 38.101-1", "19.5.0", "5.3.5-1"}, {"TS 38.101-1", "19.5.0", "clause 5.4A.1"}},
		},
		Data: carriers,
	}
}

func TestGolden(t *testing.T) {
	checkGolden(t, sample(), map[string]Options{
		"sample.txt":          {Format: Text, Width: 100},
		"sample-explain.txt":  {Format: Text, Width: 100, Explain: true},
		"sample-quiet.txt":    {Format: Text, Width: 100, Quiet: true},
		"sample-narrow.txt":   {Format: Text, Width: 56, Explain: true},
		"sample-phone.txt":    {Format: Text, Width: 32},
		"sample-color.txt":    {Format: Text, Width: 80, Color: true, Explain: true},
		"sample.md":           {Format: Markdown},
		"sample-explain.md":   {Format: Markdown, Explain: true},
		"sample.json":         {Format: JSON},
		"sample.csv":          {Format: CSV},
		"sample-explain.json": {Format: JSON, Explain: true, Quiet: true, Color: true, Width: 10},
		"sample.html":         {Format: HTML},
		"sample-explain.html": {Format: HTML, Explain: true},
	})
	checkGolden(t, pictures(), map[string]Options{
		"pictures.txt":       {Format: Text, Width: 100},
		"pictures-color.txt": {Format: Text, Width: 100, Color: true},
		"pictures-phone.txt": {Format: Text, Width: 40},
		"pictures.md":        {Format: Markdown, Explain: true},
		"pictures.html":      {Format: HTML},
	})
	checkGolden(t, fieldwork(), map[string]Options{
		"fieldwork.txt":         {Format: Text, Width: 80},
		"fieldwork-explain.txt": {Format: Text, Width: 80, Explain: true},
		"fieldwork.md":          {Format: Markdown},
		"fieldwork.html":        {Format: HTML},
	})
}

func checkGolden(t *testing.T, a *Answer, tests map[string]Options) {
	for name, o := range tests {
		t.Run(name, func(t *testing.T) {
			got, err := Render(a, o)
			if err != nil {
				t.Fatal(err)
			}
			golden.Check(t, name, got)
		})
	}
}
