package imports

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/words"
)

// Column says in which column a figure stands, and in which unit.
type Column struct {
	Figure, Name, Unit string
}

// figures are what a column can be mapped to.
var figures = []struct {
	name    string
	measure *quantity.Measure
	most    int64
	to      func(*Run) *quantity.Decimal
}{
	{"down", &quantity.Mbps, maxMbps, func(r *Run) *quantity.Decimal { return &r.Down }},
	{"up", &quantity.Mbps, maxMbps, func(r *Run) *quantity.Decimal { return &r.Up }},
	{"idle_ms", &quantity.Milliseconds, maxMs, func(r *Run) *quantity.Decimal { return &r.Idle }},
	{"loaded_down_ms", &quantity.Milliseconds, maxMs, func(r *Run) *quantity.Decimal { return &r.LoadedDown }},
	{"loaded_up_ms", &quantity.Milliseconds, maxMs, func(r *Run) *quantity.Decimal { return &r.LoadedUp }},
}

// texts are what a column can be mapped to besides.
var texts = []string{"where", "when", "carriers"}

// FigureNames lists what a column can be mapped to.
func FigureNames() []string {
	var list []string
	for _, f := range figures {
		list = append(list, f.name)
	}
	return append(list, texts...)
}

// ParseMap reads "down=speed", "down=speed:kbit/s": a figure, its column and the unit in
// which that stands.
func ParseMap(s string) (Column, error) {
	figure, rest, ok := strings.Cut(s, "=")
	name, unit, hasUnit := strings.Cut(rest, ":")
	if !ok || name == "" {
		return Column{}, &bands.ValueError{Param: "map", Got: s, Allowed: "figure=column or figure=column:unit, with the figures " + strings.Join(FigureNames(), ", ")}
	}
	if !slices.Contains(FigureNames(), figure) {
		return Column{}, &bands.ValueError{Param: "map", Got: figure, Allowed: strings.Join(FigureNames(), ", "), Nearest: words.Nearest(figure, FigureNames())}
	}
	if hasUnit {
		allowed := "no unit"
		for _, f := range figures {
			if f.name == figure {
				if f.measure.Scale(unit) != nil {
					return Column{figure, name, unit}, nil
				}
				allowed = words.Or(f.measure.Units())
			}
		}
		return Column{}, &bands.ValueError{Param: "unit of " + figure, Got: unit, Allowed: allowed}
	}
	return Column{Figure: figure, Name: name}, nil
}

// maxRuns bounds the rows of CSV that are taken, as in a field log.
const maxRuns = 500

// readCSV reads a run from each row. Columns that are not mapped are not looked at.
func readCSV(m *Import, data []byte, o *Options) error {
	if !utf8.Valid(data) {
		return unread("CSV", "text in UTF-8")
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord, r.ReuseRecord, r.LazyQuotes = -1, true, true
	if head, _, _ := bytes.Cut(data, []byte("\n")); !bytes.ContainsRune(head, ',') && bytes.ContainsRune(head, ';') {
		r.Comma = ';'
	}
	head, err := r.Read()
	if err != nil {
		return unread("CSV", "a first line with the names of its columns")
	}
	places := make([]int, len(o.Map))
	for i, c := range o.Map {
		places[i] = slices.IndexFunc(head, func(s string) bool { return strings.TrimSpace(s) == c.Name })
		if places[i] < 0 {
			return &bands.ValueError{Param: "column", Got: c.Name, Allowed: "a column that the first line names, " + words.Counted(len(head), "column")}
		}
	}
	for row := 1; ; row++ {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		line, _ := r.FieldPos(0)
		about := "line " + strconv.Itoa(line)
		if err != nil {
			m.note(about, "left out with all that follows: quotes do not match")
			return nil
		}
		if row > maxRuns {
			m.note(about, "left out with all that follows: at most "+strconv.Itoa(maxRuns)+" runs")
			return nil
		}
		run, carriers, reason := readRow(record, o.Map, places)
		if reason == "" {
			reason = m.keep(run, carriers)
		}
		if reason != "" {
			m.note(about, "left out: "+reason)
		}
	}
}

// maxNetworks bounds the different carriers of the rows, as in a field log.
const maxNetworks = 50

// keep adds a run, to the network of its carriers if it has any.
func (m *Import) keep(run Run, carriers ca.Combination) (reason string) {
	if len(carriers) == 0 {
		m.Runs = append(m.Runs, run)
		return ""
	}
	i := slices.IndexFunc(m.Networks, func(n Network) bool { return slices.Equal(n.Combination(), carriers) })
	if i < 0 {
		if i = len(m.Networks); i == maxNetworks {
			return "at most " + strconv.Itoa(maxNetworks) + " different carriers"
		}
		var n Network
		for _, c := range carriers {
			n.Carriers = append(n.Carriers, Carrier{Carrier: c})
		}
		m.Networks = append(m.Networks, n)
	}
	m.Networks[i].Runs = append(m.Networks[i].Runs, run)
	return ""
}

// readRow reads a run and its carriers; reason says what keeps it from being one.
func readRow(record []string, columns []Column, places []int) (run Run, carriers ca.Combination, reason string) {
	any := false
	for i, c := range columns {
		if places[i] >= len(record) {
			continue
		}
		value := strings.TrimSpace(record[places[i]])
		switch {
		case value == "":
			continue
		case c.Figure == "where":
			run.Where = words.OneLine(value)
			if len(run.Where) > 200 {
				return run, nil, "column " + c.Name + " has more than 200 letters"
			}
			continue
		case c.Figure == "when":
			run.When = words.OneLine(value)
			if !isMoment(run.When) {
				return run, nil, "column " + c.Name + " is no time such as 18:05 or 2031-05-14 18:05"
			}
			continue
		case c.Figure == "carriers":
			list, err := ca.Parse(value)
			if err != nil {
				return run, nil, "column " + c.Name + " has no carriers in the notation"
			}
			carriers = list
			continue
		}
		if !setFigure(&run, c, value) {
			return run, nil, "column " + c.Name + " is no " + c.Figure
		}
		any = true
	}
	if !any {
		return run, nil, "no figure"
	}
	return run, carriers, ""
}

func setFigure(run *Run, c Column, value string) bool {
	for _, f := range figures {
		if f.name != c.Figure {
			continue
		}
		r, ok := ratOf(value)
		if !ok {
			return false
		}
		if scale := f.measure.Scale(c.Unit); scale != nil {
			r.Mul(r, scale)
		}
		d, ok := decimal(r, f.most)
		*f.to(run) = d
		return ok
	}
	return false
}
