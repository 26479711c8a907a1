package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"mime/multipart"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"

	"golang.org/x/net/html"

	"spectally/cmd/internal/cli"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/web"
)

// testSite is a site that is served for a test.
type testSite struct {
	t       testing.TB
	handler http.Handler
	address string // http://127.0.0.1:port
	log     *safeBuffer
	client  *http.Client
}

// safeBuffer takes a log.
type safeBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *safeBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *safeBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// newTestSite serves the answers of the commands on a free port of this computer, for
// as long as the test takes. At its end the site must stop.
func newTestSite(t testing.TB, c web.Config) *testSite {
	t.Helper()
	s := &testSite{t: t, log: &safeBuffer{}}
	level := slog.LevelWarn // a line for each of many requests would only take time
	if c.Ask == nil {
		c.Ask = cli.Ask
	}
	c.Log = slog.New(slog.NewTextHandler(s.log, &slog.HandlerOptions{Level: level}))
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s.address = "http://" + l.Addr().String()
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	s.handler = web.New(c)
	go func() { done <- web.ServePatiently(ctx, l, s.handler, c.Log) }()
	transport := &http.Transport{MaxIdleConnsPerHost: 200, DisableCompression: true}
	s.client = &http.Client{
		Transport:     transport,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
	t.Cleanup(func() {
		transport.CloseIdleConnections()
		stop()
		if err := <-done; err != nil {
			t.Errorf("serving ended with %v", err)
		}
	})
	return s
}

// answer is what a test gets.
type answer struct {
	status int
	header http.Header
	body   string
}

func (s *testSite) do(r *http.Request) answer {
	s.t.Helper()
	resp, err := s.client.Do(r)
	if err != nil {
		s.t.Fatalf("%s %s: %v", r.Method, r.URL, err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		s.t.Fatalf("%s %s: %v", r.Method, r.URL, err)
	}
	return answer{resp.StatusCode, resp.Header, string(body)}
}

func (s *testSite) request(method, path string, body io.Reader) *http.Request {
	s.t.Helper()
	r, err := http.NewRequest(method, s.address+path, body)
	if err != nil {
		s.t.Fatal(err)
	}
	return r
}

// get follows the redirects within the site.
func (s *testSite) get(path string) answer {
	s.t.Helper()
	a := s.do(s.request(http.MethodGet, path, nil))
	for range 3 {
		if a.status != http.StatusSeeOther {
			break
		}
		a = s.do(s.request(http.MethodGet, a.header.Get("Location"), nil))
	}
	return a
}

// queryOf writes parameters, given as names and values in turn.
func queryOf(parameters ...string) string {
	v := url.Values{}
	for i := 0; i+1 < len(parameters); i += 2 {
		v.Add(parameters[i], parameters[i+1])
	}
	return v.Encode()
}

// page reads a page, checks how it is built, and returns its <main>.
func (s *testSite) page(a answer) *html.Node {
	s.t.Helper()
	root, err := html.Parse(strings.NewReader(a.body))
	if err != nil {
		s.t.Fatal(err)
	}
	mains := htmlcheck.Find(root, "main")
	if len(mains) != 1 || len(htmlcheck.Find(root, "h1")) != 1 {
		s.t.Fatalf("%d <main> and %d <h1> in %.300q", len(mains), len(htmlcheck.Find(root, "h1")), a.body)
	}
	for _, problem := range built(root) {
		s.t.Error(problem)
	}
	// What stands in the answer is for the checks of answers.
	if _, fragment, ok := strings.Cut(a.body, `<div class="answer`); ok {
		_, fragment, _ = strings.Cut(fragment, ">\n")
		fragment, _, _ = strings.Cut(fragment, "</div>\n<section class=\"same\"")
		for _, problem := range htmlcheck.Fragment([]byte(fragment)) {
			if !strings.HasPrefix(problem, `a link to "/`) { // built has seen where those lead
				s.t.Error(problem)
			}
		}
	}
	return mains[0]
}

// built tells what is wrong with how a page is built: nothing inline that a strict
// policy refuses, nothing from elsewhere, a label for each field, ids once, and
// references that lead somewhere.
func built(root *html.Node) (problems []string) {
	say := func(format string, args ...any) { problems = append(problems, fmt.Sprintf(format, args...)) }
	ids := map[string]int{}
	labelled := map[string]bool{}
	var refers []string
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if n.Data == "style" || n.Data == "script" && n.FirstChild != nil {
			say("an inline <%s>", n.Data)
		}
		for _, a := range n.Attr {
			switch {
			case a.Key == "id":
				ids[a.Val]++
			case n.Data == "label" && a.Key == "for":
				labelled[a.Val] = true
				refers = append(refers, a.Val)
			case a.Key == "style" || strings.HasPrefix(a.Key, "on"):
				say("<%s> has the attribute %s", n.Data, a.Key)
			case a.Key == "href" && strings.HasPrefix(a.Val, "#"):
				refers = append(refers, a.Val[1:])
			case a.Key == "href" || a.Key == "src" || a.Key == "action" || a.Key == "formaction":
				if !strings.HasPrefix(a.Val, "/") || strings.HasPrefix(a.Val, "//") {
					say("<%s> leads elsewhere: %q", n.Data, a.Val)
				}
			case a.Key == "aria-describedby" || a.Key == "aria-labelledby":
				refers = append(refers, strings.Fields(a.Val)...)
			case a.Key == "list":
				refers = append(refers, a.Val)
			}
		}
	}
	for id, n := range ids {
		if n > 1 {
			say("%d elements have the id %q", n, id)
		}
	}
	for _, id := range refers {
		if ids[id] == 0 {
			say("nothing has the id %q", id)
		}
	}
	for n := range root.Descendants() {
		if n.Type != html.ElementNode || htmlcheck.Attribute(n, "type") == "hidden" {
			continue
		}
		if (n.Data == "input" || n.Data == "select" || n.Data == "textarea") && !labelled[htmlcheck.Attribute(n, "id")] {
			say("<%s> %q has no label", n.Data, htmlcheck.Attribute(n, "name"))
		}
	}
	return problems
}

// text is the text of a node, with single blanks.
func text(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// byClass lists the elements that have a class.
func byClass(root *html.Node, class string) []*html.Node {
	var list []*html.Node
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && strings.Contains(" "+htmlcheck.Attribute(n, "class")+" ", " "+class+" ") {
			list = append(list, n)
		}
	}
	return list
}

// command runs the program in this process.
func command(args ...string) (status int, stdout, stderr string) {
	return commandWith("", args...)
}

func commandWith(input string, args ...string) (status int, stdout, stderr string) {
	var out, errs bytes.Buffer
	status = cli.Run(args, strings.NewReader(input), &out, &errs)
	return status, out.String(), errs.String()
}

// decode reads JSON that must have nothing but what is expected.
func decode(t *testing.T, body string, into any) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatalf("%v in %.300q", err, body)
	}
}

// post sends a body.
func (s *testSite) post(path, kind, body string) answer {
	s.t.Helper()
	r := s.request(http.MethodPost, path, strings.NewReader(body))
	r.Header.Set("Content-Type", kind)
	return s.do(r)
}

// sendDocument sends a document as a form does, and follows to its report.
func (s *testSite) sendDocument(path, name, document string) answer {
	s.t.Helper()
	var b bytes.Buffer
	form := multipart.NewWriter(&b)
	part, err := form.CreateFormField(name)
	if err == nil {
		_, err = io.WriteString(part, document)
	}
	if err == nil {
		err = form.Close()
	}
	if err != nil {
		s.t.Fatal(err)
	}
	got := s.post(path, form.FormDataContentType(), b.String())
	if got.status == http.StatusSeeOther {
		return s.get(got.header.Get("Location"))
	}
	return got
}
