package columns

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/cmd/internal/figures"
)

type part struct{ n int }

type row struct {
	part
	name string
}

var parts = Set[*part]{{Key: "n", Header: "N", Value: func(p *part) any { return p.n }, Text: func(p *part) string { return "no. " + string(rune('0'+p.n)) }}}

// A column stands in every format under the names that are declared once.
func TestOneDeclarationGivesEveryFormat(t *testing.T) {
	set := append(Of(parts, func(r *row) *part { return &r.part }), Set[*row]{
		{Key: "name", Header: "called", Apart: true, Value: func(r *row) any { return r.name }},
		{Key: "known", Object: true, Value: func(*row) any { return true }},
		{Key: "mhz", Value: func(r *row) any { return figures.Figure("1.4") }},
		{Key: "none", Header: "none", Value: func(*row) any { return (*figures.Figure)(nil) }},
		{Header: "remark", Text: func(r *row) string { return r.name + "!" }},
	}...)
	rows := []*row{{part{1}, "a"}, {part{2}, "b"}}
	people := set.People("title", rows)
	var heads []string
	for _, c := range people.Columns {
		heads = append(heads, c.Header)
	}
	if diff := cmp.Diff([]string{"N", "called", "remark"}, heads); diff != "" {
		t.Errorf("people: %s", diff)
	}
	if diff := cmp.Diff([][]string{{"no. 1", "a", "a!"}, {"no. 2", "b", "b!"}}, people.Rows); diff != "" {
		t.Errorf("people: %s", diff)
	}
	data := set.Data(rows)
	if diff := cmp.Diff([][]string{{"1", "a", "1.4", ""}, {"2", "b", "1.4", ""}}, data.Rows); diff != "" || data.Columns[2].Key != "mhz" {
		t.Errorf("CSV: %s", diff)
	}
	text, err := set.JSON(rows[0])
	if want := `{"n":1,"known":true,"mhz":1.4,"none":null}`; err != nil || string(text) != want {
		t.Errorf("JSON: %s, %v; want %s", text, err, want)
	}
	if diff := cmp.Diff([]string{"n", "known", "mhz", "none"}, set.Keys()); diff != "" {
		t.Errorf("keys: %s", diff)
	}
}
