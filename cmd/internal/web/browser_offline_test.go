//go:build browser

package web_test

import (
	"context"
	"encoding/base64"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"spectally/cmd/internal/offline"
	"spectally/cmd/internal/web"
)

// The pages without a server: one file that is opened from the disk, and a folder.

// sources is the folder of the module.
const sources = "../../.."

// program is that of the pages, built once for all tests.
var program = sync.OnceValues(func() (*offline.Program, error) {
	return offline.Build(context.Background(), sources, offline.Package)
})

// edition is the pages of a version.
func edition(t testing.TB, name string) *offline.Edition {
	t.Helper()
	p, err := program()
	if err != nil {
		t.Fatal(err)
	}
	return offline.NewEdition(name, p)
}

// openFile opens the pages as one file, with the network cut.
func openFile(t *testing.T) *tab {
	t.Helper()
	file := filepath.Join(t.TempDir(), "spectally.html")
	if err := os.WriteFile(file, edition(t, "spectally").Single(), 0o644); err != nil {
		t.Fatal(err)
	}
	b := newTabOf(t, &testSite{t: t, address: "file://" + file})
	b.cut()
	b.open("")
	b.started()
	return b
}

// cut cuts the network of the tab.
func (b *tab) cut() {
	b.t.Helper()
	send(b, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: true})
	send(b, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
		MatchedNetworkConditions: []*network.Conditions{{Offline: true, DownloadThroughput: -1, UploadThroughput: -1}},
	})
}

// started waits for the first page.
func (b *tab) started() {
	b.t.Helper()
	b.run(chromedp.WaitVisible(css("#version, [role=alert]")))
	if b.count("#version") == 0 {
		b.t.Fatal(b.text("[role=alert]"))
	}
}

// at goes to an address of the pages and waits until its answer is there.
func (b *tab) at(address string) {
	b.t.Helper()
	b.turn("spectally.go(" + quoteJS(address) + ")")
}

// turn does something that leads to another page, and waits until that is there.
func (b *tab) turn(script string) {
	b.t.Helper()
	eval[bool](b, `new Promise((done) => {
		document.addEventListener("spectally:page", () => done(true), { once: true });
		`+script+`;
	})`)
}

// answered is what the program answers an address, and the media type of that.
func (b *tab) answered(address string) (body, kind string) {
	b.t.Helper()
	got := eval[[]string](b, fmt.Sprintf(`spectally.fetch(%s).then(async (r) => {
		const bytes = new Uint8Array(await r.arrayBuffer());
		let text = "";
		for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
		return [btoa(text), r.headers.get("Content-Type")];
	})`, quoteJS(address)))
	text, err := base64.StdEncoding.DecodeString(got[0])
	if err != nil {
		b.t.Fatal(err)
	}
	return string(text), got[1]
}

// What the program in the browser answers is to the byte what a server answers, as a page
// and in every other form.
func TestBrowserSameBytes(t *testing.T) {
	s := newTestSite(t, web.Config{})
	b := openFile(t)
	paths := []string{"/", "/ca", "/field?template=yes", "/nowhere", "/bands?find=n999", "/ca?carriers=B3:20+%2B&explain=yes", "/style.css"}
	for _, q := range questions {
		paths = append(paths, q.page+"?"+q.query)
		for _, f := range dataFormats {
			paths = append(paths, q.page+f.extension+"?"+q.query)
		}
	}
	for _, text := range hostile {
		paths = append(paths, "/ca?carriers="+url.QueryEscape(text), "/bands?find="+url.QueryEscape(text))
	}
	menu := regexp.MustCompile(`<dt><a href="(/[a-z]+)">`).FindAllStringSubmatch(s.get("/").body, -1)
	if len(menu) < 13 {
		t.Errorf("only %d pages in the menu", len(menu))
	}
	for _, page := range menu {
		paths = append(paths, page[1], page[1]+".json", page[1]+"?demo=yes", page[1]+"?template=yes")
	}
	for _, path := range paths {
		want := s.get(path)
		got, kind := b.answered(path)
		if got != want.body || kind != want.header.Get("Content-Type") {
			t.Errorf("%s: %d bytes of %s, the server answers %d of %s", path, len(got), kind, len(want.body), want.header.Get("Content-Type"))
		}
	}
}

