//go:build browser

package web_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"

	"spectally/cmd/internal/fieldlog"
)

// tap taps what a selector finds first, again where an answer that came meanwhile has moved
// it away from under the finger.
func (b *tab) tap(selector string) {
	b.t.Helper()
	found := "document.querySelector(" + quoteJS(selector) + ")"
	for missed := true; missed; missed = eval[bool](b, "window.tapped === false") {
		b.until(found)
		eval[int](b, "window.tapped = false, "+found+"?.addEventListener('click', () => { window.tapped = true }, {once: true, capture: true}), 0")
		b.run(chromedp.ScrollIntoView(css(selector)), chromedp.Click(css(selector)))
	}
}

// digits types a number into a field.
func (b *tab) digits(selector, number string) {
	b.t.Helper()
	b.tap(selector)
	for _, r := range number {
		b.run(chromedp.KeyEvent(string(r)))
	}
}

// saved downloads the log as a file.
func (b *tab) saved() string {
	b.t.Helper()
	return string(b.downloaded("[data-do=export]", "*.toml"))
}

// downloaded is the file that a tap saves.
func (b *tab) downloaded(selector, pattern string) []byte {
	b.t.Helper()
	folder := b.t.TempDir()
	if _, err := chromedp.CallBrowser(b.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: "allow", DownloadPath: folder}); err != nil {
		b.t.Fatal(err)
	}
	b.tap(selector)
	for begin := time.Now(); time.Since(begin) < 2*time.Minute; time.Sleep(10 * time.Millisecond) {
		if list, _ := filepath.Glob(folder + "/" + pattern); len(list) == 1 {
			if data, err := os.ReadFile(list[0]); err == nil && len(data) > 0 {
				return data
			}
		}
	}
	b.t.Fatal("nothing was downloaded")
	return nil
}

// daysWork enters a day's work on three networks by taps and number keys alone, with a reload
// in the middle, and returns what is exported. begin opens the page, again after a reload.
func (b *tab) daysWork(begin func(again bool)) string {
	t := b.t
	begin(false)
	work := []struct {
		carriers [][3]string // band, width, channel
		runs     [][5]string
	}{
		{[][3]string{{"B3", "20", "1300"}, {"n78", "80", "643334"}}, [][5]string{{"612", "58.4", "21", "68", "121"}, {"588", "61.5", "19", "74", "133"}}},
		{[][3]string{{"n1", "20", "426000"}, {"n28", "10", "155600"}, {"n78", "100", "636000"}}, [][5]string{{"913", "96.2", "14", "41", "63"}, {"871", "88.0", "15", "44", "71"}}},
		{[][3]string{{"B3", "20", "1550"}, {"B7", "20", "3050"}}, [][5]string{{"142", "31.4", "34", "190", "410"}}},
	}
	for i, w := range work {
		network := `[data-item="network/` + strconv.Itoa(i) + `"]`
		b.tap(`.item > .buttons [data-add=network]`)
		b.until("document.querySelector(" + quoteJS(network+" .carriers li") + ")")
		for n, c := range w.carriers {
			row := network + " .carriers > li:nth-child(" + strconv.Itoa(n+1) + ") "
			if n > 0 {
				b.tap(network + " [data-carrier]")
			}
			b.pick(row+"[name=band]", c[0])
			b.pick(row+"[name=width]", c[1])
			b.digits(row+"[name=where]", c[2])
		}
		b.until("document.querySelector(" + quoteJS(network+" .headline") + ").textContent.includes('allowed')")
		for n, r := range w.runs {
			run := `[data-item="network/` + strconv.Itoa(i) + "/run/" + strconv.Itoa(n) + `"] `
			b.tap(network + " [data-add=run]")
			for k, key := range []string{"down", "up", "idle_ms", "loaded_down_ms", "loaded_up_ms"} {
				b.digits(run+"[data-key="+key+"]", r[k])
			}
			b.until("document.querySelector(" + quoteJS(run+".share") + ").textContent.includes('% of scheduled')")
			if when := eval[string](b, "document.querySelector("+quoteJS(run+"[data-key=when]")+").value"); len(when) != len("2031-05-14 18:05") {
				t.Errorf("a speed test is stamped %q", when)
			}
		}
		if i == 1 {
			b.keep("logbook-phone")
			begin(true) // somebody reloads
			b.until(`document.querySelectorAll("[data-item^='network/1/run/']").length == 2`)
		}
	}
	b.tap(`[data-item="network/0"] [data-add=transfer]`)
	b.tap(`[data-item="network/0/transfer/0"] [data-extra=watch]`)
	b.until(`document.querySelector("[data-extra=watch]").textContent == "Stop"`)
	begin(true) // the watch goes on
	b.tap(`[data-item="network/0/transfer/0"] [data-extra=watch]`)
	b.until(`parseFloat(document.querySelector('[data-path="network/0/transfer/0/seconds"]').value) >= 0`)
	b.tap(`[data-item="network/0/transfer/0"] > button`)
	b.tap(`[data-item="network/0/transfer/0"] [data-do=yes]`)
	b.until(`!document.querySelector('[data-item="network/0/transfer/0"]')`)

	text := b.saved()
	if read, err := fieldlog.Read("", []byte(text)); err != nil || len(read.Networks) != 3 || len(read.Networks[1].Carriers) != 3 || len(read.Networks[0].Runs) != 2 || read.Networks[1].Runs[1].Up.String() != "88.0" {
		t.Errorf("%v of\n%s", err, text)
	}
	return text
}

