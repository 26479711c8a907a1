package configs

import (
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// UsualLimit is how many configurations text shows if no limit is given.
const UsualLimit = 14

// configFilter are the flags that narrow the search. Every one that is set must
// hold.
type configFilter struct {
	with, without   bandListFlag
	only            bool
	kinds           kindListFlag
	atLeast, atMost countFlag
	width           totalFlag
	uplink          uplinkFlag
	free            bool
	widths          bool
	limit           countFlag
}

func newConfigFilter() *configFilter { return &configFilter{limit: countFlag{value: UsualLimit}} }

func (f *configFilter) add(set *pflag.FlagSet) {
	set.Var(&f.with, "with", "configurations that have all these bands")
	set.BoolVar(&f.only, "only", false, "no bands but those of --with")
	set.Var(&f.without, "without", "configurations that have none of these bands")
	set.Var(&f.kinds, "kind", "kinds of configurations: "+strings.Join(KindNames(), ", "))
	set.Var(&f.atLeast, "at-least", "least number of downlink carriers")
	set.Var(&f.atMost, "at-most", "greatest number of downlink carriers")
	set.Var(&f.width, "dl-mhz", "least total of downlink channel bandwidths that a set allows")
	set.Var(&f.uplink, "uplink", "configurations that allow this uplink")
	set.BoolVar(&f.free, "free-of-interference", false, "no product of its uplinks, up to order 5, can fall on its downlinks, at any width and place")
	set.BoolVar(&f.widths, "widths", false, "list the channel bandwidths of every set")
	set.Var(&f.limit, "limit", "how many to list; text and Markdown list "+strconv.Itoa(UsualLimit)+", JSON and CSV all")
}

// given tells whether any flag narrows the search.
func (f *configFilter) given() bool {
	return len(f.with.list) > 0 || len(f.without.list) > 0 || len(f.kinds.list) > 0 || f.atLeast.IsSet || f.atMost.IsSet || f.width.IsSet || f.free || !f.uplink.name.IsZero()
}

func (f *configFilter) query() (ca.Query, error) {
	if f.only && len(f.with.list) == 0 {
		return ca.Query{}, command.At("--only", command.Absent("bands", "the bands that --with lists, beside it"))
	}
	if f.atLeast.IsSet && f.atMost.IsSet && f.atMost.value < f.atLeast.value {
		return ca.Query{}, command.At("--at-most", &bands.ValueError{Param: "number of carriers", Got: f.atMost.String(), Allowed: "at least the " + f.atLeast.String() + " of --at-least"})
	}
	for _, id := range f.without.list {
		if slices.Contains(f.with.list, id) {
			return ca.Query{}, command.At("--without", &bands.ValueError{Param: "band", Got: id.String(), Allowed: "bands other than those of --with"})
		}
	}
	return ca.Query{
		With:        f.with.list,
		Only:        f.only,
		Without:     f.without.list,
		Kinds:       f.kinds.list,
		MinCarriers: f.atLeast.value,
		MaxCarriers: f.atMost.value,
		MinDL:       f.width.Value,
		Uplink:      f.uplink.name,

		FreeOfInterference: f.free,
	}, nil
}

// bandListFlag is a flag that takes bands with commas between them. It may be given
// several times.
type bandListFlag struct{ list []bands.ID }

// Set implements pflag.Value.
func (f *bandListFlag) Set(s string) error {
	for word := range strings.SplitSeq(s, ",") {
		if _, err := bands.ParseID(spectrum.BandText(word)); err != nil {
			return &bands.ValueError{Param: "band", Got: word, Allowed: f.Allowed(), Nearest: spectrum.NearestID(word)}
		}
		b, err := spectrum.ParseBand(word)
		if err != nil {
			return spectrum.UnknownBand(word)
		}
		if !slices.Contains(f.list, b.ID) {
			f.list = append(f.list, b.ID)
		}
	}
	return nil
}

// Allowed implements valued.
func (*bandListFlag) Allowed() string { return "bands with commas between them, such as n78,3" }

// String implements pflag.Value.
func (f *bandListFlag) String() string {
	words := make([]string, len(f.list))
	for i, id := range f.list {
		words[i] = id.String()
	}
	return strings.Join(words, ",")
}

// Type implements pflag.Value.
func (*bandListFlag) Type() string { return "BANDS" }

// OffersMore offers bands for the last of the list.
func (*bandListFlag) OffersMore(word string) []string {
	before := word[:strings.LastIndexByte(word, ',')+1]
	all := spectrum.Offered()
	for i := range all {
		all[i] = before + all[i]
	}
	return all
}

// searchedKinds are the kinds that the lists have.
var searchedKinds = []ca.Kind{ca.KindLTECA, ca.KindNRCA, ca.KindENDC, ca.KindNEDC, ca.KindNRDC, ca.KindSUL}

func KindNames() []string {
	names := make([]string, len(searchedKinds))
	for i, k := range searchedKinds {
		names[i] = k.String()
	}
	return names
}

// Offers is what a shell may offer for the value.
func (*kindListFlag) Offers(string) []string { return KindNames() }

// kindListFlag is a flag that takes kinds of configurations with commas between
// them. It may be given several times.
type kindListFlag struct{ list []ca.Kind }

// Set implements pflag.Value.
func (f *kindListFlag) Set(s string) error {
	for word := range strings.SplitSeq(s, ",") {
		i := slices.IndexFunc(KindNames(), func(name string) bool { return strings.EqualFold(name, strings.TrimSpace(word)) })
		if i < 0 {
			return &bands.ValueError{Param: "kind of configuration", Got: word, Allowed: f.Allowed(), Nearest: words.Nearest(word, KindNames())}
		}
		if !slices.Contains(f.list, searchedKinds[i]) {
			f.list = append(f.list, searchedKinds[i])
		}
	}
	return nil
}

// Allowed implements valued.
func (*kindListFlag) Allowed() string { return words.Or(KindNames()) }

// String implements pflag.Value.
func (f *kindListFlag) String() string {
	words := make([]string, len(f.list))
	for i, k := range f.list {
		words[i] = k.String()
	}
	return strings.Join(words, ",")
}

// Type implements pflag.Value.
func (*kindListFlag) Type() string { return "KIND" }

// mostCounted bounds what a count may be: more than there is to count.
const mostCounted = 1_000_000

// countFlag is a flag that takes a whole number from 1.
type countFlag struct {
	value int
	IsSet bool
}

// Set implements pflag.Value.
func (f *countFlag) Set(s string) error {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > mostCounted {
		return &bands.ValueError{Param: "number", Got: s, Allowed: f.Allowed()}
	}
	f.value, f.IsSet = n, true
	return nil
}

// Allowed implements valued.
func (*countFlag) Allowed() string { return "a whole number from 1" }

// String implements pflag.Value.
func (f *countFlag) String() string {
	if !f.IsSet {
		return ""
	}
	return strconv.Itoa(f.value)
}

// Type implements pflag.Value.
func (*countFlag) Type() string { return "N" }

// totalFlag is a flag that takes a total of channel bandwidths.
type totalFlag struct{ flags.Width }

// Set implements pflag.Value.
func (f *totalFlag) Set(s string) error {
	err := f.Width.Set(s)
	if e, ok := err.(*bands.ValueError); ok && e.Param == "channel bandwidth" {
		better := *e
		better.Param = "total bandwidth"
		if better.Allowed == f.Width.Allowed() {
			better.Allowed = f.Allowed()
		}
		return &better
	}
	return err
}

// Allowed implements valued.
func (*totalFlag) Allowed() string { return "megahertz, such as 200" }

// uplinkFlag is a flag that takes an uplink configuration, or a band for one carrier
// in it.
type uplinkFlag struct{ name ca.Name }

// Set implements pflag.Value.
func (f *uplinkFlag) Set(s string) error {
	text := s
	if id, err := bands.ParseID(spectrum.BandText(s)); err == nil {
		text = id.InName() + "A"
	}
	n, err := ca.ParseName(text)
	if err != nil {
		return err
	}
	f.name = n
	return nil
}

// Allowed implements valued.
func (*uplinkFlag) Allowed() string {
	return "an uplink such as CA_n3A-n78A, DC_3A_n78A, or n78 for one carrier"
}

// String implements pflag.Value.
func (f *uplinkFlag) String() string { return f.name.String() }

// Type implements pflag.Value.
func (*uplinkFlag) Type() string { return "NAME" }
