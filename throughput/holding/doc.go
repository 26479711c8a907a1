// Package holding finds the best that one phone can aggregate from blocks of spectrum:
// of the carriers that fit into them ([deploy.Rooms]) those that form a configuration
// of the standard, with widths that its bandwidth combination sets admit, and of these
// the ones with the highest scheduled rate or the most megahertz, in either direction.
//
// The search is exact: it goes through the listed configurations in order of what they
// could have at most, and ends where none that is left can have more than what was
// found. Where a search is cut, the answer says how far from the best it may be.
//
// What counts as possible: carriers of different bands in one block stand side by side;
// a configuration is listed itself, not only as a fallback of a larger one;
// supplementary uplinks are left out.
package holding
