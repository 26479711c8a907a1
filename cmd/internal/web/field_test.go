package web_test

import (
	"bytes"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/web"
)

// A log that is pasted comes to an address that holds it, whose report and data are
// those of the command.
func TestFieldLog(t *testing.T) {
	s := newTestSite(t, web.Config{})
	// A browser ends the lines of a text field by two characters.
	for _, log := range []string{fieldlog.Demo(), strings.ReplaceAll(fieldlog.Demo(), "\n", "\r\n"), fieldlog.Template()} {
		form := url.Values{"log": {log}}.Encode()
		got := s.post("/field", "application/x-www-form-urlencoded", form)
		address := got.header.Get("Location")
		if got.status != http.StatusSeeOther || !strings.HasPrefix(address, "/field?log=") {
			t.Fatalf("status %d, location %.50q", got.status, address)
		}
		log = strings.ReplaceAll(log, "\r\n", "\n")
		got = s.get(address)
		main := s.page(got)
		if got.status != http.StatusOK || got.header.Get("Cache-Control") != "no-store" {
			t.Fatalf("status %d, %s", got.status, got.header.Get("Cache-Control"))
		}
		if shown := htmlcheck.Text(htmlcheck.Find(main, "textarea")[0]); shown != log {
			t.Errorf("the form shows a log of %d characters, not of %d", len(shown), len(log))
		}
		if line := text(htmlcheck.Find(byClass(main, "command")[0], "code")[0]); line != "spectally field log.toml" {
			t.Errorf("the command line is %q", line)
		}
		for _, f := range dataFormats {
			_, want, _ := commandWith(log, "field", "-", "--format="+f.format)
			if got := s.get(strings.Replace(address, "/field", "/field"+f.extension, 1)); got.body != want || want == "" {
				t.Errorf("as %s: %d bytes, the command writes %d", f.format, len(got.body), len(want))
			}
			if got := s.post("/field"+f.extension, "application/toml", log); got.status != 200 || got.body != want {
				t.Errorf("sent for %s: status %d, %d bytes, the command writes %d", f.format, got.status, len(got.body), len(want))
			}
		}
	}
}

// A log too long for an address is answered all the same, and its form can be sent for
// the data. Nothing of it is kept: sent once, it is nowhere.
func TestLongFieldLog(t *testing.T) {
	s := newTestSite(t, web.Config{})
	r := rand.New(rand.NewPCG(3, 5))
	var noise strings.Builder // text that does not get short
	for range 60_000 {
		noise.WriteByte(byte('a' + r.IntN(26)))
		if r.IntN(8) == 0 {
			noise.WriteByte(' ')
		}
	}
	log := fieldlog.Demo() + "# " + noise.String() + "\n"
	got := s.sendLog("/field", log)
	main := s.page(got)
	if got.status != http.StatusOK || len(byClass(main, "answer")) != 1 {
		t.Fatalf("status %d: %.300q", got.status, text(byClass(main, "fault")[0]))
	}
	if len(byClass(main, "formats")) != 0 {
		t.Error("there are links to data that the addresses do not hold")
	}
	var actions []string
	for _, b := range htmlcheck.Find(main, "button") {
		if a := htmlcheck.Attribute(b, "formaction"); a != "" {
			actions = append(actions, a)
		}
	}
	if strings.Join(actions, " ") != "/field.json /field.csv /field.md /field.txt" {
		t.Errorf("the form can be sent to %q", actions)
	}
	_, want, _ := commandWith(log, "field", "-", "--format=json")
	if got := s.sendLog("/field.json", log); got.body != want || want == "" {
		t.Errorf("sent for JSON: %d bytes, the command writes %d", len(got.body), len(want))
	}
}

