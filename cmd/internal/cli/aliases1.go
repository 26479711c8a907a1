package cli

import (
	"spectally/cmd/internal/blocksteps"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/spectrum"
)

// What the files that are still to be moved call these.

const statusGood = command.Good
const statusRefuted = command.Refuted
const statusUnusable = command.Unusable

var blockSteps = blocksteps.Of
var inMegahertz = spectrum.InMegahertz
var shownCodewords = blocksteps.Codewords
var xOverheads = flags.XOverheads
