package fieldlog

import _ "embed" // for the two texts

//go:embed demo.toml
var demo string

//go:embed template.toml
var template string

// Demo is a log of an invented scenario with three networks, as TOML.
func Demo() string { return demo }

// Template is a log to fill in, as TOML: every key once, with a word on each. It is a
// valid log itself.
func Template() string { return template }
