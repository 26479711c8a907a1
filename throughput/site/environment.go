package site

import (
	"spectally/throughput/internal/words"
)

// Environment is the kind of place that a site serves, as Reports ITU-R M.2410 and
// M.2134 divide them.
type Environment uint8

// The environments. The zero Environment is none.
const (
	IndoorHotspot Environment = iota + 1
	DenseUrban                // its macro layer
	Urban                     // macro sites in urban and suburban areas: base coverage urban of Report ITU-R M.2134
	Rural
)

var environmentNames = [...]string{IndoorHotspot: "indoor-hotspot", DenseUrban: "dense-urban", Urban: "urban", Rural: "rural"}

// EnvironmentNames lists the names that [ParseEnvironment] reads.
func EnvironmentNames() []string { return environmentNames[1:] }

// String names the environment: "indoor-hotspot", "dense-urban", "urban", "rural".
func (e Environment) String() string {
	if int(e) >= len(environmentNames) {
		return ""
	}
	return environmentNames[e]
}

// ParseEnvironment reads the name of an environment; letter case does not matter.
func ParseEnvironment(s string) (Environment, error) {
	i, err := words.Parse("environment", s, environmentNames[1:])
	return Environment(i + 1), err
}
