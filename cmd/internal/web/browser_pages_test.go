//go:build browser

package web_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/siteplan"
)

// Somebody composes a combination carrier by carrier, gets one wrong, sees that beside
// it, puts it right, and takes the answer along.
func TestBrowserCarriers(t *testing.T) {
	b := newTab(t)
	b.open("/")
	b.link("Carriers together")
	b.pick("#band-1", "B3")
	b.pick("#width-1", "20")
	b.pick("#band-2", "n78")
	b.offered("#width-2", "10 15 20 25 30 40 50 60 70 80 90 100")
	b.pick("#width-2", "80")
	b.fill("#where-2", "640000")
	b.until(`document.querySelector(".live").textContent.includes("DC_3A_n78A")`)
	b.until(`document.querySelector("#f-carriers").value == "B3:20 + n78:80@640000"`)
	b.retype("#f-carriers", "B3:20 + n78:83@640000")
	b.until(`document.querySelector("#rows li:nth-child(2) .findings").textContent.includes("100 MHz")`)
	b.click("#rows > .buttons button[type=submit]")
	if got := b.address(); got != "/ca?carriers=B3:20+%2B+n78:83@640000" {
		t.Errorf("the address is %q", got)
	}
	b.shows("#rows li:nth-child(2) .findings", "error", "must be 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90 or 100 MHz")
	if n := b.count("#rows li:nth-child(1) .findings:not([hidden])"); n != 0 {
		t.Error("a finding stands beside a carrier that it is not about")
	}
	b.shows(".verdict", "not allowed")
	b.pick("#width-2", "80")
	b.click("#rows > .buttons button[type=submit]")
	b.shows(".head", "allowed", "DC_3A_n78A", "down 100 MHz", "down 1220 Mbit/s")
	b.shows("main", "Peak rates", "Working")
	if n := b.count(".answer figure svg"); n != 2 { // for wide pages and for phones
		t.Errorf("%d drawings", n)
	}
	b.shows(".shell", "spectally ca B3:20 + n78:80@640000")
	b.keep("carriers")

	// A third carrier in a row of its own, and one that goes again.
	b.run(chromedp.Click(css("button[name=add]")), chromedp.WaitVisible(css("#band-3")))
	if id := eval[string](b, "document.activeElement.id"); id != "band-3" {
		t.Errorf("after adding, %q has the focus", id)
	}
	b.pick("#band-3", "B7")
	b.pick("#width-3", "20")
	b.run(chromedp.Click(css(`#rows li:nth-child(1) .remove`)))
	b.shows("#rows li:nth-child(2) legend", "Carrier 2")
	b.click("#rows > .buttons button[type=submit]")
	if got := b.address(); got != "/ca?carriers=n78:80@640000+%2B+B7:20" {
		t.Errorf("the address is %q", got)
	}
	b.shows(".head", "DC_7A_n78A")

	// The same as data, by a link.
	b.link("JSON")
	_, want, _ := command("ca", "n78:80@640000 + B7:20", "--format=json")
	if got := b.text("body"); got != strings.Join(strings.Fields(want), " ") {
		t.Errorf("JSON is %.300q, want %.300q", got, want)
	}
}

// Somebody types a name of the standard and opens the working.
func TestBrowserName(t *testing.T) {
	b := newTab(t)
	b.open("/ca")
	b.fill("#f-carriers", "CA_3A-7A")
	b.run(chromedp.Click(css(".extras summary")), chromedp.Click(css("#f-explain")))
	b.click("form > .buttons button[type=submit]")
	b.shows(".head", "CA_3A-7A", "allowed")
	b.shows("main", "CA_3A-7A", "upper bound")
	if n := b.count(".answer details:not([open])"); n > b.count("figure details:not([open])") {
		t.Errorf("%d parts are folded", n)
	}
	b.shows(".shell", "spectally ca --explain CA_3A-7A")
	b.cell("CA_3A-7A") // in the list of configurations
	b.shows("h1", "Listed configurations")
	b.shows("main", "CA_3A-7A", "Bandwidth combination sets")
	b.link("Check its carriers")
	b.shows(".head", "CA_3A-7A", "allowed")
}

