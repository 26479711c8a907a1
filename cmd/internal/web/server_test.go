package web

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"spectally/cmd/internal/pages"
	"spectally/cmd/internal/render"
)

// start serves a site and returns its address, and what stops it and returns its error.
func start(t *testing.T, s *site, limits times) (address string, stop func() error) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- serve(ctx, l, s, s.log, limits) }()
	var once sync.Once
	stop = func() error {
		err := context.Canceled
		once.Do(func() {
			cancel()
			err = <-done
		})
		return err
	}
	t.Cleanup(func() { _ = stop() })
	return l.Addr().String(), stop
}

// quiet makes a site whose log a test can read.
func quiet(ask pages.Ask) (*site, *logBuffer) {
	log := &logBuffer{}
	return newSite(Config{Ask: ask, Log: slog.New(slog.NewTextHandler(log, nil))}), log
}

// logBuffer takes a log.
type logBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *logBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *logBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// said answers every question with a document of one sentence.
func said(text string) pages.Ask {
	return func([]string, io.Reader) (*render.Answer, error) {
		return &render.Answer{Value: func() any { return text }, Document: []render.Block{render.Paragraph(text)}, Data: &render.Table{Columns: []render.Column{{Key: "a"}}, Rows: [][]string{{text}}}}, nil
	}
}

