//go:build browser

package web_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"spectally/cmd/internal/holdings"
	"spectally/cmd/internal/siteplan"
)

// The plan of a site and a list of holdings are filled in by taps, are there after a reload,
// and have the answer of the command.
func TestBrowserPlanByTaps(t *testing.T) {
	b := newTab(t)
	b.phone()
	b.open("/site")
	b.retype(`[data-path="name"]`, "Tollgate mast")
	b.pick(`[data-path="environment"]`, "urban")
	b.digits(`[data-path="load_percent"]`, "60")
	b.tap("[data-add=sector]")
	b.tap(`[data-item="sector/0"] [data-add=radio]`)
	radio := `[data-item="sector/0/radio/0"] `
	b.retype(radio+"[data-key=ports]", "8T8R")
	b.pick(radio+"[name=band]", "n78")
	b.pick(radio+"[name=width]", "80")
	b.until(`document.querySelector(".out .lines").textContent.includes("in the busy hour")`)
	b.keep("plan-phone")
	b.open("/site") // somebody reloads
	b.until(`document.querySelector('[data-path="sector/0/radio/0/carriers"]').value == "n78:80"`)
	text := b.saved()
	plan, err := siteplan.Read("", []byte(text))
	if err != nil || plan.Site.Name != "Tollgate mast" {
		t.Fatalf("%v of\n%s", err, text)
	}
	b.tap(`[data-item="sector/0/radio/0"] > button`)
	b.tap(`[data-item="sector/0/radio/0"] [data-do=yes]`)
	b.until(`document.querySelector('[data-item="sector/0"]') && !document.querySelector('[data-item="sector/0/radio/0"]')`)
	b.tap("[data-do=undo]")
	b.until(`document.querySelector('[data-item="sector/0/radio/0"]')`)
	b.visit(chromedp.Click(css("[data-do=report]")))
	b.answersAs("/site", "plan", "site", text)
}

func TestBrowserHoldingsByTaps(t *testing.T) {
	b := newTab(t)
	b.phone()
	b.open("/holdings")
	for i, blocks := range []string{"1805-1825/1710-1730, 3410-3500", "1825-1845/1730-1750"} {
		b.tap("[data-add=network]")
		b.retype(`[data-path="network/`+string(rune('0'+i))+`/blocks"]`, blocks)
	}
	b.until(`document.querySelectorAll(".out .lines li").length == 2`)
	b.keep("holdings-phone")
	b.open("/holdings")
	b.until(`document.querySelector('[data-path="network/1/blocks"]').value == "1825-1845/1730-1750"`)
	text := b.saved()
	b.visit(chromedp.Click(css("[data-do=report]")))
	b.answersAs("/holdings", "held", "holdings", text)
}

// answersAs checks that the page shows what a command answers about a text.
func (b *tab) answersAs(page, parameter, command, text string) {
	b.t.Helper()
	address := b.address()
	if !strings.HasPrefix(address, page+"?"+parameter+"=") {
		b.t.Fatalf("the answer is at %.100q", address)
	}
	_, want, _ := commandWith(text, command, "-", "--format=json")
	if got := b.site.get(strings.Replace(address, page+"?", page+".json?", 1)); got.body != want {
		b.t.Errorf("the page answers otherwise than the command")
	}
}

// Files of each kind are taken and given back without a change of what they say.
func TestBrowserFormsImport(t *testing.T) {
	b := newTab(t)
	for page, demo := range map[string]string{"site": siteplan.Demo(), "holdings": holdings.Demo()} {
		b.open("/" + page)
		file := filepath.Join(t.TempDir(), page+".toml")
		if err := os.WriteFile(file, []byte(demo), 0o600); err != nil {
			t.Fatal(err)
		}
		b.run(chromedp.SetUploadFiles(css("#log-import"), []string{file}))
		b.until(`document.querySelectorAll(".item .item").length > 3 && document.querySelector(".out .lines li")`)
		b.keep("form-" + page)
		_, want, _ := commandWith(demo, page, "-", "--format=json")
		if _, got, _ := commandWith(b.saved(), page, "-", "--format=json"); got != want {
			t.Errorf("what is exported from %s has another answer", page)
		}
	}
}
