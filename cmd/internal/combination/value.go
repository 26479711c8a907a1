package combination

import (
	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/products"
	"spectally/cmd/internal/render"
)

// Value is the answer as JSON shows it. Figures that are not known are null.
type Value struct {
	Name           string                `json:"name"` // that was asked for in place of carriers; else empty
	Kind           string                `json:"kind"`
	Carriers       []Carrier             `json:"carriers"`
	Configurations []Configuration       `json:"configurations"`
	Complete       bool                  `json:"configurations_complete"`
	Findings       []render.FindingValue `json:"findings"`
	Totals         Totals                `json:"totals"`
	Valid          bool                  `json:"valid"`
	Blocks         []Block               `json:"blocks"`
	Interference   Interference          `json:"interference"`
}

// Interference is what the uplinks do to the downlinks, in short: the command interference
// has the rest.
type Interference struct {
	Hits  int    `json:"hits"`  // products that fall on a downlink, in some place at least
	Worst string `json:"worst"` // in words, that of the lowest order; empty if there is none
}

// Line writes it on one line; empty without a hit.
func (i *Interference) Line() string { return products.Line(i.Worst, i.Hits) }

// InterferenceOf works it out.
func InterferenceOf(a *ca.Assessment) Interference {
	worst, hits := products.Worst(a)
	return Interference{hits, worst}
}

// Fact is it as a fact for people; none without a hit.
func (i *Interference) Fact() render.Facts {
	if i.Hits == 0 {
		return nil
	}
	return render.Facts{{Name: "self-interference", Value: i.Line()}}
}

// Value is the answer for JSON.
func (x *Answer) Value() Value {
	v := Value{
		Name: x.Name.String(), Kind: x.Kind.String(), Valid: x.Valid(), Totals: TotalsOf(&x.Totals),
		Carriers: []Carrier{}, Configurations: []Configuration{}, Findings: Findings(x.Assessment, x.Findings()).Values(), Blocks: blocks(x.Blocks),
		Interference: InterferenceOf(x.Assessment),
	}
	for i := range x.Carriers {
		v.Carriers = append(v.Carriers, x.Carrier(i))
	}
	var listings []ca.Listing
	listings, v.Complete = x.Listings()
	for i := range listings {
		if l := &listings[i]; !l.Alone {
			v.Configurations = append(v.Configurations, configuration(l))
		}
	}
	return v
}

// Block is a sub-block: carriers of one band that lie side by side, or of which that is
// not known.
type Block struct {
	Band     string          `json:"band"`
	Carriers []int           `json:"carriers"` // counted from 1
	Known    bool            `json:"contiguity_known"`
	Low      *figures.Figure `json:"low_mhz"`
	High     *figures.Figure `json:"high_mhz"`
	Gap      *figures.Figure `json:"gap_to_next_mhz"` // null at the last of a band
	Sum      figures.Figure  `json:"sum_mhz"`
	Classes  []ca.Class      `json:"classes"`
	Spacings []Spacing       `json:"spacings"`
}

// Spacing is the distance of two neighbours.
type Spacing struct {
	Below      int            `json:"below"`
	Above      int            `json:"above"`
	Spacing    figures.Figure `json:"spacing_mhz"`
	Nominal    figures.Figure `json:"nominal_mhz"`
	Contiguous bool           `json:"contiguous"`
}

func blocks(list []ca.SubBlock) []Block {
	out := make([]Block, len(list))
	for i := range list {
		b := &list[i]
		v := Block{
			Band: b.Band.ID.String(), Carriers: make([]int, len(b.Carriers)), Known: b.Known,
			Sum: figures.MHz(b.Sum), Classes: figures.Present(b.Classes), Spacings: []Spacing{},
		}
		for k, n := range b.Carriers {
			v.Carriers[k] = n + 1
		}
		v.Low, v.High = figures.Edges(b.Edges)
		if next := i + 1; next < len(list) && list[next].Band == b.Band && !b.Edges.IsZero() && !list[next].Edges.IsZero() {
			v.Gap = new(figures.MHz(list[next].Edges.Low - b.Edges.High))
		}
		for k := range b.Neighbours {
			g := &b.Neighbours[k]
			v.Spacings = append(v.Spacings, Spacing{g.Below + 1, g.Above + 1, figures.MHz(g.Apart), figures.MHz(g.Spacing.Nominal), g.Contiguous()})
		}
		out[i] = v
	}
	return out
}
