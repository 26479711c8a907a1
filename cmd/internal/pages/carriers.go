package pages

import (
	"cmp"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// The parameters of carriers: all of them as one text, and how many rows the form
// has at least. The form has one more name for each column, which tidy turns into the
// text, and the text as the rows had it: if it differs, the text was changed, not the rows.
const (
	carriersName = "carriers"
	rowsName     = "rows"
	addName      = "add"
	wasName      = "was"
)

// The columns of a carrier's row. Those from keyed on are keys of the notation; the last one
// takes all other keys.
const (
	countCell = iota
	bandCell
	widthCell
	whereCell
	ssbCell
	scsCell
	layersCell
	qamCell
	patternCell
	pciCell
	rsrpCell
	sinrCell
	keysCell
	cellCount

	keyed = ssbCell
)

var columns = [cellCount]string{"count", "band", "width", "where", "c-ssb", "c-scs", "c-layers", "c-qam", "c-pattern", "c-pci", "c-rsrp", "c-sinr", "keys"}

// key is that of a cell in the notation.
func key(cell int) string { return strings.TrimPrefix(columns[cell], "c-") }

// Rows of the form.
const (
	leastRows = 2
	mostRows  = 40
)

// carrierRow is one carrier in the form, as it was typed.
type carrierRow struct {
	Number int
	cells  [cellCount]string
	// Findings are those about the carriers of this row.
	Findings []rowFinding
}

func (r *carrierRow) empty() bool { return r.cells == [cellCount]string{} }

// text writes the row in the carrier notation.
func (r *carrierRow) text() string {
	var b strings.Builder
	if n := r.cells[countCell]; n != "" && n != "1" {
		b.WriteString(n + "x")
	}
	b.WriteString(r.cells[bandCell])
	if w := r.cells[widthCell]; w != "" || strings.Join(r.cells[whereCell:], "") != "" {
		b.WriteString(":" + w)
	}
	if w := r.cells[whereCell]; w != "" {
		b.WriteString("@" + r.where())
	}
	for i := keyed; i < keysCell; i++ {
		v := r.cells[i]
		if v == "" {
			continue
		}
		if i == rsrpCell && v[0] >= '0' && v[0] <= '9' {
			v = "-" + v // a level above 0 dBm is none that a phone shows
		}
		b.WriteString("," + key(i) + "=" + v)
	}
	if k := r.cells[keysCell]; k != "" {
		b.WriteString("," + k)
	}
	return b.String()
}

// band is the band of the row; nil if it names none.
func (r *carrierRow) band() *bands.Band {
	id, err := bands.ParseID(r.cells[bandCell])
	if err != nil {
		return nil
	}
	b, err := bands.Lookup(id)
	if err != nil {
		return nil
	}
	return b
}

// where is the place of the carrier: a number that is no channel of the band but megahertz
// in it gets its unit.
func (r *carrierRow) where() string { return withUnit(r.band(), r.cells[whereCell]) }

func withUnit(b *bands.Band, where string) string {
	n, err := strconv.ParseInt(where, 10, 32)
	if b == nil || err != nil {
		return where
	}
	if _, err := b.ChannelFrequency(int32(n)); err == nil {
		return where
	}
	return cmp.Or(strings.ReplaceAll(spectrum.InMegahertz(b, int32(n)), " ", ""), where)
}

// splitCarriers takes a text in the carrier notation apart, whether it is right or
// not. A name of the standard has no rows.
func splitCarriers(text string) []carrierRow {
	if strings.Contains(text, "_") || !strings.Contains(text, ":") && !isBands(text) {
		return nil
	}
	var rows []carrierRow
	for part := range strings.SplitSeq(text, "+") {
		var r carrierRow
		head, keys, _ := strings.Cut(part, ",")
		head, where, _ := strings.Cut(head, "@")
		band, width, _ := strings.Cut(head, ":")
		band = strings.TrimSpace(band)
		if n, rest, ok := strings.Cut(band, "x"); ok && n != "" && strings.Trim(n, "0123456789 ") == "" {
			r.cells[countCell], band = strings.TrimSpace(n), strings.TrimSpace(rest)
		}
		r.cells[bandCell], r.cells[widthCell], r.cells[whereCell] = band, strings.TrimSpace(width), strings.TrimSpace(where)
		r.splitKeys(keys)
		if !r.empty() {
			rows = append(rows, r)
		}
	}
	return rows
}

// isBands tells whether a text is bands without widths.
func isBands(text string) bool {
	for part := range strings.SplitSeq(text, "+") {
		if _, err := bands.ParseID(strings.TrimSpace(part)); err != nil {
			return false
		}
	}
	return text != ""
}

// splitKeys puts keys into their cells; what has none, or comes twice, stays with the rest.
func (r *carrierRow) splitKeys(keys string) {
	var rest []string
	for key := range strings.SplitSeq(keys, ",") {
		name, value, _ := strings.Cut(key, "=")
		value = strings.TrimSpace(value)
		if i := slices.Index(columns[keyed:keysCell], "c-"+strings.ToLower(strings.TrimSpace(name))); i >= 0 && value != "" && r.cells[keyed+i] == "" {
			r.cells[keyed+i] = value
		} else {
			rest = append(rest, strings.TrimSpace(key))
		}
	}
	r.cells[keysCell] = strings.Join(rest, ",")
}

func joinCarriers(rows []carrierRow) string {
	var words []string
	for i := range rows {
		if !rows[i].empty() {
			words = append(words, rows[i].text())
		}
	}
	return strings.Join(words, " + ")
}

// hasRows tells whether values come from the rows of a form.
func hasRows(values url.Values) bool {
	return values.Has(addName) || values.Has(wasName) || slices.ContainsFunc(columns[:], values.Has)
}

// takeRows takes the rows of a form out of its values.
func takeRows(values url.Values) []carrierRow {
	count := 0
	for _, c := range columns {
		count = max(count, len(values[c]))
	}
	rows := make([]carrierRow, min(count, mostRows))
	for i := range rows {
		for c, name := range columns {
			if list := values[name]; i < len(list) {
				rows[i].cells[c] = strings.TrimSpace(list[i])
			}
		}
	}
	for _, c := range columns {
		values.Del(c)
	}
	return rows
}

// joinRows turns the rows of a form into one text, unless the text itself was changed.
func joinRows(values url.Values) {
	rows := takeRows(values)
	text := strings.TrimSpace(values.Get(carriersName))
	if was := strings.TrimSpace(values.Get(wasName)); text == was || !values.Has(wasName) {
		if joined := joinCarriers(rows); joined != "" || len(splitCarriers(text)) > 0 {
			text = joined
		}
	}
	values.Set(carriersName, text)
	values.Del(wasName)
	values.Del(rowsName)
	if values.Has(addName) {
		values.Set(rowsName, strconv.Itoa(min(max(len(rows), len(splitCarriers(text)))+1, mostRows)))
		values.Del(addName)
	}
}

// formRows are the rows that the form shows: those of the text and some to fill in.
func formRows(q *query) []carrierRow {
	rows := splitCarriers(q.value(carriersName))
	judgeRows(rows)
	wanted, _ := strconv.Atoi(q.value(rowsName)) // no number: no wish
	for len(rows) < max(leastRows, min(wanted, mostRows)) {
		rows = append(rows, carrierRow{})
	}
	for i := range rows {
		rows[i].Number = i + 1
	}
	return rows
}

// findings gathers the findings of a document.
func findings(blocks []render.Block) render.Findings {
	var list render.Findings
	for _, b := range blocks {
		if f, ok := b.(render.Findings); ok {
			list = append(list, f...)
		}
	}
	return list
}

// carrierBlocks puts the peak rates of the same carriers behind what a check says.
func carrierBlocks(s *Site, q *query, a *render.Answer) []render.Block {
	blocks := subordinate(a.Document)
	if strip := carrierStrip(q.value(carriersName)); strip != nil {
		// Below the verdict and the totals, above the tables.
		at := slices.IndexFunc(blocks, func(b render.Block) bool { _, ok := b.(*render.Table); return ok })
		blocks = slices.Insert(blocks, max(at, 0), render.Block(strip))
	}
	rates, err := s.ask(q.arguments("throughput"), strings.NewReader(""))
	q.rates = rates
	if err != nil {
		return append(blocks, render.Part{Text: ratesTitle}, render.Paragraph(words.OneLine("There are none: "+err.Error())))
	}
	known := findings(a.Document)
	for _, b := range rates.Document {
		switch b := b.(type) {
		case render.Title:
			blocks = append(blocks, render.Part{Text: ratesTitle, Detail: "as the command throughput gives them"})
		case render.Findings:
			var more render.Findings
			for _, f := range b {
				if !slices.Contains(known, f) {
					more = append(more, f)
				}
			}
			if len(more) > 0 {
				blocks = append(blocks, render.Section("Findings of the rates"), more)
			}
		case render.Verdict: // the check says so above
		case render.Section:
			if b != "Findings" {
				blocks = append(blocks, b)
			}
		default:
			blocks = append(blocks, b)
		}
	}
	return blocks
}

const ratesTitle = "Peak rates"

// subordinate puts a document below the heading of a page.
func subordinate(blocks []render.Block) []render.Block {
	list := make([]render.Block, len(blocks))
	for i, b := range blocks {
		if t, ok := b.(render.Title); ok {
			b = render.Part(t)
		}
		list[i] = b
	}
	return list
}
