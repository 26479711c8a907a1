package imports

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/words"
)

// NetworkText writes network i as a table of a field log, with its runs below it and, if
// it is the only one, with those that belong to no network. It is empty for a network
// without carriers, which a log needs.
func (m *Import) NetworkText(i int, name string) string {
	n := &m.Networks[i]
	if len(n.Carriers) == 0 {
		return ""
	}
	var s strings.Builder
	fmt.Fprintf(&s, "[[network]]\nname = %s\ncarriers = %s\n", quoted(name), quoted(n.Combination().String()))
	notes := []string{quoted("Imported: " + string(m.Format) + ".")}
	for _, note := range m.Notes {
		text := note.Text
		if note.About != "" {
			text = note.About + ": " + text
		}
		notes = append(notes, quoted(text+"."))
	}
	fmt.Fprintf(&s, "notes = [%s]\n", strings.Join(notes[:min(len(notes), maxNotes)], ", "))
	for _, c := range n.Neighbours {
		if c.Band.RAT != bands.LTE || !c.HasChannel || !c.HasPCI { // what a number of NR is stays open
			continue
		}
		fmt.Fprintf(&s, "\n[[network.neighbour]]\nband = %s\nchannel = %d\npci = %d\n", quoted(c.Band.String()), c.Channel, c.PCI)
		if c.RSRP.IsGiven() {
			fmt.Fprintf(&s, "rsrp = %s\n", c.RSRP)
		}
	}
	for i := range n.Runs {
		s.WriteString("\n" + n.Runs[i].text())
	}
	return s.String()
}

const maxNotes = 10

// RunsText writes the runs and transfers that belong to no network as tables of a field log.
func (m *Import) RunsText() string {
	var s strings.Builder
	for i := range m.Runs {
		s.WriteString(m.Runs[i].text() + "\n")
	}
	for i := range m.Transfers {
		t := &m.Transfers[i]
		direction := "down"
		if t.Direction == bands.Uplink {
			direction = "up"
		}
		fmt.Fprintf(&s, "[[network.transfer]]\nsize = %s\nseconds = %s\ndirection = %s\n\n", quoted(t.Size.String()), t.Seconds, quoted(direction))
	}
	return strings.TrimSuffix(s.String(), "\n")
}

func (r *Run) text() string {
	var s strings.Builder
	s.WriteString("[[network.run]]\n")
	for _, f := range figures {
		if d := f.to(r); d.IsGiven() {
			fmt.Fprintf(&s, "%s = %s\n", f.name, d)
		}
	}
	for _, t := range [...]struct{ key, value string }{{"where", r.Where}, {"when", r.When}, {"notes", r.Remark}} {
		if t.value != "" {
			fmt.Fprintf(&s, "%s = %s\n", t.key, quoted(t.value))
		}
	}
	return s.String()
}

// quoted writes a text as TOML does on one line.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(words.OneLine(s)) + `"`
}

// Tables writes all of it as tables of a field log, networks before runs. An import of
// levels alone has none.
func (m *Import) Tables() (string, error) {
	var parts []string
	for i := range m.Networks {
		if t := m.NetworkText(i, "Network "+itoa(i+1)); t != "" {
			parts = append(parts, t)
		}
	}
	if t := m.RunsText(); t != "" {
		parts = append(parts, t)
	}
	if len(parts) == 0 {
		return "", m.levelsAlone()
	}
	return strings.Join(parts, "\n"), nil
}

func (m *Import) levelsAlone() error {
	return &bands.ValueError{Param: "import", Got: string(m.Format), Allowed: "one with carriers, runs or transfers: levels alone are no part of a log"}
}

// NewLog writes a field log of its own; the title is that of the log. An import without
// carriers is a *bands.ValueError: a log has a network with carriers.
func (m *Import) NewLog(title string) (string, error) {
	out, err := m.Into("", []byte("title = "+quoted(title)+"\n"), "")
	return string(out), err
}

