package fieldlog

import (
	"slices"
	"strconv"
	"time"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/tomlfile"
	"spectally/throughput"
)

// Read reads a log. Everything that is wrong with it is reported at once: the error
// is of type tomlfile.Problems, in order of line. The name of the file is for
// messages alone.
func Read(name string, data []byte) (*Log, error) {
	f := tomlfile.Parse(name, data)
	l := new(Log)
	readLog(f.Root(), l)
	if p := f.Problems(); len(p) > 0 {
		return nil, p
	}
	return l, nil
}

func readLog(t *tomlfile.Table, l *Log) {
	l.Title, _ = t.Text("title", tomlfile.Required, "a line of text")
	l.Date = t.Date("date")
	l.Place, _ = t.Text("place", tomlfile.Optional, "a line of text")
	l.Author, _ = t.Text("author", tomlfile.Optional, "a line of text")
	l.Notes = t.Prose("notes", "text")
	if site := t.Sub("site"); site != nil {
		l.Site = readPlace(site)
		site.Finish()
	}
	networks := t.Subs("network", "network", maxNetworks)
	if !t.Has("network") {
		t.Missing("network", "one table at least under the header [[network]]")
	}
	for _, n := range networks {
		l.Networks = append(l.Networks, readNetwork(n, l.Networks))
	}
	for _, c := range t.Subs("claim", "claim", maxClaims) {
		l.Claims = append(l.Claims, readClaim(c, l.Networks))
	}
	t.Finish()
}

// moments are the forms of a point in time, with the form in which it is kept.
var moments = []struct{ form, kept string }{
	{"15:04", "15:04"}, {"15:04:05", "15:04"},
	{time.DateOnly, time.DateOnly},
	{"2006-01-02 15:04", "2006-01-02 15:04"}, {"2006-01-02 15:04:05", "2006-01-02 15:04"},
	{"2006-01-02 15:04:05Z07:00", "2006-01-02 15:04 -07:00"},
}

func readMoment(t *tomlfile.Table) string {
	const allowed = `a time in quotes such as "18:05" or "2031-05-14 18:05"`
	s, ok := t.Moment("when", tomlfile.Optional, allowed)
	if !ok {
		return ""
	}
	text := s
	if i := len(time.DateOnly); len(s) > i && (s[i] == 'T' || s[i] == 't') {
		text = s[:i] + " " + s[i+1:]
	}
	for _, m := range moments {
		if at, err := time.Parse(m.form, text); err == nil {
			return at.Format(m.kept)
		}
	}
	t.Refuse("when", s, allowed)
	return ""
}

func readNetwork(t *tomlfile.Table, before []Network) Network {
	var n Network
	n.Name, _ = t.Text("name", tomlfile.Required, "a line of text")
	if n.Name != "" && slices.ContainsFunc(before, func(m Network) bool { return m.Name == n.Name }) {
		t.Refuse("name", n.Name, "a name that no other network of the log has")
	}
	if d := t.Sub("device"); d != nil {
		n.Device = readDevice(d)
	}
	n.Carriers = readCarriers(t)
	for _, r := range t.Subs("radio", "network.radio", maxRadios) {
		n.Radios = append(n.Radios, readRadio(r))
	}
	for _, r := range t.Subs("neighbour", "network.neighbour", maxNeighbours) {
		n.Neighbours = append(n.Neighbours, readNeighbour(r))
	}
	for _, r := range t.Subs("run", "network.run", maxRuns) {
		n.Runs = append(n.Runs, readRun(r, len(n.Carriers)))
	}
	for _, r := range t.Subs("transfer", "network.transfer", maxTransfers) {
		n.Transfers = append(n.Transfers, readTransfer(r))
	}
	n.Notes = t.Prose("notes", "text")
	t.Finish()
	return n
}

const maxAntennas = 16

