package imports

import _ "embed"

//go:embed demo.txt
var demo string

// Demo is the dump of a phone in an invented scenario.
func Demo() string { return demo }
