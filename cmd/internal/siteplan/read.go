package siteplan

import (
	"slices"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/tomlfile"
	"spectally/throughput/exact"
	"spectally/throughput/site"
)

// Read reads a plan. Everything that is wrong with it is reported at once: the error is
// of type tomlfile.Problems, in order of line. The name of the file is for messages
// alone.
func Read(name string, data []byte) (*Plan, error) { return read(name, data, true) }

// readAlone reads a plan and leaves its options aside.
func readAlone(name string, data []byte) (*Plan, error) { return read(name, data, false) }

func read(name string, data []byte, options bool) (*Plan, error) {
	f := tomlfile.Parse(name, data)
	r := reader{file: f, plan: &Plan{Source: string(data)}, options: options}
	r.read(f.Root())
	if len(f.Problems()) == 0 {
		r.tryOut(f.Root())
	}
	if p := f.Problems(); len(p) > 0 {
		return nil, p
	}
	return r.plan, nil
}

// reader keeps what of a plan belongs to which table.
type reader struct {
	file     *tomlfile.File
	plan     *Plan
	options  bool // reads them
	sectors  []*tomlfile.Table
	coverage *tomlfile.Table
}

const lineOfText = "a line of text"

func (r *reader) read(t *tomlfile.Table) {
	p := r.plan
	p.Site.Name, _ = t.Text("name", tomlfile.Required, lineOfText)
	p.Date = t.Date("date")
	p.Place, _ = t.Text("place", tomlfile.Optional, lineOfText)
	p.Author, _ = t.Text("author", tomlfile.Optional, lineOfText)
	p.Notes = t.Prose("notes", "text")
	var usual site.Sector
	readUse(t, &usual)
	if s := t.Sub("traffic"); s != nil {
		readTraffic(s, &p.Site.Traffic)
	}
	if s := t.Sub("backhaul"); s != nil {
		readBackhaul(s, &p.Site.Backhaul)
	}
	if r.coverage = t.Sub("coverage"); r.coverage != nil {
		p.Coverage = readCoverage(r.coverage, &p.Target, &p.UplinkTarget)
	}
	sectors := t.Subs("sector", "sector", maxSectors)
	if len(sectors) == 0 && (!t.Has("sector") || t.KindOf("sector") == tomlfile.Array) {
		t.Missing("sector", "one table at least under the header [[sector]]")
	}
	for _, s := range sectors {
		r.sector(s, usual, t.Has("environment"))
	}
	p.Growth = readGrowth(t)
	if r.options {
		r.readOptions(t, p.Source)
	} else {
		t.Subs("option", "option", maxOptions)
	}
	t.Finish()
}

// readUse reads what stands at the top or in a sector.
func readUse(t *tomlfile.Table, s *site.Sector) {
	if word, ok := t.Choice("environment", site.EnvironmentNames()...); ok {
		e, err := site.ParseEnvironment(word)
		if err != nil {
			t.Report("environment", err)
		}
		s.Environment = e
	}
	for _, v := range []struct {
		key, what string
		to        *exact.Ratio
	}{{"load_percent", "downlink", &s.Load}, {"ul_load_percent", "uplink", &s.UplinkLoad}} {
		if load, ok := readShare(t, v.key, "the share of the "+v.what+" that the busy hour uses, in per cent", "0.0001", "100"); ok {
			*v.to = load
		}
	}
}

func readTraffic(t *tomlfile.Table, to *site.Traffic) {
	to.Rate = readMbps(t, "rate_mbps")
	to.UplinkRate = readMbps(t, "ul_rate_mbps")
	to.Activity, _ = readShare(t, "active_percent", "the share of users that are active at once, in per cent", "0.1", "100")
	to.Oversubscription, _ = readFactor(t, "oversubscription", "how many times the rates are sold", "1", "1000", 1)
	to.BusyHourShare, _ = readShare(t, "busy_hour_percent", "the share of a day's traffic in the busy hour, in per cent", "4.1667", "100")
	t.Finish()
}

func readBackhaul(t *tomlfile.Table, to *site.Backhaul) {
	to.Downlink = readLink(t, "link")
	to.Uplink = to.Downlink
	if t.Has("ul_link") {
		to.Uplink = readLink(t, "ul_link")
	}
	to.Transport, _ = readShare(t, "transport_percent", "headers as a share of user data, in per cent", "0", "100")
	to.Security, _ = readShare(t, "security_percent", "encryption as a share of user data, in per cent", "0", "100")
	by, _ := t.Choice("size_by", "phone", "cell")
	to.CellPeak = by == "cell"
	t.Finish()
}

func readLink(t *tomlfile.Table, key string) exact.Ratio {
	const allowed = `a rate with its unit, such as "10 Gbit/s"`
	s, ok := t.Text(key, tomlfile.Optional, allowed)
	if !ok {
		return exact.Ratio{}
	}
	rate, err := quantity.ParseRate(s)
	if err != nil {
		t.Report(key, tomlfile.Renamed(err, key))
		return exact.Ratio{}
	}
	return exact.Whole(rate.BitsPerSecond())
}

// sector reads a sector; usual is what holds for all that do not say.
func (r *reader) sector(t *tomlfile.Table, usual site.Sector, environment bool) {
	s := usual
	s.Name, _ = t.Text("name", tomlfile.Optional, lineOfText)
	if s.Name != "" && slices.ContainsFunc(r.plan.Site.Sectors, func(o site.Sector) bool { return o.Name == s.Name }) {
		t.Refuse("name", s.Name, "a name that no other sector of the plan has")
	}
	s.Count, _ = t.Whole("count", tomlfile.Optional, 1, 100, "a number of sectors that are alike")
	readUse(t, &s)
	if !environment && !t.Has("environment") {
		t.Missing("environment", "indoor-hotspot, dense-urban, urban or rural, in the sector or at the top for all")
	}
	var radios []Radio
	tables := t.Subs("radio", "sector.radio", maxRadios)
	if len(tables) == 0 && (!t.Has("radio") || t.KindOf("radio") == tomlfile.Array) {
		t.Missing("radio", "one table at least under the header [[sector.radio]]")
	}
	n := 0
	for _, table := range tables {
		radio, more := r.radio(table)
		n += len(radio.Carriers)
		s.Radios, radios = append(s.Radios, radio), append(radios, more)
	}
	if n > maxCarriers {
		t.Report("radio", &bands.ValueError{Param: "carriers of the sector", Got: itoa(n), Allowed: "at most " + itoa(maxCarriers)})
	}
	t.Finish()
	r.plan.Site.Sectors = append(r.plan.Site.Sectors, s)
	r.plan.Radios = append(r.plan.Radios, radios)
	r.sectors = append(r.sectors, t)
}
