package web_test

import (
	"bytes"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/holdings"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/siteplan"
	"spectally/cmd/internal/web"
)

// paper is a page that reads a document.
type paper struct {
	page, name, file string // its address, its parameter, and the file of its command line
	demo, template   string
	bad              string // a document with several faults
}

func (p *paper) command() string { return p.page[1:] }

var papers = []paper{
	{"/field", "log", "log.toml", fieldlog.Demo(), fieldlog.Template(),
		"title = 3\n[[network]]\nname = \"N\"\n[[network.carrier]]\nband = \"n999\"\nwidth = 20\n"},
	{"/site", "plan", "plan.toml", siteplan.Demo(), siteplan.Template(),
		"name = 3\nload_percent = 400\n[[sector]]\nname = \"N\"\n[[sector.radio]]\ncarriers = \"n999:20\"\n"},
	{"/holdings", "held", "held.toml", holdings.Demo(), holdings.Template(),
		"title = 3\n[[network]]\nname = \"N\"\nblocks = \"100-200, 3500-3410\"\n"},
}

// eachPaper runs a test for each page that reads a document.
func eachPaper(t *testing.T, test func(*testing.T, *testSite, *paper)) {
	t.Helper()
	for i := range papers {
		t.Run(papers[i].command(), func(t *testing.T) { test(t, newTestSite(t, web.Config{}), &papers[i]) })
	}
}

// A document that is pasted comes to an address that holds it, whose report and data
// are those of the command.
func TestDocument(t *testing.T) {
	eachPaper(t, func(t *testing.T, s *testSite, p *paper) {
		// A browser ends the lines of a text field by two characters.
		for _, document := range []string{p.demo, strings.ReplaceAll(p.demo, "\n", "\r\n"), p.template} {
			form := url.Values{p.name: {document}}.Encode()
			got := s.post(p.page, "application/x-www-form-urlencoded", form)
			address := got.header.Get("Location")
			if got.status != http.StatusSeeOther || !strings.HasPrefix(address, p.page+"?"+p.name+"=") {
				t.Fatalf("status %d, location %.50q", got.status, address)
			}
			document = strings.ReplaceAll(document, "\r\n", "\n")
			got = s.get(address)
			main := s.page(got)
			if got.status != http.StatusOK || got.header.Get("Cache-Control") != "no-store" {
				t.Fatalf("status %d, %s", got.status, got.header.Get("Cache-Control"))
			}
			if shown := htmlcheck.Text(textBox(main)); shown != document {
				t.Errorf("the form shows %d characters, not %d", len(shown), len(document))
			}
			if line := text(htmlcheck.Find(byClass(main, "command")[0], "code")[0]); line != "spectally "+p.command()+" "+p.file {
				t.Errorf("the command line is %q", line)
			}
			for _, f := range dataFormats {
				_, want, _ := commandWith(document, p.command(), "-", "--format="+f.format)
				if got := s.get(strings.Replace(address, p.page, p.page+f.extension, 1)); got.body != want || want == "" {
					t.Errorf("as %s: %d bytes, the command writes %d", f.format, len(got.body), len(want))
				}
				if got := s.post(p.page+f.extension, "application/toml", document); got.status != 200 || got.body != want {
					t.Errorf("sent for %s: status %d, %d bytes, the command writes %d", f.format, got.status, len(got.body), len(want))
				}
			}
		}
	})
}

// A document too long for an address is answered all the same, and its form can be sent
// for the data. Nothing of it is kept: sent once, it is nowhere.
func TestLongDocument(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	var noise strings.Builder // text that does not get short
	for range 60_000 {
		noise.WriteByte(byte('a' + r.IntN(26)))
		if r.IntN(8) == 0 {
			noise.WriteByte(' ')
		}
	}
	eachPaper(t, func(t *testing.T, s *testSite, p *paper) {
		document := p.demo + "# " + noise.String() + "\n"
		got := s.sendDocument(p.page, p.name, document)
		main := s.page(got)
		if got.status != http.StatusOK || len(byClass(main, "answer")) != 1 {
			t.Fatalf("status %d: %.300q", got.status, got.body)
		}
		if len(byClass(main, "formats")) != 0 {
			t.Error("there are links to data that the addresses do not hold")
		}
		var actions []string
		for _, b := range htmlcheck.Find(main, "button") {
			if a := htmlcheck.Attribute(b, "formaction"); a != "" {
				actions = append(actions, strings.TrimPrefix(a, p.page))
			}
		}
		if strings.Join(actions, " ") != ".json .csv .md .txt" {
			t.Errorf("the form can be sent to %q", actions)
		}
		_, want, _ := commandWith(document, p.command(), "-", "--format=json")
		if got := s.sendDocument(p.page+".json", p.name, document); got.body != want || want == "" {
			t.Errorf("sent for JSON: %d bytes, the command writes %d", len(got.body), len(want))
		}
	})
}

func TestDocumentAsFile(t *testing.T) {
	eachPaper(t, func(t *testing.T, s *testSite, p *paper) {
		var b bytes.Buffer
		form := multipart.NewWriter(&b)
		file, err := form.CreateFormFile("file", "../../etc/passwd")
		if err == nil {
			_, err = file.Write([]byte(p.demo))
		}
		if err == nil {
			err = form.WriteField(p.name, "not = read")
		}
		if err == nil {
			err = form.WriteField("explain", "yes")
		}
		if err == nil {
			err = form.Close()
		}
		if err != nil {
			t.Fatal(err)
		}
		got := s.post(p.page, form.FormDataContentType(), b.String())
		if got.status != http.StatusSeeOther {
			t.Fatalf("status %d", got.status)
		}
		_, want, _ := commandWith(p.demo, p.command(), "-", "--explain", "--format=markdown")
		if got := s.get(strings.Replace(got.header.Get("Location"), p.page, p.page+".md", 1)); got.body != want || want == "" {
			t.Errorf("%d bytes, the command writes %d", len(got.body), len(want))
		}
	})
}

