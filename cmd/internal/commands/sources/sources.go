// Package sources is the command that lists every table of the standards.
package sources

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/data"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "sources",
		Usage: "[SPECIFICATION ...]",
		Short: "list the tables of the standards behind the answers",
		Long: "Lists the built-in tables with their specification, version and number of rows, and for the lists of configurations how many they have and how many entries of the printed table are left out because their reading is not certain. " +
			"A specification such as 38.101-1 limits the list to its tables; with --explain the list also says what is inferred or doubtful about a table.",
		Examples: "spectally sources   # all tables\n" +
			"spectally sources 38.101-1 --explain   # the tables of one specification, with remarks\n" +
			"spectally sources --format csv   # for a spreadsheet",
		Answers: []any{[]table{}},
		New: func(*pflag.FlagSet) command.Answer {
			return func(_ *command.Env, args []string) (*render.Answer, error) {
				list, err := list(args)
				if err != nil {
					return nil, err
				}
				return answer(list), nil
			}
		},
		Offers: func([]string) command.Offers {
			list, err := allTables()
			if err != nil {
				return command.Offers{}
			}
			return command.Offers{Words: specifications(list)}
		},
	}
}

// table is one table in the answer.
type table struct {
	render.Source
	Title string `json:"title"`
	// Rows counts those of the table: of a list of configurations the rows of their
	// bandwidth combination sets, or the configurations where it gives no sets.
	Rows int `json:"rows"`
	// Configurations counts what a list of configurations has.
	Configurations int `json:"configurations"`
	// LeftOut counts the entries of the printed table that are left out because
	// their reading is not certain.
	LeftOut int    `json:"left_out"`
	Note    string `json:"note"`
}

// list lists the tables of the specifications named, or all.
func list(names []string) ([]table, error) {
	all, err := allTables()
	if err != nil || len(names) == 0 {
		return all, err
	}
	wanted := map[string]bool{}
	for i, name := range names {
		spec, err := findSpecification(name, specifications(all))
		if err != nil {
			return nil, command.At(command.Argument(i), err)
		}
		wanted[spec] = true
	}
	return slices.DeleteFunc(slices.Clone(all), func(t table) bool { return !wanted[t.Spec] }), nil
}

// setsAlone is the list that has the sets of configurations that another list has.
const setsAlone = "ca_endc_intra"

// allTables lists every table of package data by specification and number. The list is
// shared: it must not be changed.
var allTables = sync.OnceValues(readTables)

func readTables() ([]table, error) {
	var list []table
	for _, name := range data.Names() {
		tables, err := data.Load(name)
		if err != nil {
			return nil, err
		}
		for _, t := range tables {
			list = append(list, table{Source: render.Source(t.Source), Title: t.Title, Rows: len(t.Rows), Note: t.Note})
		}
	}
	for _, name := range data.ListNames() {
		lists, err := data.LoadList(name)
		if err != nil {
			return nil, err
		}
		for _, t := range lists {
			configurations, rows := t.Count()
			if rows == 0 {
				rows = configurations
			}
			if name == setsAlone {
				configurations = 0
			}
			list = append(list, table{Source: render.Source(t.Source), Title: t.Title, Rows: rows, Configurations: configurations, LeftOut: t.Unread})
		}
	}
	slices.SortStableFunc(list, func(a, b table) int {
		return cmp.Or(compareNumbers(a.Spec, b.Spec), compareNumbers(a.Table, b.Table))
	})
	return list, nil
}

// compareNumbers orders texts with numbers in them, such as "5.2-1" and
// "5.10-1", by the value of the numbers.
func compareNumbers(a, b string) int {
	for a != "" && b != "" {
		x, restA := cutNumber(a)
		y, restB := cutNumber(b)
		if x == "" || y == "" {
			if a[0] != b[0] {
				return cmp.Compare(a[0], b[0])
			}
			a, b = a[1:], b[1:]
			continue
		}
		m, _ := strconv.Atoi(x) // digits alone, and few: no error
		n, _ := strconv.Atoi(y)
		if m != n {
			return cmp.Compare(m, n)
		}
		a, b = restA, restB
	}
	return cmp.Compare(len(a), len(b))
}

func cutNumber(s string) (digits, rest string) {
	rest = strings.TrimLeft(s, "0123456789")
	return s[:len(s)-len(rest)], rest
}

func specifications(tables []table) []string {
	var names []string
	for _, t := range tables {
		if len(names) == 0 || names[len(names)-1] != t.Spec {
			names = append(names, t.Spec)
		}
	}
	return names
}

// bareNumber takes "TS" and blanks away: "38.101-1".
func bareNumber(specification string) string {
	s := strings.ToUpper(strings.ReplaceAll(specification, " ", ""))
	return strings.TrimPrefix(strings.TrimPrefix(s, "TS"), "TR")
}

// nearestSpecification returns the specification whose number differs from the
// given one in one place; empty if there is none.
func nearestSpecification(name string, known []string) string {
	for _, spec := range known {
		if bands.EditDistance(bareNumber(spec), bareNumber(name)) == 1 {
			return spec
		}
	}
	return ""
}

// findSpecification reads "38.101-1", "TS 38.101-1" or "ts38.101-1".
func findSpecification(name string, known []string) (string, error) {
	for _, spec := range known {
		if bareNumber(spec) == bareNumber(name) {
			return spec, nil
		}
	}
	return "", &bands.ValueError{Param: "specification", Got: name, Allowed: "a specification that \"spectally sources\" lists, such as TS 38.101-1", Nearest: nearestSpecification(name, known)}
}

func answer(tables []table) *render.Answer {
	columns := []render.Column{
		{Key: "spec", Header: "specification"},
		{Key: "version", Header: "version"},
		{Key: "table", Header: "table"},
		{Key: "title", Header: "what it holds"},
		{Key: "rows", Header: "rows", Align: render.Number},
		{Key: "configurations", Header: "configurations", Align: render.Number},
		{Key: "left_out", Header: "left out", Align: render.Number},
		{Key: "note", Header: "remark", Detail: true},
	}
	full := &render.Table{Columns: columns}
	shown := &render.Table{Columns: columns} // names each specification once
	total, configurations, leftOut := 0, 0, 0
	for i, t := range tables {
		total += t.Rows
		configurations += t.Configurations
		leftOut += t.LeftOut
		row := []string{t.Spec, t.Version, t.Table, t.Title, strconv.Itoa(t.Rows), count(t.Configurations), count(t.LeftOut), t.Note}
		full.Rows = append(full.Rows, row)
		if i > 0 && tables[i-1].Spec == t.Spec && tables[i-1].Version == t.Version {
			row = append([]string{"", ""}, row[2:]...)
		}
		shown.Rows = append(shown.Rows, row)
	}
	shown.DropEmpty()
	detail := strconv.Itoa(len(tables)) + " tables, " + strconv.Itoa(total) + " rows"
	if configurations > 0 {
		detail += "; the lists have " + words.Counted(configurations, "configuration") + ", " + strconv.Itoa(leftOut) + " entries of the printed tables are left out"
	}
	return &render.Answer{
		Value: func() any { return tables },
		Document: []render.Block{
			render.Title{Text: "Tables of the standards", Detail: detail},
			shown,
		},
		Data: full,
	}
}

// count writes a number; empty for none.
func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}
