package site

import (
	"spectally/throughput/internal/words"
)

// Environment is the kind of place that a site serves, as Report ITU-R M.2410 divides
// them.
type Environment uint8

// The environments. The zero Environment is none.
const (
	IndoorHotspot Environment = iota + 1
	DenseUrban                // its macro layer
	Rural
)

var environmentNames = [...]string{IndoorHotspot: "indoor-hotspot", DenseUrban: "dense-urban", Rural: "rural"}

// EnvironmentNames lists the names that [ParseEnvironment] reads.
func EnvironmentNames() []string { return environmentNames[1:] }

// String names the environment: "indoor-hotspot", "dense-urban", "rural".
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
