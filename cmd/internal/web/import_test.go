package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/imports"
	"spectally/cmd/internal/web"
)

// What is pasted on the page of imports is answered as the command answers it; what cannot
// be read is one line on the page.
func TestImportPaste(t *testing.T) {
	s := newTestSite(t, web.Config{})
	got := s.post("/import", "application/x-www-form-urlencoded", url.Values{"dump": {imports.Demo()}}.Encode())
	address := got.header.Get("Location")
	if got.status != http.StatusSeeOther || !strings.HasPrefix(address, "/import?dump=") {
		t.Fatalf("status %d, location %.50q", got.status, address)
	}
	if page := htmlcheck.Text(s.page(s.get(address))); !strings.Contains(page, "n78:100,ssb=636000") {
		t.Errorf("%.400q", page)
	}
	_, want, _ := commandWith(imports.Demo(), "import", "-", "--format=json")
	if got := s.get(strings.Replace(address, "/import", "/import.json", 1)); got.body != want || want == "" {
		t.Errorf("%d bytes, the command writes %d", len(got.body), len(want))
	}
	got = s.post("/import", "application/x-www-form-urlencoded", url.Values{"dump": {"dl;ping\n512;24\n"}, "map": {"down=dl"}}.Encode())
	if page := htmlcheck.Text(s.page(s.get(got.header.Get("Location")))); !strings.Contains(page, "512") {
		t.Errorf("mapped CSV: %.400q", page)
	}
	got = s.post("/import", "application/x-www-form-urlencoded", url.Values{"dump": {"hello"}}.Encode())
	if got.status == http.StatusSeeOther {
		got = s.get(got.header.Get("Location"))
	}
	if page := htmlcheck.Text(s.page(got)); got.status != http.StatusBadRequest || !strings.Contains(page, "5 bytes of something else") {
		t.Errorf("status %d: %.400q", got.status, page)
	}
}