// Somebody without a network opens the file, asks, follows links, goes back and loads it
// again, and looks at data.
func TestBrowserFileWithoutNetwork(t *testing.T) {
	b := openFile(t)
	b.shows("footer", "without a server")
	b.at("/ca?carriers=B3:20+%2B+n78:80@640000")
	b.shows(".answer", "DC_3A_n78A")
	b.at("/bands")
	b.fill("#f-find", "n78")
	b.turn(`document.querySelector("form.ask button[type=submit]").click()`)
	b.shows(".answer", "n78 and its neighbours")
	if got := eval[string](b, "spectally.address()"); got != "/bands?find=n78" {
		t.Errorf("the form leads to %s", got)
	}
	b.turn("history.go(-2)")
	b.shows(".answer", "DC_3A_n78A")
	b.run(chromedp.Reload())
	b.started()
	b.shows(".answer", "DC_3A_n78A")

	// A link to a part of a page stays on it.
	b.at("/field?demo=yes")
	eval[bool](b, `document.querySelector("nav.contents li:last-child a").click()
		new Promise((done) => setTimeout(() => done(true), 0))`)
	if y := eval[float64](b, "scrollY"); y == 0 || eval[string](b, "spectally.address()") != "/field?demo=yes" {
		t.Errorf("a link to a part leads to %g of %s", y, eval[string](b, "spectally.address()"))
	}
	b.at("/bands.json?find=n78")
	b.shows("pre", `"id": "n78"`)
	if name := eval[string](b, `document.querySelector("a[download]").download`); name != "bands.json" {
		t.Errorf("the data are saved as %q", name)
	}
	b.phone()
	if width := eval[int](b, "document.documentElement.scrollWidth"); width > 360 {
		t.Errorf("data are %d pixels wide on a phone", width)
	}
	b.at("/nowhere")
	b.shows("main", `there is no page "/nowhere"`)
}

// A document that is sent in a form is answered as by a server.
func TestBrowserFileTakesDocuments(t *testing.T) {
	s := newTestSite(t, web.Config{})
	b := openFile(t)
	for i := range papers {
		p := &papers[i]
		for _, document := range []string{p.demo, p.bad} {
			form := url.Values{p.name: {document}}.Encode()
			want := s.post(p.page+".json", "application/x-www-form-urlencoded", form)
			got := eval[string](b, fmt.Sprintf(`(() => {
				const form = new FormData();
				form.set(%s, %s);
				return spectally.fetch(%s, { method: "POST", body: form }).then((r) => r.text());
			})()`, quoteJS(p.name), quoteJS(document), quoteJS(p.page+".json")))
			if got != want.body {
				t.Errorf("%s: %d bytes, the server answers %d: %.200q", p.page, len(got), len(want.body), got)
			}
		}
	}
}

// What is hostile in an address is text on the page, and does nothing.
func TestBrowserFileHostile(t *testing.T) {
	b := openFile(t)
	for _, text := range []string{`<img src=x onerror=window.harmed=1>`, `"><script>window.harmed=1</script>`, `' onfocus='window.harmed=1' autofocus='`, `</textarea><svg onload=window.harmed=1>`} {
		for _, path := range []string{"/ca?carriers=", "/bands?find=", "/claim?text=", "/nowhere/"} {
			b.at(path + url.PathEscape(text))
			if n := b.count("main img, main script, main [onload], main [onfocus], main [onerror]"); n > 0 || eval[bool](b, "window.harmed === 1") {
				t.Errorf("%s%s does something", path, text)
			}
		}
	}
}

// folder serves files as a server of files does, and can take another folder's place.
type folder struct {
	*httptest.Server
	mu      sync.Mutex
	files   map[string][]byte
	missing string // a file that does not come
	refuses bool   // everything, as if the server were gone
}

