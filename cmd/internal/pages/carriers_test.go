package pages

import (
	"net/url"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/ca"
	"spectally/cmd/internal/render"
)

func TestSplitCarriers(t *testing.T) {
	for text, want := range map[string][]carrierRow{
		"":         nil,
		"CA_3A-7A": nil, // a name has no rows
		"B3:20":    {{Band: "B3", Width: "20"}},
		"B3:20/10 + 2xn78:80@640000,scs=30,pci=17": {{Band: "B3", Width: "20/10"}, {Band: "2xn78", Width: "80", Where: "640000", Keys: "scs=30,pci=17"}},
		" n78 : 80 @ 3540.96 MHz , layers=4 ":      {{Band: "n78", Width: "80", Where: "3540.96 MHz", Keys: "layers=4"}},
		"B3:20 + + n78":                            {{Band: "B3", Width: "20"}, {Band: "n78"}}, // wrong, and shown as it is
		":::,,@@":                                  {{Width: "::", Keys: ",@@"}},
	} {
		if diff := cmp.Diff(want, splitCarriers(text)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
		}
	}
}

// FuzzCarrierRows: carriers that can be read are the same after a walk through the rows
// of a form; of any text the rows stay the same from the first walk on.
func FuzzCarrierRows(f *testing.F) {
	for _, s := range []string{"B3:20 + n78:80@640000", "2xn78:80,scs=30 + 3:20/0@1842.5MHz", "n78:100,pattern=DDDSU/10:2:2", "::@,+", "CA_3A-7A", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows := splitCarriers(text)
		again := joinCarriers(rows)
		if list, err := ca.Parse(text); err == nil {
			got, err := ca.Parse(again)
			if err != nil || got.String() != list.String() {
				t.Errorf("%q became %q: %v", text, again, err)
			}
		}
		if diff := cmp.Diff(rows, splitCarriers(again)); diff != "" && strings.Contains(again, ":") {
			t.Errorf("%q, then %q (-first +second):\n%s", text, again, diff)
		}
	})
}

// A form with rows leads to an address with the carriers in one word.
func TestTidyAddress(t *testing.T) {
	for query, want := range map[string]string{
		"carriers=B3:20": "",
		"carriers=B3:20&band=&width=&where=&keys=":                                   "/ca",
		"band=B3&width=20&where=&keys=&band=n78&width=80&where=640000&keys=scs%3D30": "/ca?carriers=B3:20+%2B+n78:80@640000,scs%3D30",
		"band=B3&width=20&where=&keys=&band=&width=&where=&keys=&add=yes":            "/ca?carriers=B3:20&rows=3",
		"explain=yes&band=B3&width=20":                                               "/ca?carriers=B3:20&explain=yes",
		"carriers=+&explain=":                                                        "/ca",
		"carriers=&bogus=1":                                                          "/ca?bogus=1", // stays, to be refused
		"band=B3&band=n1&width=20":                                                   "/ca?carriers=B3:20+%2B+n1:",
		"rows=1&band=B3&width=20":                                                    "/ca?carriers=B3:20",
	} {
		values, err := url.ParseQuery(query)
		if err != nil {
			t.Fatal(err)
		}
		p := carriersPage()
		p.fields = append(p.fields, explainField)
		if got := p.tidy(values); got != want {
			t.Errorf("?%s leads to %q, want %q", query, got, want)
		}
	}
}

// Findings stand beside the row of their carrier, also where a row is several carriers.
func TestFindingsOfRows(t *testing.T) {
	finding := func(number int) render.Finding { return render.Finding{Number: number} }
	q := &query{values: map[string]string{carriersName: "B3:20 + 2xn78:80 + n1:17", rowsName: "6"}}
	rows := formRows(q, render.Findings{finding(1), finding(3), finding(4), finding(0), finding(9)})
	var got [][]int
	for _, r := range rows {
		var list []int
		for _, f := range r.Findings {
			list = append(list, f.Number)
		}
		got = append(got, list)
	}
	want := [][]int{{1}, {3}, {4}, nil, nil, nil}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if rows := formRows(&query{values: map[string]string{rowsName: "999999999"}}, nil); len(rows) != mostRows {
		t.Errorf("%d rows", len(rows))
	}
}

func FuzzShellWord(f *testing.F) {
	for _, s := range []string{"n78", "", "a b", "it's", "'", "$(id)", "`id`", "a\nb", "-x", "~", "*", "é", "B3:20@1842.5,scs=30", "!!"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if strings.ContainsRune(s, 0) {
			return // no argument can hold it
		}
		if got := unquote(shellWord(s)); got != s {
			t.Errorf("%q is quoted %q, read as %q", s, shellWord(s), got)
		}
	})
}

// unquote reads one word as POSIX shells do (XCU 2.2), if it has nothing in it that has
// to be quoted and is not.
func unquote(word string) string {
	var b strings.Builder
	for word != "" {
		switch {
		case word[0] == '\'':
			text, rest, ok := strings.Cut(word[1:], "'")
			if !ok {
				return "no end"
			}
			b.WriteString(text)
			word = rest
		case word[0] == '\\' && len(word) > 1:
			b.WriteByte(word[1])
			word = word[2:]
		case strings.ContainsRune("|&;<>()$`\\\" \t\n*?[]#~!{}^", rune(word[0])) || word[0] >= 0x80:
			return "a character that is not quoted"
		default:
			b.WriteByte(word[0])
			word = word[1:]
		}
	}
	return b.String()
}

// A real shell reads a line back as its arguments.
func TestShellLine(t *testing.T) {
	args := []string{"ca", "n78:80", "", "it's", "$(id)", "`id`", "a\nb", "--x=~", "*", "é", `\`, `"`, "!!", "#"}
	out, err := exec.Command("sh", "-c", `printf '%s\0' `+shellLine(args)).Output()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Split(strings.TrimSuffix(string(out), "\x00"), "\x00"); !slices.Equal(got, append([]string{"spectally"}, args...)) {
		t.Errorf("%q", got)
	}
}