// Somebody looks for bands in each way, and follows one.
func TestBrowserBands(t *testing.T) {
	b := newTab(t)
	b.open("/bands")
	b.choose("#f-rat", "NR")
	b.choose("#f-duplex", "TDD")
	b.click("form > .buttons button[type=submit]")
	if got := b.address(); got != "/bands?rat=NR&duplex=TDD" {
		t.Errorf("the address is %q", got)
	}
	b.shows("main", "27 bands", "n78", "C-band")
	b.fill("#f-channel", "640000")
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "3 bands", "n48", "n77", "n78")
	b.cell("n78")
	b.shows("main", "n78 and its neighbours", "3300–3800 MHz, 500 MHz wide")
	if got := eval[string](b, `document.querySelector("svg.wide desc").textContent`); !strings.Contains(got, "n77 both, in turn, 3300–4200 MHz") || !strings.Contains(got, "n78") {
		t.Errorf("the map shows %q", got)
	}
	b.keep("band")
	b.fill("#f-find", "3540 MHz")
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "B42", "n77", "both")
	b.fill("#f-find", "n779")
	b.click("form > .buttons button[type=submit]")
	b.shows("#fault", "n779")
	if got := eval[string](b, `(s => s.borderTopWidth + " " + (s.borderTopColor != getComputedStyle(document.getElementById("f-at")).borderTopColor))(getComputedStyle(document.getElementById("f-find")))`); got != "2px true" {
		t.Errorf("the field that is wrong does not look so: %q", got)
	}
	if got := eval[string](b, "document.activeElement.value"); got != "n779" {
		t.Errorf("the field that is wrong has not the focus but %q", got)
	}
	b.keep("fault")
}

func TestBrowserChannel(t *testing.T) {
	b := newTab(t)
	b.open("/channel")
	b.fill("#f-band", "B3")
	b.fill("#f-place", "1842.5 MHz")
	b.fill("#f-width", "20")
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "1575", "1842.5", "1832.5")
	b.fill("#f-band", "n78")
	b.fill("#f-place", "640000")
	b.run(chromedp.Click(css("#f-gscn")))
	b.click("form > .buttons button[type=submit]")
	if got := b.address(); got != "/channel?band=n78&place=640000&width=20&gscn=yes" {
		t.Errorf("the address is %q", got)
	}
	b.shows("main", "3600", "GSCN")
	b.keep("channel")
}

func TestBrowserRates(t *testing.T) {
	b := newTab(t)
	b.open("/throughput")
	b.link("LTE with NR, and a TDD pattern")
	b.shows("main", "maximum", "scheduled", "7DS2U/6:4:4")
	b.fill("#f-sinr", "12")
	b.run(chromedp.Click(css("details.extras summary")), chromedp.Click(css("#f-goodput")))
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "expected", "TCP payload")
	b.keep("rates")
}

func TestBrowserConfigurations(t *testing.T) {
	b := newTab(t)
	b.open("/configs")
	b.fill("#f-with", "n78,3")
	b.choose("#f-kind", "en-dc")
	b.fill("#f-at-most", "3")
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "48 configurations", "DC_3A_n78C")
	b.cell("DC_3A_n78C")
	b.shows("main", "DC_3A_n78C", "EN-DC")
	b.keep("configuration")
	b.fill("#f-names", "CA_n78X")
	b.click("form > .buttons button[type=submit]")
	b.shows("#fault", "CA_n78X")
}

func TestBrowserClaim(t *testing.T) {
	b := newTab(t)
	b.open("/claim")
	b.fill("#f-text", "“A hundred megahertz & more”")
	b.fill("#f-carriers", "B3:20 + n78:80")
	b.fill("#f-total-mhz", "100")
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "holds", "“A hundred megahertz & more”", "total downlink bandwidth")
	b.keep("claim")
	b.fill("#f-total-mhz", "150")
	b.click("form > .buttons button[type=submit]")
	b.shows(".verdict", "fails")
	b.run(chromedp.Click(xpath(`//summary[.="Working"]`)))
	b.shows(".working", "100")
}

