package spectrum

import (
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// ChannelName is what the trade calls a channel number of a technology.
func ChannelName(r bands.RAT) string {
	if r == bands.LTE {
		return "EARFCN"
	}
	return "NR-ARFCN"
}

func RasterSource(b *bands.Band) render.Source {
	rasters := b.Rasters()
	if len(rasters) == 0 {
		return render.Source(b.Source)
	}
	return render.Source(rasters[0].Source)
}

// NameTexts lists what the trade calls a band.
func NameTexts(b *bands.Band) []string {
	var list []string
	for _, n := range b.Names() {
		list = append(list, n.Text)
	}
	return list
}

// Offered lists every band, with what it is behind a tab, for a shell to offer.
func Offered() []string {
	var list []string
	for _, b := range bands.All(0) {
		list = append(list, b.ID.String()+"\t"+b.Duplex.String()+" "+strings.Join(NameTexts(b), ", "))
	}
	return list
}
