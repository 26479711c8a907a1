package web_test

import (
	"net/http"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"spectally/cmd/internal/cli"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/web"
	"spectally/data/pace"
)

// questions are addresses of pages that have an answer, and the arguments that ask the
// same.
var questions = []struct {
	page, query string
	args        []string
}{
	{"/ca", queryOf("carriers", "B3:20 + n78:80@640000"), []string{"ca", "B3:20", "+", "n78:80@640000"}},
	{"/ca", queryOf("carriers", "n78:83"), []string{"ca", "n78:83"}}, // not allowed
	{"/ca", queryOf("carriers", "DC_3A-7A_n78A", "explain", "yes"), []string{"ca", "DC_3A-7A_n78A", "--explain"}},
	{"/ca", queryOf("carriers", "CA_n78(2A)"), []string{"ca", "CA_n78(2A)"}},
	{"/throughput", queryOf("carriers", "B3:20 + n78:100", "pattern", "7DS2U/6:4:4", "goodput", "yes"), []string{"throughput", "B3:20+n78:100", "--pattern=7DS2U/6:4:4", "--goodput"}},
	{"/throughput", queryOf("carriers", "B3:20,sinr=14 + n78:80,sinr=9", "explain", "yes"), []string{"throughput", "B3:20,sinr=14 + n78:80,sinr=9", "--explain"}},
	{"/interference", queryOf("carriers", "B3:20@1500 + n78:100@636666", "power-class", "2"), []string{"interference", "B3:20@1500", "+", "n78:100@636666", "--power-class=2"}},
	{"/interference", queryOf("carriers", "B3 + n78", "explain", "yes"), []string{"interference", "B3 + n78", "--explain"}},
	{"/configs", queryOf("with", "n78,n79", "free-of-interference", "yes"), []string{"configs", "--with=n78,n79", "--free-of-interference"}},
	{"/bands", "", []string{"bands"}},
	{"/bands", queryOf("find", "n78"), []string{"bands", "n78"}},
	{"/bands", queryOf("find", "3540 MHz"), []string{"bands", "3540", "MHz"}},
	{"/bands", queryOf("channel", "640000", "rat", "NR"), []string{"bands", "--channel", "640000", "--rat", "nr"}},
	{"/bands", queryOf("rat", "NR", "duplex", "TDD", "width", "100"), []string{"bands", "--rat=NR", "--duplex=TDD", "--width=100"}},
	{"/channel", queryOf("band", "n78", "place", "640000", "width", "80"), []string{"channel", "n78", "640000", "--width=80"}},
	{"/channel", queryOf("band", "n78", "place", "3600 MHz", "width", "40", "scs", "30", "gscn", "yes"), []string{"channel", "n78", "3600MHz", "--width=40", "--scs=30", "--gscn"}},
	{"/configs", queryOf("names", "CA_n3A-n78C"), []string{"configs", "CA_n3A-n78C"}},
	{"/configs", queryOf("with", "n78,3", "kind", "en-dc", "at-most", "3"), []string{"configs", "--with", "n78,3", "--kind=en-dc", "--at-most=3"}},
	{"/configs", queryOf("with", "n3,n28,n78", "only", "yes", "widths", "yes"), []string{"configs", "--with=n3,n28,n78", "--only", "--widths"}},
	{"/claim", queryOf("carriers", "B3:20 + n78:80", "total-mhz", "100"), []string{"claim", "--carriers", "B3:20+n78:80", "--total-mhz", "100"}},
	{"/claim", queryOf("rate", "600", "transfer", "1 GB", "in", "13.3"), []string{"claim", "--rate=600", "--transfer=1GB", "--in=13.3"}},
	{"/field", queryOf("demo", "yes"), []string{"field", "--demo"}},
	{"/import", queryOf("demo", "yes"), []string{"import", "--demo"}},
	{"/walk", queryOf("demo", "yes", "level", "-105"), []string{"walk", "--level=-105", "--demo"}},
	{"/site", queryOf("demo", "yes"), []string{"site", "--demo"}},
	{"/site", queryOf("demo", "yes", "explain", "yes"), []string{"site", "--explain", "--demo"}},
	{"/site", queryOf("demo", "yes", "setting", "sector.town.load_percent=90"), []string{"site", "--set", "sector.town.load_percent=90", "--demo"}},
	{"/holdings", queryOf("blocks", "1805-1825/1710-1730, 3410-3500"), []string{"holdings", "1805-1825/1710-1730, 3410-3500"}},
	{"/holdings", queryOf("demo", "yes", "full", "yes", "carriers", "3"), []string{"holdings", "--full", "--carriers=3", "--demo"}},
	{"/sources", queryOf("spec", "TS 38.101-1"), []string{"sources", "38.101-1"}},
}

