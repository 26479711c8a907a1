package pages

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// rowFinding is what is to be said beside the row of a carrier.
type rowFinding struct {
	Severity render.Severity `json:"severity"`
	Text     string          `json:"text"`
	// Cell is the field that it is about; empty if it is about none.
	Cell string `json:"cell"`
}

// judgeRows finds what is wrong with each row: with one by itself, and with those that can
// be read together. A row that cannot be read hides nothing of the others.
func judgeRows(rows []carrierRow) {
	var all ca.Combination
	var from []int
	for i := range rows {
		if rows[i].empty() || rows[i].cells[widthCell] == "" && rows[i].band() != nil && isBands(rows[i].text()) {
			continue // a band by itself is none yet
		}
		if cell, text := rows[i].lacks(); cell != "" {
			rows[i].Findings = append(rows[i].Findings, rowFinding{Severity: render.Note, Text: text, Cell: cell})
			continue
		}
		list, err := ca.Parse(rows[i].text())
		if err != nil {
			rows[i].Findings = append(rows[i].Findings, unreadable(err))
			continue
		}
		for range list {
			from = append(from, i)
		}
		all = append(all, list...)
	}
	if len(all) == 0 {
		return
	}
	a := ca.Assess(all)
	for _, f := range combination.Findings(a, a.RuleFindings()) {
		if f.Number < 1 || f.Number > len(from) {
			continue
		}
		row := &rows[from[f.Number-1]]
		found := rowFinding{Severity: f.Severity, Text: words.Sentence(f.Message)}
		if !slices.Contains(row.Findings, found) { // of counted carriers one is enough
			row.Findings = append(row.Findings, found)
		}
	}
}

// lacks says which cell has to be filled in before the row is a carrier; empty for none.
func (r *carrierRow) lacks() (cell, text string) {
	switch {
	case r.cells[bandCell] == "":
		return columns[bandCell], "Choose a band, or type a channel number."
	case r.cells[widthCell] == "":
		return columns[widthCell], "Choose a width."
	}
	return "", ""
}

// unreadable says why a row cannot be read.
func unreadable(err error) rowFinding {
	f := rowFinding{Severity: render.Error}
	if n, ok := errors.AsType[*ca.NotationError](err); ok {
		err = n.Err
	}
	f.Text = words.Sentence(err.Error())
	if v, ok := errors.AsType[*bands.ValueError](err); ok {
		name := strings.ToLower(v.Param)
		if i := slices.IndexFunc(columns[:], func(c string) bool { return strings.TrimPrefix(c, "c-") == name }); i >= 0 {
			f.Cell = columns[i]
		} else if strings.Contains(name, "band") {
			f.Cell = columns[bandCell]
		}
	}
	return f
}

// offer is something that a tap puts into the cells of a row.
type offer struct {
	Text string            `json:"text"`
	Set  map[string]string `json:"set"`
	// Alone tells that there is no other way to read what was typed.
	Alone bool `json:"alone"`
}

// offers are the bands that a channel number can be in while there is none, and what a
// number that is the SS/PBCH block's is.
func (r *carrierRow) offers() []offer {
	list := []offer{}
	n, err := strconv.ParseInt(r.cells[whereCell], 10, 32)
	if b := r.band(); b != nil {
		if err == nil && b.ID.RAT == bands.NR && r.cells[ssbCell] == "" && isBlock(b, int32(n)) {
			list = append(list, offer{Text: "It is the number of the SS/PBCH block", Set: map[string]string{columns[whereCell]: "", columns[ssbCell]: r.cells[whereCell]}})
		}
		return list
	}
	number, block := n, false
	if err != nil {
		if number, err = strconv.ParseInt(r.cells[ssbCell], 10, 32); err != nil {
			return list
		}
		block = true
	}
	for _, rat := range [...]bands.RAT{bands.NR, bands.LTE} {
		if block && rat == bands.LTE {
			break
		}
		for _, m := range bands.ByChannel(rat, int32(number)) {
			if !m.Downlink && m.Band.Has(bands.Downlink) {
				continue // a phone shows the downlink
			}
			list = append(list, offer{Text: bandText(m.Band), Set: map[string]string{columns[bandCell]: m.Band.ID.String()}})
		}
	}
	if len(list) == 1 {
		list[0].Alone = true
	}
	return list
}

func first(list []string) []string { return list[:min(1, len(list))] }

// isBlock tells whether an NR-ARFCN is where the band may have an SS/PBCH block.
func isBlock(b *bands.Band, n int32) bool {
	f, err := bands.ARFCN(n).Frequency()
	if err != nil {
		return false
	}
	g, ok := bands.GSCNAt(f)
	if !ok {
		return false
	}
	rasters := b.SyncRasters()
	return slices.ContainsFunc(rasters, func(r bands.SyncRaster) bool { return r.Has(g) })
}

// usualPatterns are TDD patterns to choose from (common practice, no source).
var usualPatterns = map[bands.RAT][]string{
	bands.NR:  {"DDDSU/10:2:2", "DDSU/10:2:2", "7DS2U/6:4:4", "DSUUU/10:2:2"},
	bands.LTE: {"0/7", "1/7", "2/7", "3/7", "4/7", "5/7", "6/7"},
}

// choices are what the band of the row has to choose from, by cell. A choice without a band
// is what any band has.
func (r *carrierRow) choices() map[string][]string {
	c := map[string][]string{columns[layersCell]: {"1", "2", "4", "8"}, columns[qamCell]: {"4", "16", "64", "256", "1024"}, columns[patternCell]: {}, columns[widthCell]: {}, columns[scsCell]: {}}
	b := r.band()
	if b == nil {
		c[columns[widthCell]] = []string{"1.4", "3", "5", "10", "15", "20", "25", "30", "40", "50", "60", "70", "80", "90", "100", "200", "400"}
		c[columns[scsCell]] = []string{"15", "30", "60", "120"}
		return c
	}
	add := func(cell int, value string) {
		if name := columns[cell]; !slices.Contains(c[name], value) {
			c[name] = append(c[name], value)
		}
	}
	widths := b.Widths()
	slices.SortStableFunc(widths, func(x, y bands.ChannelWidth) int { return int(x.Width/bands.KHz - y.Width/bands.KHz) })
	for _, w := range widths {
		add(widthCell, w.Width.MHz())
	}
	if b.ID.RAT == bands.NR {
		for _, w := range b.Widths() {
			if chosen := r.cells[widthCell]; chosen == "" || chosen == w.Width.MHz() {
				add(scsCell, strconv.Itoa(int(w.SCS/bands.KHz)))
			}
		}
	}
	if b.Duplex == bands.TDD {
		c[columns[patternCell]] = usualPatterns[b.ID.RAT]
	}
	return c
}
