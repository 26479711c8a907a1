package words

import (
	"strconv"
	"strings"

	"spectally/bands"
)

// number writes a number for a message, with at most six digits.
func Number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// parseWord finds a word in a list; letter case does not matter.
func Parse(param, s string, words []string) (int, error) {
	for i, w := range words {
		if strings.EqualFold(w, strings.TrimSpace(s)) {
			return i, nil
		}
	}
	e := &bands.ValueError{Param: param, Got: s, Allowed: List(words)}
	for _, w := range words {
		if len(s) <= 2*len(w) && bands.EditDistance(strings.ToLower(s), w) <= 2 {
			e.Nearest = w
			break
		}
	}
	return -1, e
}

// listNames writes names as "a, b or c".
func List(names []string) string {
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

// plural writes a count and what is counted: "1 layer", "2 layers".
func Plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}

// qamText names a constellation by its size; 2 is pi/2-BPSK.
func QAM(qam int) string {
	if qam == 2 {
		return "pi/2-BPSK"
	}
	return strconv.Itoa(qam) + "QAM"
}

// digits reads a whole number of at most nine digits, without a sign.
func Digits(s string) (int64, bool) {
	if s == "" || len(s) > 9 {
		return 0, false
	}
	var n int64
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = 10*n + int64(s[i]-'0')
	}
	return n, true
}