var dataFormats = []struct{ extension, kind, format string }{
	{".json", "application/json", "json"},
	{".csv", "text/csv", "csv"},
	{".md", "text/markdown", "markdown"},
	{".txt", "text/plain", "text"},
}

// A page's data is to the byte what the command writes, by extension and by Accept.
func TestDataIsWhatTheCommandWrites(t *testing.T) {
	t.Setenv("COLUMNS", "100")
	s := newTestSite(t, web.Config{})
	for q := range pace.Some(slices.Values(questions), 4) {
		for _, f := range dataFormats {
			_, want, _ := command(append(q.args[:len(q.args):len(q.args)], "--format="+f.format)...)
			r := s.request(http.MethodGet, q.page+"?"+q.query, nil)
			r.Header.Set("Accept", f.kind)
			for _, got := range []answer{s.get(q.page + f.extension + "?" + q.query), s.do(r)} {
				if got.status != http.StatusOK || got.header.Get("Content-Type") != f.kind+"; charset=utf-8" {
					t.Errorf("%s?%s as %s: status %d, %s", q.page, q.query, f.format, got.status, got.header.Get("Content-Type"))
				}
				if got.body != want || want == "" {
					t.Errorf("%s?%s as %s: %d bytes, the command %q writes %d", q.page, q.query, f.format, len(got.body), q.args, len(want))
				}
			}
		}
	}
}

// A page shows every cell, fact, finding and sentence of the command's answer, in its
// order.
func TestPageShowsTheAnswer(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for q := range pace.Some(slices.Values(questions), 3) {
		a, err := cli.Ask(q.args, strings.NewReader(""))
		if err != nil {
			t.Fatal(err)
		}
		got := s.get(q.page + "?" + q.query)
		if got.status != http.StatusOK {
			t.Fatalf("%s?%s: status %d", q.page, q.query, got.status)
		}
		answers := byClass(s.page(got), "answer")
		if len(answers) != 1 {
			t.Fatalf("%s?%s: %d answers", q.page, q.query, len(answers))
		}
		if refuted := strings.Contains(htmlcheck.Attribute(answers[0], "class"), "refuted"); refuted != a.Refuted {
			t.Errorf("%s?%s: refuted %t, want %t", q.page, q.query, refuted, a.Refuted)
		}
		heads := byClass(s.page(got), "head")
		if len(heads) != 1 {
			t.Fatalf("%s?%s: %d heads", q.page, q.query, len(heads))
		}
		rest, parts := text(heads[0])+" "+text(answers[0]), said(a.Shown(render.Options{Format: render.HTML}).Document)
		if len(parts) < 3 {
			t.Fatalf("%q says only %q", q.args, parts)
		}
		for _, part := range parts {
			_, behind, ok := strings.Cut(rest, part)
			if !ok {
				t.Errorf("%s?%s does not show %q in its place", q.page, q.query, part)
				break
			}
			rest = behind
		}
	}
}

// said lists the texts of a document in their order.
func said(blocks []render.Block) []string {
	var list []string
	add := func(words ...string) {
		for _, w := range words {
			if w = strings.Join(strings.Fields(w), " "); w != "" {
				list = append(list, w)
			}
		}
	}
	for _, b := range blocks {
		switch b := b.(type) {
		case render.Title:
			add(b.Text, b.Detail)
		case render.Part:
			add(b.Text, b.Detail)
		case render.Section:
			add(string(b))
		case render.Paragraph:
			add(string(b))
		case render.Points:
			add(b...)
		case render.Facts:
			for _, f := range b {
				add(f.Name, f.Value)
			}
		case *render.Table:
			for _, row := range b.Rows {
				for i, cell := range row {
					if !b.Columns[i].Detail {
						add(cell)
					}
				}
			}
		case render.Verdict:
			add(b.Word, b.Text)
		case render.Explained:
			for _, step := range b() {
				add(step.Name, step.Result)
			}
		case render.List:
			add(b.Items...)
		}
	}
	return list
}

// The command lines on a page, read by a shell, are arguments that give the page's data.
func TestCommandLineGivesTheSame(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for _, q := range questions {
		main := s.page(s.get(q.page + "?" + q.query))
		commands := byClass(main, "command")
		if len(commands) == 0 {
			t.Errorf("%s?%s shows no command line", q.page, q.query)
		}
		for _, c := range commands {
			line := text(htmlcheck.Find(c, "code")[0])
			args := shellWords(t, line)
			if args[0] != "spectally" {
				t.Fatalf("the command line is %q", line)
			}
			status, want, refused := command(append(args[1:], "--format=json")...)
			got := s.get(linkTo(t, c, "JSON"))
			if status == 2 { // such as the rates of carriers that no band has
				var value struct {
					Error string `json:"error"`
				}
				decode(t, got.body, &value)
				got.body, want = value.Error+"\n", refused
			}
			if got.body != want || want == "" {
				t.Errorf("%q: %q, its link gives %q", line, want, got.body)
			}
		}
	}
}

