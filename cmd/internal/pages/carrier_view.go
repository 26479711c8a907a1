package pages

import (
	"html/template"
	"slices"
	"strconv"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/cmd/internal/spectrum"
)

// cellLabels name the cells of a row.
var cellLabels = [cellCount]string{"Equal ones", "Band", "Width, MHz", "Channel or MHz", "SS/PBCH block", "Spacing, kHz", "Layers", "Constellation", "TDD pattern", "PCI", "RSRP, dBm", "SINR, dB", "Other keys"}

// keyboards are those that a phone shows for the cells.
var keyboards = [cellCount]string{countCell: "numeric", whereCell: "decimal", ssbCell: "numeric", pciCell: "numeric", rsrpCell: "decimal", sinrCell: "decimal"}

// cellView is a cell as it is shown.
type cellView struct {
	row   *carrierRow
	index int
}

// Main are the cells that are always shown, More those that are folded.
func (r *carrierRow) Main() []cellView { return r.view(bandCell, widthCell, whereCell) }

// More are the cells that are folded until they are used.
func (r *carrierRow) More() []cellView {
	return r.view(scsCell, ssbCell, layersCell, qamCell, patternCell, pciCell, rsrpCell, sinrCell, countCell, keysCell)
}

func (r *carrierRow) view(cells ...int) []cellView {
	list := make([]cellView, len(cells))
	for i, c := range cells {
		list[i] = cellView{r, c}
	}
	return list
}

// Unfolded tells whether a folded cell is in use.
func (r *carrierRow) Unfolded() bool {
	return slices.ContainsFunc(r.More(), func(c cellView) bool { return c.Value() != "" })
}

// Offers are what may be meant.
func (r *carrierRow) Offers() []offer { return r.offers() }

// ID and the others are what the template shows of a cell.
func (c cellView) ID() string       { return columns[c.index] + "-" + strconv.Itoa(c.row.Number) }
func (c cellView) Name() string     { return columns[c.index] }
func (c cellView) Label() string    { return cellLabels[c.index] }
func (c cellView) Value() string    { return c.row.cells[c.index] }
func (c cellView) Keyboard() string { return keyboards[c.index] }
func (c cellView) Grow() bool       { return c.index == whereCell || c.index == keysCell }

// Wrong tells whether a finding is about the cell.
func (c cellView) Wrong() bool {
	return slices.ContainsFunc(c.row.Findings, func(f rowFinding) bool { return f.Cell == columns[c.index] })
}

// Choices are those of the cell, with what is chosen among them; none for a cell that is
// typed into.
func (c cellView) Choices() []link {
	if c.index == patternCell {
		return nil
	}
	values, ok := c.row.choices()[columns[c.index]]
	if !ok {
		return nil
	}
	if v := c.Value(); v != "" && !slices.Contains(values, v) {
		values = append([]string{v}, values...)
	}
	list := []link{{}}
	for _, v := range values {
		list = append(list, link{Text: v, Kind: v, Current: v == c.Value()})
	}
	return list
}

// Bands are those to choose from; empty for any other cell.
func (c cellView) Bands() template.HTML {
	if c.index != bandCell {
		return ""
	}
	return bandOptions()
}

// Chosen is what stands in the cell, which may be none of the choices.
func (c cellView) Chosen() *link {
	switch b := c.row.band(); {
	case b != nil:
		return &link{Kind: b.ID.String(), Text: bandText(b)}
	case c.Value() != "":
		return &link{Kind: c.Value(), Text: c.Value()}
	}
	return nil
}

// bandText names a band with what the trade calls it.
func bandText(b *bands.Band) string {
	return strings.Join(append(append([]string{b.ID.String()}, first(spectrum.NameTexts(b))...), b.Duplex.String()), ", ")
}

// bandOptions offers every band.
var bandOptions = sync.OnceValue(func() template.HTML {
	var b strings.Builder
	for _, rat := range [...]bands.RAT{bands.NR, bands.LTE} {
		b.WriteString(`<optgroup label="` + rat.String() + `">`)
		for _, band := range bands.All(rat) {
			b.WriteString(`<option value="` + band.ID.String() + `">` + template.HTMLEscapeString(bandText(band)) + "</option>")
		}
		b.WriteString("</optgroup>")
	}
	return template.HTML(b.String())
})

// Carriers tells whether the form has carriers in rows, Rows are these, Blank is one to fill
// in, and Text is what the rows say.
func (v *view) Carriers() bool     { return v.page.carriers }
func (v *view) Rows() []carrierRow { return formRows(v.query) }
func (v *view) Blank() *carrierRow { return &carrierRow{} }
func (v *view) Text() string       { return v.query.value(carriersName) }
