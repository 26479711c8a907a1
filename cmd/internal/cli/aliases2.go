package cli

import (
	"spectally/cmd/internal/listed"
	"spectally/cmd/internal/notation"
)

// What the files that are still to be moved call these.

var anySingleUplink = listed.AnySingleUplink
var configurationNames = listed.Names
var kindWords = listed.Kinds
var notationError = notation.Explain
var noteList = listed.Notes