// shellWords lets a shell read a line.
func shellWords(t *testing.T, line string) []string {
	t.Helper()
	out, err := exec.Command("sh", "-c", `printf '%s\0' `+line).Output()
	if err != nil {
		t.Fatalf("%q: %v", line, err)
	}
	return strings.Split(strings.TrimSuffix(string(out), "\x00"), "\x00")
}

// linkTo is where the link with a text leads.
func linkTo(t *testing.T, n *html.Node, name string) string {
	t.Helper()
	for _, a := range htmlcheck.Find(n, "a") {
		if text(a) == name {
			return htmlcheck.Attribute(a, "href")
		}
	}
	t.Fatalf("no link %q", name)
	return ""
}

// What a command refuses, its page refuses in the same words, and so do its data.
func TestRefusalsAgree(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for _, tt := range []struct {
		page, query string
		args        []string
		field       string // that the page leads to; empty for none
	}{
		{"/bands", queryOf("find", "n999"), []string{"bands", "n999"}, "f-find"},
		{"/bands", queryOf("find", "n78", "width", "wide"), []string{"bands", "n78", "--width=wide"}, "f-width"},
		{"/channel", queryOf("band", "n78", "place", "banana"), []string{"channel", "n78", "banana"}, "f-place"},
		{"/channel", queryOf("band", "n 78", "place", "12"), []string{"channel", "n", "78", "12"}, "f-place"},
		{"/channel", queryOf("band", "n78"), []string{"channel", "n78"}, ""},
		{"/ca", queryOf("carriers", "B3:20 + n78"), []string{"ca", "B3:20 + n78"}, "f-carriers"},
		{"/ca", queryOf("carriers", "--format=json"), []string{"ca", "--", "--format=json"}, "f-carriers"},
		{"/configs", queryOf("at-least", "no"), []string{"configs", "--at-least=no"}, "f-at-least"},
		{"/configs", queryOf("only", "yes"), []string{"configs", "--only"}, "f-only"},
		{"/throughput", queryOf("carriers", "n78:100", "layers", "9"), []string{"throughput", "n78:100", "--layers=9"}, "f-layers"},
		{"/claim", queryOf("total-mhz", "many"), []string{"claim", "--total-mhz=many"}, "f-total-mhz"},
		{"/sources", queryOf("spec", "TS 1"), []string{"sources", "TS 1"}, "f-spec"},
	} {
		status, out, stderr := command(tt.args...)
		want := strings.TrimSuffix(stderr, "\n")
		if status != 2 || out != "" {
			t.Fatalf("%q: exit status %d, %q", tt.args, status, out)
		}
		got := s.get(tt.page + "?" + tt.query)
		faults, field := atFault(s.page(got))
		if got.status != http.StatusBadRequest || len(faults) != 1 {
			t.Fatalf("%s?%s: status %d, %d faults", tt.page, tt.query, got.status, len(faults))
		}
		// The page says the same without the names of the command and the flag, as a sentence.
		said := strings.TrimSuffix(text(faults[0]), ".")
		plain := strings.Join(strings.Fields(want), " ")
		plain = strings.ReplaceAll(plain, "--with ", "“With the bands” ")
		if len(said) < 20 || !strings.HasSuffix(plain, said[1:]) {
			t.Errorf("%s?%s: %q, the command says %q", tt.page, tt.query, said, want)
		}
		if field != tt.field {
			t.Errorf("%s?%s: %q is marked, want %q", tt.page, tt.query, field, tt.field)
		}
		for _, f := range dataFormats[1:] {
			if got := s.get(tt.page + f.extension + "?" + tt.query); got.status != http.StatusBadRequest || got.body != want+"\n" {
				t.Errorf("%s%s?%s: status %d, %q", tt.page, f.extension, tt.query, got.status, got.body)
			}
		}
		var value struct {
			Error string `json:"error"`
		}
		got = s.get(tt.page + ".json?" + tt.query)
		decode(t, got.body, &value)
		if got.status != http.StatusBadRequest || value.Error != want {
			t.Errorf("%s.json?%s: status %d, %q", tt.page, tt.query, got.status, got.body)
		}
	}
}

// atFault finds what a page says is wrong, and the field that is marked as wrong.
func atFault(main *html.Node) (faults []*html.Node, field string) {
	for n := range main.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if htmlcheck.Attribute(n, "id") == "fault" {
			faults = append(faults, n)
		}
		if htmlcheck.Attribute(n, "aria-invalid") == "true" && strings.HasPrefix(htmlcheck.Attribute(n, "id"), "f-") {
			field = htmlcheck.Attribute(n, "id")
		}
	}
	return faults, field
}
