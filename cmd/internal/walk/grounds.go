package walk

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/words"
	"spectally/throughput"
)

// grounds gather what the figures rest on.
type grounds struct {
	cells     int
	merged    bool // cells beyond the bound
	distances bool
	expected  bool
	several   bool            // carriers at once
	above     int             // rates above the maximum of what is assumed of the carriers
	aboveOf   string          // the first of those carriers
	noted     map[string]bool // combinations of carriers
	texts     map[string]bool // what their rates assume
}

// Bounds of what is looked at: combinations, and assumptions about their rates.
const (
	mostNoted = 200
	mostTexts = 30
)

// note takes note of what a sample's rates rest on.
func (g *grounds) note(s *samples.Sample) {
	if s.Down == samples.Missing || s.Serving == nil {
		return
	}
	if most := s.Serving.Max(); most > 0 && int64(s.Down) > most {
		if g.above++; g.above == 1 {
			g.aboveOf = s.Serving.Text
		}
	}
	if g.noted[s.Serving.Text] || len(g.noted) >= mostNoted {
		return
	}
	if g.texts == nil {
		g.noted, g.texts = map[string]bool{}, map[string]bool{}
	}
	g.noted[s.Serving.Text] = true
	result := s.Serving.Result()
	if result == nil {
		return
	}
	for _, a := range assumed.Statements(result.Assumptions()) {
		if len(g.texts) < mostTexts {
			g.texts[a.String()] = true
		}
	}
	g.several = g.several || len(s.Serving.Carriers) > 1
}

// assumptions lists what was assumed.
func (c *Collector) assumptions() []string {
	set, g := &c.set, &c.grounds
	list := []string{
		"no coverage: no cell, or RSRP below " + hundredths(set.GapLevel) + " dBm (common practice)",
		"samples more than " + set.Pause.String() + " apart leave a gap (common practice)",
		"ping-pong: back on the cell left at most " + set.PingPong.String() + " before (common practice)",
	}
	if set.Track != nil {
		list = append(list, "places from the track: interpolated between track points at most "+set.TrackLimit.String()+" apart")
	}
	if g.distances {
		if len(set.Cells) == 0 {
			list = append(list, "all cells stand on the site that distances are from; --pci names those that do")
		} else {
			list = append(list, "the cells with PCI "+integers(set.Cells)+" alone stand on the site")
		}
	}
	if g.expected && g.several {
		list = append(list, "carriers without a SINR of their own have that of the serving cell")
	}
	if g.merged {
		list = append(list, "beyond "+strconv.Itoa(mostCells)+" cells those of a band are taken together")
	}
	list = append(list, "a percentile is a sample: of an even number, the median is the lower of the middle two (a field log takes their mean)")
	var texts []string
	for text := range g.texts {
		texts = append(texts, text)
	}
	slices.Sort(texts)
	return append(list, texts...)
}

func integers(list []int32) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(int(n))
	}
	return strings.Join(words, ", ")
}

func hundredths(level int16) string {
	return strconv.FormatFloat(float64(level)/hundredth, 'f', -1, 64)
}

// notes say what the samples tell of what is assumed.
func (c *Collector) notes() []string {
	if g := &c.grounds; g.above > 0 {
		return []string{words.Counted(g.above, "rate") + " above the maximum that is assumed of " + g.aboveOf +
			": more layers or a higher modulation was in use. State them with layers= and qam=: until then the shares are too high."}
	}
	return nil
}

// cautions say what the figures cannot tell.
func (c *Collector) cautions() []string {
	list := []string{"A walk holds for its way, time, phone and load; it says nothing of places off the way."}
	if c.grounds.distances {
		list = append(list,
			"A fit cannot tell clutter, walls, load, the antenna's pattern or the phone's from distance, and it takes samples as independent: neighbours on a walk are alike, so the true intervals are wider.",
			"Beyond the samples a reach is extrapolated, and no promise of coverage.")
	}
	return append(list,
		"Identities and levels are hints of where a cell stands, no proof.",
		"Keep clear of antennas, respect barriers and private ground, and never read a phone while driving: let a passenger or the logger do it. Local rules come first.")
}

// sources are those of the figures.
func (c *Collector) sources() []render.Source {
	list := []render.Source{}
	if c.grounds.expected {
		for _, curve := range [...]throughput.LinkCurve{throughput.LinkCurveTR36942(bands.Downlink), throughput.LinkCurveTR38803(bands.Downlink)} {
			list = append(list, render.Source(curve.Source))
		}
	}
	if len(c.grounds.texts) > 0 {
		list = append(list, render.Source{Spec: "TS 38.306", Table: "clause 4.1.2"})
	}
	return list
}
