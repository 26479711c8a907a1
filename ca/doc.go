// Package ca answers whether carriers may be aggregated, and as what. [Parse] reads
// carriers in the notation of this project, [Check] applies the rules of the standard to
// them, [Assessment.Totals] adds them up, and [Assessment.Listings] with
// [Assessment.Judge] compares them with the configurations that the standard lists for
// carrier aggregation and dual connectivity.
//
// Names of configurations are [Name] values: [ParseName] reads them however they are
// typed, [Find] and [Search] look them up, [Admit] tells which bandwidth combination sets
// admit widths, and [StatusOf] whether a name is listed or a fallback of what is.
//
// A combination that breaks a rule is described like any other, with a [Finding] for what
// is wrong; only text that cannot be read is an error. The lists are read from package
// data on first use; values returned are shared and must not be changed.
package ca
