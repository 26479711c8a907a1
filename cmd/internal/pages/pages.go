package pages

import (
	"html/template"
	"net/url"
	"sync"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/holdings"
	"spectally/cmd/internal/imports"
	"spectally/cmd/internal/logform"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
	"spectally/cmd/internal/walkmodel"
)

// page is one page of the site: a form, the command that answers it, and how the
// answer is shown.
type page struct {
	path, command string
	name          string // in the menu
	title, lead   string
	fields        []field
	// samples are queries to start from.
	samples []sample
	// open tells that there is an answer before anything is asked.
	open bool
	// takes is what the page reads beside its fields; nil for most.
	takes *document
	// form is how the document can be filled in; nil where it is a text alone.
	form *logform.File
	book func() template.HTML // writes it once
	// carriers tells that the form has carriers in rows.
	carriers bool
	// answer answers in place of a command; nil for most.
	answer func(s *Site, q *query) (*render.Answer, error)
	// aide answers scripts of other pages, in JSON; nil for most. What it is sent may be of
	// any kind.
	aide func(s *Site, values url.Values, sent []byte) any
	// mend puts right what was typed where one reading alone is possible; nil for most.
	mend func(q *query)
	// next are the pages that go on with what was asked; nil for most.
	next func(q *query) []link
	// add puts more blocks to those of the command; nil for most.
	add func(s *Site, q *query, a *render.Answer) []render.Block
}

// sample is an example of a query.
type sample struct{ query, text string }

func pages() []*page {
	list := []*page{
		{path: "/", title: "Which spectrum, and what it can yield",
			lead:   "Answers come from the tables of 3GPP, which are built in. Each names the table or clause it rests on, and its address holds all that was asked: keep it or send it.",
			fields: askFields()},
		askPage(),
		carriersPage(),
		throughputPage(),
		interferencePage(),
		bandsPage(),
		channelPage(),
		configsPage(),
		claimPage(),
		fieldPage(),
		importPage(),
		sitePage(),
		walkPage(),
		holdingsPage(),
		{path: "/sources", command: "sources", name: "Tables", title: "Tables of the standards",
			lead:   "Every table behind the answers, with its specification and version.",
			fields: []field{{name: "spec", label: "Specification", hint: "such as TS 38.101-1; all of them if empty", whole: true}},
			open:   true},
		{path: "/form", title: "Form", aide: formAide},
		{path: "/logbook", title: "Logbook", aide: logbookAide},
	}
	for _, p := range list {
		if p.command != "" {
			p.fields = append(p.fields, explainField)
		}
		if p.form != nil {
			p.book = sync.OnceValue(p.writeBook)
		}
		if p.carriers {
			p.mend = mendCarriers
		}
	}
	return list
}

func carriersPage() *page {
	return &page{path: "/ca", command: "ca", name: "Carriers", title: "Carriers together",
		lead:     "Whether carriers may serve one UE together, under which configuration of the standard, how many megahertz they are, and what they can yield at most.",
		carriers: true, next: carriersNext("/ca"),
		fields: []field{{name: carriersName, label: "Carriers, or a name of the standard", hint: "B3:20 + n78:80@640000, or CA_3A-7A", sample: "B3:20 + n78:80", wide: true}},
		samples: []sample{
			{"carriers=B3:20 + n78:80@640000", "LTE with NR"},
			{"carriers=n78:100@630000 + n78:100@636664", "two neighbours"},
			{"carriers=B1:20 + B3:20 + B7:20", "three LTE carriers"},
			{"carriers=DC_3A-7A_n78A", "a name of the standard"},
		},
		add: carrierBlocks,
	}
}

