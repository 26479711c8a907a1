// Package printed reads the numbers of embedded tables as they are printed.
package printed
