package web_test

import (
	"net/http"
	"strings"
	"testing"

	"spectally/cmd/internal/web"
)

// A page of an attacker, whose name was made to lead to this computer, gets nothing;
// nor does a page of another site that asks in any way but by a link.
func TestWhoIsAnswered(t *testing.T) {
	s := newTestSite(t, web.Config{Hosts: []string{"Planning.Example"}})
	port := s.address[strings.LastIndexByte(s.address, ':'):]
	own := "127.0.0.1" + port
	for _, tt := range []struct {
		name, method, host string
		header             []string
		want               int
	}{
		{"own address", "GET", own, nil, 200},
		{"localhost", "GET", "localhost" + port, nil, 200},
		{"LOCALHOST", "GET", "LOCALHOST" + port, nil, 200},
		{"another port, as behind a tunnel", "GET", "localhost:9000", nil, 200},
		{"IPv6 loopback", "GET", "[::1]" + port, nil, 200},
		{"a name that was allowed", "GET", "planning.example", nil, 200},
		{"a name that was not", "GET", "evil.example" + port, nil, 421},
		{"a name below localhost", "GET", "localhost.evil.example" + port, nil, 421},
		{"a name that begins with the address", "GET", "127.0.0.1.evil.example", nil, 421},
		{"another address", "GET", "192.0.2.1" + port, nil, 421},
		{"a number that is the address", "GET", "2130706433", nil, 421},
		{"no usable name", "GET", "[::1", nil, 421},

		{"own origin", "GET", own, []string{"Origin", "http://" + own}, 200},
		{"another origin", "GET", own, []string{"Origin", "http://evil.example"}, 403},
		{"another port's origin", "GET", own, []string{"Origin", "http://127.0.0.1:1"}, 403},
		{"no origin", "GET", own, []string{"Origin", "null"}, 403},
		{"a link on another site", "GET", own, []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "document"}, 200},
		{"a frame on another site", "GET", own, []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "iframe"}, 403},
		{"a script on another site", "GET", own, []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "no-cors", "Sec-Fetch-Dest", "script"}, 403},
		{"a page on another port", "GET", own, []string{"Sec-Fetch-Site", "same-site", "Sec-Fetch-Mode", "cors", "Sec-Fetch-Dest", "empty"}, 403},
		{"a typed address", "GET", own, []string{"Sec-Fetch-Site", "none"}, 200},
		{"a form of another site", "POST", own, []string{"Origin", "http://evil.example", "Content-Type", "text/plain"}, 403},
		{"a form of another site, without origin", "POST", own, []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "document", "Content-Type", "text/plain"}, 403},
	} {
		r := s.request(tt.method, "/field", nil)
		if tt.method == "POST" {
			r = s.request(tt.method, "/field", strings.NewReader("x"))
		}
		r.Host = tt.host
		for i := 0; i+1 < len(tt.header); i += 2 {
			r.Header.Set(tt.header[i], tt.header[i+1])
		}
		if got := s.do(r); got.status != tt.want {
			t.Errorf("%s: status %d, want %d: %.100q", tt.name, got.status, tt.want, got.body)
		}
	}
}

// No address changes anything, so only the pages that read a document take one.
func TestMethods(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for path, allowed := range map[string]string{
		"/": "GET, HEAD", "/bands": "GET, HEAD", "/ca.json": "GET, HEAD", "/healthz": "GET, HEAD", "/metrics": "GET, HEAD",
		"/style.css": "GET, HEAD", "/field": "GET, HEAD, POST", "/field.json": "GET, HEAD, POST",
		"/site": "GET, HEAD, POST", "/site.md": "GET, HEAD, POST", "/holdings": "GET, HEAD, POST",
	} {
		for _, method := range []string{"POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "PROPFIND"} {
			if strings.Contains(allowed, method) {
				continue
			}
			got := s.do(s.request(method, path, nil))
			if got.status != http.StatusMethodNotAllowed || got.header.Get("Allow") != allowed {
				t.Errorf("%s %s: status %d, Allow %q", method, path, got.status, got.header.Get("Allow"))
			}
		}
	}
	get, head := s.get("/bands?find=n78"), s.do(s.request("HEAD", "/bands?find=n78", nil))
	if head.status != 200 || head.body != "" || head.header.Get("Content-Length") != get.header.Get("Content-Length") {
		t.Errorf("HEAD: status %d, %d bytes, length %s; GET has %s", head.status, len(head.body), head.header.Get("Content-Length"), get.header.Get("Content-Length"))
	}
}