func throughputPage() *page {
	return &page{path: "/throughput", command: "throughput", name: "Rates", title: "Peak rates",
		carriers: true, next: carriersNext("/throughput"),
		lead: "The standard's maximum, the most a network can schedule, and what a signal supports: three figures that are not the same.",
		fields: []field{
			{name: carriersName, label: "Carriers, or a name of the standard", hint: "as for carriers together; qam=, layers=, pattern=, sinr= and rsrp= may stand behind each", sample: "B3:20 + n78:100,layers=4", wide: true},
			{name: "pattern", flag: "--pattern", label: "TDD pattern", hint: "DDDSU/10:2:2 for NR, 2/7 for LTE"},
			{name: "layers", flag: "--layers", label: "Layers, downlink"},
			{name: "qam", flag: "--qam", label: "Constellation, downlink", hint: "4, 16, 64, 256 or 1024"},
			{name: "ullayers", flag: "--ullayers", label: "Layers, uplink"},
			{name: "ulqam", flag: "--ulqam", label: "Constellation, uplink"},
			{name: "sinr", flag: "--sinr", label: "SINR in dB", hint: "for the expected rate"},
			{name: "noise-figure", flag: "--noise-figure", label: "Noise figure in dB", hint: "for rsrp= without sinr=", extra: true},
			{name: "control-symbols", flag: "--control-symbols", label: "Control symbols", hint: "0 to 4, at the start of a slot", extra: true},
			{name: "dmrs", flag: "--dmrs", label: "Reference signals of NR", hint: "type=1,length=1,pos=1,mapping=A,groups=2", extra: true},
			{name: "xoverhead", flag: "--xoverhead", sort: choice, label: "xOverhead of NR", options: options("as by default", "0", "6", "12", "18"), extra: true},
			{name: "no-broadcast", flag: "--no-broadcast", sort: check, label: "No broadcast", hint: "leave no slots to synchronisation and broadcast", extra: true},
			{name: "goodput", flag: "--goodput", sort: check, label: "Goodput", hint: "what is left for IP packets and TCP payload", extra: true},
		},
		samples: []sample{
			{"carriers=n78:100,layers=4,qam=256", "one carrier"},
			{"carriers=B3:20 + B7:20 + n78:100&pattern=7DS2U/6:4:4", "LTE with NR, and a TDD pattern"},
			{"carriers=B3:20,sinr=14 + n78:80,sinr=9", "what a signal supports"},
		},
	}
}

func interferencePage() *page {
	return &page{path: "/interference", command: "interference", name: "Interference", title: "Self-interference",
		carriers: true, next: carriersNext("/interference"),
		lead: "Where the harmonics and the intermodulation of a UE's uplinks fall, which of its downlinks they hit, what the standard allows to be lost there, and what avoids it.",
		fields: []field{
			{name: carriersName, label: "Carriers, bands, or a name of the standard", hint: "B3:20@1500 + n78:100@636666, B3 + n78, or DC_3A_n78A; ul=1 behind each that transmits", sample: "B3:20@1500 + n78:100@636666", wide: true},
			{name: "power-class", flag: "--power-class", sort: choice, label: "Power class of the UE", options: options("3", "2", "1.5", "1", "5")},
			{name: "order", flag: "--order", label: "Highest order of intermodulation", hint: "2 to 9; 5 if empty"},
			{name: "all", flag: "--all", sort: check, label: "Misses too", extra: true},
		},
		samples: []sample{{"carriers=B3:20@1500 + n78:100@636666", "two carriers at their places"}, {"carriers=B3 + n78", "anything in two bands"}, {"carriers=DC_1A-3A_n78A", "a name of the standard"}},
	}
}

func bandsPage() *page {
	return &page{path: "/bands", command: "bands", name: "Bands", title: "Operating bands",
		lead: "Bands of LTE and NR by number, by what the trade calls them, by frequency or by channel number.",
		open: true, add: bandBlocks, next: bandNext,
		fields: []field{
			{name: "find", label: "Find", hint: "n78, B3, C-band, 3540 MHz; several with blanks between them", sample: "n78", wide: true},
			{name: "channel", flag: "--channel", label: "Channel number", hint: "NR-ARFCN or EARFCN"},
			{name: "at", flag: "--at", label: "Frequency", hint: "3540 MHz"},
			{name: "rat", flag: "--rat", sort: choice, label: "Technology", options: options("either", "LTE", "NR")},
			{name: "duplex", flag: "--duplex", sort: choice, label: "Duplex mode", options: options("any", "FDD", "TDD", "SDL", "SUL", "SDO")},
			{name: "range", flag: "--range", sort: choice, label: "Frequency range", options: options("any", "FR1", "FR2", "FR2-1", "FR2-2", "FR1-NTN", "FR2-NTN"), extra: true},
			{name: "width", flag: "--width", label: "Has the width, MHz", extra: true},
			{name: "name", flag: "--name", label: "Called", hint: "a name of the trade, such as AWS", extra: true},
		},
		samples: []sample{{"find=n78", "one band"}, {"find=3540 MHz", "by frequency"}, {"channel=640000&rat=NR", "by channel number"}, {"rat=NR&duplex=TDD", "TDD bands of NR"}},
	}
}

