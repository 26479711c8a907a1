// Package exact has fractions that are not rounded before they are shown: shares of
// time, overheads, code rates, and rates in bit/s.
package exact
