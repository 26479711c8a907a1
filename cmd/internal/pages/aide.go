package pages

import (
	"encoding/json"
	"net/url"
	"slices"
	"strings"

	"spectally/cmd/internal/words"
)

// formValue is what a script needs to know of a form of carriers while it is filled in: both
// ways to write the carriers, which always agree, what is wrong, and what they come to.
type formValue struct {
	Carriers string     `json:"carriers"`
	Rows     []rowValue `json:"rows"`
	// Fault says why the text has no answer; empty if it has one.
	Fault    string    `json:"fault"`
	Headline *headline `json:"headline"` // null where there is no answer
}

// rowValue is one carrier.
type rowValue struct {
	Cells    map[string]string   `json:"cells"`
	Choices  map[string][]string `json:"choices"`
	Offers   []offer             `json:"offers"`
	Findings []rowFinding        `json:"findings"`
}

// formAide answers for a form that is being filled in: for rows, or for the text.
func formAide(s *Site, values url.Values, _ []byte) any {
	var rows []carrierRow
	f := formValue{Rows: []rowValue{}}
	if hasRows(values) {
		rows = takeRows(values)
		f.Carriers = joinCarriers(rows)
	} else {
		q := &query{values: map[string]string{carriersName: strings.TrimSpace(values.Get(carriersName))}}
		mendCarriers(q)
		f.Carriers = q.value(carriersName)
		rows = splitCarriers(f.Carriers)
	}
	judgeRows(rows)
	for i := range rows {
		r := &rows[i]
		v := rowValue{Cells: map[string]string{}, Choices: r.choices(), Offers: r.offers(), Findings: append([]rowFinding{}, r.Findings...)}
		for c, name := range columns {
			v.Cells[name] = r.cells[c]
		}
		f.Rows = append(f.Rows, v)
	}
	if f.Carriers == "" || isBands(f.Carriers) {
		return f
	}
	if slices.ContainsFunc(rows, func(r carrierRow) bool { cell, _ := r.lacks(); return cell != "" && !r.empty() }) {
		return f // more is to come
	}
	check, err := s.ask([]string{"ca", "--", f.Carriers}, strings.NewReader(""))
	if err != nil {
		f.Fault = words.Sentence(err.Error())
		return f
	}
	rates, err := s.ask([]string{"throughput", "--", f.Carriers}, strings.NewReader(""))
	if err != nil {
		rates = nil
	}
	f.Headline = headlineOf(check, rates)
	return f
}

// aideResponse answers a script.
func aideResponse(value any) *Response {
	text, err := json.Marshal(value)
	if err != nil {
		panic(err) // the values are the program's own
	}
	return &Response{Status: statusOK, Kind: jsonFormat.kind + "; charset=utf-8", Body: bodyOf(text)}
}
