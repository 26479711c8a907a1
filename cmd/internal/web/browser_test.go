//go:build browser

package web_test

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"spectally/cmd/internal/web"
)

// The tests with the tag "browser" use the pages in Chromium as people do. They need
// the browser in PATH as chromium, or where SPECTALLY_CHROMIUM says, and the file
// axe.min.js of axe-core where SPECTALLY_AXE says. Without them they fail.

// browserPath finds Chromium.
func browserPath(t testing.TB) string {
	t.Helper()
	if path := os.Getenv("SPECTALLY_CHROMIUM"); path != "" {
		return path
	}
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatalf("no browser: %v; SPECTALLY_CHROMIUM can say where it is", err)
	}
	return path
}

// tab is a page of a browser that shows a site.
type tab struct {
	t    testing.TB
	site *testSite
	ctx  context.Context

	mu sync.Mutex
	// problems are what the browser complained about: errors of scripts, and what the
	// content security policy refused.
	problems []string
	// own begins the addresses that may be asked, and asked counts those that were; foreign
	// are the others.
	own     string
	asked   int
	foreign []string
}

// newTab opens a site in a browser of its own, with nothing in it.
func newTab(t *testing.T) *tab {
	t.Helper()
	return newTabOf(t, newTestSite(t, web.Config{}))
}

// newTabOf opens a browser that may ask what lies below the address of a site.
func newTabOf(t testing.TB, s *testSite) *tab {
	t.Helper()
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(browserPath(t)),
		chromedp.UserDataDir(t.TempDir()),
		chromedp.WindowSize(1200, 900),
		chromedp.WSURLReadTimeout(5 * time.Minute),
	}
	if os.Geteuid() == 0 {
		options = append(options, chromedp.Flag("no-sandbox", true)) // Chromium has none for root
	}
	for _, flag := range []string{"headless", "disable-gpu", "disable-quic", "no-first-run",
		"disable-background-networking", "disable-component-update", "disable-sync", "disable-dev-shm-usage"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	alloc, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	b := &tab{t: t, site: s, own: s.address}
	whole, stopTab := chromedp.NewContext(alloc, chromedp.WithListener(b.listen))
	t.Cleanup(func() {
		_ = chromedp.Cancel(whole) // waits until its directory is not in use any more
		stopTab()
	})
	ctx, cancel := context.WithTimeout(whole, 15*time.Minute)
	t.Cleanup(cancel)
	b.ctx = ctx
	send(b, network.Enable, network.EnableParams{})
	send(b, log.Enable, cdp.Empty{})
	t.Cleanup(func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		for _, p := range b.problems {
			t.Errorf("the browser complains: %s", p)
		}
		for _, address := range b.foreign {
			t.Errorf("the page asks %.200s", address)
		}
		if b.asked == 0 {
			t.Error("no request was seen")
		}
	})
	return b
}

func (b *tab) listen(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		b.problems = append(b.problems, e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		// That an answer is a refusal is no fault.
		refusal := strings.Contains(e.Entry.Text, "the server responded with a status of 400") || strings.HasSuffix(e.Entry.URL, "/nowhere")
		if e.Entry.Level == log.EntryLevelError && !refusal {
			b.problems = append(b.problems, e.Entry.Text)
		}
	case *network.EventRequestWillBeSent:
		switch scheme, _, _ := strings.Cut(e.Request.URL, ":"); {
		case strings.HasPrefix(e.Request.URL, b.own):
			b.asked++
		case scheme != "chrome" && scheme != "data" && scheme != "blob":
			b.foreign = append(b.foreign, e.Request.URL)
		}
	}
}

// run does things in the browser, which must succeed.
func (b *tab) run(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		b.t.Fatal(err)
	}
}

// send sends a command of the protocol, which must succeed.
func send[P, R any](b *tab, command cdp.Command[P, R], params P) {
	b.t.Helper()
	if _, err := chromedp.Call(b.ctx, command, params); err != nil {
		b.t.Fatal(err)
	}
}

// ask is what an action finds out.
func ask[T any](b *tab, action chromedp.Action[T]) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, action)
	if err != nil {
		b.t.Fatal(err)
	}
	return v
}

// Selectors of CSS, and of XPath.
type (
	css   = chromedp.CSS
	xpath = chromedp.Search
)

// open goes to an address of the site.
func (b *tab) open(path string) {
	b.t.Helper()
	b.run(chromedp.Navigate(b.site.address + path))
}

