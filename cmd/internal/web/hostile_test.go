package web_test

import (
	"encoding/csv"
	"encoding/json"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/web"
)

// hostile are texts that have broken pages, shells, spreadsheets, terminals and logs.
var hostile = []string{
	`<script>alert(1)</script>`,
	`"><img src=x onerror=alert(1)>`,
	`' onmouseover='alert(1)`,
	`</textarea></main><h1>x</h1>`,
	`{{.}}{{template "page.html"}}${7*7}#{7*7}<%= 7*7 %>`,
	`--format=json`, `--output=/tmp/spectally-hostile`, `--help`, `--version`, `--device=/etc/passwd`, `-o`, `-`, `--`, `@/etc/passwd`,
	"n78; rm -rf /", "n78`id` $(id) | cat", `'`, `"`, `\`, `'\''`,
	`=1+1`, `+1`, `@SUM(A1)`,
	"a\x00b\nc\r\nSet-Cookie: x=1", "\x1b[31mred \u202eright to left", "\ufeff", "\ufffd\u2028", "a\xffb\xc3(",
	`../../../../etc/passwd`, `file:///etc/passwd`, `//evil.example`, `javascript:alert(1)`,
	`%s%n%d`, `999999999999999999999999999999`, `-1`, `1e309`, `NaN`, `0x7fffffff`, `٣٤`,
	strings.Repeat("9", 2000), strings.Repeat("n78:100+", 200), strings.Repeat("(", 2000), strings.Repeat("é", 2000),
	`999999xn78:100`, `n78:100,layers=99999999`, `2xn78:80@640000`, `B3:20 + + n78`,
}

// manyCarriers is a combination of as many carriers as an address holds.
var manyCarriers = strings.Repeat("n78:100+", web.MaxQuery/len("n78%3A100%2B")-2) + "n78:100"

// formOf lists the parameters of a page from its form.
func formOf(s *testSite, path string) []string {
	var names []string
	main := s.page(s.get(path))
	for _, element := range []string{"input", "select", "textarea", "button"} {
		for _, n := range htmlcheck.Find(main, element) {
			if name := htmlcheck.Attribute(n, "name"); name != "" {
				names = append(names, name)
			}
		}
	}
	return names
}

var formPages = []string{"/ca", "/throughput", "/interference", "/bands", "/channel", "/configs", "/claim", "/field", "/import", "/site", "/walk", "/holdings", "/sources"}

// Whatever stands in whichever parameter, the answer is a sound page or sound data, is
// no fault of the server, and holds the text as nothing but text.
func TestHostileParameters(t *testing.T) {
	for _, path := range formPages {
		t.Run(path[1:], func(t *testing.T) {
			t.Parallel()
			s := newTestSite(t, web.Config{})
			names := append(formOf(s, path), "explain")
			if path == "/field" || path == "/site" || path == "/ca" { // what a page does not have is refused in one place
				names = append(names, "unknown", "log", "plan", "demo", "template", "rows")
			}
			slices.Sort(names)
			for n, name := range slices.Compact(names) {
				for i, text := range hostile {
					query := "?" + url.Values{name: {text}}.Encode()
					got := s.get(path + query)
					if got.status != http.StatusOK && got.status != http.StatusBadRequest {
						t.Errorf("%s with %s=%.60q: status %d", path, name, text, got.status)
					}
					s.page(got)
					if t.Failed() {
						t.Fatalf("%s with %s=%.60q", path, name, text)
					}
					// The data are those of the same command, so a part of them says enough.
					if (n+i)%2 == 0 && strings.TrimSpace(text) != "" {
						checkData(t, s, path, dataFormats[(n+i)/2%len(dataFormats)].extension, query)
					}
				}
			}
			if log := s.log.String(); strings.Contains(log, "panic") {
				t.Errorf("the log has %.2000s", log)
			}
		})
	}
}

// As many carriers as an address holds are refused as quickly as a few.
func TestManyCarriers(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for _, path := range []string{"/ca", "/throughput", "/claim"} {
		query := "?" + url.Values{"carriers": {manyCarriers}}.Encode()
		got := s.get(path + query)
		if got.status != http.StatusBadRequest {
			t.Errorf("%s: status %d", path, got.status)
		}
		s.page(got)
		checkData(t, s, path, ".json", query)
	}
}

// checkData reads the data of a page as a program does.
func checkData(t *testing.T, s *testSite, path, extension, query string) {
	t.Helper()
	got := s.get(path + extension + query)
	if got.status != http.StatusOK && got.status != http.StatusBadRequest {
		t.Errorf("%s%s%.100s: status %d", path, extension, query, got.status)
	}
	if !utf8.ValidString(got.body) || extension != ".json" && (strings.ContainsAny(got.body, "\x00\x1b") || strings.Contains(got.body, "\u202e")) {
		t.Errorf("%s%s%.100s: what could steer a terminal: %.200q", path, extension, query, got.body)
	}
	switch {
	case extension == ".json" && !json.Valid([]byte(got.body)):
		t.Errorf("%s.json%.100s: %.100q", path, query, got.body)
	case extension == ".csv" && got.status == http.StatusOK:
		if rows, err := csv.NewReader(strings.NewReader(got.body)).ReadAll(); err != nil || len(rows) == 0 {
			t.Errorf("%s.csv%.100s: %d rows, %v", path, query, len(rows), err)
		}
	}
}

