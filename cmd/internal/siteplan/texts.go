package siteplan

import _ "embed" // for the two texts

//go:embed demo.toml
var demo string

//go:embed template.toml
var template string

// Demo is the plan of an invented site, as TOML.
func Demo() string { return demo }

// Template is a plan to fill in, as TOML: every key once, with a word on each. It is a
// valid plan itself.
func Template() string { return template }
