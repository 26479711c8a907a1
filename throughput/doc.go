// Package throughput answers what carriers can yield: the standard's maximum data
// rate, the most a network can schedule in a frame, and what a signal quality
// lets expect. The three are different figures and are never mixed.
//
// Rates are exact fractions in bit/s ([exact.Ratio]). [Rate] works them out for the
// carriers of a combination; package nr and package lte below know a single block, slot
// or frame.
package throughput
