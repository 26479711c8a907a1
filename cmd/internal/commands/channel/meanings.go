package channel

import (
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// meaning is what a number is in a band.
type meaning struct {
	Band      string         `json:"band"`
	RAT       string         `json:"rat"`
	Direction string         `json:"direction"` // "dl", "ul", "both"
	MHz       figures.Figure `json:"mhz"`
	OnRaster  bool           `json:"on_raster"`
	GSCN      *int           `json:"gscn"` // where an SS/PBCH block can stand there; null if none can
}

// meanings lists what a number is in each band of both technologies, LTE first.
func meanings(n int32) (list []meaning, err error) {
	for _, rat := range [...]bands.RAT{bands.LTE, bands.NR} {
		for _, m := range bands.ByChannel(rat, n) {
			f, err := m.Band.ChannelFrequency(n)
			if err != nil {
				return nil, err
			}
			d, name := bands.Downlink, "dl"
			switch {
			case m.Downlink && m.Uplink:
				name = "both"
			case m.Uplink:
				d, name = bands.Uplink, "ul"
			}
			w := meaning{Band: m.Band.ID.String(), RAT: rat.String(), Direction: name, MHz: figures.Figure(f.MHz()), OnRaster: m.Band.OnRaster(d, n, 0)}
			if g, ok := m.Band.BlockRaster(f, 0); ok && rat == bands.NR && m.Downlink {
				w.GSCN = new(int(g))
			}
			list = append(list, w)
		}
	}
	return list, nil
}

// answerNumber says what a number is that stands without a band.
func answerNumber(text string) (*render.Answer, error) {
	n, _, err := readPlace(text)
	if err != nil {
		return nil, command.At(command.Argument(0), err)
	}
	list, err := meanings(n)
	if err != nil {
		return nil, err
	}
	if len(list) == 0 {
		return nil, command.At(command.Argument(0), &bands.ValueError{Param: "channel number", Got: text,
			Allowed: "a number of a band: EARFCN 0 to 134441 (LTE) or NR-ARFCN 0 to 3279165 (NR)", Nearest: numberFrequency(n)})
	}
	t := &render.Table{Columns: []render.Column{
		{Key: "band", Header: "band"},
		{Key: "number", Header: "number"},
		{Key: "direction", Header: "direction"},
		{Key: "mhz", Header: "frequency", Unit: "MHz", Align: render.Number},
		{Key: "on_raster", Header: "on raster"},
		{Key: "gscn", Header: "GSCN", Align: render.Number},
	}}
	full := &render.Table{Columns: t.Columns}
	for _, m := range list {
		rat, gscn, raster := bands.LTE, "", "no"
		if m.RAT == bands.NR.String() {
			rat = bands.NR
		}
		if m.GSCN != nil {
			gscn = strconv.Itoa(*m.GSCN)
		}
		if m.OnRaster {
			raster = "yes"
		}
		row := []string{m.Band, spectrum.ChannelName(rat), map[string]string{"dl": "downlink", "ul": "uplink", "both": "both"}[m.Direction], string(m.MHz), raster, gscn}
		t.Rows = append(t.Rows, row)
		full.Rows = append(full.Rows, []string{row[0], row[1], m.Direction, row[3], strconv.FormatBool(m.OnRaster), gscn})
	}
	t.DropEmpty()
	return &render.Answer{
		Value: func() any {
			return meaningsValue{n, list}
		},
		Document: []render.Block{
			render.Title{Text: "Channel number " + text, Detail: "in " + words.Counted(len(list), "band")},
			t,
		},
		Data: full,
	}, nil
}

// numberFrequency says where a number lies that no band of NR has; empty if nowhere.
func numberFrequency(n int32) string {
	f, err := bands.ARFCN(n).Frequency()
	if err != nil {
		return ""
	}
	return "NR-ARFCN " + strconv.Itoa(int(n)) + ", " + f.MHz() + " MHz, in no band"
}

// isNumber tells whether arguments are a number alone.
func isNumber(args []string) bool {
	if len(args) != 1 {
		return false
	}
	_, err := strconv.ParseUint(args[0], 10, 31)
	return err == nil
}

// meaningsValue is a number in every band as JSON shows it.
type meaningsValue struct {
	Number   int32     `json:"number"`
	Meanings []meaning `json:"meanings"`
}
