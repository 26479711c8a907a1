package importing

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/imports"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput"
)

// value is what JSON shows.
type value struct {
	Format    string                `json:"format"`
	Networks  []networkValue        `json:"networks"`
	Runs      []runValue            `json:"runs"`
	Transfers []transferValue       `json:"transfers"`
	Findings  []render.FindingValue `json:"findings"`
	Log       *string               `json:"log"` // the tables of a field log; null if there are none
}

type networkValue struct {
	Text string `json:"text"` // the carriers in the notation
	combination.Value
	Carriers   []carrierValue `json:"carriers"` // in place of those of the combination
	Neighbours []cellValue    `json:"neighbours"`
	Levels     []levelValue   `json:"levels"` // that belong to no carrier
	Runs       []runValue     `json:"runs"`
}

type carrierValue struct {
	combination.Carrier
	SSB      *int32 `json:"ssb"`
	NumberIs string `json:"number_is"` // "centre", "ssb", "open"; empty without a number
}

type cellValue struct {
	Band    string   `json:"band"`
	Channel *int32   `json:"channel"`
	PCI     *int     `json:"pci"`
	RSRP    *float64 `json:"rsrp_dbm"`
}

type levelValue struct {
	RAT  string   `json:"rat"`
	RSRP *float64 `json:"rsrp_dbm"`
	SINR *float64 `json:"sinr_db"`
}

type runValue struct {
	Down       *rateValue       `json:"down"` // null where not measured
	Up         *rateValue       `json:"up"`
	Idle       quantity.Decimal `json:"idle_ms"`
	LoadedDown quantity.Decimal `json:"loaded_down_ms"`
	LoadedUp   quantity.Decimal `json:"loaded_up_ms"`
	Where      string           `json:"where"`
	When       string           `json:"when"`
	Notes      []string         `json:"notes"`
}

type rateValue struct {
	Rate quantity.Decimal `json:"mbps"`
}

type transferValue struct {
	Size      quantity.Size    `json:"size"`
	Seconds   quantity.Decimal `json:"seconds"`
	Direction string           `json:"direction"`
}

func answer(m *imports.Import, done string) *render.Answer {
	a := &render.Answer{Value: func() any { return valueOf(m) }, Data: dataTable(m)}
	var what []string
	for i := range m.Networks {
		if n := len(m.Networks[i].Carriers); n > 0 {
			what = append(what, words.Counted(n, "carrier"))
		}
	}
	if n := len(runs(m)); n > 0 {
		what = append(what, words.Counted(n, "run"))
	}
	if n := len(m.Transfers); n > 0 {
		what = append(what, words.Counted(n, "transfer"))
	}
	a.Document = []render.Block{render.Title{Text: "Import", Detail: string(m.Format) + ": " + words.List(append(what, "levels")[:max(1, len(what))]...)}}
	if done != "" {
		a.Document = append(a.Document, render.Verdict{Tone: render.Good, Word: "saved", Text: done + "."})
	}
	for i := range m.Networks {
		if n := &m.Networks[i]; len(n.Carriers) > 0 {
			a.Document = append(a.Document, render.Paragraph(n.Combination().String()))
		}
	}
	a.Document = append(a.Document, carrierTable(m), neighbourTable(m), levelTable(m), runTable(m), transferTable(m))
	if f := findings(m); len(f) > 0 {
		a.Document = append(a.Document, render.Section("Findings"), f)
	}
	return a
}

// runs are all runs, those of the networks first.
func runs(m *imports.Import) []imports.Run {
	var list []imports.Run
	for i := range m.Networks {
		list = append(list, m.Networks[i].Runs...)
	}
	return append(list, m.Runs...)
}

func findings(m *imports.Import) render.Findings {
	list := render.Findings{}
	for _, n := range m.Notes {
		message := n.Text
		if n.About != "" {
			message = n.About + ": " + message
		}
		list = append(list, render.Finding{Severity: render.Note, Rule: "import", Message: message})
	}
	return list
}

