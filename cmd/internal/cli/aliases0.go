package cli

import (
	"spectally/cmd/internal/clauses"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/userfile"
	"spectally/cmd/internal/words"
)

// What the files that are still to be moved call these.

type choice = flags.Choice
type decibelFlag = flags.NoiseFigure
type dmrsFlag = flags.DMRS
type figure = figures.Figure
type keyFlag = flags.Key
type patternFlag = flags.Pattern
type wholeFlag = flags.Whole

var absent = command.Absent
var at = command.At
var clauseLTERate = clauses.LTEMCS
var clauseMaxRate = clauses.MaxRate
var clauseOf = clauses.OfNR
var clauseOfLTE = clauses.OfLTE
var clausePDSCH = clauses.PDSCH
var clausePattern = clauses.TDDPattern
var counted = words.Counted
var decibels = figures.Decibels
var decimals = figures.Decimals
var edges = figures.Edges
var fileError = userfile.Unreadable
var joinWords = words.And
var kilohertz = figures.KHz
var mbps = figures.Mbps
var mbpsText = figures.MbpsText
var megahertz = figures.MHz
var mhzText = figures.EdgesText
var nonZero = figures.OptionalMHz
var numberList = figures.List
var optionalMbps = figures.OptionalMbps
var parseBand = spectrum.ParseBand
var perHertz = figures.PerHertz
var perHertzText = figures.PerHertzText
var percent = figures.Percent
var plainFloat = figures.Exact
var unknownBand = spectrum.UnknownBand
var withNearest = command.WithNearest
var wordList = words.List

func optional[T any](v *T) string { return figures.Optional(v) }
func present[T any](list []T) []T { return figures.Present(list) }
