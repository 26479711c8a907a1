package logform

import (
	"errors"
	"math/big"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/tomlfile"
)

// Fault is what keeps a field, or a whole item, out of the report so far.
type Fault struct {
	Path string `json:"path"`
	Text string `json:"text"`
}

// Trial is what a form comes to so far.
type Trial struct {
	// Text is what can be read, as TOML; empty where nothing can.
	Text   string
	Faults []Fault
	kept   *Item
}

// mostTries bounds how often what cannot be read is left out.
const mostTries = 6

// Try reads as much of a form as can be read. What is wrong with one field hides nothing of
// the others.
func (f *File) Try(file *Item) *Trial {
	t := &Trial{Faults: []Fault{}, kept: file.clone()}
	t.kept.place("")
	for try := range mostTries {
		text, paths := f.write(t.kept)
		err := f.check([]byte(text))
		if err == nil {
			t.Text = text
			return t
		}
		problems, ok := errors.AsType[tomlfile.Problems](err)
		if !ok {
			return t
		}
		for i := range problems {
			path := ""
			if n := problems[i].Line - 1; n >= 0 && n < len(paths) {
				path = paths[n]
			}
			if problems[i].Key != "" && path == "" {
				path = problems[i].Key
			}
			if fault := (Fault{path, says(&problems[i])}); try == 0 && !slices.Contains(t.Faults, fault) {
				t.Faults = append(t.Faults, fault)
			}
			if path == "" || path == f.Title {
				t.kept.Values[f.Title] = f.Untitled // it needs one
			} else {
				t.kept.drop(path)
			}
		}
	}
	return t
}

// says is what is wrong, without the key that the form shows by its name.
func says(p *tomlfile.Problem) string {
	text := p.Err.Error()
	if v, ok := errors.AsType[*bands.ValueError](p.Err); ok && v.Param == p.Key {
		text = strings.TrimPrefix(text, v.Param+" ")
	}
	if m, ok := errors.AsType[*tomlfile.MissingError](p.Err); ok {
		return "Needs " + m.Allowed + "."
	}
	return text + "."
}

func (i *Item) clone() *Item {
	c := &Item{Values: map[string]string{}, Lists: map[string][]*Item{}}
	for key, v := range i.Values {
		c.Values[key] = v
	}
	for key, list := range i.Lists {
		for _, item := range list {
			c.Lists[key] = append(c.Lists[key], item.clone())
		}
	}
	return c
}

// drop leaves out the value or the item with a path.
func (i *Item) drop(path string) {
	for key := range i.Values {
		if i.at(key) == path {
			delete(i.Values, key)
			return
		}
	}
	for key, list := range i.Lists {
		for n, item := range list {
			if item.path == path {
				i.Lists[key] = slices.Delete(list, n, n+1)
				return
			}
			if strings.HasPrefix(path, item.path+"/") {
				item.drop(path)
				return
			}
		}
	}
}

// Report is that of a field log; nil where nothing can be read.
func (t *Trial) Report() *fieldlog.Report {
	log, err := fieldlog.Read("", []byte(t.Text))
	if err != nil {
		return nil
	}
	return fieldlog.Analyse(log)
}

// Shares says of each run what it reached, by its path.
func (t *Trial) Shares(report *fieldlog.Report) map[string]string {
	says := map[string]string{}
	if report == nil {
		return says
	}
	for n, network := range t.kept.Lists["network"] {
		if n >= len(report.Networks) {
			break
		}
		runs := report.Networks[n].Runs
		for r, item := range network.Lists["run"] {
			if r < len(runs) {
				says[item.path] = shares(&runs[r])
			}
		}
	}
	return says
}

func shares(r *fieldlog.RunReport) string {
	var parts []string
	for _, d := range [...]struct {
		name    string
		reached *fieldlog.Reached
	}{{"Down", r.Down}, {"Up", r.Up}} {
		if d.reached == nil {
			continue
		}
		var of []string
		if s := d.reached.OfScheduled; s != nil {
			of = append(of, percent(*s)+" % of scheduled")
		}
		if s := d.reached.OfExpected; s != nil {
			of = append(of, percent(*s)+" % of expected")
		}
		if len(of) > 0 {
			parts = append(parts, d.name+": "+strings.Join(of, ", "))
		}
	}
	return strings.Join(parts, ". ")
}

func percent(share float64) string {
	x := new(big.Rat)
	x.SetFloat64(share * 100)
	return x.FloatString(0)
}
