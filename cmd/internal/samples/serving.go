package samples

import (
	"math"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// Serving are the carriers that serve a phone, the serving cell's first.
type Serving struct {
	Carriers []Carrier
	// Text names the carriers as they were written, without levels and identities.
	Text string

	yield *yield // nil where a width is not known
}

// yield is what a combination can yield, found out when it is asked for. Servings that
// differ in levels and identities alone have it in common.
type yield struct {
	combination ca.Combination
	worked      bool
	result      *throughput.Result // nil where rates cannot be worked out
	max         int64              // kbit/s; 0 if not known
	ceiling     int64              // of max, kbit/s; 0 until asked for
	scheduled   int64
	expected    [][]int32 // by carrier and SINR, in kbit/s; Missing until asked for
}

// mostYields bounds the combinations that are kept.
const mostYields = 256

// Carrier is one of the carriers.
type Carrier struct {
	Band bands.ID
	// Channel is the channel number, if it is known, else Missing; PCI likewise.
	Channel, PCI int32
	// RSRP and SINR as the notation has them; None if it has none.
	RSRP, SINR int16
	// Centre is where its downlink is received: by the channel number, else the middle of
	// the band, if Approximate; 0 if the band has no downlink.
	Centre      bands.Frequency
	Approximate bool
}

// parseServing reads carriers in the notation. A width may be missing.
func parseServing(text string, yields map[string]*yield) (*Serving, error) {
	c, err := ca.Parse(text)
	if err != nil {
		s := &Serving{}
		if s.parseBands(text) {
			return s, nil
		}
		return nil, err
	}
	return newServing(c, yields)
}

// NewServing makes carriers that serve of a combination, which is not empty.
func NewServing(c ca.Combination) (*Serving, error) {
	if len(c) == 0 {
		return nil, &bands.ValueError{Param: "number of carriers", Got: "0", Allowed: "at least 1"}
	}
	return newServing(c, map[string]*yield{})
}

func newServing(c ca.Combination, yields map[string]*yield) (*Serving, error) {
	s := &Serving{}
	combination := make(ca.Combination, len(c))
	for i := range c {
		carrier, err := newCarrier(c[i])
		if err != nil {
			return nil, err
		}
		s.Carriers = append(s.Carriers, carrier)
		bare := c[i]
		bare.RSRP, bare.SINR, bare.PCI, bare.HasPCI = ca.Level{}, ca.Level{}, 0, false
		combination[i] = bare
	}
	s.Text = combination.String()
	if s.yield = yields[s.Text]; s.yield == nil {
		if len(yields) >= mostYields {
			clear(yields)
		}
		s.yield = &yield{combination: combination}
		yields[s.Text] = s.yield
	}
	return s, nil
}

// parseBands reads carriers of which some are bands alone: "B3 + n78:80". What they yield
// is not known.
func (s *Serving) parseBands(text string) bool {
	for part := range strings.SplitSeq(text, "+") {
		list, err := ca.Parse(part)
		if err != nil {
			id, err := bands.ParseID(strings.TrimSpace(part))
			if err != nil {
				return false
			}
			list = ca.Combination{{Band: id}}
		}
		for _, c := range list {
			carrier, err := newCarrier(c)
			if err != nil {
				return false
			}
			s.Carriers = append(s.Carriers, carrier)
			s.Text = strings.TrimPrefix(s.Text+" + "+carrier.Name(), " + ")
		}
	}
	return true
}

func newCarrier(c ca.Carrier) (Carrier, error) {
	out := Carrier{Band: c.Band, Channel: Missing, PCI: Missing, RSRP: None, SINR: None, Centre: c.Centre}
	band, err := bands.Lookup(c.Band)
	if err != nil {
		return out, err
	}
	if c.HasChannel {
		out.Channel = c.Channel
		f, err := band.ChannelFrequency(c.Channel)
		if err != nil {
			return out, err
		}
		if down, _ := band.Directions(c.Channel); down {
			out.Centre = f
		}
	}
	if out.Centre == 0 {
		span := band.Span(bands.Downlink)
		out.Centre, out.Approximate = (span.Low+span.High)/2, true
	}
	if c.HasPCI {
		out.PCI = int32(c.PCI)
	}
	if c.RSRP.IsGiven() {
		out.RSRP = int16(c.RSRP.Hundredths())
	}
	if c.SINR.IsGiven() {
		out.SINR = int16(c.SINR.Hundredths())
	}
	return out, nil
}

// fromColumns is the notation of a carrier in columns of its own.
func fromColumns(band, channel, width string) string {
	if width != "" {
		band += ":" + width
		if channel != "" {
			band += "@" + channel
		}
	}
	return band
}

// placed is a carrier of which no more than band and channel number are known.
func placed(band bands.ID, channel int32) ca.Carrier {
	return ca.Carrier{Band: band, Channel: channel, HasChannel: true}
}

// HighestPCI is the highest identity of a technology.
func HighestPCI(rat bands.RAT) int32 {
	if rat == bands.LTE {
		return 503
	}
	return 1007
}

// worked is the yield, worked out; an empty one where none can be.
func (s *Serving) worked() *yield {
	y := s.yield
	if y == nil {
		return &yield{}
	}
	if y.worked {
		return y
	}
	y.worked = true
	r, err := throughput.Rate(ca.Assess(y.combination))
	if err == nil {
		err = r.Schedule(throughput.Settings{})
	}
	if err != nil {
		return y // no share can be told then
	}
	y.result = r
	y.max = kilobits(r.Downlink.Max)
	y.scheduled = kilobits(r.Downlink.Scheduled)
	y.expected = make([][]int32, len(y.combination))
	return y
}

// kilobits is a rate in kbit/s, to the nearest; 0 for one that is not given.
func kilobits(r exact.Ratio) int64 {
	if r.IsZero() {
		return 0
	}
	return int64(math.Round(r.Float() / 1000))
}

// Max is the standard's maximum of the downlink in kbit/s, see throughput.Rates; 0 if it
// is not known.
func (s *Serving) Max() int64 { return s.worked().max }

// Ceiling is the highest that Max takes over every value that the carriers leave open, see
// throughput.BoundsOf, in kbit/s; Max where that cannot be worked out.
func (s *Serving) Ceiling() int64 {
	y := s.worked()
	if y.ceiling == 0 {
		y.ceiling = y.max
		if b, err := throughput.BoundsOf(y.combination, bands.Downlink); err == nil {
			y.ceiling = max(y.max, kilobits(b.Most.Max))
		}
	}
	return y.ceiling
}

// Scheduled is the most that a scheduler can send in the downlink, in kbit/s; 0 if it is
// not known.
func (s *Serving) Scheduled() int64 { return s.worked().scheduled }

// Expected is what the downlink lets expect in kbit/s: the sum over the carriers, of
// which those without a SINR of their own take that of the first; 0 if that is not known.
func (s *Serving) Expected(first int16) int64 {
	y := s.worked()
	if y.result == nil {
		return 0
	}
	sum := int64(0)
	for i := range s.Carriers {
		sinr := s.Carriers[i].SINR
		if i == 0 && first != None || sinr == None {
			sinr = first
		}
		if sinr == None {
			return 0
		}
		sum += int64(y.expectedOf(i, sinr))
	}
	return sum
}

// expectedOf is what a carrier lets expect at a SINR; what was found out is kept.
func (y *yield) expectedOf(i int, sinr int16) int32 {
	table := y.expected[i]
	if table == nil {
		table = make([]int32, int(HighestSINR)-int(LowestSINR)+1)
		for j := range table {
			table[j] = Missing
		}
		y.expected[i] = table
	}
	at := int(sinr) - int(LowestSINR)
	if table[at] == Missing {
		table[at] = int32(kilobits(y.result.ExpectedAt(i, float64(sinr)/100)))
	}
	return table[at]
}

// Result is what the carriers can yield; nil where that cannot be worked out.
func (s *Serving) Result() *throughput.Result { return s.worked().result }

// Name names a carrier by band and channel number: "n78 640000".
func (c *Carrier) Name() string {
	if c.Channel == Missing {
		return c.Band.String()
	}
	return c.Band.String() + " " + strconv.Itoa(int(c.Channel))
}
