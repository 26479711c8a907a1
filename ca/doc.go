// Package ca answers whether carriers may be aggregated, and as what. [Assess] answers
// for carriers, which [Parse] reads in the notation of this project; [AssessName] for a
// name of the standard; [AssessText] for either as text. An [Assessment] has the carriers
// with their places, the configurations that they can form and how each stands to the
// lists of the standard, the totals, and whatever there is to find against it.
//
// Names of configurations are [Name] values: [ParseName] reads them however they are
// typed, [Find] and [Search] look them up, [Admit] tells which bandwidth combination sets
// admit widths, and [StatusOf] whether a name is listed or a fallback of what is.
//
// A combination that breaks a rule is described like any other, with a [Finding] for what
// is wrong; only text that cannot be read is an error. The lists are read from package
// data on first use; values returned are shared and must not be changed.
package ca
