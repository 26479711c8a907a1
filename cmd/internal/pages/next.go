package pages

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
)

// carriersNext are the other pages about the carriers that a page was asked about.
func carriersNext(path string) func(*query) []link {
	return func(q *query) []link {
		text := q.value(carriersName)
		if text == "" {
			return nil
		}
		var list []link
		for _, to := range [...]link{{Text: "Check", Address: "/ca"}, {Text: "Rates", Address: "/throughput"}, {Text: "Self-interference", Address: "/interference"}, {Text: "Judge a claim about them", Address: "/claim"}} {
			if to.Address != path {
				list = append(list, link{Text: to.Text, Address: carry(to.Address, carriersName, text)})
			}
		}
		if with := bandsOf(text); len(with) > 0 {
			list = append(list, link{Text: "What fits beside them", Address: carry("/configs", "with", strings.Join(with, ","))})
		}
		return list
	}
}

// carry is the address of a page that is asked one thing.
func carry(path, name, value string) string {
	return address(path, []string{name}, url.Values{name: {value}})
}

// bandsOf are the bands of carriers or of a name of the standard, each once.
func bandsOf(text string) []string {
	a, err := ca.AssessText(text)
	if err != nil {
		return nil
	}
	var list []string
	for i := range a.Carriers {
		if id := a.Carriers[i].Band.String(); !slices.Contains(list, id) {
			list = append(list, id)
		}
	}
	return list
}

// bandNext goes on with a band that was asked for by itself.
func bandNext(q *query) []link {
	id, err := bands.ParseID(q.value("find"))
	if err != nil {
		return nil
	}
	b, err := bands.Lookup(id)
	if err != nil {
		return nil
	}
	list := []link{{Text: "What fits beside it", Address: carry("/configs", "with", id.String())}}
	if widths := b.Widths(); len(widths) > 0 {
		widest := slices.MaxFunc(widths, func(x, y bands.ChannelWidth) int { return int(x.Width/bands.KHz - y.Width/bands.KHz) })
		list = append(list, link{Text: "Check its widest carrier", Address: carry("/ca", carriersName, id.String()+":"+widest.Width.MHz())})
	}
	return list
}

// configurationNext goes on with a configuration that was asked for by itself.
func configurationNext(q *query) []link {
	name := q.value("names")
	if _, err := ca.ParseName(name); err != nil {
		return nil
	}
	return append([]link{{Text: "Check its carriers", Address: carry("/ca", carriersName, name)}}, carriersNext("/ca")(&query{values: map[string]string{carriersName: name}})...)
}

// mendCarriers gives places their unit that can be nothing but megahertz.
func mendCarriers(q *query) {
	rows := splitCarriers(q.value(carriersName))
	if slices.ContainsFunc(rows, func(r carrierRow) bool { return r.where() != r.cells[whereCell] }) {
		q.values[carriersName] = joinCarriers(rows)
	}
}

// mendChannel does the same for a channel, unless it may be a GSCN.
func mendChannel(q *query) {
	id, err := bands.ParseID(q.value("band"))
	if err != nil || q.value("gscn") != "" {
		return
	}
	place := q.value("place")
	if _, err := strconv.Atoi(place); err != nil {
		return
	}
	if b, err := bands.Lookup(id); err == nil {
		q.values["place"] = withUnit(b, place)
	}
}