// Paths name pages and the site's own files, and nothing on disk.
func TestPaths(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for path, want := range map[string]int{
		"/": 200, "/healthz": 200, "/metrics": 200, "/style.css": 200, "/script.js": 200, "/icon.svg": 200, "/favicon.ico": 200,
		"/bands": 200, "/bands.json": 200, "/bands.xml": 404, "/bands/": 404, "/bands.json.json": 404, "//bands": 404, "/.json": 404,
		"/nothing": 404, "/nothing.json": 404, "/site.css": 404, "/static/site.css": 404, "/templates/page.html": 404,
		"/../../etc/passwd": 404, "/..%2f..%2fetc%2fpasswd": 404, "/%2e%2e/go.mod": 404, "/etc/passwd": 404, "/bands%00": 404,
		"/completion": 404, "/batch": 404, "/serve": 404, "/help": 404,
	} {
		got := s.do(s.request("GET", path, nil))
		if got.status != want {
			t.Errorf("%s: status %d, want %d", path, got.status, want)
		}
		if want == 404 && !strings.Contains(path, ".json") {
			s.page(got)
		}
	}
	if got := s.get("/healthz"); got.body != "ok\n" {
		t.Errorf("/healthz: %q", got.body)
	}
}

// Every response has the headers that keep a browser from doing what it should not.
func TestHeaders(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for _, path := range []string{"/", "/ca", "/bands?find=n78", "/bands?find=none", "/bands.json", "/nothing", "/style.css", "/healthz", "/field?demo=yes"} {
		got := s.get(path)
		policy := got.header.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'"} {
			if !strings.Contains(policy, part) {
				t.Errorf("%s: the policy %q lacks %s", path, policy, part)
			}
		}
		if strings.Contains(policy, "unsafe") || strings.Contains(policy, "*") || strings.Contains(policy, "http") {
			t.Errorf("%s: the policy allows too much: %q", path, policy)
		}
		for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin", "Referrer-Policy": "same-origin"} {
			if got.header.Get(name) != want {
				t.Errorf("%s: %s is %q", path, name, got.header.Get(name))
			}
		}
		if got.header.Get("Content-Type") == "" || got.header.Get("Cache-Control") == "" || got.header.Get("Set-Cookie") != "" || got.header.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s: %v", path, got.header)
		}
	}
}

// A browser may keep the site's files under the address that pages give, and only
// there: it names what is in them.
func TestFilesMayBeKept(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for _, name := range []string{"/style.css", "/script.js", "/icon.svg"} {
		page := s.get("/").body
		_, rest, ok := strings.Cut(page, `"`+name)
		version, _, _ := strings.Cut(rest, `"`)
		if !ok || !strings.HasPrefix(version, "?v=") {
			t.Fatalf("the page refers to %s%s", name, version)
		}
		for query, want := range map[string]string{version: "public, max-age=31536000, immutable", "": "no-cache", "?v=other": "no-cache"} {
			if got := s.get(name + query); got.header.Get("Cache-Control") != want || got.body == "" {
				t.Errorf("%s%s: %q", name, query, got.header.Get("Cache-Control"))
			}
		}
	}
}

func TestNegotiation(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for accept, want := range map[string]string{
		"":                 "text/html",
		"*/*":              "text/html",
		"application/json": "application/json",
		"text/csv":         "text/csv",
		"text/markdown":    "text/markdown",
		"text/plain":       "text/plain",
		"text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8": "text/html",
		"application/json;q=0.5, text/html":                               "text/html",
		"application/json, text/html;q=0.5":                               "application/json",
		"text/csv;q=0.2, application/json;q=0.7":                          "application/json",
		"application/json;q=0":                                            "text/html",
		"application/json;q=7":                                            "text/html",
		"image/png":                                                       "text/html",
		"APPLICATION/JSON ; q=1":                                          "application/json",
	} {
		r := s.request("GET", "/bands?find=n78", nil)
		r.Header.Set("Accept", accept)
		got := s.do(r)
		if kind, _, _ := strings.Cut(got.header.Get("Content-Type"), ";"); kind != want || got.status != 200 || got.header.Get("Vary") != "Accept" {
			t.Errorf("Accept %q: %s, status %d, Vary %q; want %s", accept, kind, got.status, got.header.Get("Vary"), want)
		}
		r = s.request("GET", "/", nil)
		r.Header.Set("Accept", accept)
		if got := s.do(r); !strings.HasPrefix(got.header.Get("Content-Type"), "text/html") {
			t.Errorf("Accept %q: the first page is %s", accept, got.header.Get("Content-Type"))
		}
	}
}
