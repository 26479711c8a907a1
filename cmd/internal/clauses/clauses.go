// Package clauses has the clauses that the working of rates and transport blocks cites.
package clauses

import (
	"spectally/bands"
	"spectally/cmd/internal/render"
)

// Clauses that the working cites.
var (
	MaxRate    = render.Source{Spec: "TS 38.306", Version: "19.2.0", Table: "clause 4.1.2"}
	PDSCH      = render.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3.2"}
	PUSCH      = render.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 6.1.4.2"}
	TDDPattern = render.Source{Spec: "TS 38.213", Version: "19.3.0", Table: "clause 11.1"}
	LDPC       = render.Source{Spec: "TS 38.212", Version: "19.3.0", Table: "clause 5.2.2"}
)

var (
	LTEPDSCH = render.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 7.1.7.2"}
	LTEMCS   = render.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 7.1.7"}
	LTEPUSCH = render.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 8.6.2"}
)

func OfLTE(d bands.Direction) render.Source {
	if d == bands.Uplink {
		return LTEPUSCH
	}
	return LTEPDSCH
}

func OfNR(d bands.Direction) render.Source {
	if d == bands.Uplink {
		return PUSCH
	}
	return PDSCH
}