// reported is what the command says of a log.
func reported(t *testing.T, text string) string {
	t.Helper()
	status, want, stderr := commandWith(text, "field", "-", "--format=json")
	if status != 0 {
		t.Fatalf("exit status %d, %s, of\n%s", status, stderr, text)
	}
	return want
}

// A day's work entered on a phone is what the command reports on, and what the page shows.
func TestBrowserDaysWork(t *testing.T) {
	b := newTab(t)
	b.phone()
	want := reported(t, b.daysWork(func(bool) { b.open("/field") }))
	b.visit(chromedp.Click(css("[data-do=report]")))
	b.shows("main", "Network 1", "Network 3", "Side by side")
	address := b.address()
	if !strings.HasPrefix(address, "/field?log=") {
		t.Fatalf("the report is at %.100q", address)
	}
	if got := b.site.get(strings.Replace(address, "/field?", "/field.json?", 1)); got.body != want {
		t.Errorf("the report on the page is not that of the command")
	}
}

// The same from the single file, without a network.
func TestBrowserDaysWorkOffline(t *testing.T) {
	b := openFile(t)
	b.phone()
	want := reported(t, b.daysWork(func(again bool) {
		if again {
			b.visit(chromedp.Evaluate[chromedp.Void]("location.reload()"))
			b.started() // where it was
			return
		}
		b.at("/field")
	}))
	b.tap("[data-do=report]")
	b.until(`document.querySelector(".answer")`)
	b.shows("main", "Network 1", "Network 3", "Side by side")
	address := eval[string](b, "spectally.address()")
	if got, _ := b.answered(strings.Replace(address, "/field?", "/field.json?", 1)); got != want {
		t.Errorf("the report on the page is not that of the command")
	}
}

// Two windows on one log, an undo, and a device without room lose nothing.
func TestBrowserLogbookKeeps(t *testing.T) {
	b := newTab(t)
	b.open("/field")
	b.tap(".item > .buttons [data-add=network]")
	b.until(`document.querySelector('[data-path="network/0/name"]').value == "Network 1"`)
	// The other window changes another field of the log, as a script of the same site can.
	other := `(() => { const key = Object.keys(localStorage).find(k => k.startsWith("spectally.log.")); const entry = JSON.parse(localStorage.getItem(key)); entry.log.values.place = "elsewhere"; localStorage.setItem(key, JSON.stringify(entry)); return 0 })()`
	eval[int](b, other)
	b.retype(`[data-path="network/0/name"]`, "Brindlewave")
	kept := func(want ...string) {
		t.Helper()
		text := eval[string](b, `Object.entries(localStorage).filter(([k]) => k.startsWith("spectally.log.")).map(([, v]) => v).join("\n")`)
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("what is kept has no %q: %s", w, text)
			}
		}
	}
	kept("Brindlewave", "elsewhere")
	eval[int](b, `dispatchEvent(new StorageEvent("storage", {key: Object.keys(localStorage).find(k => k.startsWith("spectally.log."))})), 0`)
	b.until(`document.querySelector('[data-path="place"]').value == "elsewhere"`)
	b.tap("[data-do=undo]")
	b.until(`document.querySelector('[data-path="network/0/name"]').value == "Network 1"`)
	kept("Network 1", "elsewhere")
	// Hostile texts are texts.
	b.run(chromedp.SetValue(css(`[data-path="title"]`), `<img src=x onerror=alert(1)>`))
	eval[int](b, `document.querySelector('[data-path="title"]').dispatchEvent(new Event("input")), 0`)
	b.until(`document.querySelector("#log-choice").textContent.includes("<img")`)
	if n := b.count("main img"); n != 0 {
		t.Error("a text has become an element")
	}
	// A full device says so, and the page goes on.
	eval[int](b, `Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError") }, 0`)
	b.retype(`[data-path="network/0/name"]`, "Oskelund")
	b.shows(".state", "Not saved")
	if text := b.saved(); !strings.Contains(text, `name = "Oskelund"`) {
		t.Errorf("exported is\n%s", text)
	}
}

// A log is taken from a file, field by field.
func TestBrowserLogbookImport(t *testing.T) {
	b := newTab(t)
	b.open("/field")
	file := filepath.Join(t.TempDir(), "log.toml")
	if err := os.WriteFile(file, []byte(fieldlog.Demo()), 0o600); err != nil {
		t.Fatal(err)
	}
	b.run(chromedp.SetUploadFiles(css("#log-import"), []string{file}))
	b.until(`document.querySelector('[data-path="network/2/name"]')?.value == "Marrowfen"`)
	b.until(`document.querySelector('[data-item="network/0/run/0"] .share').textContent.includes("% of expected")`)
	b.keep("logbook")
	text := b.saved()
	_, want, _ := commandWith(fieldlog.Demo(), "field", "-", "--format=json")
	if _, got, _ := commandWith(text, "field", "-", "--format=json"); got != want {
		t.Errorf("what is exported has another report:\n%s", text)
	}
}
