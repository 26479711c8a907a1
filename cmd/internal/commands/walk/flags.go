package walk

import (
	"strconv"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/geodesic"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
	"spectally/cmd/internal/walkmodel"
)

// flags are the flags of the command.
type flags struct {
	mapping                     samples.Map
	track                       string
	trackLimit, pingPong, pause timeFlag
	site                        siteFlag
	pci                         pciFlag
	levels                      levelsFlag
	gap                         levelsFlag
	demo, geojson               bool
}

func newFlags(set *pflag.FlagSet) *flags {
	f := &flags{mapping: samples.Map{}, trackLimit: timeFlag(walk.DefaultTrackLimit), pingPong: timeFlag(walk.DefaultPingPong), pause: timeFlag(walk.DefaultPause), gap: levelsFlag{most: 1}, levels: levelsFlag{most: 10}}
	set.Var(f.mapping, "map", "read a field from a column of another name, with its unit if that is not the usual one (m, km; Mbit/s, kbit/s, bit/s, Gbit/s; ms, s, us); may be repeated")
	set.StringVar(&f.track, "track", "", "take places from the GPX 1.1 track of a `FILE`, by time")
	set.Var(&f.trackLimit, "track-limit", "the longest time between two track points that a place is interpolated over")
	set.Var(&f.site, "site", "where the antennas are: latitude and longitude, or x and y in metres, as the samples have them")
	set.Var(&f.pci, "pci", "the identities of the site's cells; the others are no part of the fit")
	set.Var(&f.levels, "level", "an RSRP in dBm whose reach is asked for; may be repeated")
	set.Var(&f.pingPong, "ping-pong", "the time within which a change back to the cell before is ping-pong")
	set.Var(&f.gap, "gap-level", "the RSRP in dBm below which there is no coverage, -125 if not given")
	set.Var(&f.pause, "pause", "the time between two samples from which on samples are missing")
	set.BoolVar(&f.demo, "demo", false, "answer for an invented walk past an invented site")
	set.BoolVar(&f.geojson, "geojson", false, "write GeoJSON for a map (RFC 7946) in place of a report")
	return f
}

// settings are what the flags ask for.
func (f *flags) settings(files Files) (s walk.Settings, err error) {
	s = walk.Settings{Site: f.site.place, Cells: f.pci.list, Levels: f.levels.list, PingPong: time.Duration(f.pingPong), Pause: time.Duration(f.pause), TrackLimit: time.Duration(f.trackLimit)}
	if f.demo && s.Site.Kind == samples.Nowhere {
		s.Site = samples.Place{Kind: samples.Geographic, A: walkmodel.Site.Lat, B: walkmodel.Site.Lon}
	}
	if len(f.gap.list) > 0 {
		s.GapLevel = f.gap.list[0]
	}
	if f.track != "" {
		s.Track, err = openTrack(files, f.track)
	}
	return s, err
}

// siteFlag is a place: degrees, or metres with a unit.
type siteFlag struct {
	text  string
	place samples.Place
}

// Set implements pflag.Value.
func (f *siteFlag) Set(s string) error {
	kind, text := samples.Geographic, s
	if metres, ok := strings.CutSuffix(strings.TrimSpace(s), "m"); ok {
		kind, text = samples.Planar, metres
	}
	first, second, ok := strings.Cut(text, ",")
	a, errA := strconv.ParseFloat(strings.TrimSpace(first), 64)
	b, errB := strconv.ParseFloat(strings.TrimSpace(second), 64)
	const farthest = 1e7
	inside := a >= -farthest && a <= farthest && b >= -farthest && b <= farthest // also no number is not
	if !ok || errA != nil || errB != nil || !inside || kind == samples.Geographic && !(geodesic.Point{Lat: a, Lon: b}).Valid() {
		return &bands.ValueError{Param: "site", Got: s, Allowed: f.Allowed()}
	}
	f.text, f.place = s, samples.Place{Kind: kind, A: a, B: b}
	return nil
}

// Allowed says what the flag takes.
func (*siteFlag) Allowed() string {
	return "latitude,longitude in degrees such as 31.5,-41.25, or easting,northing in metres such as 1200,350m"
}

// String implements pflag.Value.
func (f *siteFlag) String() string { return f.text }

// Type implements pflag.Value.
func (*siteFlag) Type() string { return "LAT,LON|X,Ym" }

// pciFlag is a list of cell identities.
type pciFlag struct{ list []int32 }

// Set implements pflag.Value.
func (f *pciFlag) Set(s string) error {
	for word := range strings.SplitSeq(s, ",") {
		n, err := strconv.ParseUint(strings.TrimSpace(word), 10, 16)
		if err != nil || int32(n) > samples.HighestPCI(bands.NR) {
			return &bands.ValueError{Param: "PCI", Got: word, Allowed: f.Allowed()}
		}
		f.list = append(f.list, int32(n))
	}
	return nil
}

// Allowed says what the flag takes.
func (*pciFlag) Allowed() string { return "numbers from 0 to 1007, such as 417,418" }

// String implements pflag.Value.
func (f *pciFlag) String() string {
	words := make([]string, len(f.list))
	for i, n := range f.list {
		words[i] = strconv.Itoa(int(n))
	}
	return strings.Join(words, ",")
}

// Type implements pflag.Value.
func (*pciFlag) Type() string { return "PCI,…" }

// levelsFlag are levels in hundredths of a dBm.
type levelsFlag struct {
	list []int16
	most int
}

// Set implements pflag.Value.
func (f *levelsFlag) Set(s string) error {
	x, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(s), "dBm"), 64)
	low, high := float64(samples.LowestRSRP)/100, float64(samples.HighestRSRP)/100
	if err != nil || !(x >= low && x <= high) {
		return &bands.ValueError{Param: "level", Got: s, Allowed: f.Allowed()}
	}
	if len(f.list) == f.most {
		return &bands.ValueError{Param: "level", Got: s, Allowed: "at most " + strconv.Itoa(f.most)}
	}
	if x < 0 {
		f.list = append(f.list, int16(x*100-0.5))
	}
	return nil
}

// Allowed says what the flag takes.
func (*levelsFlag) Allowed() string { return "dBm from -156 to -31, such as -110" }

// String implements pflag.Value.
func (f *levelsFlag) String() string {
	words := make([]string, len(f.list))
	for i, n := range f.list {
		words[i] = strconv.FormatFloat(float64(n)/100, 'f', -1, 64)
	}
	return strings.Join(words, " ")
}

// Type implements pflag.Value.
func (*levelsFlag) Type() string { return "dBm" }

// timeFlag is a length of time.
type timeFlag time.Duration

// Set implements pflag.Value.
func (t *timeFlag) Set(s string) error {
	d, err := time.ParseDuration(s)
	if err != nil || d <= 0 {
		return &bands.ValueError{Param: "time", Got: s, Allowed: t.Allowed()}
	}
	*t = timeFlag(d)
	return nil
}

// Allowed says what the flag takes.
func (*timeFlag) Allowed() string { return "a time above zero with its unit, such as 10s or 2m" }

// String implements pflag.Value.
func (t *timeFlag) String() string { return time.Duration(*t).String() }

// Type implements pflag.Value.
func (*timeFlag) Type() string { return "TIME" }
