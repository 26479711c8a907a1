package ca

import (
	"slices"
	"strconv"

	"spectally/ca"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// verdict says what the carriers are allowed as; the first of the findings, the
// severest, is the reason where they are not.
func (c *found) verdict(found render.Findings) render.Verdict {
	if !c.Valid() {
		return render.Verdict{Tone: render.Bad, Word: "not allowed", Text: found[0].Text()}
	}
	v := render.Verdict{Tone: render.Good, Word: "allowed", Text: "One carrier needs no configuration."}
	holding := c.Holding()
	switch {
	case len(holding) == 0 && len(c.listings) > 0 && c.listings[0].Alone:
	case len(holding) == 0:
		v.Text = "These carriers form no listed configuration, and no rule forbids them."
	default:
		v.Text = "as " + c.formed(holding[0]) + "."
		if more := c.further(holding); more != "" {
			v.Text += " " + more
		}
	}
	if slices.ContainsFunc(c.Findings(), func(f ca.Finding) bool { return f.Severity == ca.Warning }) {
		v.Tone = render.Doubtful
		v.Text += " See the warnings below."
	}
	return v
}

// formed names a configuration and says how the standard has it.
func (c *found) formed(l *ca.Listing) string {
	text := l.Name.String()
	if len(l.Listed) > 0 {
		text += " (" + l.Source().Short() + ")"
	} else {
		from := l.FallbackOf[0]
		text += ", a fallback of " + from.Name().String() + " (" + from.Source().Short() + ")"
	}
	return text + setSentence(l)
}

// setSentence says which sets admit the widths.
func setSentence(l *ca.Listing) string {
	if text := setText(l); text != "" {
		return ", " + text
	}
	return ""
}

// setText names the sets that admit the widths: "sets 0, 1", with the configuration
// that has them where it is another: "set 0 of CA_3A-7A"; empty where no set is
// asked for.
func setText(l *ca.Listing) string {
	if len(l.Sets) > 0 {
		if len(l.Listed) > 0 {
			return setNumbers(l.Sets)
		}
		return setNumbers(l.Sets) + " of " + memberName(&l.Admission)
	}
	var list []string
	for i := range l.Admission.Members {
		if m := &l.Admission.Members[i]; !m.Alone && len(m.Sets) > 0 {
			list = append(list, setNumbers(m.Sets)+" of "+memberName(m))
		}
	}
	return words.And(list)
}

// memberName names the configuration whose sets were compared.
func memberName(a *ca.Admission) string {
	if a.Found {
		return a.Configuration.Name().String()
	}
	return a.Name.String()
}

func setNumbers(sets []int) string {
	if len(sets) == 1 {
		return "set " + strconv.Itoa(sets[0])
	}
	return "sets " + figures.List(sets, ", ")
}

// further says what else the carriers can be where their places leave it open.
func (c *found) further(holding []*ca.Listing) string {
	if !c.open() {
		return ""
	}
	all, hold, second := 0, 0, ""
	for i := range c.listings {
		l := &c.listings[i]
		if l.Name.Kind() != holding[0].Name.Kind() {
			continue // not another way to lie, but another kind of connectivity
		}
		all++
		if slices.Contains(holding, l) {
			if hold++; l != holding[0] {
				second = l.Name.String()
			}
		}
	}
	text := "Positions are open: "
	switch {
	case all == 1:
		return ""
	case hold == all && all == 2:
		return text + second + " fits too."
	case hold == all:
		return text + "all " + strconv.Itoa(all) + " layouts are listed."
	case all == 2:
		return text + "the other layout is not listed."
	}
	return text + strconv.Itoa(hold) + " of " + strconv.Itoa(all) + " layouts " + map[bool]string{true: "is listed.", false: "are listed."}[hold == 1]
}

// open tells whether the carriers of some band may lie in several ways.
func (c *found) open() bool {
	return slices.ContainsFunc(c.Blocks, func(b ca.SubBlock) bool { return !b.Known })
}
