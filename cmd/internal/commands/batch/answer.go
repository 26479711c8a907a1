package batch

import (
	"strconv"
	"strings"

	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/rowrun"
	"spectally/cmd/internal/words"
)

// value tells as JSON how a run went.
type value struct {
	batch.Counts
	Resumed int64   `json:"resumed"` // rows that an earlier run had answered
	Seconds float64 `json:"seconds"`
	Rate    float64 `json:"rows_per_second"`
	Output  string  `json:"output"`
	Rejects string  `json:"rejects"` // the file; empty if they were not kept
}

func answer(f *options, sum *batch.Summary) *render.Answer {
	rate := rowrun.PerSecond(sum.Rows-sum.Resumed, sum.Elapsed)
	facts := render.Facts{
		{Name: "rows", Value: words.Grouped(sum.Rows)},
		{Name: "allowed", Value: words.Grouped(sum.Valid), Remark: "valid is true"},
		{Name: "not allowed", Value: words.Grouped(sum.Invalid), Remark: "valid is false; first_error names the rule"},
		{Name: "rejected", Value: words.Grouped(sum.Rejected), Remark: rejectedRemark(f)},
	}
	if sum.Resumed > 0 {
		facts = append(facts, render.Fact{Name: "resumed", Value: words.Grouped(sum.Resumed), Remark: "rows that an earlier run had answered"})
	}
	facts = append(facts,
		render.Fact{Name: "time", Value: rowrun.ShortDuration(sum.Elapsed), Remark: words.Grouped(int64(rate)) + " rows a second"},
		render.Fact{Name: "output", Value: words.OneLine(f.output)})
	if f.rejects != "" {
		facts = append(facts, render.Fact{Name: "rejects", Value: words.OneLine(f.rejects)})
	}
	table := &render.Table{}
	row := []string{}
	add := func(key, value string) {
		table.Columns = append(table.Columns, render.Column{Key: key, Header: key})
		row = append(row, value)
	}
	add("rows", strconv.FormatInt(sum.Rows, 10))
	add("valid", strconv.FormatInt(sum.Valid, 10))
	add("invalid", strconv.FormatInt(sum.Invalid, 10))
	add("rejected", strconv.FormatInt(sum.Rejected, 10))
	add("resumed", strconv.FormatInt(sum.Resumed, 10))
	add("seconds", strconv.FormatFloat(sum.Elapsed.Seconds(), 'f', 3, 64))
	add("rows_per_second", strconv.FormatFloat(rate, 'f', 0, 64))
	add("output", f.output)
	add("rejects", f.rejects)
	table.Rows = [][]string{row}
	return &render.Answer{
		Value: func() any {
			return value{sum.Counts, sum.Resumed, sum.Elapsed.Seconds(), rate, f.output, f.rejects}
		},
		Document: []render.Block{render.Title{Text: "Batch", Detail: "rows answered"}, facts},
		Data:     table,
	}
}

func rejectedRemark(f *options) string {
	if f.rejects == "" {
		return "rows that cannot be used; they are not in the output"
	}
	return "rows that cannot be used, kept in the file of rejects"
}

// line tells in a line how a run went.
func line(sum *batch.Summary) string {
	return rowrun.RowCount(sum.Rows) + ": " + words.Grouped(sum.Valid) + " allowed, " + words.Grouped(sum.Invalid) + " not allowed, " + words.Grouped(sum.Rejected) + " rejected; " +
		rowrun.ShortDuration(sum.Elapsed) + ", " + words.Grouped(int64(rowrun.PerSecond(sum.Rows-sum.Resumed, sum.Elapsed))) + " rows a second"
}

// columnList lists the columns that are added, for help.
func columnList() string { return strings.Join(batch.Columns(), ", ") }
