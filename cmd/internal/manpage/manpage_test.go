package manpage

import (
	"strings"
	"testing"
)

// The page by hand, from what man(7) says of its macros and groff_char(7) of names of
// characters.
func TestPage(t *testing.T) {
	p := New("Try-me", "2031-05-01", "try 1.0", `the "manual"`)
	p.Name("try-me", "do it")
	p.Section("Synopsis")
	p.Synopsis("try me", "[FILE]")
	p.Section("Description")
	p.Paragraph(".TP is no macro here, nor 'is this:\n a\\b")
	p.Paragraph("two × three… `it's` ^~")
	p.Section("Options")
	p.Entry(Bold("-o")+", "+Bold("--output")+" "+Italic("FILE"), ".5 is half of it")
	p.SeeAlso([]string{"a-b", "c"})
	want := `.TH "TRY\-ME" 1 "2031-05-01" "try 1.0" "the \(dqmanual\(dq"
.SH "NAME"
try\-me \- do it
.SH "SYNOPSIS"
\fBtry me\fR [FILE]
.SH "DESCRIPTION"
\&.TP is no macro here, nor \(aqis this: a\eb
.PP
two \[u00D7] three\[u2026] ` + "\\`" + `it\(aqs` + "\\`" + ` \(ha\(ti
.SH "OPTIONS"
.TP
\fB\-o\fR, \fB\-\-output\fR \fIFILE\fR
\&.5 is half of it
.SH "SEE ALSO"
.BR a\-b (1),
.BR c (1)
`
	if got := string(p.Bytes()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A line that begins in the midst of a text is no macro either, and none is too long.
func TestLongText(t *testing.T) {
	p := New("x", "", "x", "x")
	p.Paragraph(strings.Repeat("word .TH 'x ", 100))
	lines := strings.Split(strings.TrimSpace(string(p.Bytes())), "\n")
	if len(lines) < 15 {
		t.Fatalf("%d lines", len(lines))
	}
	for _, line := range lines[1:] {
		if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") || len(line) > widest+len(`\&`) {
			t.Errorf("%q", line)
		}
	}
	if got := strings.Join(lines[1:], " "); strings.ReplaceAll(got, `\&`, "") != strings.TrimSpace(strings.Repeat(`word .TH \(aqx `, 100)) {
		t.Errorf("other words: %s", got)
	}
}
