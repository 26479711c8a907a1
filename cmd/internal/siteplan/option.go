package siteplan

import (
	"math"
	"time"

	"spectally/cmd/internal/tomlfile"
)

// maxOptions bounds the options of a plan.
const maxOptions = 20

// Option is a change that the planner thinks of.
type Option struct {
	Name     string
	Settings []string // see Vary
	Plan     *Plan    // with them
}

// readOptions reads the options and works out the plan with each of them, unless it is wrong
// without them.
func (r *reader) readOptions(t *tomlfile.Table, source string) {
	whole := len(r.file.Problems()) == 0
	for _, o := range t.Subs("option", "option", maxOptions) {
		var x Option
		x.Name, _ = o.Text("name", tomlfile.Required, lineOfText)
		var ok bool
		if x.Settings, ok = o.List("set", `settings such as ["sector.town.carriers=n78:100"]`); !ok && !o.Has("set") {
			o.Missing("set", `settings such as ["sector.town.carriers=n78:100"]`)
		}
		o.Finish()
		if !whole || !o.Faultless() {
			continue
		}
		text, err := Vary(source, x.Settings...)
		if err == nil {
			x.Plan, err = readAlone("the option", []byte(text))
		}
		if problems, is := err.(tomlfile.Problems); is && len(problems) > 0 {
			err = problems[0].Err
		}
		if err != nil {
			o.Report("set", err)
			continue
		}
		r.plan.Options = append(r.plan.Options, x)
	}
}

// Century is its months: what lasts longer lasts for ever.
const Century = 1200

// Months is in how many months a load, as a part of what there is, fills it at a growth
// in per cent a year; 0 if it does already, and false if it never does.
func Months(load, growth float64) (months int, ok bool) {
	switch {
	case load >= 1:
		return 0, true
	case load <= 0 || growth <= 0:
		return 0, false
	}
	n := 12 * math.Log(1/load) / math.Log(1+growth/100)
	if n > Century {
		return 0, false
	}
	return int(n), true
}

// Month is the month so many months after the date of the plan, "2033-07"; empty if the
// plan has no date.
func (p *Plan) Month(after int) string {
	date, err := time.Parse("2006-01-02", p.Date)
	if err != nil {
		return ""
	}
	first := time.Date(date.Year(), date.Month(), 1, 0, 0, 0, 0, time.UTC)
	return first.AddDate(0, after, 0).Format("2006-01")
}

func readGrowth(t *tomlfile.Table) float64 {
	g := t.Sub("growth")
	if g == nil {
		return 0
	}
	v, ok := g.Positive("percent_a_year", tomlfile.Required, 1000, "the growth of the traffic, in per cent a year")
	g.Finish()
	if !ok {
		return 0
	}
	f, _ := v.Rat().Float64()
	return f
}