func newFolder(t *testing.T, e *offline.Edition) *folder {
	t.Helper()
	f := &folder{}
	f.put(e)
	f.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		f.mu.Lock()
		defer f.mu.Unlock()
		name := strings.TrimPrefix(r.URL.Path, "/pages/")
		if name == "" {
			name = "index.html"
		}
		data, ok := f.files[name]
		if !ok || name == f.missing || f.refuses {
			panic(http.ErrAbortHandler)
		}
		kinds := map[string]string{".html": "text/html; charset=utf-8", ".js": "text/javascript", ".svg": "image/svg+xml", ".webmanifest": "application/manifest+json"}
		w.Header().Set("Content-Type", kinds[filepath.Ext(name)])
		_, _ = w.Write(data)
	}))
	t.Cleanup(f.Close)
	return f
}

// miss lets a file not come, and refuse nothing.
func (f *folder) miss(name string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.missing = name
}

func (f *folder) refuse(all bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.refuses = all
}

func (f *folder) put(e *offline.Edition) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.files = map[string][]byte{}
	for _, file := range e.Folder() {
		f.files[file.Name] = file.Data
	}
}

// kept waits until the browser keeps the folder, and its worker answers.
func (b *tab) kept() {
	b.t.Helper()
	eval[bool](b, `navigator.serviceWorker.ready.then(() => navigator.serviceWorker.controller !== null ||
		new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", () => done(true))))`)
}

// looked asks for a newer version, and waits until it is here or has failed to come.
func (b *tab) looked() string {
	b.t.Helper()
	return eval[string](b, `navigator.serviceWorker.getRegistration().then(async (r) => {
		await r.update().catch(() => {});
		const w = r.installing;
		if (w) await new Promise((done) => w.addEventListener("statechange", done, { once: true }));
		return w ? w.state : "none";
	})`)
}

// Somebody visits the folder once; then it works without its server. A newer version
// comes whole or not at all, and is used when somebody says so, in one tab and not in
// another.
func TestBrowserFolder(t *testing.T) {
	first, second := edition(t, "spectally 1"), edition(t, "spectally 2")
	f := newFolder(t, first)
	b := newTabOf(t, &testSite{t: t, address: f.URL})
	b.open("/pages/")
	b.started()
	b.kept()
	b.shows("#version", first.Version)
	b.at("/ca?carriers=B3:20+%2B+n78:80")
	b.shows(".answer", "DC_3A_n78A")
	other := b.another()

	// The server is gone.
	f.refuse(true)
	b.run(chromedp.Reload())
	b.started()
	b.shows(".answer", "DC_3A_n78A")
	b.shows("#version", first.Version)
	other.open("/pages/#/bands?find=n78")
	other.started()
	other.shows(".answer", "n78 and its neighbours")
	f.refuse(false)

	// An update that breaks off leaves what is there.
	f.put(second)
	f.miss("icon.svg")
	if state := b.looked(); state != "redundant" {
		t.Errorf("an update that broke off is %s", state)
	}
	f.refuse(true)
	b.run(chromedp.Reload())
	b.started()
	b.shows("#version", first.Version)
	f.refuse(false)

	// One that comes whole waits until it is asked for.
	f.miss("")
	if state := b.looked(); state != "installed" {
		t.Errorf("an update is %s", state)
	}
	b.run(chromedp.WaitVisible(css("#newer")))
	b.shows("#version", first.Version)
	b.visit(chromedp.Click(css("#newer button")))
	f.refuse(true)
	b.started()
	b.shows("#version", second.Version)
	b.shows(".answer", "DC_3A_n78A")
	if kept := eval[string](b, `caches.keys().then((k) => k.join())`); kept != "spectally "+second.Version {
		t.Errorf("kept is %q", kept)
	}

	// The other tab goes on with what it has, and has the newer version after a reload.
	other.shows("#version", first.Version)
	other.at("/channel?band=n78&place=640000")
	other.shows(".answer", "3600")
	other.run(chromedp.Reload())
	other.started()
	other.shows("#version", second.Version)
}

// another is a second tab of the same browser.
func (b *tab) another() *tab {
	b.t.Helper()
	o := &tab{t: b.t, site: b.site, own: b.own}
	ctx, stop := chromedp.NewContext(b.ctx, chromedp.WithListener(o.listen))
	b.t.Cleanup(stop)
	o.ctx = ctx
	return o
}
