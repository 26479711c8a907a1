//go:build browser

package web_test

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// grant lets the page do what a browser asks its user about.
func (b *tab) grant(names ...string) {
	b.t.Helper()
	for _, name := range names {
		if _, err := chromedp.CallBrowser(b.ctx, browser.SetPermission, browser.SetPermissionParams{
			Permission: &browser.PermissionDescriptor{Name: name}, Setting: browser.PermissionSettingGranted,
		}); err != nil {
			b.t.Fatal(err)
		}
	}
}

// answers are addresses that show something of every kind.
var answers = []string{
	"/", "/ca", "/ca?carriers=B3:20+%2B+n78:83@640000", "/ask", "/ask?question=B3:20+%2B+n78:80", "/ask?question=zzz", "/throughput?carriers=n78:80&layers=9", "/ca?carriers=B3:21+%2B+n78:83+%2B+n28:10,layers%3D99", "/ca?carriers=DC_3A-7A_n78A&explain=yes", "/ca?carriers=broken",
	"/throughput?carriers=B3:20,sinr=14+%2B+n78:80,sinr=9&goodput=yes", "/bands", "/bands?find=n1", "/bands?find=n257", "/bands?find=zzz",
	"/channel?band=n78&place=3600+MHz&width=40&scs=30&gscn=yes", "/configs?with=n78,3&widths=yes", "/configs?names=CA_n3A-n78C&explain=yes",
	"/claim?carriers=B3:20+%2B+n78:80&total-mhz=150", "/field", "/field?demo=yes", "/field?demo=yes&explain=yes", "/field?template=yes", "/site", "/holdings", "/site?demo=yes&explain=yes", "/sources", "/nowhere",
}

// Everything can be done with the keyboard alone, and the place of the focus is always
// seen.
func TestBrowserKeyboard(t *testing.T) {
	b := newTab(t)
	press := func(keys ...string) {
		t.Helper()
		for _, k := range keys {
			b.run(chromedp.KeyEvent(k))
		}
	}
	focused := func() string {
		t.Helper()
		return eval[string](b, `(e => (e.id || e.name || e.textContent || e.tagName).trim().slice(0, 40))(document.activeElement)`)
	}
	// tabTo goes on until something has the focus.
	tabTo := func(want string) {
		t.Helper()
		for range 60 {
			press(kb.Tab)
			outline := eval[string](b, `(s => s.outlineStyle + " " + parseFloat(s.outlineWidth))(getComputedStyle(document.activeElement))`)
			if style, width, _ := strings.Cut(outline, " "); style == "none" || width == "0" {
				t.Errorf("%q has the focus, and it is not seen: outline %s", focused(), outline)
			}
			if !eval[bool](b, `(r => r.bottom > 0 && r.right > 0 && r.top < innerHeight && r.left < innerWidth)(document.activeElement.getBoundingClientRect())`) {
				t.Errorf("%q has the focus out of sight", focused())
			}
			if focused() == want {
				return
			}
		}
		t.Fatalf("the focus does not come to %q", want)
	}
	b.open("/ca")
	tabTo("Skip to the content")
	press(kb.Enter)
	tabTo("band-1")
	tabTo("f-carriers")
	press("n", "7", "8", ":", "1", "0", "0")
	b.visit(chromedp.KeyEvent(kb.Enter))
	if got := b.address(); got != "/ca?carriers=n78:100" {
		t.Fatalf("the address is %q", got)
	}
	b.shows(".head", "n78:100", "allowed")
	tabTo("where-2")
	press("1", "5", "7", "0", "0", "0", kb.Tab) // is n28's alone: fills in the band
	b.until(`document.querySelector("#band-2").value == "n28"`)
	b.pick("#width-2", "10")
	b.until(`document.querySelector(".live").textContent.includes("CA_n28A-n78A")`)
	tabTo("f-carriers")
	b.visit(chromedp.KeyEvent(kb.Enter)) // also sends the rows
	if got := b.address(); got != "/ca?carriers=n78:100+%2B+n28:10@157000" {
		t.Fatalf("the address is %q", got)
	}
	tabTo("More choices")
	press(kb.Enter)
	tabTo("f-explain")
	press(" ")
	tabTo("Show")
	b.visit(chromedp.KeyEvent(kb.Enter))
	b.shows(".shell", "--explain")
	// The parts of an answer that scroll or unfold are on the way, and the way has an end.
	seen := map[string]bool{}
	for range 300 {
		press(kb.Tab)
		tag := eval[string](b, "document.activeElement.tagName")
		seen[tag] = true
		if tag == "BODY" {
			break
		}
	}
	for _, tag := range []string{"INPUT", "BUTTON", "A", "SUMMARY", "DIV", "CODE", "BODY"} {
		if !seen[tag] {
			t.Errorf("the focus never comes to a %s", tag)
		}
	}
	// And back.
	b.open("/bands")
	tabTo("f-find")
	press("n", "7", "8")
	tabTo("f-rat")
	press("N") // chooses NR
	tabTo("f-duplex")
	press(kb.ArrowDown, kb.ArrowDown)
	tabTo("Show")
	b.visit(chromedp.KeyEvent(" "))
	if got := b.address(); got != "/bands?find=n78&rat=NR&duplex=TDD" {
		t.Errorf("the address is %q", got)
	}
}