// Browsers send a file without a name and content where none was chosen.
func TestDocumentWithoutFile(t *testing.T) {
	eachPaper(t, func(t *testing.T, s *testSite, p *paper) {
		body := "--b\r\nContent-Disposition: form-data; name=\"" + p.name + "\"\r\n\r\n" + p.template +
			"\r\n--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"\"\r\nContent-Type: application/octet-stream\r\n\r\n\r\n--b--\r\n"
		if got := s.post(p.page, "multipart/form-data; boundary=b", body); got.status != http.StatusSeeOther {
			t.Errorf("status %d: %.2000q", got.status, got.body)
		}
	})
}

// Everything that is wrong with a document is on the page, in the command's words.
func TestBadDocument(t *testing.T) {
	eachPaper(t, func(t *testing.T, s *testSite, p *paper) {
		status, _, want := commandWith(p.bad, p.command(), "-")
		lines := strings.Split(strings.TrimSuffix(want, "\n"), "\n")
		if status != 2 || len(lines) < 2 {
			t.Fatalf("exit status %d, %q", status, want)
		}
		got := s.sendDocument(p.page, p.name, p.bad)
		main := s.page(got)
		var shown []string
		for _, p := range htmlcheck.Find(byClass(main, "fault")[0], "p") {
			shown = append(shown, htmlcheck.Text(p))
		}
		if got.status != http.StatusBadRequest || len(shown) != len(lines) {
			t.Fatalf("status %d, %q; the command says %q", got.status, shown, lines)
		}
		for i, line := range lines { // <stdin>:9: says
			_, rest, _ := strings.Cut(line, ":")
			number, says, _ := strings.Cut(rest, ": ")
			n, err := strconv.Atoi(number)
			if err != nil {
				t.Fatal(err)
			}
			want := "Line " + number + ", " + says
			if text := strings.TrimSpace(strings.Split(p.bad, "\n")[n-1]); !strings.HasPrefix(shown[i], want) || !strings.Contains(shown[i], text) {
				t.Errorf("%q, want %q and the line %q", shown[i], want, text)
			}
		}
		if shown := htmlcheck.Text(textBox(main)); shown != p.bad {
			t.Errorf("the form shows %q", shown)
		}
		if got := s.post(p.page+".txt", "text/plain", p.bad); got.body != want {
			t.Errorf("%q, the command says %q", got.body, want)
		}
	})
}

// What is no form, no document or no address is refused.
func TestWrongDocuments(t *testing.T) {
	eachPaper(t, func(t *testing.T, s *testSite, p *paper) {
		for _, tt := range []struct {
			kind, body string
			status     int
			want       string
		}{
			{"text/plain", "", 400, "nothing was sent"},
			{"text/plain", " \n\t", 400, "nothing was sent"},
			{"application/x-www-form-urlencoded", p.name + "=", 400, "nothing was sent"},
			{"application/x-www-form-urlencoded", p.name + "=x&device=/etc/passwd", 400, `parameter "device"`},
			{"application/x-www-form-urlencoded", p.name + "=x&csv=/etc/passwd", 400, `parameter "csv"`},
			{"application/x-www-form-urlencoded", p.name + "=%zz", 400, "the form cannot be read"},
			{"multipart/form-data", "x", 400, "the form cannot be read"},
			{"multipart/form-data; boundary=b", "--b\r\nContent-Disposition: form-data; name=\"" + p.name + "\"\r\n\r\nx", 400, "the form cannot be read"},
			{"image/png", "x", 400, "the form cannot be read"},
			{"", "x", 400, "the form cannot be read"},
			{"text/plain", strings.Repeat("#", 1<<20+1), 413, "must be at most 1048576"},
			{"text/plain", strings.Repeat("#", 8<<20), 413, "must be at most"},
			{"application/x-www-form-urlencoded", p.name + "=" + strings.Repeat("%23", 1<<20) + "&x=" + strings.Repeat("y", 1<<20), 413, "must be at most"},
		} {
			got := s.post(p.page, tt.kind, tt.body)
			if got.status != tt.status || !strings.Contains(got.body, strings.ReplaceAll(tt.want, `"`, "&#34;")) {
				t.Errorf("%s of %d bytes: status %d, %.2000q; want %d, %q", tt.kind, len(tt.body), got.status, got.body, tt.status, tt.want)
			}
		}
		for query, want := range map[string]string{
			p.name + "=!!":            "the address holds no whole document",
			p.name + "=AAAA":          "the address holds no whole document",
			p.name + "=AAAA&demo=yes": "must be one of them",
			"demo=yes&template=yes":   "must be one of them",
			"demo=please":             `demo "please": must be yes`,
		} {
			got := s.get(p.page + "?" + query)
			if got.status != 400 || !strings.Contains(text(s.page(got)), want) {
				t.Errorf("?%s: status %d, want %q", query, got.status, want)
			}
		}
	})
}

// textBox is the field that a document is pasted into.
func textBox(main *html.Node) *html.Node {
	list := htmlcheck.Find(main, "textarea")
	return list[slices.IndexFunc(list, func(n *html.Node) bool { return htmlcheck.Attribute(n, "id") == "f-text" })]
}