func TestFieldLogAsFile(t *testing.T) {
	s := newTestSite(t, web.Config{})
	var b bytes.Buffer
	form := multipart.NewWriter(&b)
	file, err := form.CreateFormFile("file", "../../etc/passwd")
	if err == nil {
		_, err = file.Write([]byte(fieldlog.Demo()))
	}
	if err == nil {
		err = form.WriteField("log", "not = read")
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
	got := s.post("/field", form.FormDataContentType(), b.String())
	if got.status != http.StatusSeeOther {
		t.Fatalf("status %d", got.status)
	}
	_, want, _ := commandWith(fieldlog.Demo(), "field", "-", "--explain", "--format=markdown")
	if got := s.get(strings.Replace(got.header.Get("Location"), "/field", "/field.md", 1)); got.body != want {
		t.Errorf("%d bytes, the command writes %d", len(got.body), len(want))
	}
}

// Browsers send a file without a name and content where none was chosen.
func TestFieldLogWithoutFile(t *testing.T) {
	s := newTestSite(t, web.Config{})
	body := "--b\r\nContent-Disposition: form-data; name=\"log\"\r\n\r\n" + fieldlog.Template() +
		"\r\n--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"\"\r\nContent-Type: application/octet-stream\r\n\r\n\r\n--b--\r\n"
	if got := s.post("/field", "multipart/form-data; boundary=b", body); got.status != http.StatusSeeOther {
		t.Errorf("status %d: %.2000q", got.status, got.body)
	}
}

// Everything that is wrong with a log is on the page, in the command's words.
func TestBadFieldLog(t *testing.T) {
	s := newTestSite(t, web.Config{})
	const log = "title = 3\n[[network]]\nname = \"N\"\n[[network.carrier]]\nband = \"n999\"\nwidth = 20\n"
	status, _, want := commandWith(log, "field", "-")
	lines := strings.Split(strings.TrimSuffix(want, "\n"), "\n")
	if status != 2 || len(lines) < 2 {
		t.Fatalf("exit status %d, %q", status, want)
	}
	got := s.sendLog("/field", log)
	main := s.page(got)
	var shown []string
	for _, p := range htmlcheck.Find(byClass(main, "fault")[0], "p") {
		shown = append(shown, htmlcheck.Text(p))
	}
	if got.status != http.StatusBadRequest || strings.Join(shown, "\n") != strings.Join(lines, "\n") {
		t.Errorf("status %d, %q; the command says %q", got.status, shown, lines)
	}
	if shown := htmlcheck.Text(htmlcheck.Find(main, "textarea")[0]); shown != log {
		t.Errorf("the form shows %q", shown)
	}
	if got := s.post("/field.txt", "text/plain", log); got.body != want {
		t.Errorf("%q, the command says %q", got.body, want)
	}
}

// What is no form, no log or no address is refused.
func TestWrongDocuments(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for _, tt := range []struct {
		kind, body string
		status     int
		want       string
	}{
		{"text/plain", "", 400, "nothing was sent"},
		{"text/plain", " \n\t", 400, "nothing was sent"},
		{"application/x-www-form-urlencoded", "log=", 400, "nothing was sent"},
		{"application/x-www-form-urlencoded", "log=x&device=/etc/passwd", 400, `parameter "device"`},
		{"application/x-www-form-urlencoded", "log=%zz", 400, "the form cannot be read"},
		{"multipart/form-data", "x", 400, "the form cannot be read"},
		{"multipart/form-data; boundary=b", "--b\r\nContent-Disposition: form-data; name=\"log\"\r\n\r\nx", 400, "the form cannot be read"},
		{"image/png", "x", 400, "the form cannot be read"},
		{"", "x", 400, "the form cannot be read"},
		{"text/plain", strings.Repeat("#", 1<<20+1), 413, "allowed is at most 1048576"},
		{"text/plain", strings.Repeat("#", 8<<20), 413, "allowed is at most"},
		{"application/x-www-form-urlencoded", "log=" + strings.Repeat("%23", 1<<20) + "&x=" + strings.Repeat("y", 1<<20), 413, "allowed is at most"},
	} {
		got := s.post("/field", tt.kind, tt.body)
		if got.status != tt.status || !strings.Contains(got.body, strings.ReplaceAll(tt.want, `"`, "&#34;")) {
			t.Errorf("%s of %d bytes: status %d, %.2000q; want %d, %q", tt.kind, len(tt.body), got.status, got.body, tt.status, tt.want)
		}
	}
	for query, want := range map[string]string{
		"log=!!":                "the address holds no whole document",
		"log=AAAA":              "the address holds no whole document",
		"log=AAAA&demo=yes":     "allowed is one of them",
		"demo=yes&template=yes": "allowed is one of them",
		"demo=please":           `demo "please": allowed is yes`,
	} {
		got := s.get("/field?" + query)
		if got.status != 400 || !strings.Contains(text(s.page(got)), want) {
			t.Errorf("?%s: status %d, want %q", query, got.status, want)
		}
	}
}
