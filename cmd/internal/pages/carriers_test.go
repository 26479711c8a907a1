package pages

import (
	"errors"
	"io"
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
	type cells = map[int]string
	for text, want := range map[string][]cells{
		"":         nil,
		"CA_3A-7A": nil, // a name has no rows
		"B3:20":    {{bandCell: "B3", widthCell: "20"}},
		"B3:20/10 + 2xn78:80@640000,scs=30,pci=17": {{bandCell: "B3", widthCell: "20/10"}, {countCell: "2", bandCell: "n78", widthCell: "80", whereCell: "640000", scsCell: "30", pciCell: "17"}},
		" n78 : 80 @ 3540.96 MHz , Layers = 4 ":    {{bandCell: "n78", widthCell: "80", whereCell: "3540.96 MHz", layersCell: "4"}},
		"n78:80,role=scell,ssb=640000,ssb=1":       {{bandCell: "n78", widthCell: "80", ssbCell: "640000", keysCell: "role=scell,ssb=1"}},
		"B3 + n78":                                 {{bandCell: "B3"}, {bandCell: "n78"}},
		"B3:20 + + n78":                            {{bandCell: "B3", widthCell: "20"}, {bandCell: "n78"}}, // wrong, and shown as it is
		":::,,@@":                                  {{widthCell: "::", keysCell: ",@@"}},
	} {
		var got []cells
		for _, r := range splitCarriers(text) {
			c := cells{}
			for i, v := range r.cells {
				if v != "" {
					c[i] = v
				}
			}
			got = append(got, c)
		}
		if diff := cmp.Diff(want, got); diff != "" {
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
		second := splitCarriers(again)
		if third := joinCarriers(second); third != again && len(second) > 0 {
			t.Errorf("%q, then %q, then %q", text, again, third)
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
		"band=B3&band=n1&width=20":                                                   "/ca?carriers=B3:20+%2B+n1",
		"rows=1&band=B3&width=20":                                                    "/ca?carriers=B3:20",
		"carriers=n1:20&was=B3:20&band=B3&width=20":                                  "/ca?carriers=n1:20", // the text was changed
		"carriers=B3:20&was=B3:20&band=n1&width=20":                                  "/ca?carriers=n1:20", // the row was changed
		"carriers=CA_3A-7A&was=&band=&width=":                                        "/ca?carriers=CA_3A-7A",
		"carriers=CA_3A-7A&was=CA_3A-7A&band=&width=":                                "/ca?carriers=CA_3A-7A",
		"carriers=B3:20&was=B3:20&band=&width=":                                      "/ca",
		"band=n78&width=80&where=3600&c-rsrp=95&c-sinr=-3":                           "/ca?carriers=n78:80@3600MHz,rsrp%3D-95,sinr%3D-3",
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

// Each row has its own findings, whatever is wrong with the others.
func TestFindingsOfRows(t *testing.T) {
	q := &query{values: map[string]string{carriersName: "B3:21 + 2xn78:83 + n1:20,layers=99 + n28:10 + n78:80@1", rowsName: "6"}}
	rows := formRows(q)
	if len(rows) != 6 {
		t.Fatalf("%d rows", len(rows))
	}
	for i, want := range []string{"21 MHz", "83 MHz", "99", "", "620000", ""} {
		switch found := rows[i].Findings; {
		case want == "" && len(found) > 0, want != "" && (len(found) != 1 || !strings.Contains(found[0].Text, want)):
			t.Errorf("row %d has %v, want %q", i+1, found, want)
		}
	}
	if cell := rows[2].Findings[0].Cell; cell != columns[layersCell] {
		t.Errorf("the layers are at fault, not %q", cell)
	}
	if rows := formRows(&query{values: map[string]string{rowsName: "999999999"}}); len(rows) != mostRows {
		t.Errorf("%d rows", len(rows))
	}
}

// Rows and the text agree for whatever carriers: what is read of the one is read of the other.
func TestFormAgrees(t *testing.T) {
	s := New(func([]string, io.Reader) (*render.Answer, error) { return nil, errors.New("not asked") })
	for _, text := range []string{
		"B3:20", "B3:20@1300 + n78:80@640000", "3xn78:100,layers=4", "n78:80,ssb=640032,scs=30,pci=417,rsrp=-92.5,sinr=-3.5", "3:20/10,qam=256,ullayers=1",
		"n257:100,pattern=DDDSU/10:2:2,ul=1,role=pscell", "n84:20 + n78:100", "B41:20,pattern=2/7",
	} {
		first := formAide(s, url.Values{carriersName: {text}}, nil).(formValue)
		values := url.Values{}
		for _, r := range first.Rows {
			for name, v := range r.Cells {
				values.Add(name, v)
			}
		}
		second := formAide(s, values, nil).(formValue)
		want, err := ca.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		got, err := ca.Parse(second.Carriers)
		if err != nil || got.String() != want.String() {
			t.Errorf("%q became %q: %v", text, second.Carriers, err)
		}
		if diff := cmp.Diff(first.Rows, second.Rows); diff != "" {
			t.Errorf("%q (-of the text +of the rows):\n%s", text, diff)
		}
	}
}

// A channel number fills in the band, or offers those that it can be; one on the
// synchronisation raster may be the SS/PBCH block's: 632544 is GSCN 7838, 3000 MHz and 339
// steps of 1.44 MHz (TS 38.104 Table 5.4.3.1-1, from memory).
func TestOffers(t *testing.T) {
	texts := func(cells map[int]string) (list []string) {
		var r carrierRow
		for i, v := range cells {
			r.cells[i] = v
		}
		for _, o := range r.offers() {
			list = append(list, o.Set[columns[bandCell]]+o.Set[columns[ssbCell]])
		}
		return list
	}
	if got := texts(map[int]string{whereCell: "1300"}); !slices.Contains(got, "B3") {
		t.Errorf("EARFCN 1300 is offered as %q", got)
	}
	if got := texts(map[int]string{whereCell: "640000"}); !slices.Equal(got, []string{"n48", "n77", "n78"}) {
		t.Errorf("NR-ARFCN 640000 is offered as %q", got)
	}
	if got := texts(map[int]string{bandCell: "n78", whereCell: "640000"}); got != nil {
		t.Errorf("a channel on the raster is offered as %q", got)
	}
	if got := texts(map[int]string{bandCell: "n78", whereCell: "632544"}); !slices.Equal(got, []string{"632544"}) {
		t.Errorf("the number of a block is offered as %q", got)
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
