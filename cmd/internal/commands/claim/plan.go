package claim

import (
	"strconv"
	"strings"

	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/siteplan"
	"spectally/cmd/internal/userfile"
	"spectally/throughput"
	"spectally/throughput/propagation"
)

// openShares are the parts of places by which a reach is judged where the plan says none:
// half, the median of the model, and nine in ten, as edges are often planned (common
// practice, no source).
var openShares = []float64{0.5, 0.9}

// readModels reads a site plan, and how far rates go from its sectors.
func readModels(env *command.Env, file string) (name string, models []claim.Model, err error) {
	kind := userfile.Kind[*siteplan.Plan]{Noun: "plan", Name: "site plan", Read: siteplan.Read}
	plan, err := kind.OpenAt(env, "--plan", file)
	if err != nil {
		return "", nil, err
	}
	if plan.Coverage == nil {
		return "", nil, command.At("--plan", command.Absent("[coverage]", "in "+file+", to say how far rates reach"))
	}
	shares := openShares
	if plan.Coverage.Places != 0 {
		shares = []float64{plan.Coverage.Places}
	}
	path := plan.Coverage.Path.Scenario.String()
	if plan.Coverage.Path.Scenario != propagation.FreeSpace {
		path = strings.TrimSpace(path + " " + plan.Coverage.Path.Sight.String())
	}
	for i := range plan.Site.Sectors {
		for _, share := range shares {
			c := *plan.Coverage
			c.Places = share
			_, ladder, err := plan.Ladder(i, &c)
			if err != nil {
				return "", nil, command.At("--plan", err)
			}
			models = append(models, claim.Model{Sector: plan.SectorName(i), Places: share, Path: path, Ladder: ladder, Assumptions: unsaid(&c, ladder)})
		}
	}
	return plan.Site.Name, models, nil
}

// unsaid is what the rates of a model rest on that its plan does not say.
func unsaid(c *propagation.Coverage, l *propagation.Ladder) []string {
	list := []string{"Coverage: the noise of the receivers alone, no interference from other cells; the power is spread over as many layers as yield most."}
	for _, f := range [...]struct {
		given, usual float64
		text, unit   string
	}{
		{c.NoiseFigure, throughput.DefaultNoiseFigure, "a noise figure of the phone of ", " dB"},
		{c.BaseNoiseFigure, propagation.DefaultBaseNoiseFigure, "a noise figure of the site of ", " dB"},
		{c.UserPower, propagation.DefaultUserPower, "a phone that sends ", " dBm"},
	} {
		if f.given == 0 {
			list = append(list, "Coverage: "+f.text+strconv.FormatFloat(f.usual, 'f', -1, 64)+f.unit+".")
		}
	}
	for _, a := range assumed.Statements(l.Assumptions()) {
		list = append(list, a.Text)
	}
	return list
}