// On a phone nothing is wider than the page: what is wide scrolls in itself. What is
// tapped is large enough for a finger (WCAG 2.2, success criterion 2.5.8).
func TestBrowserPhone(t *testing.T) {
	b := newTab(t)
	b.phone()
	for _, path := range answers {
		b.open(path)
		if width := eval[int](b, "document.documentElement.scrollWidth"); width > 360 {
			t.Errorf("%s is %d pixels wide: %s", path, width, eval[string](b,
				`[...document.querySelectorAll("main *, header *")].filter(e => e.getBoundingClientRect().right > 361 && !e.closest(".scroll, pre, code")).map(e => e.tagName + "." + e.className).slice(0, 5).join(" ")`))
		}
		small := eval[string](b, `[...document.querySelectorAll("button, select, input:not([type=hidden]), textarea, nav a")].filter(e => e.offsetParent).filter(e => {
			const r = (e.type == "checkbox" ? e.parentElement : e).getBoundingClientRect(); return r.height < 24 || r.width < 24;
		}).map(e => (e.id || e.textContent) + " " + e.getBoundingClientRect().height).join(", ")`)
		if small != "" {
			t.Errorf("%s: too small to tap: %s", path, small)
		}
	}
	b.open("/")
	b.link("Carriers together")
	b.pick("#band-1", "n78")
	b.pick("#width-1", "80")
	b.click("#rows > .buttons button[type=submit]")
	b.shows(".head", "allowed", "down 80 MHz", "Mbit/s")
	if bottom := eval[float64](b, `document.querySelector("#headline").getBoundingClientRect().bottom`); bottom > 740 {
		t.Errorf("the headline ends at %g pixels, below the first screen", bottom)
	}
	if eval[bool](b, `document.querySelector("details.change").open`) {
		t.Error("the form is not folded")
	}
	if got := eval[string](b, `[...document.querySelectorAll("svg")].filter(e => e.getBoundingClientRect().width).map(e => e.getAttribute("class")).join()`); got != "drawing narrow" {
		t.Errorf("the drawing for phones is not the one that is shown: %q", got)
	}
	b.keep("phone")
	b.dark()
	b.keep("phone-dark")
}

// Without JavaScript everything works.
func TestBrowserWithoutScript(t *testing.T) {
	b := newTab(t)
	send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	b.open("/ca")
	if n := len(byClass(b.site.page(b.site.get("/ca")), "second")); n != 1 {
		t.Errorf("%d buttons without a script", n)
	}
	b.choose("#band-1", "B3")
	b.choose("#width-1", "20")
	b.click("button[name=add]")
	if got := b.address(); got != "/ca?carriers=B3:20&rows=3" {
		t.Errorf("the address is %q", got)
	}
	b.choose("#band-2", "n78")
	b.choose("#width-2", "1.4")
	b.click("#rows > .buttons button[type=submit]")
	b.shows("#rows li:nth-child(2) .findings", "error")
	b.choose("#width-2", "80")
	b.click("#rows > .buttons button[type=submit]")
	b.shows(".head", "allowed", "DC_3A_n78A")
	b.shows("main", "Peak rates")
	if n := b.count(".shell button"); n != 0 {
		t.Fatal("a script has run")
	}
	b.run(chromedp.Click(css(`.answer summary`)))
	b.cell("n78")
	b.shows("main", "n78 and its neighbours")
	b.open("/field")
	b.link("an example in an invented place")
	b.shows("main", "Side by side")
	b.open("/site")
	b.link("an example in an invented place")
	b.shows("main", "Users in the busy hour")
	b.open("/claim")
	b.fill("#f-idle-ms", "15")
	b.run(chromedp.Click(css("details.extras summary")))
	b.fill("#f-idle-runs", "14,15,16")
	b.click("form button[type=submit]")
	b.shows("main", "holds")
}