func channelPage() *page {
	return &page{path: "/channel", command: "channel", name: "Channels", title: "Channel numbers and frequencies",
		mend: mendChannel,
		lead: "Where a channel number lies, which number a frequency has, whether it is on the raster, and with a width the edges and guard bands.",
		fields: []field{
			{name: "band", label: "Band", hint: "n78 or B3", sample: "n78"},
			{name: "place", label: "Channel number or frequency", hint: "640000 or 3600 MHz", sample: "640000"},
			{name: "width", flag: "--width", label: "Width, MHz"},
			{name: "scs", flag: "--scs", sort: choice, label: "Subcarrier spacing, kHz", options: options("as by default", "15", "30", "60", "120", "480", "960")},
			{name: "gscn", flag: "--gscn", sort: check, label: "Synchronisation raster", hint: "where a UE may find the cell; the number may be a GSCN"},
			{name: "ssb", flag: "--ssb", sort: check, label: "It is the SS/PBCH block's", hint: "where can a carrier of the width lie"},
			{name: "within", flag: "--within", label: "Block of spectrum, MHz", hint: "3560-3660, beside the SS/PBCH block", extra: true},
		},
		samples: []sample{{"band=n78&place=640000", "a channel number"}, {"band=B3&place=1842.5 MHz&width=20", "a frequency, and the edges"}, {"band=n78&place=3600 MHz&width=40&scs=30&gscn=yes", "the synchronisation raster"}},
	}
}

func configsPage() *page {
	return &page{path: "/configs", command: "configs", name: "Configurations", title: "Listed configurations",
		lead: "The configurations of carrier aggregation and dual connectivity that the standard lists, those with the widest downlink first.",
		open: true, next: configurationNext,
		fields: []field{
			{name: "names", label: "Name", hint: "CA_n3A-n78C shows it in full", sample: "CA_n3A-n78C"},
			{name: "with", flag: "--with", label: "With the bands", hint: "n78,3"},
			{name: "only", flag: "--only", sort: check, label: "No other bands"},
			{name: "without", flag: "--without", label: "Without the bands"},
			{name: "kind", flag: "--kind", sort: choice, label: "Kind", options: options("any", "lte-ca", "nr-ca", "en-dc", "ne-dc", "nr-dc", "sul")},
			{name: "at-least", flag: "--at-least", label: "Carriers, at least"},
			{name: "at-most", flag: "--at-most", label: "Carriers, at most"},
			{name: "dl-mhz", flag: "--dl-mhz", label: "Downlink MHz, at least", extra: true},
			{name: "uplink", flag: "--uplink", label: "Allows the uplink", hint: "CA_n3A-n78A, or n78", extra: true},
			{name: "free-of-interference", flag: "--free-of-interference", sort: check, label: "Free of self-interference", hint: "no product of its uplinks can fall on its downlinks", extra: true},
			{name: "widths", flag: "--widths", sort: check, label: "Widths", hint: "the channel bandwidths of every set", extra: true},
			{name: "limit", flag: "--limit", label: "How many", hint: "40 if empty", extra: true},
		},
		samples: []sample{{"names=CA_n3A-n78C", "one in full"}, {"with=n78,3&kind=en-dc&at-most=3", "of two bands"}, {"with=n3,n28,n78&only=yes&widths=yes", "these bands alone"}},
	}
}