func valueOf(m *imports.Import) value {
	v := value{Format: string(m.Format), Networks: []networkValue{}, Runs: runValues(m.Runs), Transfers: []transferValue{}, Findings: findings(m).Values()}
	for i := range m.Networks {
		v.Networks = append(v.Networks, networkOf(&m.Networks[i]))
	}
	for _, t := range m.Transfers {
		v.Transfers = append(v.Transfers, transferValue{t.Size, t.Seconds, t.Direction.Short()})
	}
	if text, err := m.Tables(); err == nil {
		v.Log = &text
	}
	return v
}

func networkOf(n *imports.Network) networkValue {
	x, err := combination.Of(ca.Assess(n.Combination()))
	if err != nil { // a pattern that nothing is known of: the carriers are told all the same
		x = &combination.Answer{Assessment: ca.Assess(n.Combination()), Frames: make([]throughput.Frame, len(n.Carriers))}
	}
	v := networkValue{Text: n.Combination().String(), Value: x.Value(), Carriers: []carrierValue{}, Neighbours: []cellValue{}, Levels: []levelValue{}, Runs: runValues(n.Runs)}
	for i := range n.Carriers {
		w := carrierValue{Carrier: v.Value.Carriers[i], NumberIs: string(n.Carriers[i].Number)}
		if ssb := n.Carriers[i].SSB; ssb != 0 {
			w.SSB = new(int32(ssb))
		}
		v.Carriers = append(v.Carriers, w)
	}
	for _, c := range n.Neighbours {
		w := cellValue{RSRP: decibels(c.RSRP), PCI: identity(c.PCI, c.HasPCI)}
		if c.Band != (bands.ID{}) {
			w.Band = c.Band.String()
		}
		if c.HasChannel {
			w.Channel = new(c.Channel)
		}
		v.Neighbours = append(v.Neighbours, w)
	}
	for _, l := range n.Levels {
		v.Levels = append(v.Levels, levelValue{l.RAT.String(), decibels(l.RSRP), decibels(l.SINR)})
	}
	return v
}

func runValues(list []imports.Run) []runValue {
	out := []runValue{}
	for _, r := range list {
		v := runValue{Idle: r.Idle, LoadedDown: r.LoadedDown, LoadedUp: r.LoadedUp, Where: r.Where, When: r.When, Notes: []string{}}
		if r.Down.IsGiven() {
			v.Down = &rateValue{r.Down}
		}
		if r.Up.IsGiven() {
			v.Up = &rateValue{r.Up}
		}
		if r.Remark != "" {
			v.Notes = append(v.Notes, r.Remark)
		}
		out = append(out, v)
	}
	return out
}

func decibels(l ca.Level) *float64 {
	if !l.IsGiven() {
		return nil
	}
	return new(l.DB())
}

func identity(pci uint16, given bool) *int {
	if !given {
		return nil
	}
	return new(int(pci))
}

// number writes what is given of a number.
func number[T int | int32](n T, given bool) string {
	if !given {
		return ""
	}
	return strconv.Itoa(int(n))
}

func carrierTable(m *imports.Import) *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Header: "no.", Align: render.Number},
		{Header: "band"},
		{Header: "downlink", Unit: "MHz", Align: render.Number},
		{Header: "role"},
		{Header: "number", Align: render.Number},
		{Header: "of the"},
		{Header: "PCI", Align: render.Number},
		{Header: "RSRP", Unit: "dBm", Align: render.Number},
		{Header: "SINR", Unit: "dB", Align: render.Number},
	}}
	of := map[imports.Number]string{imports.OfCentre: "centre", imports.OfBlock: "SS/PBCH block", imports.OpenNumber: "centre or SS/PBCH block"}
	for i := range m.Networks {
		for k := range m.Networks[i].Carriers {
			c := &m.Networks[i].Carriers[k]
			n := number(c.Channel, c.HasChannel)
			if c.SSB != 0 {
				n = strconv.Itoa(int(c.SSB))
			}
			t.Rows = append(t.Rows, []string{strconv.Itoa(k + 1), c.Band.String(), c.Downlink.MHz(), c.Role.String(), n, of[c.Number], number(int(c.PCI), c.HasPCI), c.RSRP.String(), c.SINR.String()})
		}
	}
	t.DropEmpty()
	return t
}

