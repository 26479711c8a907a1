//go:build browser

package web_test

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// shots are addresses of every page, asked and not.
var shots = []string{
	"/", "/ca", "/ca?carriers=B3:20+%2B+n78:80", "/ca?carriers=B3:20+%2B+n78:83@640000", "/throughput?carriers=B3:20,sinr=14+%2B+n78:80,sinr=9&goodput=yes",
	"/interference?carriers=B1:20@300+%2B+B3:20@1500+%2B+n78:100@636666", "/bands", "/bands?find=n78", "/channel?band=n78&place=640000&width=80&gscn=yes", "/configs?with=n78,3&widths=yes",
	"/configs?names=CA_n3A-n78C", "/claim", "/claim?carriers=B3:20+%2B+n78:80&total-mhz=150", "/field", "/field?demo=yes", "/import", "/import?demo=yes", "/site?demo=yes", "/walk?demo=yes", "/holdings?demo=yes&full=yes", "/sources",
}

// On a phone nothing stands beyond the edge of the page: no table hides a column, no drawing
// cuts its text, and what is tapped is large enough.
func TestBrowserPhoneGeometry(t *testing.T) {
	b := newTab(t)
	b.phone()
	for _, path := range shots {
		b.open(path)
		eval[int](b, `document.querySelectorAll("main details").forEach(d => d.open = true), 0`)
		faults := eval[[]string](b, `(() => {
			const faults = [];
			const shown = (e) => e.getClientRects().length > 0 && e.checkVisibility();
			const name = (e) => e.tagName + " " + (e.textContent || e.value || "").trim().slice(0, 40);
			if (document.documentElement.scrollWidth > innerWidth) faults.push("the page is " + document.documentElement.scrollWidth + " wide");
			for (const table of document.querySelectorAll("main table")) {
				if (!shown(table)) continue;
				for (const cell of table.querySelectorAll("tbody th, tbody td")) {
					const r = cell.getBoundingClientRect();
					if (shown(cell) && r.width > 0 && r.right > innerWidth + 1) { faults.push("cut: " + name(table.caption) + ": " + name(cell) + " at " + r.right); break; }
					if (cell.textContent.trim() && !shown(cell) && !cell.parentElement.hidden) { faults.push("hidden: " + name(cell)); break; }
				}
			}
			for (const svg of document.querySelectorAll("main svg")) {
				if (!shown(svg)) continue;
				const box = svg.viewBox.baseVal;
				for (const text of svg.querySelectorAll("text")) {
					const r = text.getBBox();
					if (r.x < -6 || r.x + r.width > box.width + 6) faults.push("clipped: " + text.textContent + " " + r.x + " to " + (r.x + r.width) + " of " + box.width);
				}
			}
			for (const e of document.querySelectorAll("a, button, input:not([type=hidden]), select, textarea, summary")) {
				if (!shown(e) || e.classList.contains("skip")) continue;
				if (e.tagName == "A" && e.closest("p, dd, td, th, li") && !e.closest("nav, .formats, .samples")) continue; // in running text
				const target = e.type == "checkbox" ? e.closest(".field") || e : e;
				if (target.getBoundingClientRect().height < 43.5) faults.push("small: " + name(e) + " " + target.getBoundingClientRect().height);
			}
			return faults.slice(0, 8);
		})()`)
		for _, f := range faults {
			t.Errorf("%s: %s", path, f)
		}
	}
}

// Pictures of every page, for people to look at, and a report of three networks on at most
// eight pages of paper.
func TestBrowserShots(t *testing.T) {
	b := newTab(t)
	for _, width := range []int64{360, 768, 1440} {
		b.run(chromedp.EmulateViewport(width, 740))
		for i, path := range shots {
			b.open(path)
			name, _, _ := strings.Cut(path[1:], "?")
			b.keep("all-" + strconv.FormatInt(width, 10) + "-" + strconv.Itoa(100 + i)[1:] + "-" + name)
		}
	}
	b.open("/field?demo=yes")
	if n := b.paper("print-field"); n > 8 {
		t.Errorf("a report of three networks takes %d pages of paper", n)
	}
}

// paper prints a page, keeps that, and returns how many sheets it takes.
func (b *tab) paper(name string) int {
	b.t.Helper()
	printed, err := chromedp.Call(b.ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: 8.27, PaperHeight: 11.69})
	if err != nil {
		b.t.Fatal(err)
	}
	if directory := os.Getenv("SPECTALLY_SHOTS"); directory != "" {
		if err := os.WriteFile(directory+"/"+name+".pdf", printed.Data, 0o644); err != nil {
			b.t.Fatal(err)
		}
	}
	return strings.Count(string(printed.Data), "/Type /Page\n") + strings.Count(string(printed.Data), "/Type /Page/")
}