func claimPage() *page {
	return &page{path: "/claim", command: "claim", name: "Claims", title: "Judge a statement",
		carriers: true, next: carriersNext("/claim"),
		lead: "Whether a published figure holds, under which reading, and why. One kind of figure at a time, with the digits it was stated with.",
		fields: []field{
			{name: "text", flag: "--text", label: "The statement", hint: "as it was published; may be left out", wide: true},
			{name: carriersName, flag: "--carriers", label: "Carriers it is about", hint: "B3:20 + n78:80, or a name of the standard", wide: true},
			{name: "total-mhz", flag: "--total-mhz", label: "Total bandwidth, MHz"},
			{name: "as", flag: "--as", sort: choice, label: "Reading", options: options("the usual one", "downlink", "uplink", "both", "occupied", "equivalent", "lte", "nr", "network")},
			{name: "count", flag: "--count", label: "Number of carriers"},
			{name: "rate", flag: "--rate", label: "Rate, Mbit/s", hint: "a peak rate, also as 1.2 Gbit/s; beside a transfer or a share, the rate it is said of"},
			{name: "measured", flag: "--measured", sort: check, label: "Rate was measured"},
			{name: "transfer", flag: "--transfer", label: "Size of a transfer", hint: "1 GB"},
			{name: "in", flag: "--in", label: "took seconds"},
			{name: "share", flag: "--share", label: "Share of the peak, %"},
			{name: "idle-ms", flag: "--idle-ms", label: "Idle latency, ms"},
			{name: "loaded-ms", flag: "--loaded-ms", label: "Latency under load, ms"},
			{name: "round-trips", flag: "--round-trips", label: "Round trips a minute"},
			{name: "same-site", flag: "--same-site", sort: check, label: "All from one site"},
			{name: "about", flag: "--about", sort: check, label: "Rough figures", hint: "stated as “about”"},
			{name: "direction", flag: "--direction", sort: choice, label: "Direction", options: []option{{"", "downlink, if not given"}, {"dl", "downlink"}, {"ul", "uplink"}}},
			{name: "than", flag: "--than", label: "Compared with", hint: "other carriers, 100MHz or 500Mbit/s", wide: true, extra: true},
			{name: "by", flag: "--by", sort: choice, label: "Compared by", options: options("bandwidth, if not given", "bandwidth", "rate", "measured"), extra: true},
			{name: "times", flag: "--times", label: "Times as much", extra: true},
			{name: "percent-more", flag: "--percent-more", label: "Per cent more", extra: true},
			{name: "alike", flag: "--alike", sort: check, label: "Both sides alike in layers, modulation, pattern", extra: true},
			{name: "more-than", flag: "--more-than", sort: check, label: "More than the figure or the other", extra: true},
			{name: "at-least", flag: "--at-least", sort: check, label: "At least as much", extra: true},
			{name: "less-than", flag: "--less-than", sort: check, label: "Less than it", extra: true},
			{name: "at-most", flag: "--at-most", sort: check, label: "At most as much", extra: true},
			{name: "of", flag: "--of", sort: choice, label: "Share of", options: options("the peak rate", "lte", "nr"), extra: true},
			{name: "bps-hz", flag: "--bps-hz", label: "Spectral efficiency, bit/s/Hz", extra: true},
			{name: "distance", flag: "--distance", label: "Distance at which the rate is had", hint: "5 km", extra: true},
			{name: "runs", flag: "--runs", label: "Measured rates, Mbit/s", hint: "612,588,640; 12@5.2km adds the distance", extra: true},
			{name: "idle-runs", flag: "--idle-runs", label: "Measured idle latency, ms", extra: true},
			{name: "loaded-runs", flag: "--loaded-runs", label: "Measured latency under load, ms", extra: true},
		},
		samples: []sample{
			{"carriers=B3:20 + n78:80&total-mhz=100", "a total, under each of its meanings"},
			{"carriers=B3:20 + n78:80&rate=2000", "a peak rate"},
			{"rate=600&transfer=1 GB&in=13.3", "the time of a transfer"},
			{"idle-ms=15&idle-runs=14,15,16", "a latency"},
		},
	}
}

// documentSamples are those of every page that reads a document.
var documentSamples = []sample{
	{demoName + "=" + checked, "an example in an invented place"},
	{templateName + "=" + checked, "one to fill in"},
}

func fieldPage() *page {
	return &page{path: "/field", command: "field", name: "Field log", title: "Report of a field log",
		lead:    "What was measured against what was possible: networks compared, cells grouped, claims judged.",
		form:    logform.FieldLog,
		takes:   &document{name: "log", label: "Field log", file: "log.toml", demo: fieldlog.Demo, template: fieldlog.Template},
		samples: documentSamples,
	}
}

