package combination

import (
	"bytes"
	"encoding/json"
	"slices"
	"strconv"

	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// Bare writes a carrier without its place and keys.
func Bare(p *ca.Placed) string {
	return ca.Carrier{Band: p.Band, Downlink: p.Downlink, Uplink: p.Uplink}.String()
}

// CarrierName names a carrier, counted from 0: "carrier 2 (n78:80)".
func CarrierName(a *ca.Assessment, n int) string {
	return "carrier " + strconv.Itoa(n+1) + " (" + Bare(&a.Carriers[n]) + ")"
}

// Findings are the findings about a combination in the order of the rules.
func Findings(a *ca.Assessment, found []ca.Finding) render.Findings {
	var list render.Findings
	for _, f := range found {
		r := render.Finding{Severity: render.Severity(f.Severity.String()), Rule: string(f.Rule), Message: f.Message, Source: render.Source(f.Source)}
		if f.Carrier > 0 {
			r.Number, r.Carrier = f.Carrier, CarrierName(a, f.Carrier-1)
		}
		list = append(list, r)
	}
	return list
}

// SeverestFirst orders findings by their severity, else as they are.
func SeverestFirst(list render.Findings) render.Findings {
	rank := []render.Severity{render.Error, render.Warning, render.Note}
	slices.SortStableFunc(list, func(a, b render.Finding) int {
		return slices.Index(rank, a.Severity) - slices.Index(rank, b.Severity)
	})
	return list
}

// Total is a total as JSON shows it.
type Total struct {
	Downlink   figures.Figure `json:"dl_mhz"`
	Uplink     figures.Figure `json:"ul_mhz"`
	Occupied   figures.Figure `json:"occupied_mhz"`
	Equivalent figures.Figure `json:"dl_equivalent_mhz"`
}

// Totals are the totals as JSON shows them.
type Totals struct {
	Total
	ByRAT    Parts `json:"by_rat"`
	ByBand   Parts `json:"by_band"`
	ByRange  Parts `json:"by_range"`
	ByDuplex Parts `json:"by_duplex"`
	BySite   Parts `json:"by_site"`
}

// TotalsOf makes totals for JSON.
func TotalsOf(t *ca.Totals) Totals {
	return Totals{TotalOf(&t.Total), Parts(t.ByRAT), Parts(t.ByBand), Parts(t.ByRange), Parts(t.ByDuplex), Parts(t.BySite)}
}

// TotalOf makes a total for JSON.
func TotalOf(t *ca.Total) Total {
	return Total{figures.MHz(t.Downlink), figures.MHz(t.Uplink), figures.MHz(t.Occupied), figures.MHz(t.DownlinkEquivalent)}
}

// Parts is an object in the order of its parts.
type Parts []ca.Part

// Element is what a part has.
func (Parts) Element() any { return Total{} }

// MarshalJSON implements json.Marshaler.
func (p Parts) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, part := range p {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Quote(part.Key)) // plain letters, digits and blanks
		b.WriteByte(':')
		text, err := json.Marshal(TotalOf(&part.Total))
		if err != nil {
			return nil, err
		}
		b.Write(text)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}