// A client that sends slowly, or takes slowly, or says nothing, is given up in time and
// keeps nobody else waiting.
func TestSlowClients(t *testing.T) {
	long := strings.Repeat("0123456789abcdef", 1<<20) // more than the buffers of a connection take
	const soon = 200 * time.Millisecond
	for _, tt := range []struct {
		name  string
		limit func(*times) // sets the only one that is not patient
		act   func(*testing.T, net.Conn, *logBuffer)
	}{
		{"says nothing", func(l *times) { l.header = soon }, func(*testing.T, net.Conn, *logBuffer) {}},
		{"sends its header slowly", func(l *times) { l.header = soon }, func(_ *testing.T, c net.Conn, _ *logBuffer) {
			trickle(c, "GET /bands HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Long: "+strings.Repeat("y", 1000))
		}},
		{"sends its form slowly", func(l *times) { l.read = soon }, func(_ *testing.T, c net.Conn, _ *logBuffer) {
			fmt.Fprint(c, "POST /field HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: text/plain\r\nContent-Length: 1000\r\n\r\n")
			trickle(c, strings.Repeat("#", 999))
		}},
		{"takes no answer", func(l *times) { l.write = soon }, func(t *testing.T, c net.Conn, log *logBuffer) {
			fmt.Fprint(c, "GET /bands.csv HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
			until(t, "an answer that nobody takes is still being sent", func() bool { return strings.Contains(log.String(), "path=/bands.csv") })
		}},
		{"asks no more", func(l *times) { l.idle = soon }, func(t *testing.T, c net.Conn, _ *logBuffer) {
			fmt.Fprint(c, "GET /healthz HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
			readResponse(t, c)
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			s, log := quiet(said(long))
			limits := patient
			tt.limit(&limits)
			address, _ := start(t, s, limits)
			c, err := net.Dial("tcp", address)
			if err != nil {
				t.Fatal(err)
			}
			defer c.Close()
			tt.act(t, c, log)
			// Closed, not merely silent: reading comes to an end, and not to our own limit.
			if err := c.SetReadDeadline(time.Now().Add(2 * time.Minute)); err != nil {
				t.Fatal(err)
			}
			n, err := io.Copy(io.Discard, c)
			if errors.Is(err, os.ErrDeadlineExceeded) {
				t.Error("the connection is still open")
			}
			if n >= int64(len(long)) {
				t.Errorf("the whole answer of %d bytes was sent to a client that took none in time", n)
			}
			resp, err := http.Get("http://" + address + "/nothing")
			if err != nil || resp.StatusCode != http.StatusNotFound {
				t.Fatalf("others are not answered: %v", err)
			}
			resp.Body.Close()
		})
	}
}

// trickle sends a byte at a time until the connection is closed.
func trickle(c net.Conn, text string) {
	for i := range len(text) {
		if _, err := io.WriteString(c, text[i:i+1]); err != nil {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
}

func readResponse(t *testing.T, c net.Conn) {
	t.Helper()
	resp, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Error(err)
		return
	}
	_, _ = io.Copy(io.Discard, resp.Body)
	resp.Body.Close()
}

// Many slow clients at once do not keep a quick one from its answer for long.
func TestSlowClientsDoNotStarveOthers(t *testing.T) {
	s, _ := quiet(said("x"))
	limits := patient
	limits.header = 200 * time.Millisecond
	address, _ := start(t, s, limits)
	for range maxConnections + 50 {
		c, err := net.Dial("tcp", address)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		fmt.Fprint(c, "GET /bands HTTP/1.1\r\n")
	}
	resp, err := (&http.Client{Timeout: 2 * time.Minute}).Get("http://" + address + "/bands")
	if err != nil || resp.StatusCode != 200 {
		t.Fatal(err)
	}
	resp.Body.Close()
}

// Headers, queries and bodies larger than the limits are refused without reading them.
func TestLargeRequests(t *testing.T) {
	s, _ := quiet(said("x"))
	address, _ := start(t, s, patient)
	get := func(path string, header ...string) int {
		t.Helper()
		r, err := http.NewRequest("GET", "http://"+address+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := 0; i+1 < len(header); i += 2 {
			r.Header.Set(header[i], header[i+1])
		}
		resp, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		return resp.StatusCode
	}
	if got := get("/bands?find=" + strings.Repeat("x", maxQuery-10)); got != 200 {
		t.Errorf("a query as long as allowed: status %d", got)
	}
	if got := get("/bands?find=" + strings.Repeat("x", maxQuery)); got != http.StatusRequestURITooLong {
		t.Errorf("a query that is too long: status %d", got)
	}
	if got := get("/bands", "X-Long", strings.Repeat("x", 2*maxHeader)); got != http.StatusRequestHeaderFieldsTooLarge {
		t.Errorf("a header that is too long: status %d", got)
	}
	// A length that is only claimed is refused before anything is read.
	c, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprintf(c, "POST /field HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: text/plain\r\nContent-Length: %d\r\n\r\n", int64(1)<<40)
	resp, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil || resp.StatusCode != http.StatusRequestEntityTooLarge {
		t.Errorf("a terabyte: %v, %v", resp, err)
	}
	// A length that is not claimed is read up to the limit.
	var sent atomic.Int64
	body := &endless{&sent}
	r, err := http.NewRequest("POST", "http://"+address+"/field", body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "text/plain")
	resp, err = http.DefaultClient.Do(r)
	if err == nil {
		resp.Body.Close()
		if resp.StatusCode != http.StatusRequestEntityTooLarge {
			t.Errorf("an endless body: status %d", resp.StatusCode)
		}
	}
	if n := sent.Load(); n > 4*pages.MaxBody {
		t.Errorf("%d bytes of an endless body were taken", n)
	}
}

// endless is a body without an end.
type endless struct{ sent *atomic.Int64 }

func (e *endless) Read(p []byte) (int, error) {
	e.sent.Add(int64(len(p)))
	for i := range p {
		p[i] = '#'
	}
	return len(p), nil
}

// A panic is a page and a line in the log, and the site goes on; no answer with a
// panic in it is kept.
func TestPanics(t *testing.T) {
	var asked atomic.Int64
	s, log := quiet(func(args []string, in io.Reader) (*render.Answer, error) {
		if asked.Add(1)%2 == 1 {
			panic("boom <script>")
		}
		return said("fine")(args, in)
	})
	address, stop := start(t, s, patient)
	for i, path := range []string{"/bands", "/bands", "/bands.json", "/bands.json"} {
		resp, err := http.Get("http://" + address + path)
		if err != nil {
			t.Fatal(err)
		}
		body, _ := io.ReadAll(resp.Body)
		resp.Body.Close()
		if want := []int{500, 200}[i%2]; resp.StatusCode != want || strings.Contains(string(body), "boom") || strings.Contains(string(body), "goroutine") {
			t.Errorf("%s, time %d: status %d, want %d: %.200s", path, i, resp.StatusCode, want, body)
		}
		if strings.Contains(string(body), failedText) != (resp.StatusCode == 500) && path == "/bands.json" {
			t.Errorf("%s: %.200s", path, body)
		}
	}
	if err := stop(); err != nil {
		t.Error(err)
	}
	if text := log.String(); strings.Count(text, "msg=panic") != 2 || !strings.Contains(text, "boom") || !strings.Contains(text, "server_test.go") {
		t.Errorf("the log has %.2000s", text)
	}
}

// A panic outside of an answer is one too.
func TestPanicOfAHandler(t *testing.T) {
	s, log := quiet(said("x"))
	s.store = nil // a fault that no answer has
	address, stop := start(t, s, patient)
	resp, err := http.Get("http://" + address + "/bands")
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != 500 {
		t.Errorf("status %d", resp.StatusCode)
	}
	if err := stop(); err != nil || !strings.Contains(log.String(), "msg=panic") {
		t.Errorf("%v, the log has %.1000s", err, log)
	}
}

// At the end requests under way are finished and new ones refused.
func TestGracefulShutdown(t *testing.T) {
	began, goOn := make(chan struct{}), make(chan struct{})
	s, _ := quiet(func(args []string, in io.Reader) (*render.Answer, error) {
		close(began)
		<-goOn
		return said("finished")(args, in)
	})
	address, stop := start(t, s, patient)
	got := make(chan string, 1)
	go func() {
		resp, err := http.Get("http://" + address + "/bands.csv")
		if err != nil {
			got <- err.Error()
			return
		}
		defer resp.Body.Close()
		body, _ := io.ReadAll(resp.Body)
		got <- string(body)
	}()
	<-began
	stopped := make(chan error, 1)
	go func() { stopped <- stop() }()
	until(t, "it still listens", func() bool {
		c, err := net.Dial("tcp", address)
		if err == nil {
			c.Close()
		}
		return err != nil
	})
	close(goOn)
	if body := <-got; body != "a\r\nfinished\r\n" {
		t.Errorf("the request under way got %q", body)
	}
	if err := <-stopped; err != nil {
		t.Error(err)
	}
}

// What does not end in time is cut off at the end.
func TestShutdownDoesNotWaitForEver(t *testing.T) {
	began, never := make(chan struct{}), make(chan struct{})
	defer close(never)
	s, log := quiet(func([]string, io.Reader) (*render.Answer, error) {
		close(began)
		<-never
		return nil, errors.New("too late")
	})
	limits := patient
	limits.shutdown = 50 * time.Millisecond
	address, stop := start(t, s, limits)
	go func() {
		if resp, err := http.Get("http://" + address + "/bands"); err == nil {
			resp.Body.Close()
		}
	}()
	<-began
	if err := stop(); err != nil || !strings.Contains(log.String(), "cut off") { // stop comes back, though the request does not
		t.Errorf("stopped with %v; the log has %s", err, log)
	}
}
