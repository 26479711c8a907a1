package pages

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"spectally/ca"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// The parameters of carriers: all of them as one text, and how many rows the form
// has at least. The form has one more name for each column, which tidy turns into the
// text.
const (
	carriersName = "carriers"
	rowsName     = "rows"
	addName      = "add"
)

var columns = []string{"band", "width", "where", "keys"}

// Rows of the form.
const (
	leastRows = 3
	mostRows  = 40
)

// carrierRow is one carrier in the form, as it was typed.
type carrierRow struct {
	Number                   int
	Band, Width, Where, Keys string
	// Findings are those about the carriers of this row.
	Findings render.Findings
}

func (r *carrierRow) empty() bool { return r.Band+r.Width+r.Where+r.Keys == "" }

// text writes the row in the carrier notation.
func (r *carrierRow) text() string {
	s := r.Band + ":" + r.Width
	if r.Where != "" {
		s += "@" + r.Where
	}
	if r.Keys != "" {
		s += "," + r.Keys
	}
	return s
}

// count is how many carriers the row stands for.
func (r *carrierRow) count() int {
	list, err := ca.Parse(r.text())
	if err != nil {
		return 1
	}
	return len(list)
}

// splitCarriers takes a text in the carrier notation apart, whether it is right or
// not. A name of the standard has no rows.
func splitCarriers(text string) []carrierRow {
	if !strings.Contains(text, ":") {
		return nil
	}
	var rows []carrierRow
	for part := range strings.SplitSeq(text, "+") {
		var r carrierRow
		head, keys, _ := strings.Cut(part, ",")
		head, where, _ := strings.Cut(head, "@")
		band, width, _ := strings.Cut(head, ":")
		r.Band, r.Width, r.Where, r.Keys = strings.TrimSpace(band), strings.TrimSpace(width), strings.TrimSpace(where), strings.TrimSpace(keys)
		if !r.empty() {
			rows = append(rows, r)
		}
	}
	return rows
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
	return values.Has(addName) || slices.ContainsFunc(columns, values.Has)
}

// joinRows turns the rows of a form into one text.
func joinRows(values url.Values) {
	var rows []carrierRow
	cell := func(column string, i int) string {
		if list := values[column]; i < len(list) {
			return strings.TrimSpace(list[i])
		}
		return ""
	}
	count := 0
	for _, c := range columns {
		count = max(count, len(values[c]))
	}
	for i := range count {
		rows = append(rows, carrierRow{Band: cell("band", i), Width: cell("width", i), Where: cell("where", i), Keys: cell("keys", i)})
	}
	for _, c := range columns {
		values.Del(c)
	}
	values.Set(carriersName, joinCarriers(rows))
	values.Del(rowsName)
	if values.Has(addName) {
		values.Set(rowsName, strconv.Itoa(min(count+1, mostRows)))
		values.Del(addName)
	}
}

// formRows are the rows that the form shows: those of the text and some to fill in.
func formRows(q *query, findings render.Findings) []carrierRow {
	rows := splitCarriers(q.value(carriersName))
	first := 1 // number of the first carrier of a row
	for i := range rows {
		n := rows[i].count()
		for _, f := range findings {
			if f.Number >= first && f.Number < first+n {
				rows[i].Findings = append(rows[i].Findings, f)
			}
		}
		first += n
	}
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