// visit does something that leads to another page, and waits until that is there.
func (b *tab) visit(action chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	eval[bool](b, "window.left = true") // the next page has a window of its own
	b.run(action)
	for begin := time.Now(); time.Since(begin) < 5*time.Minute; time.Sleep(5 * time.Millisecond) {
		// While one page follows the other there may be none to ask.
		if there, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](`!window.left && document.readyState == "complete"`)); err == nil && there {
			return
		}
	}
	b.t.Fatalf("nothing follows %.100s", b.address())
}

// click clicks what a selector finds first, and waits for the page it leads to.
func (b *tab) click(selector string) {
	b.t.Helper()
	b.visit(chromedp.Click(css(selector)))
}

// link clicks the link with a text.
func (b *tab) link(text string) {
	b.t.Helper()
	b.visit(chromedp.Click(xpath(`//main//a[normalize-space()="` + text + `"]`)))
}

// cell clicks a cell of a table that leads somewhere.
func (b *tab) cell(text string) {
	b.t.Helper()
	b.visit(chromedp.Click(xpath(`//main//table//a[normalize-space()="` + text + `"]`)))
}

// fill types into a field, in place of what is there.
func (b *tab) fill(selector, text string) {
	b.t.Helper()
	b.run(chromedp.Clear(css(selector)), chromedp.SendKeys(css(selector), text))
}

// choose chooses a value of a list.
func (b *tab) choose(selector, value string) {
	b.t.Helper()
	b.run(chromedp.SetValue(css(selector), value))
}

// pick chooses a value of a list as a person does, so that scripts learn of it.
func (b *tab) pick(selector, value string) {
	b.t.Helper()
	b.until("[...document.querySelector(" + quoteJS(selector) + ").options].some(o => o.value == " + quoteJS(value) + ")")
	eval[int](b, "(e => { e.value = "+quoteJS(value)+"; e.dispatchEvent(new Event('input', {bubbles: true})); e.dispatchEvent(new Event('change', {bubbles: true})); return 0 })(document.querySelector("+quoteJS(selector)+"))")
}

// retype selects what is in a field and types in its place.
func (b *tab) retype(selector, text string) {
	b.t.Helper()
	eval[int](b, "(e => { e.focus(); e.select(); return 0 })(document.querySelector("+quoteJS(selector)+"))")
	for _, r := range text {
		b.run(chromedp.KeyEvent(string(r)))
	}
}

// until waits for something that must come. What it looks at may not be there yet.
func (b *tab) until(condition string) {
	b.t.Helper()
	ask(b, chromedp.Poll[bool]("(() => { try { return !!("+condition+"); } catch (e) { if (e instanceof TypeError) return false; throw e; } })()", chromedp.WithPollingTimeout(10*time.Minute)))
}

// offered waits until a list offers values.
func (b *tab) offered(selector, values string) {
	b.t.Helper()
	b.until("[...document.querySelector(" + quoteJS(selector) + ").options].map(o => o.value).join(' ').trim() == " + quoteJS(values))
}

// text is what a person sees of what a selector finds first.
func (b *tab) text(selector string) string {
	b.t.Helper()
	return strings.Join(strings.Fields(ask(b, chromedp.Text(css(selector)))), " ")
}

// shows checks that a text is seen in what a selector finds first.
func (b *tab) shows(selector string, texts ...string) {
	b.t.Helper()
	got := b.text(selector)
	for _, want := range texts {
		if !strings.Contains(got, want) {
			b.t.Errorf("%s does not show %q: %.600q", selector, want, got)
		}
	}
}

// count is how many elements a selector finds.
func (b *tab) count(selector string) int {
	b.t.Helper()
	return eval[int](b, "document.querySelectorAll("+quoteJS(selector)+").length")
}

// address is the one in the address bar, without that of the site.
func (b *tab) address() string {
	b.t.Helper()
	return strings.TrimPrefix(ask(b, chromedp.Location()), b.site.address)
}

// eval is the value of an expression.
func eval[T any](b *tab, expression string) T {
	b.t.Helper()
	return ask(b, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

func quoteJS(s string) string { return "`" + strings.ReplaceAll(s, "`", "\\`") + "`" }

// phone makes the browser one of a phone.
func (b *tab) phone() {
	b.t.Helper()
	b.run(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile, chromedp.EmulateTouch))
}

// dark makes the reader one who wants dark pages.
func (b *tab) dark() {
	b.t.Helper()
	send(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}})
}

// keep writes a picture of the whole page for people to look at, where SPECTALLY_SHOTS
// says.
func (b *tab) keep(name string) {
	b.t.Helper()
	directory := os.Getenv("SPECTALLY_SHOTS")
	if directory == "" {
		return
	}
	picture := ask(b, chromedp.FullScreenshot(100))
	if err := os.WriteFile(directory+"/"+name+".png", picture, 0o644); err != nil {
		b.t.Fatal(err)
	}
}