func importPage() *page {
	return &page{path: "/import", command: "import", name: "Import", title: "Read what phones and tools print",
		lead: "Carriers, levels and tests out of a phone's telephony dump, a modem manager, a throughput test, a ping, a transfer or CSV, as notation and as tables of a field log. Identities of subscriber, device and network are never read.",
		fields: []field{
			{name: "map", flag: "--map", label: "Column of CSV", hint: "down=speed:kbit/s; one column here, more on the command line"},
			{name: "loaded", flag: "--loaded", sort: choice, label: "A ping ran under", options: []option{{"", "no load"}, {"down", "a download"}, {"up", "an upload"}}},
		},
		takes:   &document{name: "dump", label: "What was printed", file: "dump.txt", form: "Text.", demo: imports.Demo, template: imports.Demo},
		samples: documentSamples[:1],
	}
}

func sitePage() *page {
	return &page{path: "/site", command: "site", name: "Site plan", title: "What a site can carry",
		lead:  "Peaks, the busy hour, users, data and backhaul of each sector and of the site, what limits them, and what would add most. A planning estimate, no licence to transmit and no assessment of safety.",
		form:  logform.SitePlan,
		takes: &document{name: "plan", label: "Site plan", file: "plan.toml", demo: siteplan.Demo, template: siteplan.Template},
		fields: []field{
			{name: "setting", flag: "--set", label: "Beside the plan with", hint: "sector.town.carriers=n78:100, or load_percent=90", wide: true, extra: true},
		},
		samples: documentSamples,
	}
}

func holdingsPage() *page {
	return &page{path: "/holdings", command: "holdings", name: "Holdings", title: "From blocks of spectrum to carriers",
		lead:  "What fits inside blocks of spectrum, to the hertz, and the best that one phone can aggregate of it. A holding is no licence to transmit.",
		form:  logform.Holdings,
		takes: &document{name: "held", label: "Networks and their blocks", file: "held.toml", demo: holdings.Demo, template: holdings.Template},
		fields: []field{
			{name: "blocks", label: "Blocks", hint: "1805-1825/1710-1730, 3410-3500: downlink before uplink, in MHz", sample: "1805-1825/1710-1730, 3410-3500", wide: true, whole: true},
			{name: "full", flag: "--full", sort: check, label: "Everything", hint: "every band, layout and aim, a picture, and what more spectrum would add"},
			{name: "carriers", flag: "--carriers", label: "Carriers, at most"},
			{name: "width", flag: "--width", label: "Downlink MHz, at most"},
			{name: "tolerance", flag: "--tolerance", label: "Beyond an edge", hint: "10kHz, where the raster has no place inside"},
			{name: "layers", flag: "--layers", label: "Layers, downlink", extra: true},
			{name: "pattern", flag: "--pattern", label: "TDD pattern of NR", extra: true},
		},
		samples: append([]sample{{"blocks=1805-1825/1710-1730, 3410-3500, 758-768/703-713", "three blocks"}, {"demo=yes&full=yes", "a country, with a picture"}}, documentSamples...),
	}
}

func walkPage() *page {
	return &page{path: "/walk", command: "walk", name: "Walk", title: "What a walk or a drive shows",
		lead: "Distributions of level, quality, rate and latency; how far a level reaches; cell changes and gaps, out of samples as CSV or JSON lines, up to a megabyte of them: the command line takes any size. Never read a phone while driving.",
		fields: []field{
			{name: "at-site", flag: "--site", label: "Site", hint: "latitude,longitude, or x,y in metres such as 1200,350m; needs no distance_m then"},
			{name: "level", flag: "--level", label: "Reach of the level, dBm", hint: "-110"},
			{name: "pci", flag: "--pci", label: "Cells of the site", hint: "identities such as 417,418; all if empty"},
			{name: "map", flag: "--map", label: "Column of another name", hint: "rsrp=signal or down=rate:kbit/s; one column here, more on the command line", extra: true},
			{name: "gap-level", flag: "--gap-level", label: "No coverage below, dBm", extra: true},
			{name: "ping-pong", flag: "--ping-pong", label: "Ping-pong within", hint: "10s", extra: true},
			{name: "pause", flag: "--pause", label: "Samples are missing after", hint: "1m", extra: true},
			{name: "full", flag: "--full", sort: check, label: "All as plain text", hint: "as text, in place of a screen of it", extra: true},
		},
		takes:   &document{name: "samples", label: "Samples", file: "walk.csv", form: "CSV with a header, or JSON lines.", demo: walkmodel.Example, template: walkmodel.Example},
		samples: documentSamples[:1],
	}
}
