package htmlcheck

import (
	"strings"
	"testing"
)

const good = `<h2>Head</h2>
<ul class="points"><li>One &lt; two</li></ul>
<dl><div><dt>name</dt><dd>value</dd></div></dl>
<div class="scroll" role="group" tabindex="0" aria-labelledby="t-1"><table><caption id="t-1">Table</caption><thead><tr><th scope="col">a</th><th scope="col">b</th></tr></thead><tbody><tr><th scope="row">1</th><td>2</td></tr><tr><td></td><td>3</td></tr></tbody></table></div>
<figure><svg role="img" aria-labelledby="d-title d-text" viewBox="0 0 1 1"><title id="d-title">Drawing</title><desc id="d-text">A square.</desc><defs><pattern id="p" width="1" height="1"><rect width="1" height="1"/></pattern></defs><rect width="1" height="1" fill="url(#p)"/></svg><figcaption>A square</figcaption></figure>
<details><summary>More</summary><h3>Deep</h3></details>
<p><a href="#t-1">to the table</a></p>
`

func TestFragment(t *testing.T) {
	if problems := Fragment([]byte(good)); len(problems) > 0 {
		t.Fatalf("a good fragment: %q", problems)
	}
	for _, test := range []struct{ old, new, want string }{
		{"<h2>Head</h2>", "<h2>Head", "never closed"},
		{"<h2>Head</h2>", "<h2>Head</h3>", "closes"},
		{"<h2>Head</h2>", "<h2>Head</h2><script>x</script>", "<script>"},
		{"<h2>Head</h2>", `<h2 onclick="x">Head</h2>`, "attribute onclick"},
		{"<h2>Head</h2>", `<h2 style="x">Head</h2>`, "attribute style"},
		{"<h2>Head</h2>", "<!-- x --><h2>Head</h2>", "a comment"},
		{"<h2>Head</h2>", "<h2>a > b</h2>", "not escaped"},
		{"<h2>Head</h2>", "<h2></h2>", "<h2> is empty"},
		{"<h3>Deep</h3>", "<h4>Deep</h4>", "<h4>"},
		{"<ul class=\"points\"><li>One &lt; two</li></ul>", "<ul></ul>", "<ul> is empty"},
		{"<li>One &lt; two</li>", "<p>One</p>", "<p> in <ul>"},
		{"<dl><div>", "<dl><p></p><div>", "<p> in <dl>"},
		{`<caption id="t-1">Table</caption>`, `<caption id="t-1"> </caption>`, "without a caption"},
		{`<th scope="col">b</th>`, `<td>b</td>`, "in the head"},
		{`<th scope="row">1</th>`, `<td>1</td>`, "cell 1 of row 1"},
		{`<td></td>`, `<th scope="row"> </th>`, "headed by nothing"},
		{`<td>3</td>`, `<th scope="row">3</th>`, "cell 2 of row 2"},
		{`<td>2</td>`, `<td>2</td><td>4</td>`, "has 3 cells"},
		{`<td>2</td>`, `<td>2</td></tr></table>x`, "closes"},
		{`role="group"`, `role="img"`, "does not scroll"},
		{`tabindex="0" `, "", "by keyboard"},
		{`aria-labelledby="t-1"`, `aria-labelledby="t-2"`, `nothing has the id "t-2"`},
		{`role="img"`, `role="none"`, "role=img"},
		{`<desc id="d-text">A square.</desc>`, `<desc id="d-text"></desc>`, "<desc>"},
		{`<title id="d-title">Drawing</title>`, ``, "<title>"},
		{`fill="url(#p)"`, `fill="url(http://a)"`, `fill "url(http`},
		{`<summary>More</summary>`, ``, "<summary>"},
		{`<figcaption>A square</figcaption>`, `<figcaption>A</figcaption><figcaption>B</figcaption>`, "<figcaption>"},
		{`href="#t-1"`, `href="http://example.org/"`, "a link to"},
		{`<p><a`, `<p id="t-1"><a`, "twice"},
		{`<p><a`, `<p><img><a`, "<img>"},
		{`<p>`, `<p><ul><li>x</li></ul>`, "the reader makes"},
		{`<h2>Head</h2>`, `<p/>`, "outside of SVG"},
	} {
		bad := strings.Replace(good, test.old, test.new, 1)
		if bad == good {
			t.Fatalf("%q is not in the fragment", test.old)
		}
		problems := strings.Join(Fragment([]byte(bad)), "\n")
		if !strings.Contains(problems, test.want) {
			t.Errorf("%q for %q: problems %q, want one with %q", test.new, test.old, problems, test.want)
		}
	}
}

const head = `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="default-src 'none'"><meta name="viewport" content="width=device-width"><title>T</title>` +
	`<style>@media (prefers-color-scheme: dark) {} @media print {} :focus-visible { overflow-x: auto; max-width: 1em }</style></head><body><main><h1>T</h1>`

func TestPage(t *testing.T) {
	page := head + good + "</main></body></html>"
	if problems := Page([]byte(page)); len(problems) > 0 {
		t.Fatalf("a good page: %q", problems)
	}
	for _, test := range []struct{ old, new, want string }{
		{"<!DOCTYPE html>\n", "", "DOCTYPE"},
		{` lang="en"`, "", "language"},
		{"<title>T</title>", "", "no title"},
		{`<meta charset="utf-8">`, "", "character set"},
		{`<meta charset="utf-8">`, strings.Repeat(" ", 2000) + `<meta charset="utf-8">`, "1024"},
		{"width=device-width", "width=1000", "viewport"},
		{"default-src 'none'", "default-src *", "may load"},
		{"@media print", "@import print; @media print", "@import"},
		{":focus-visible", "p", "lacks"},
		{"<h1>T</h1>", "", "no <h1>"},
		{"<h1>T</h1>", "<h1>T</h1></main><main>", "2 <main>"},
	} {
		bad := strings.Replace(page, test.old, test.new, 1)
		if problems := strings.Join(Page([]byte(bad)), "\n"); bad == page || !strings.Contains(problems, test.want) {
			t.Errorf("%q for %q: problems %q, want one with %q", test.new, test.old, problems, test.want)
		}
	}
}
