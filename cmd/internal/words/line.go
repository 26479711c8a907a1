package words

import (
	"slices"
	"strings"
)

// List joins what is not empty.
func List(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(s string) bool { return s == "" }), ", ")
}

// Arithmetic writes a line of plain letters with the signs of arithmetic.
func Arithmetic(line string) string {
	return strings.NewReplacer(" x ", " × ", " - ", " − ").Replace(line)
}