// A page has the same elements whatever is typed: what is typed is text.
func TestTextNeverBecomesMarkup(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for _, tt := range []struct{ path, name string }{
		{"/claim", "text"}, {"/bands", "find"}, {"/bands", "name"}, {"/configs", "uplink"}, {"/channel", "place"},
	} {
		more := ""
		if tt.path == "/claim" {
			more = "&total-mhz=100&carriers=B3:20" // so that there is an answer that quotes the text
		}
		if tt.path == "/channel" {
			more = "&band=n78"
		}
		structure := func(text string) string {
			return htmlcheck.Structure(s.page(s.get(tt.path + "?" + url.Values{tt.name: {text}}.Encode() + more)))
		}
		want := structure("harmlessness")
		for _, text := range []string{`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `' onmouseover='alert(1)`, `{{.}}`, `</main><h1>`} {
			if got := structure(text); got != want {
				t.Errorf("%s with %s=%q has other elements", tt.path, tt.name, text)
			}
		}
	}
}

// Parameters that a page does not have, or has twice, are refused by name.
func TestUnknownParameters(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for query, want := range map[string]string{
		"device=/etc/passwd":      `parameter "device": must be`,
		"output=x":                `parameter "output": must be`,
		"format=json":             `parameter "format": must be`,
		"carriers=n78:80&qqq=1":   `parameter "qqq": must be`,
		"layers=2&layers=4":       `parameter "layers": given 2 times: must be given once`,
		"goodput=on":              `goodput "on": must be yes`,
		"carriers=%zz":            "the address cannot be read",
		"carriers=n78:80;rm=1":    "the address cannot be read",
		"carriers=n78:80&explain": "",
	} {
		got := s.get("/throughput?" + query)
		switch {
		case want == "" && got.status != 200:
			t.Errorf("?%s: status %d", query, got.status)
		case want != "" && (got.status != 400 || !strings.Contains(text(s.page(got)), want)):
			t.Errorf("?%s: status %d, want %q", query, got.status, want)
		}
	}
}

// What is no document is refused, and a document of hostile texts has a report with the
// same elements as one of harmless texts.
func TestHostileDocuments(t *testing.T) {
	eachPaper(t, func(t *testing.T, s *testSite, p *paper) {
		for _, h := range hostile {
			got := s.sendDocument(p.page, p.name, h)
			if got.status != http.StatusBadRequest {
				t.Errorf("%.60q as a document: status %d", h, got.status)
			}
			s.page(got)
		}
		report := func(text string) string {
			quoted, err := json.Marshal(text) // TOML reads the same escapes
			if err != nil {
				t.Fatal(err)
			}
			small := map[string]string{"/field": smallLog, "/site": smallPlan, "/holdings": smallHoldings}[p.page]
			got := s.sendDocument(p.page, p.name, strings.ReplaceAll(small, "TEXT", strings.Trim(string(quoted), `"`)))
			if got.status != http.StatusOK {
				t.Fatalf("the text %q: status %d, %.500q", text, got.status, got.body)
			}
			return htmlcheck.Structure(s.page(got))
		}
		want := report("harmless")
		for _, h := range []string{`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `' onmouseover='alert(1)`, `{{.}}`, `</textarea></main><h1>x`, `javascript:alert(1)`} {
			if got := report(h); got != want {
				t.Errorf("the text %q gives a report of other elements", h)
			}
		}
	})
}

// smallLog is a log in an invented place, with a text wherever one may stand.
const smallLog = `title = "TEXT at the mill"
place = "TEXT"
author = "TEXT"
notes = "TEXT"
[[network]]
name = "TEXT"
notes = "TEXT"
[[network.carrier]]
band = "n78"
width = 80
pci = 17
[[network.run]]
down = 612
where = "TEXT"
[[claim]]
text = "TEXT"
network = "TEXT"
total_mhz = 80
`

// smallPlan is a plan in an invented place, with a text wherever one may stand.
const smallHoldings = `title = "TEXT"
[[network]]
name = "TEXT"
[[network.block]]
range = "3410-3450"
note = "TEXT"
`

const smallPlan = `name = "TEXT at the mill"
place = "TEXT"
author = "TEXT"
notes = "TEXT"
environment = "rural"
[[sector]]
name = "TEXT"
[[sector.radio]]
name = "TEXT"
carriers = "n78:80"
ports = "4T4R"
measured = { dl_bps_hz = 2.4, ul_bps_hz = 1.1, origin = "TEXT" }
`
