package fieldreport

import (
	"slices"
	"strconv"
	"strings"

	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// mostConfigurations is how many configurations are named one by one.
const mostConfigurations = 8

// verdict says whether the standard has what the carriers form.
func verdict(n *fieldlog.NetworkReport) render.Verdict {
	if !n.Valid {
		return render.Verdict{Tone: render.Bad, Word: "not allowed", Text: refusal(n)}
	}
	v := render.Verdict{Tone: render.Good, Word: "allowed"}
	holding := holding(n)
	switch {
	case len(n.Carriers) == 1:
		v.Text = "One carrier needs no configuration."
	case len(holding) == 0:
		v.Text = "These carriers form no listed configuration, and no rule forbids them."
	default:
		v.Text = "as " + formed(holding[0]) + "."
		if more := further(n, holding); more != "" {
			v.Text += " " + more
		}
	}
	if slices.ContainsFunc(n.Findings, func(f render.FindingValue) bool { return f.Severity == render.Warning }) {
		v.Tone = render.Doubtful
		v.Text += " See the warnings below."
	}
	return v
}

// further says what else the carriers can form.
func further(n *fieldlog.NetworkReport, holding []*combination.Configuration) string {
	text := ""
	switch all := len(n.Configurations); {
	case all == 2 && len(holding) == 2:
		text = "Also listed as " + holding[1].ID + "."
	case all == 2:
		other := &n.Configurations[0]
		if other.ID == holding[0].ID {
			other = &n.Configurations[1]
		}
		text = "They could also form " + other.ID + ", which is not listed with these widths."
	case all > 2:
		text = "Of " + strconv.Itoa(all) + " configurations that they can form, " + strconv.Itoa(len(holding)) + " are listed with these widths."
		if len(holding) == 1 {
			text = "Of " + strconv.Itoa(all) + " configurations that they can form, only this one is listed."
		}
	}
	if !n.Complete {
		text = strings.TrimSpace(text + " This many carriers have more layouts than were tried.")
	}
	return text
}

func holding(n *fieldlog.NetworkReport) []*combination.Configuration {
	var list []*combination.Configuration
	for i := range n.Configurations {
		if n.Configurations[i].Holds {
			list = append(list, &n.Configurations[i])
		}
	}
	return list
}

func formed(c *combination.Configuration) string {
	text := c.ID + ", " + support(c)
	if len(c.Sets) > 0 {
		text += ", with these widths in " + sets(c.Sets)
	}
	return text
}

// sets names bandwidth combination sets: "bandwidth combination sets 0, 1".
func sets(list []int) string {
	if len(list) == 1 {
		return "bandwidth combination set " + numbers(list)
	}
	return "bandwidth combination sets " + numbers(list)
}

// support says how the standard has a configuration.
func support(c *combination.Configuration) string {
	switch {
	case c.Listed:
		return "listed"
	case len(c.FallbackOf) == 0:
		return "not listed"
	case len(c.FallbackOf) > 2:
		return "a fallback of " + strings.Join(c.FallbackOf[:2], ", ") + " and others"
	}
	return "a fallback of " + strings.Join(c.FallbackOf, " and ")
}

// refusal is what the first error says, and how many there are besides.
func refusal(n *fieldlog.NetworkReport) string {
	text, more := "", 0
	for _, f := range n.Findings {
		switch {
		case f.Severity != render.Error:
		case text != "":
			more++
		default:
			text = f.Message
		}
	}
	if more > 0 {
		text += " " + counted(more, "error") + " more among the findings."
	}
	return text
}

// configurationTable names what the carriers can form.
func configurationTable(n *fieldlog.NetworkReport) *render.Table {
	t := &render.Table{Title: "Configurations", Detail: len(n.Configurations) < 2, Columns: []render.Column{
		{Header: "name"},
		{Header: "the standard"},
		{Header: "bandwidth sets"},
		{Header: "with these widths"},
	}}
	list := slices.Clone(n.Configurations)
	slices.SortStableFunc(list, func(a, b combination.Configuration) int { return holdsFirst(a.Holds) - holdsFirst(b.Holds) })
	for i := range list[:min(len(list), mostConfigurations)] {
		c := &list[i]
		holds := "no"
		if c.Holds {
			holds = "yes"
		}
		t.Rows = append(t.Rows, []string{c.ID, support(c), numbers(c.Sets), holds})
	}
	t.DropEmpty()
	return t
}

func holdsFirst(holds bool) int {
	if holds {
		return 0
	}
	return 1
}
