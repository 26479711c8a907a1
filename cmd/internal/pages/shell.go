package pages

import "strings"

// shellLine writes arguments as a line for a shell, quoted where they need it.
func shellLine(args []string) string {
	words := make([]string, 1, len(args)+1)
	words[0] = "spectally"
	for _, a := range args {
		words = append(words, shellWord(a))
	}
	return strings.Join(words, " ")
}

// plainBytes are those that mean nothing to a POSIX shell beside letters and digits.
const plainBytes = "-_./:@%+=,"

// shellWord quotes a word for a POSIX shell.
func shellWord(s string) string {
	special := func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') && (r < '0' || r > '9') && !strings.ContainsRune(plainBytes, r)
	}
	if s != "" && !strings.ContainsFunc(s, special) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