// Somebody pastes a log, then loads one from a file, then starts from the one to fill in.
func TestBrowserFieldLog(t *testing.T) {
	b := newTab(t)
	b.open("/field")
	b.run(chromedp.SetValue(css("#f-text"), fieldlog.Demo()))
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "Brindlewave", "Side by side", "Measured against possible")
	address := b.address()
	if !strings.HasPrefix(address, "/field?log=") {
		t.Errorf("the address is %.100q", address)
	}
	b.keep("field")
	b.run(chromedp.Click(xpath(`//nav[@aria-label="Contents"]//a[.="Claims"]`)))
	if got := b.text(":target"); got != "Claims" {
		t.Errorf("the contents lead to %q", got)
	}

	file := filepath.Join(t.TempDir(), "log.toml")
	log := strings.ReplaceAll(fieldlog.Demo(), "Brindlewave", "Thistlewave")
	if err := os.WriteFile(file, []byte(log), 0o600); err != nil {
		t.Fatal(err)
	}
	b.run(chromedp.SetUploadFiles(css("#f-file"), []string{file}))
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "Thistlewave", "Side by side")
	b.link("Markdown")
	_, want, _ := commandWith(log, "field", "-", "--format=markdown")
	if got := b.text("body"); got != strings.Join(strings.Fields(want), " ") {
		t.Errorf("Markdown is %.300q, want %.300q", got, want)
	}

	b.open("/field")
	b.link("one to fill in")
	if n := b.count(".answer"); n != 0 {
		t.Error("there is an answer before anything is filled in")
	}
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "First network")

	b.run(chromedp.SetValue(css("#f-text"), "title = 1\nwidth = 3\n"))
	b.click("form > .buttons button[type=submit]")
	b.shows("#fault", "Line 1, title", "Line 2, ", "width = 3")
	if got := eval[string](b, `document.getElementById("f-text").value`); got != "title = 1\nwidth = 3\n" {
		t.Errorf("the form shows %q", got)
	}
}

// Somebody starts from the plan to fill in, changes the link, and sees that it is short.
func TestBrowserSitePlan(t *testing.T) {
	b := newTab(t)
	b.open("/site")
	b.link("one to fill in")
	if n := b.count(".answer"); n != 0 {
		t.Error("there is an answer before anything is filled in")
	}
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "busy hour")
	plan := strings.Replace(siteplan.Demo(), "2 Gbit/s", "0.7 Gbit/s", 1)
	b.run(chromedp.SetValue(css("#f-text"), plan))
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "Tollgate mast above Wetherlow", "link short", "Backhaul", "What limits")
	if address := b.address(); !strings.HasPrefix(address, "/site?plan=") {
		t.Errorf("the address is %.100q", address)
	}
	b.keep("site")
	b.shows(".shell", "spectally site plan.toml")
	b.link("JSON")
	_, want, _ := commandWith(plan, "site", "-", "--format=json")
	if got := b.text("body"); got != strings.Join(strings.Fields(want), " ") {
		t.Errorf("JSON is %.300q, want %.300q", got, want)
	}
	file := filepath.Join(t.TempDir(), "plan.toml")
	if err := os.WriteFile(file, []byte(strings.ReplaceAll(plan, "marsh road", "quarry")), 0o600); err != nil {
		t.Fatal(err)
	}
	b.open("/site")
	b.run(chromedp.SetUploadFiles(css("#f-file"), []string{file}))
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "quarry")
	b.run(chromedp.SetValue(css("#f-text"), "name = 1\nload_percent = 400\n"))
	b.click("form > .buttons button[type=submit]")
	b.shows("#fault", "Line 1, name", "Line 2, ", "load_percent = 400")
}

func TestBrowserTables(t *testing.T) {
	b := newTab(t)
	b.open("/sources")
	b.shows("main", "Tables of the standards", "TS 38.101-1", "TS 36.213")
	b.fill("#f-spec", "38.213")
	b.click("form > .buttons button[type=submit]")
	b.shows("main", "TS 38.213")
	if strings.Contains(b.text(".answer"), "TS 38.101-1") {
		t.Error("there are tables of another specification")
	}
}

// A command line is copied by a button.
func TestBrowserCopy(t *testing.T) {
	b := newTab(t)
	b.open("/bands?find=n78")
	b.grant("clipboard-read", "clipboard-write")
	b.run(chromedp.Click(css(".shell button")), chromedp.WaitVisible(xpath(`//button[.="Copied"]`)))
	if got := eval[string](b, "navigator.clipboard.readText()"); got != "spectally bands n78" {
		t.Errorf("copied is %q", got)
	}
}
