package ca

import (
	"strconv"
	"strings"
	"sync"
)

// Uplink is an uplink that the standard allows with a configuration.
type Uplink struct {
	// Text is the uplink as printed: a configuration ("CA_n3A-n78A"), a band for
	// one carrier in it ("n78"), "*" where an E-UTRA or NR CA table has a dash
	// (one uplink carrier in any band of the configuration), or "N/A" where a
	// table of EN-DC names none.
	Text string
	// Name is what Text names; zero for "*" and "N/A".
	Name Name
	// PowerClasses are the UE power classes above the default that the notes of
	// the table allow with it: "2", "1.5".
	PowerClasses []string
	// Sets are the bandwidth combination sets beside which it stands; nil for all.
	Sets []int
	// Switched tells that a UE need support it only with uplinks that are
	// switched, not simultaneous.
	Switched bool
	// Must tells that a UE with any uplink CA for the configuration has to
	// support this one.
	Must bool
}

// Uplinks returns the uplinks that the table lists with the configuration. The
// tables of E-UTRA and NR CA leave most single uplinks out: unless a note says
// otherwise any band of the configuration with an uplink may have it alone, and
// an uplink that is listed brings its fallbacks (TS 36.101 clause 5.6A.1, TS
// 38.101-1 clause 5.5A.0).
func (c Configuration) Uplinks() []Uplink {
	line := c.record().line(" ul ")
	if line == "" {
		return nil
	}
	list := make([]Uplink, 0, strings.Count(line, " ")+1)
	for field := range strings.FieldsSeq(line) {
		list = append(list, c.uplink(field))
	}
	return list
}

func (c Configuration) uplink(field string) Uplink {
	text, marks, _ := strings.Cut(field, ":")
	u := Uplink{Text: text}
	for marks != "" {
		var m string
		m, marks, _ = strings.Cut(marks, ":")
		switch {
		case m == "switched":
			u.Switched = true
		case m == "must":
			u.Must = true
		case strings.HasPrefix(m, "pc"):
			u.PowerClasses = append(u.PowerClasses, m[len("pc"):])
		case strings.HasPrefix(m, "bcs"):
			for s := range strings.SplitSeq(m[len("bcs"):], ",") {
				n, _ := strconv.Atoi(s) // the tests read every mark
				u.Sets = append(u.Sets, n)
			}
		}
	}
	u.Name = uplinkName(text)
	if c.as90 {
		if swapped := swapBand(u.Name, bandN41, bandN90); swapped != "" && swapped != u.Name.text {
			u.Name.text, u.Text = swapped, strings.ReplaceAll(u.Text, "n41", "n90")
		}
	}
	return u
}

// uplinkNames keeps the names of uplinks by their text: thousands of configurations
// share a few hundred of them.
var uplinkNames sync.Map // of string: Name

// uplinkName reads an uplink as the tables print it. A band alone is a carrier
// of class A in it.
func uplinkName(text string) Name {
	if text == "*" || text == "N/A" {
		return Name{}
	}
	if n, ok := uplinkNames.Load(text); ok {
		return n.(Name)
	}
	n := readUplinkName(text)
	uplinkNames.Store(strings.Clone(text), n)
	return n
}

func readUplinkName(text string) Name {
	if text[0] == 'n' && text[len(text)-1] <= '9' {
		text += "A"
	}
	n, err := ParseName(text)
	if err != nil {
		panic("ca: embedded list: " + err.Error()) // all uplinks are read by the tests
	}
	return n
}

// AllowsUplink reports whether the standard allows the uplink n with the
// configuration, and by which of its listed uplinks: one of that name, one of
// which n is a fallback, or, with the zero Uplink, the rule that one carrier may
// transmit alone. That rule is not applied where the table has a note on the
// uplink: the note decides.
func (c Configuration) AllowsUplink(n Name) (Uplink, bool) {
	line := c.record().line(" ul ")
	for field := range strings.FieldsSeq(line) {
		text, _, _ := strings.Cut(field, ":")
		if c.as90 || text == n.text || text == strings.TrimSuffix(n.text, "A") {
			if u := c.uplink(field); u.Name == n {
				return u, true
			}
		}
	}
	want := shapeOf(n)
	for _, u := range c.Uplinks() {
		if !u.Name.IsZero() {
			if have := shapeOf(u.Name); have.covers(&want) {
				return u, true
			}
		}
	}
	alone := n.kind == KindLTE || n.kind == KindNR
	if alone && (c.Kind() == KindLTECA || c.Kind() == KindNRCA) && !strings.Contains(c.Note(), "uplink") {
		for _, k := range n.Components() {
			if hasBand(c.record().name, bandSlot(k.Band)) {
				return Uplink{}, true
			}
		}
	}
	return Uplink{}, false
}
