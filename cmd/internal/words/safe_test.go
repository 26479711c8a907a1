package words

import "testing"

// Nothing that steers a terminal (ECMA-48: C0, C1, and what they introduce) or the
// reading direction (Unicode Bidi_Control) comes through.
func TestOneLine(t *testing.T) {
	for in, want := range map[string]string{
		"plain text":                   "plain text",
		"two\nlines\r\n\tand more":     "two lines   and more",
		"\x1b[31mred\x1b]0;title\x07":  "\ufffd[31mred\ufffd]0;title\ufffd",
		"\u009b31m C1 \x7f":            "\ufffd31m C1 \ufffd",
		"left \u202eright\u2066\u200f": "left \ufffdright\ufffd\ufffd",
		"a\xffb":                       "a\ufffdb",
		"5\u00a0MHz\u2009é\u2028":      "5\u00a0MHz é ",
	} {
		if got := OneLine(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}
