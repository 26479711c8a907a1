// Package words says names and counts as error messages and assumptions have them.
package words