func neighbourTable(m *imports.Import) *render.Table {
	t := &render.Table{Title: "Neighbours", Columns: []render.Column{
		{Header: "band"},
		{Header: "number", Align: render.Number},
		{Header: "PCI", Align: render.Number},
		{Header: "RSRP", Unit: "dBm", Align: render.Number},
	}}
	for i := range m.Networks {
		for _, c := range m.Networks[i].Neighbours {
			band := ""
			if c.Band != (bands.ID{}) {
				band = c.Band.String()
			}
			t.Rows = append(t.Rows, []string{band, number(c.Channel, c.HasChannel), number(int(c.PCI), c.HasPCI), c.RSRP.String()})
		}
	}
	return t
}

func levelTable(m *imports.Import) *render.Table {
	t := &render.Table{Title: "Levels", Columns: []render.Column{
		{Header: "technology"},
		{Header: "RSRP", Unit: "dBm", Align: render.Number},
		{Header: "SINR", Unit: "dB", Align: render.Number},
	}}
	for i := range m.Networks {
		for _, l := range m.Networks[i].Levels {
			t.Rows = append(t.Rows, []string{l.RAT.String(), l.RSRP.String(), l.SINR.String()})
		}
	}
	return t
}

// runColumns are the figures of a run.
var runColumns = []render.Column{
	{Key: "down_mbps", Header: "down", Unit: "Mbit/s", Align: render.Number},
	{Key: "up_mbps", Header: "up", Unit: "Mbit/s", Align: render.Number},
	{Key: "idle_ms", Header: "idle", Unit: "ms", Align: render.Number},
	{Key: "loaded_down_ms", Header: "loaded down", Unit: "ms", Align: render.Number},
	{Key: "loaded_up_ms", Header: "loaded up", Unit: "ms", Align: render.Number},
	{Key: "where", Header: "where", Typed: true},
	{Key: "when", Header: "when"},
	{Key: "note", Header: "note"},
}

func runRow(r *imports.Run) []string {
	return []string{r.Down.String(), r.Up.String(), r.Idle.String(), r.LoadedDown.String(), r.LoadedUp.String(), r.Where, r.When, r.Remark}
}

func runTable(m *imports.Import) *render.Table {
	t := &render.Table{Title: "Runs", Columns: append([]render.Column(nil), runColumns...)}
	for _, r := range runs(m) {
		t.Rows = append(t.Rows, runRow(&r))
	}
	t.DropEmpty()
	return t
}

func transferTable(m *imports.Import) *render.Table {
	t := &render.Table{Title: "Transfers", Columns: []render.Column{
		{Header: "size", Align: render.Number},
		{Header: "time", Unit: "s", Align: render.Number},
		{Header: "direction"},
	}}
	for _, r := range m.Transfers {
		t.Rows = append(t.Rows, []string{r.Size.String(), r.Seconds.String(), r.Direction.String()})
	}
	return t
}

// dataTable is what CSV shows: a row for each network, run and transfer.
func dataTable(m *imports.Import) *render.Table {
	t := &render.Table{Columns: append([]render.Column{{Key: "kind"}, {Key: "carriers"}, {Key: "size"}, {Key: "seconds"}}, runColumns...)}
	add := func(kind, carriers, size, seconds string, run *imports.Run) {
		t.Rows = append(t.Rows, append([]string{kind, carriers, size, seconds}, runRow(run)...))
	}
	for i := range m.Networks {
		n := &m.Networks[i]
		carriers := n.Combination().String()
		if carriers != "" {
			add("network", carriers, "", "", &imports.Run{})
		}
		for k := range n.Runs {
			add("run", carriers, "", "", &n.Runs[k])
		}
	}
	for i := range m.Runs {
		add("run", "", "", "", &m.Runs[i])
	}
	for _, r := range m.Transfers {
		add(strings.TrimSuffix("transfer "+r.Direction.Short(), " "), "", r.Size.String(), r.Seconds.String(), &imports.Run{})
	}
	return t
}
