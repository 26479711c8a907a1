package cli

import (
	"errors"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// combination is what is found out about carriers that serve one UE together.
type combination struct {
	*ca.Assessment
	// name is what was typed in place of carriers; else zero.
	name ca.Name
	// listings are the configurations that the carriers can form; whole tells that
	// they are all there are.
	listings []ca.Listing
	whole    bool
	// findings are those about the carriers and those about the lists.
	findings []ca.Finding
	frames   []throughput.Frame
	totals   ca.Totals
	blocks   []subBlock
	valid    bool
}

// ruleUpperBound names the finding that the widths come from a name.
const ruleUpperBound ca.Rule = "upper-bound"

// findCarriers checks carriers. It is an error if a TDD pattern cannot be read.
func findCarriers(list ca.Combination) (*combination, error) {
	c := &combination{Assessment: ca.Check(list)}
	c.listings, c.whole = c.Listings()
	c.findings = slices.Clone(c.Findings)
	wrongWidth := false
	for i := range c.findings {
		f := &c.findings[i]
		switch f.Rule {
		case ca.RuleBandExists:
			f.Message, f.Source = unknownBandMessage(c.Carriers[f.Carrier-1].Band)
		case ca.RuleChannelNumber:
			f.Message = channelMessage(&c.Carriers[f.Carrier-1], f.Message)
		case ca.RuleWidthAllowed:
			wrongWidth = wrongWidth || f.Severity == ca.Error
		}
	}
	for _, f := range c.Judge(c.listings) {
		if f.Rule == ca.RuleBandwidthSet && f.Severity == ca.Error && wrongWidth {
			continue // what the band does not have, no set has
		}
		c.findings = append(c.findings, f)
	}
	return c, c.finish()
}

// findName checks the carriers that a name stands for. The name says how they lie
// to each other, and a configuration that is listed is not refused for what its
// carriers lack by themselves.
func findName(n ca.Name) (*combination, error) {
	c := &combination{name: n, whole: true}
	list, known := ca.Expand(n)
	if known {
		c.Assessment = ca.Check(list)
	} else {
		c.Assessment = &ca.Assessment{}
	}
	c.Kind = n.Kind()
	l := ca.Listing{Status: ca.StatusOf(n)}
	if widths, ok := ca.Widest(n); ok {
		a, err := ca.Admit(n, widths)
		if err != nil {
			return nil, err
		}
		l.Admission, l.Sets = a, a.Sets
	}
	c.listings = []ca.Listing{l}
	for _, f := range c.Findings {
		if f.Rule == ca.RuleContiguity {
			continue
		}
		if f.Severity == ca.Error && l.Supported() {
			f.Severity = ca.Warning
		}
		c.findings = append(c.findings, f)
	}
	c.findings = append(c.findings, unknownBands(n)...)
	c.findings = append(c.findings, c.Judge(c.listings)...)
	switch {
	case known:
		c.findings = append(c.findings, ca.Finding{Severity: ca.Note, Rule: ruleUpperBound, Source: listingSource(&l),
			Message: "The widths are the widest that the standard lists for " + n.String() + ", an upper bound: a network and a UE may have less."})
	case l.Supported():
		c.findings = append(c.findings, ca.Finding{Severity: ca.Warning, Rule: ca.RuleBandwidthSet, Source: listingSource(&l),
			Message: "The widths of " + n.String() + " are not certain in the tables, so there is nothing to add up."})
	}
	return c, c.finish()
}

// unknownBands reports the bands of a name that the tables do not have.
func unknownBands(n ca.Name) []ca.Finding {
	var list []ca.Finding
	for _, k := range n.Components() {
		if _, err := bands.Lookup(k.Band); err != nil {
			f := ca.Finding{Severity: ca.Error, Rule: ca.RuleBandExists}
			f.Message, f.Source = unknownBandMessage(k.Band)
			list = append(list, f)
		}
	}
	return list
}

// unknownBandMessage says that there is no such band, and what it was most likely
// meant to be.
func unknownBandMessage(id bands.ID) (message string, source bands.Source) {
	err := unknownBand(id.String())
	if v, ok := errors.AsType[*bands.ValueError](err); ok {
		source = v.Source
	}
	return err.Error(), source
}

// channelMessage adds to the message about a channel number the frequency that it was
// meant as if its unit was forgotten.
func channelMessage(p *ca.Placed, message string) string {
	if !p.HasChannel {
		return message
	}
	if _, err := p.Info.ChannelFrequency(p.Channel); err != nil {
		return withNearest(err, inMegahertz(p.Info, p.Channel)).Error()
	}
	return message
}

func (c *combination) finish() error {
	var err error
	if c.frames, err = throughput.Frames(c.Assessment); err != nil {
		return err
	}
	shares, err := throughput.DownlinkShares(c.Assessment)
	if err != nil {
		return err
	}
	c.totals = c.Totals(shares)
	c.blocks = c.subBlocks()
	c.valid = !slices.ContainsFunc(c.findings, func(f ca.Finding) bool { return f.Severity == ca.Error })
	return nil
}

// listingSource is the table that has a configuration, or one that brings it; zero
// if none does.
func listingSource(l *ca.Listing) bands.Source {
	switch {
	case len(l.Listed) > 0:
		return l.Listed[0].Source()
	case len(l.FallbackOf) > 0:
		return l.FallbackOf[0].Source()
	}
	return bands.Source{}
}

// holding lists the configurations that the standard has with these widths, those
// that are listed themselves first.
func (c *combination) holding() []*ca.Listing {
	var listed, brought []*ca.Listing
	for i := range c.listings {
		switch l := &c.listings[i]; {
		case l.Alone || !l.Holds():
		case len(l.Listed) > 0:
			listed = append(listed, l)
		default:
			brought = append(brought, l)
		}
	}
	return append(listed, brought...)
}

// uplinkWords lists the uplinks that the standard names with a configuration, each
// once, in words.
func uplinkWords(configurations []ca.Configuration) []string {
	var list []string
	for _, c := range configurations {
		if anySingleUplink(c) {
			list = append(list, "one carrier of any band with an uplink")
		}
		for _, u := range c.Uplinks() {
			text := u.Text
			switch text {
			case "*":
				if anySingleUplink(c) {
					continue
				}
				text = "one carrier, see the note of the table"
			case "N/A":
				text = "none of its own"
			}
			var marks []string
			if len(u.PowerClasses) > 0 {
				marks = append(marks, "power class "+strings.Join(u.PowerClasses, ", "))
			}
			if u.Switched {
				marks = append(marks, "switched")
			}
			if u.Must {
				marks = append(marks, "mandatory with uplink CA")
			}
			if len(u.Sets) > 0 {
				marks = append(marks, "beside set "+numberList(u.Sets, ", "))
			}
			if len(marks) > 0 {
				text += " (" + strings.Join(marks, "; ") + ")"
			}
			if !slices.Contains(list, text) {
				list = append(list, text)
			}
		}
	}
	return list
}

// anySingleUplink tells whether one carrier of any band may be the uplink, though the
// tables of E-UTRA and NR CA do not say so band by band; a note on the uplink goes
// before that rule.
func anySingleUplink(c ca.Configuration) bool {
	k := c.Kind()
	return (k == ca.KindLTECA || k == ca.KindNRCA) && !strings.Contains(c.Note(), "uplink")
}
