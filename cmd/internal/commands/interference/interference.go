// Package interference is the command that tells what a UE's uplinks do to its own
// downlinks.
package interference

import (
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/interference"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/products"
	"spectally/cmd/internal/render"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "interference",
		Usage: "CARRIERS|NAME",
		Short: "products of a UE's uplinks that fall on its own downlinks",
		Long: "Works out where the harmonics of each uplink, its mixing with the receiver's oscillator and the intermodulation of two and three uplinks fall, which downlinks they hit or miss by how much, and what the standard allows to be lost there (MSD, maximum sensitivity degradation). " +
			"The arithmetic is exact; whether a hit matters depends on levels.\n\n" +
			"CARRIERS are written as for the command ca, or as bands alone (B3 + n78), which then stand for every carrier in them. Carriers without a channel number may lie anywhere in their band: the answer says whether some or all places are hit, and which channel numbers avoid it. " +
			"A NAME of the standard stands for its carriers with the widest widths, and for each uplink that is listed with it.",
		Examples: "spectally interference B3:20@1500 + n78:100@636666   # two carriers at their places\n" +
			"spectally interference B3 + n78   # anything in two bands\n" +
			"spectally interference DC_3A_n78A --explain   # a name of the standard, with the arithmetic of each product\n" +
			"spectally interference n1:20,ul=1 + n77:100,ul=1 --power-class 2   # two uplinks, power class 2\n" +
			"spectally interference B3:20@1500 + n78:100@636666 --all --format csv   # misses too",
		Answers: []any{value{}},
		New: func(set *pflag.FlagSet) command.Answer {
			q := query{class: flags.Choice{Param: "power class", Names: []string{"3", "2", "1.5", "1", "5"}}, order: flags.Whole{Param: "order", Least: 2, Most: interference.MaxOrder, Value: interference.DefaultOrder}}
			set.Var(&q.class, "power-class", "power class of the UE, for what the standard allows")
			set.Var(&q.order, "order", "highest order of intermodulation, 2 to 9")
			set.BoolVar(&q.all, "all", false, "list every product, those that miss too")
			return func(_ *command.Env, args []string) (*render.Answer, error) {
				s, err := q.study(args)
				if err != nil {
					return nil, command.At(command.Argument(0), err)
				}
				return s.answer(), nil
			}
		},
		Offers: command.Bands,
	}
}

// query is what the flags ask for.
type query struct {
	class flags.Choice
	order flags.Whole
	all   bool
}

func (q *query) options() interference.Options {
	return interference.Options{Order: q.order.Value, Misses: q.all}
}

// study is what is answered: carriers, or bands, and what their uplinks do.
type study struct {
	*interference.Study
	query *query
	title string
	// carriers holds the carriers as text, names what products call them, and bands their
	// bands, all in the order of the study; assessment is what is known of them, nil for bands alone.
	carriers   []string
	names      products.Names
	bands      []bands.ID
	assessment *ca.Assessment
}

const allowed = "carriers such as B3:20 + n78:80, bands such as B3 + n78, or a name such as DC_3A_n78A"

func (q *query) study(args []string) (*study, error) {
	text := strings.TrimSpace(strings.Join(args, " "))
	if text == "" {
		return nil, command.Absent("carriers", allowed)
	}
	if s, err := q.ofBands(text); s != nil || err != nil {
		return s, err
	}
	assessment, err := ca.AssessText(text)
	if err != nil {
		return nil, err
	}
	s := &study{query: q, title: assessment.Combination().String(), names: products.Of(assessment), assessment: assessment}
	if n := assessment.Name; !n.IsZero() {
		if s.title = n.String(); len(assessment.Carriers) == 0 {
			return nil, unlisted(n)
		}
	}
	for i := range assessment.Carriers {
		c := assessment.Carriers[i].Carrier
		bare := ca.Carrier{Band: c.Band, Downlink: c.Downlink, Uplink: c.Uplink}
		s.carriers, s.bands = append(s.carriers, bare.String()), append(s.bands, c.Band)
	}
	s.Study = assessment.Interference(q.powerClass(), q.options())
	return s, nil
}

// unlisted refuses a name of which no carriers are known.
func unlisted(n ca.Name) error {
	e := &bands.ValueError{Param: "configuration", Got: n.String(), Allowed: "one that the standard lists"}
	if near := ca.NearestTo(n); len(near) > 0 {
		e.Nearest, e.Source = near[0].Configuration.Name().String(), near[0].Configuration.Source()
	}
	return e
}

func (q *query) powerClass() interference.PowerClass {
	return interference.PowerClass(q.class.Names[q.class.Index])
}

// ofBands studies bands without widths; it is nil if the text has something else.
func (q *query) ofBands(text string) (*study, error) {
	s := &study{query: q}
	var carriers []interference.Carrier
	for part := range strings.SplitSeq(text, "+") {
		id, err := bands.ParseID(strings.TrimSpace(part))
		if err != nil {
			return nil, nil
		}
		b, err := bands.Lookup(id)
		if err != nil {
			return nil, err
		}
		s.carriers, s.bands = append(s.carriers, id.String()), append(s.bands, id)
		carriers = append(carriers, interference.OfBand(b, b.Has(bands.Uplink)))
	}
	s.title, s.names = strings.Join(s.carriers, " + "), products.Numbered(s.carriers)
	s.Study = interference.Examine([][]interference.Carrier{carriers}, q.powerClass(), q.options())
	return s, nil
}
