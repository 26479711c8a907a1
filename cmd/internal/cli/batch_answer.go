package cli

import (
	"strconv"
	"strings"
	"time"

	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// batchValue tells as JSON how a run went.
type batchValue struct {
	batch.Counts
	Resumed int64   `json:"resumed"` // rows that an earlier run had answered
	Seconds float64 `json:"seconds"`
	Rate    float64 `json:"rows_per_second"`
	Output  string  `json:"output"`
	Rejects string  `json:"rejects"` // the file; empty if they were not kept
}

func batchAnswer(f *batchFlags, sum *batch.Summary) *render.Answer {
	rate := perSecond(sum.Rows-sum.Resumed, sum.Elapsed)
	facts := render.Facts{
		{Name: "rows", Value: grouped(sum.Rows)},
		{Name: "allowed", Value: grouped(sum.Valid), Remark: "valid is true"},
		{Name: "not allowed", Value: grouped(sum.Invalid), Remark: "valid is false; first_error names the rule"},
		{Name: "rejected", Value: grouped(sum.Rejected), Remark: rejectedRemark(f)},
	}
	if sum.Resumed > 0 {
		facts = append(facts, render.Fact{Name: "resumed", Value: grouped(sum.Resumed), Remark: "rows that an earlier run had answered"})
	}
	facts = append(facts,
		render.Fact{Name: "time", Value: shortDuration(sum.Elapsed), Remark: grouped(int64(rate)) + " rows a second"},
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
			return batchValue{sum.Counts, sum.Resumed, sum.Elapsed.Seconds(), rate, f.output, f.rejects}
		},
		Document: []render.Block{render.Title{Text: "Batch", Detail: "rows answered"}, facts},
		Data:     table,
	}
}

func rejectedRemark(f *batchFlags) string {
	if f.rejects == "" {
		return "rows that cannot be used; they are not in the output"
	}
	return "rows that cannot be used, kept in the file of rejects"
}

// batchLine tells in a line how a run went.
func batchLine(sum *batch.Summary) string {
	return rowCount(sum.Rows) + ": " + grouped(sum.Valid) + " allowed, " + grouped(sum.Invalid) + " not allowed, " + grouped(sum.Rejected) + " rejected; " +
		shortDuration(sum.Elapsed) + ", " + grouped(int64(perSecond(sum.Rows-sum.Resumed, sum.Elapsed))) + " rows a second"
}

// rowCount writes a number of rows.
func rowCount(n int64) string {
	if n == 1 {
		return "1 row"
	}
	return grouped(n) + " rows"
}

// grouped writes a number with blanks between its thousands.
func grouped(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}

// shortDuration writes a time for people: "0.4 s", "2 min 5 s", "3 h 10 min".
func shortDuration(d time.Duration) string {
	switch {
	case d < 10*time.Second:
		return strconv.FormatFloat(d.Seconds(), 'f', 1, 64) + " s"
	case d < time.Minute:
		return strconv.Itoa(int(d.Round(time.Second).Seconds())) + " s"
	case d < time.Hour:
		d = d.Round(time.Second)
		return strconv.Itoa(int(d.Minutes())) + " min " + strconv.Itoa(int(d.Seconds())%60) + " s"
	}
	d = d.Round(time.Minute)
	return strconv.Itoa(int(d.Hours())) + " h " + strconv.Itoa(int(d.Minutes())%60) + " min"
}

// columnList lists the columns that are added, for help.
func columnList() string { return strings.Join(batch.Columns(), ", ") }
