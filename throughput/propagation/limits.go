package propagation

import (
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/internal/printed"
	"spectally/throughput/internal/words"
)

// pathFormula is a row of the table of formulas.
type pathFormula struct{ constant, distance, frequency, userHeight, breakpoint, shadow float64 }

// interval is a range with both ends, and what is taken where nothing is given.
type interval struct{ low, high, usual float64 }

func (i interval) holds(v float64) bool { return i.low <= v && v <= i.high }

// pathLimits is where the formulas of a scenario hold.
type pathLimits struct {
	ghz, metres, base, user interval
	slant                   bool // the distance is that from antenna to antenna
	breaks                  bool // there is a break point d'BP
	source                  bands.Source
}

type pathFacts struct {
	formulas            [RMa + 1][NoLineOfSightOptional + 1]pathFormula
	far                 [RMa + 1]pathFormula
	limits              [RMa + 1]*pathLimits // nil in free space
	source, ruralSource bands.Source
}

var (
	pathTables    = data.Lazy("path_loss")
	loadPathFacts = sync.OnceValue(readPathFacts)
)

func readPathFacts() *pathFacts {
	f := &pathFacts{}
	t := data.Find(pathTables(), "formulas")
	f.source = t.Source
	for _, row := range t.Rows {
		s := pathScenario(row[0])
		p := pathFormula{}
		for i, v := range [...]*float64{&p.constant, &p.distance, &p.frequency, &p.userHeight, &p.breakpoint, &p.shadow} {
			if row[i+2] != "" {
				*v = printed.Ratio(row[i+2]).Float()
			}
		}
		if row[1] == "los-far" {
			f.far[s] = p
			continue
		}
		sight, err := ParseSight(row[1])
		if err != nil {
			panic("throughput: " + err.Error())
		}
		f.formulas[s][sight] = p
	}
	for _, id := range [...]string{"limits", "rma-limits"} {
		t := data.Find(pathTables(), id)
		for _, row := range t.Rows {
			s := pathScenario(row[0])
			f.limits[s] = &pathLimits{
				ghz: mustInterval(row[1], ""), slant: row[2] == "3d", metres: mustInterval(row[3], ""),
				base: mustInterval(row[4], row[5]), user: mustInterval(row[6], row[7]),
				breaks: f.far[s] != pathFormula{}, source: t.Source,
			}
		}
		f.ruralSource = t.Source
	}
	return f
}

func pathScenario(name string) Scenario {
	s, err := ParseScenario(name)
	if err != nil {
		panic("throughput: " + err.Error())
	}
	return s
}

// mustInterval reads "10-5000" of an embedded table.
func mustInterval(text, usual string) interval {
	low, high, _ := strings.Cut(text, "-")
	i := interval{low: printed.Ratio(low).Float(), high: printed.Ratio(high).Float()}
	if usual != "" {
		i.usual = printed.Ratio(usual).Float()
	}
	return i
}

// ruralSightless is how far rural macro holds without line of sight, in metres (TR 38.901
// V19.4.0 Table 7.4.1-1).
const ruralSightless = 5000

// Averages of a rural place lie between these (TR 38.901 V19.4.0 Table 7.4.1-1).
var ruralStreet, ruralBuilding = interval{low: 5, high: 50}, interval{low: 5, high: 50}

// beyond says what of a path is outside the validity of its model.
func (p *Path) beyond(g *geometry) []*bands.ValueError {
	l := p.limits()
	var list []*bands.ValueError
	add := func(param, got, unit string, i interval) {
		allowed := words.Number(i.low) + " to " + words.Number(i.high) + " " + unit
		if i.low == i.high {
			allowed = words.Number(i.low) + " " + unit
		}
		list = append(list, &bands.ValueError{Param: p.Scenario.String() + " " + param, Got: got, Allowed: allowed, Source: l.source})
	}
	if !l.ghz.holds(g.ghz) {
		add("frequency", p.Frequency.String(), "GHz", l.ghz)
	}
	metres := l.metres
	if p.Scenario == RMa && p.Sight == NoLineOfSight {
		metres.high = ruralSightless
	}
	if d := g.flat; !l.slant && !metres.holds(d) {
		add("distance", words.Number(d)+" m", "m", metres)
	}
	if d := g.slant; l.slant && !metres.holds(d) {
		add("distance from antenna to antenna", words.Number(d)+" m", "m", metres)
	}
	if !l.base.holds(g.base) {
		add("base height", words.Number(g.base)+" m", "m", l.base)
	}
	if !l.user.holds(g.user) {
		add("user height", words.Number(g.user)+" m", "m", l.user)
	}
	if p.Scenario == RMa {
		if w := orUsual(g.street, usualStreet); !ruralStreet.holds(w) {
			add("street width", words.Number(w)+" m", "m", ruralStreet)
		}
		if h := orUsual(g.building, usualBuilding); !ruralBuilding.holds(h) {
			add("building height", words.Number(h)+" m", "m", ruralBuilding)
		}
	}
	return list
}
