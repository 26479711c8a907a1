//go:build browser

package web_test

import (
	"bytes"
	"image/png"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// A log is shared by the system's sheet, a test gets its position by a tap, and what the
// networks reached can be saved as a picture.
func TestBrowserLogbookHand(t *testing.T) {
	b := newTab(t)
	send(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
		navigator.canShare = (what) => what.files.length === 1;
		navigator.share = async (what) => { window.shared = { name: what.files[0].name, text: await what.files[0].text() }; };`})
	b.grant("geolocation")
	lat, lon, exact := 12.345678, -98.7654321, 5.0
	send(b, emulation.SetGeolocationOverride, emulation.SetGeolocationOverrideParams{Latitude: &lat, Longitude: &lon, Accuracy: &exact})
	b.open("/field")
	b.tap(".item > .buttons [data-add=network]")
	b.until(`document.querySelector('[data-item="network/0"] .carriers li')`)
	b.retype(`[data-path="network/0/carriers"]`, "n78:80")
	b.tap(`[data-item="network/0"] [data-add=run]`)
	b.digits(`[data-path="network/0/run/0/down"]`, "400")
	b.tap(`[data-item="network/0/run/0"] details.more > summary`)
	b.tap(`[data-item="network/0/run/0"] [data-extra=here]`)
	b.until(`document.querySelector('[data-path="network/0/run/0/lon"]').value == "-98.76543"`)
	if got := eval[string](b, `document.querySelector('[data-path="network/0/run/0/lat"]').value`); got != "12.34568" {
		t.Errorf("the latitude is %s", got)
	}
	b.tap("[data-do=share]")
	b.until("window.shared")
	if name, text := eval[string](b, "window.shared.name"), eval[string](b, "window.shared.text"); !strings.HasSuffix(name, ".toml") || text != b.saved() || !strings.Contains(text, "lon = -98.76543") {
		t.Errorf("shared is %s:\n%s", name, text)
	}
	b.until(`document.querySelector(".out .lines li")`)
	picture, err := png.Decode(bytes.NewReader(b.downloaded("[data-do=picture]", "*.png")))
	if err != nil {
		t.Fatal(err)
	}
	colours := map[any]bool{}
	for y := range picture.Bounds().Dy() {
		colours[picture.At(80, y)] = true
	}
	if picture.Bounds().Dx() != 1080 || len(colours) < 4 {
		t.Errorf("the picture is %v of %d colours", picture.Bounds(), len(colours))
	}
}

// Claims follow the name of their network, and an undo gives both back.
func TestBrowserLogbookRename(t *testing.T) {
	b := newTab(t)
	b.open("/field")
	b.tap(".item > .buttons [data-add=network]")
	b.tap(".item > .buttons [data-add=claim]")
	b.pick(`[data-path="claim/0/network"]`, "Network 1")
	b.retype(`[data-path="network/0/name"]`, "Brindlewave")
	b.run(chromedp.Blur(css(`[data-path="network/0/name"]`)))
	b.until(`document.querySelector('[data-path="claim/0/network"]').value == "Brindlewave"`)
	if text := b.saved(); !strings.Contains(text, `network = "Brindlewave"`) {
		t.Errorf("exported is\n%s", text)
	}
	b.tap("[data-do=undo]")
	b.tap("[data-do=undo]")
	b.until(`document.querySelector('[data-path="claim/0/network"]').value == "Network 1" && document.querySelector('[data-path="network/0/name"]').value == "Network 1"`)
}