func readDevice(t *tomlfile.Table) Device {
	var d Device
	d.Name, _ = t.Text("name", tomlfile.Optional, "a line of text")
	if word, ok := t.Choice("kind", throughput.DeviceKindNames()...); ok {
		var err error
		if d.Kind, err = throughput.ParseDeviceKind(word); err != nil {
			t.Report("kind", err)
		}
	}
	d.ReceiveAntennas, _ = t.Whole("receive_antennas", tomlfile.Optional, 1, maxAntennas, "a number of antennas")
	d.TransmitAntennas, _ = t.Whole("transmit_antennas", tomlfile.Optional, 1, maxAntennas, "a number of antennas")
	d.QAM = readQAM(t, "qam", 64, 256, 1024)
	d.UplinkQAM = readQAM(t, "ulqam", 16, 64, 256)
	t.Finish()
	return d
}

func readQAM(t *tomlfile.Table, key string, sizes ...int) int {
	allowed := "the size of the largest constellation"
	n, ok := t.Whole(key, tomlfile.Optional, int64(sizes[0]), int64(sizes[len(sizes)-1]), allowed)
	if ok && !slices.Contains(sizes, n) {
		t.Refuse(key, strconv.Itoa(n), allowed+": "+strconv.Itoa(sizes[0])+", "+strconv.Itoa(sizes[1])+" or "+strconv.Itoa(sizes[2]))
		return 0
	}
	return n
}

// Limits of measurements.
const (
	maxMbps = 1_000_000
	maxMs   = 600_000
	maxTime = 10_000_000 // seconds
)

// readRun reads a run over so many carriers.
func readRun(t *tomlfile.Table, carriers int) Run {
	var r Run
	r.Down, _ = t.NumberIn("down", tomlfile.Optional, &quantity.Mbps, 0, maxMbps, "a rate in Mbit/s")
	r.Up, _ = t.NumberIn("up", tomlfile.Optional, &quantity.Mbps, 0, maxMbps, "a rate in Mbit/s")
	r.Idle = readLatency(t, "idle_ms")
	r.LoadedDown = readLatency(t, "loaded_down_ms")
	r.LoadedUp = readLatency(t, "loaded_up_ms")
	if !t.Has("down") && !t.Has("up") && !t.Has("idle_ms") && !t.Has("loaded_down_ms") && !t.Has("loaded_up_ms") {
		t.Missing("figure", "at least one of down, up, idle_ms, loaded_down_ms and loaded_up_ms")
	}
	r.Spot = readSpot(t, carriers)
	r.Where, r.When, r.Notes = readCircumstances(t)
	t.Finish()
	return r
}

func readLatency(t *tomlfile.Table, key string) quantity.Decimal {
	d, _ := t.PositiveIn(key, tomlfile.Optional, &quantity.Milliseconds, maxMs, "a time in milliseconds")
	return d
}

func readCircumstances(t *tomlfile.Table) (where, when string, notes []string) {
	where, _ = t.Text("where", tomlfile.Optional, "a line of text")
	return where, readMoment(t), t.Prose("notes", "text")
}

func readTransfer(t *tomlfile.Table) Transfer {
	var r Transfer
	r.Size = readSize(t, "size", tomlfile.Required)
	r.Seconds = readSeconds(t, tomlfile.Required)
	r.Direction = readDirection(t)
	if r.Direction == 0 {
		r.Direction = bands.Downlink
	}
	r.Where, r.When, r.Notes = readCircumstances(t)
	t.Finish()
	return r
}

func readSize(t *tomlfile.Table, key string, need tomlfile.Need) (s quantity.Size) {
	text, ok := t.Text(key, need, "a size with its unit, such as \"1 GB\" or \"700 MiB\"")
	if !ok {
		return s
	}
	s, err := quantity.ParseSize(text)
	if err != nil {
		t.Report(key, tomlfile.Renamed(err, key))
	}
	return s
}

func readSeconds(t *tomlfile.Table, need tomlfile.Need) quantity.Decimal {
	d, _ := t.PositiveIn("seconds", need, &quantity.Seconds, maxTime, "a time in seconds")
	return d
}

func readDirection(t *tomlfile.Table) bands.Direction {
	switch s, _ := t.Choice("direction", "down", "up", "downlink", "uplink", "dl", "ul"); s {
	case "down", "downlink", "dl":
		return bands.Downlink
	case "up", "uplink", "ul":
		return bands.Uplink
	}
	return 0
}