// Into adds to a field log what it does not have: networks at its end, runs and transfers
// below the network of the name, which may be left out where there is only one. Not a byte
// of the log is changed. The file is for messages alone.
func (m *Import) Into(file string, log []byte, network string) ([]byte, error) {
	fresh := file == ""
	old := &fieldlog.Log{}
	if !fresh {
		var err error
		if old, err = fieldlog.Read(file, log); err != nil {
			return nil, err
		}
	}
	want := len(old.Networks)
	text := string(log)
	if len(text) > 0 && !strings.HasSuffix(text, "\n") {
		text += "\n"
	}
	before := text
	named := func(o fieldlog.Network) bool { return o.Name == network }
	for i := range m.Networks {
		name := freeName(old, want)
		if network != "" && len(m.Networks) == 1 && !slices.ContainsFunc(old.Networks, named) {
			name, network = network, "" // the runs are then its own
		}
		if table := m.NetworkText(i, name); table != "" {
			text += "\n" + table
			want++
		}
	}
	if runs := m.RunsText(); runs != "" {
		at, err := m.home(old, want, network)
		if err != nil {
			return nil, err
		}
		place := endOfNetwork(text, at)
		text = text[:place] + gap(text[:place]) + runs + "\n" + text[place:]
	}
	if want == 0 {
		return nil, &bands.ValueError{Param: "import", Got: string(m.Format), Allowed: "one with carriers, or a log that has a network to add to"}
	}
	if text == before {
		return nil, m.levelsAlone()
	}
	return []byte(text), m.verify(old, file, text, want)
}

// freeName names an imported network as no other of the log is named.
func freeName(old *fieldlog.Log, n int) string {
	for n++; ; n++ {
		name := "Network " + strconv.Itoa(n)
		if !slices.ContainsFunc(old.Networks, func(o fieldlog.Network) bool { return o.Name == name }) {
			return name
		}
	}
}

// home is the place of the network that runs and transfers go to.
func (m *Import) home(old *fieldlog.Log, all int, network string) (int, error) {
	var names []string
	for i := range old.Networks {
		if old.Networks[i].Name == network {
			return i, nil
		}
		names = append(names, old.Networks[i].Name)
	}
	switch {
	case network == "" && all == len(old.Networks)+1: // the one imported with them
		return all - 1, nil
	case network == "" && all == 1:
		return 0, nil
	case all == 0:
		return 0, &bands.ValueError{Param: "import", Got: string(m.Format), Allowed: "a log that has a network to add to"}
	case len(names) == 0:
		return 0, &bands.ValueError{Param: "import", Got: words.Counted(all, "network") + " with runs of none", Allowed: "one network"}
	}
	return 0, &bands.ValueError{Param: "network", Got: network, Allowed: "one of the log: " + words.Or(names), Nearest: words.Nearest(network, names)}
}

// endOfNetwork is where the tables of a network, counted from 0, end in a log.
func endOfNetwork(text string, network int) int {
	at, seen := 0, -1
	for line := range strings.Lines(text) {
		header := strings.Join(strings.Fields(line), "")
		isTable := strings.HasPrefix(header, "[")
		if isTable && seen == network && !strings.HasPrefix(header, "[[network.") && !strings.HasPrefix(header, "[network.") {
			return at
		}
		if strings.HasPrefix(header, "[[network]]") {
			seen++
		}
		at += len(line)
	}
	return at
}

// gap is the empty line before a table.
func gap(before string) string {
	if strings.HasSuffix(before, "\n\n") || before == "" {
		return ""
	}
	return "\n"
}

// verify reads the new log and refuses it unless all of the old one stands in it unchanged.
func (m *Import) verify(old *fieldlog.Log, file, text string, networks int) error {
	refusal := &bands.ValueError{Param: "field log", Got: file, Allowed: "one whose networks stand under headers [[network]], so that what is imported can be added"}
	now, err := fieldlog.Read(file, []byte(text))
	if err != nil && file == "" {
		return err
	}
	if err != nil || len(now.Networks) != networks {
		return refusal
	}
	now.Networks = now.Networks[:len(old.Networks)]
	for i := range old.Networks {
		o, n := &old.Networks[i], &now.Networks[i]
		if len(n.Runs) < len(o.Runs) || len(n.Transfers) < len(o.Transfers) {
			return refusal
		}
		n.Runs, n.Transfers = n.Runs[:len(o.Runs):len(o.Runs)], n.Transfers[:len(o.Transfers):len(o.Transfers)]
	}
	if file != "" && !alike(old, now) {
		return refusal
	}
	return nil
}

func alike(a, b *fieldlog.Log) bool {
	for i := range a.Networks { // an empty list is none
		x, y := &a.Networks[i], &b.Networks[i]
		if len(x.Runs) == 0 {
			x.Runs, y.Runs = nil, nil
		}
		if len(x.Transfers) == 0 {
			x.Transfers, y.Transfers = nil, nil
		}
	}
	return reflect.DeepEqual(a, b)
}
