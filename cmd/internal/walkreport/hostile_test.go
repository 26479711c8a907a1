package walkreport_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/walk"
	"spectally/cmd/internal/walkreport"
)

// hostile are texts that do harm where they are taken for more than text.
var hostile = []string{
	`<script>alert(1)</script>`, `</title></style></svg><img src=x onerror=alert(1)>`, `" onmouseover="x`, `' OR 1=1 --`, `-->`, `]]>`,
	`=HYPERLINK("http://example.org")`, `+1+1`, `-1+1`, `@SUM(A1)`, "\t=1+1", "\r=1", `＝1+1`,
	"\x1b[31mred\x1b]0;title\x07", "a\u202eb", "a\u2028b", "line\nbreak", "nul\x00", "\xff\xfe", `| a | b |`, `[x](javascript:alert(1))`, "`code`", "# head", `{"a":1}`,
	`%s%n%d`, `../../etc/passwd`, strings.Repeat("w", 5000), "𝕏 東京 e\u0301",
}

// quoted writes a field of CSV.
func quoted(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }

// TestHostileColumns puts each text in each column, and the answer through every format.
func TestHostileColumns(t *testing.T) {
	good := []string{"2031-05-14T18:00:00Z", "31.5", "-41.25", "A", "n78:80", "417", "-90", "-11", "12", "300", "20", "25"}
	columns := []string{"time", "lat", "lon", "network", "carriers", "pci", "rsrp", "rsrq", "sinr", "down", "up", "latency"}
	for _, s := range hostile {
		for at := range columns {
			row := append([]string{}, good...)
			row[at] = s
			for i := range row {
				row[i] = quoted(row[i])
			}
			text := strings.Join(columns, ",") + "\n" + strings.Join(good, ",") + "\n" + strings.Join(row, ",") + "\n"
			r := read(t, walk.Settings{Site: samples.Place{Kind: samples.Geographic, A: 31.5, B: -41.2}}, text)
			r.Files = []string{s}
			if r.Samples+r.LeftOutCount != 2 || columns[at] != "network" && r.LeftOutCount != 1 {
				t.Fatalf("%q as %s: %d samples, %d left out", s, columns[at], r.Samples, r.LeftOutCount)
			}
			checkFormats(t, r, s)
		}
	}
}

func checkFormats(t *testing.T, r *walk.Report, s string) {
	t.Helper()
	a := walkreport.Answer(r)
	for _, f := range [...]render.Format{render.Text, render.Markdown, render.HTML, render.JSON, render.CSV} {
		for _, full := range [...]bool{false, true} {
			b := *a
			if full && f != render.Text {
				continue // it is shown whole anyway
			}
			if full {
				b.Document = b.Whole
			}
			out, err := render.Render(&b, render.Options{Format: f, Width: 80})
			if err != nil {
				t.Fatalf("%q as %v: %v", s, f, err)
			}
			if !utf8.Valid(out) {
				t.Errorf("%q as %v is no UTF-8", s, f)
			}
			switch f {
			case render.Text, render.Markdown:
				if i := bytes.IndexFunc(out, func(r rune) bool { return unicode.IsControl(r) && r != '\n' || r == '\u202e' }); i >= 0 {
					t.Errorf("%q as %v has %q in it", s, f, out[i:min(i+10, len(out))])
				}
				if f == render.Markdown {
					checkMarkdown(t, out, s)
				}
			case render.HTML:
				for _, problem := range htmlcheck.Page(out) {
					t.Errorf("%q: %s", s, problem)
				}
			case render.JSON:
				if !json.Valid(out) {
					t.Errorf("%q makes bad JSON", s)
				}
			case render.CSV:
				checkCSV(t, out, s)
			}
		}
	}
	text, err := json.Marshal(walkreport.Map(r))
	if err != nil || !json.Valid(text) {
		t.Errorf("%q: GeoJSON %v", s, err)
	}
}

// checkMarkdown finds markup that a reader of Markdown makes of the text.
func checkMarkdown(t *testing.T, out []byte, s string) {
	t.Helper()
	var b bytes.Buffer
	if err := goldmark.New(goldmark.WithExtensions(extension.GFM)).Convert(out, &b); err != nil {
		t.Fatal(err)
	}
	for _, tag := range [...]string{"<script", "<img", "<a ", "<code", "<!--"} {
		if strings.Contains(b.String(), tag) {
			t.Errorf("%q becomes %s", s, tag)
		}
	}
}

// checkCSV finds cells that a spreadsheet would carry out.
func checkCSV(t *testing.T, out []byte, s string) {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	for _, row := range rows {
		for _, cell := range row {
			if cell == "" || strings.IndexByte("=+-@\t\r\n", cell[0]) < 0 {
				continue
			}
			if _, err := strconv.ParseFloat(cell, 64); err != nil {
				t.Errorf("%q makes the cell %q", s, cell)
			}
		}
	}
}
