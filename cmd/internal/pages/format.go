package pages

import (
	"strconv"
	"strings"

	"spectally/cmd/internal/render"
)

// format is a form in which a page can be had.
type format struct {
	extension, kind, name string
	render                render.Format
	page                  bool // HTML
	given                 bool // by an extension in the path
}

var (
	pageFormat     = format{kind: "text/html", name: "page", page: true}
	jsonFormat     = format{extension: ".json", kind: "application/json", name: "JSON", render: render.JSON}
	csvFormat      = format{extension: ".csv", kind: "text/csv", name: "CSV", render: render.CSV}
	markdownFormat = format{extension: ".md", kind: "text/markdown", name: "Markdown", render: render.Markdown}
	textFormat     = format{extension: ".txt", kind: "text/plain", name: "plain text", render: render.Text}

	// dataFormats are those that the commands write, in the order they are offered.
	dataFormats = []format{jsonFormat, csvFormat, markdownFormat, textFormat}
)

// option is the value of --format that makes a command write this.
func (f *format) option() string { return f.render.String() }

// split takes a path apart: "/bands.csv" is the page /bands as CSV.
func split(path string) (page string, f format) {
	for _, f := range dataFormats {
		if page, ok := strings.CutSuffix(path, f.extension); ok {
			f.given = true
			return page, f
		}
	}
	return path, pageFormat
}

// negotiate finds the format that a client wants most; a page, if it does not care.
func negotiate(accept []string, p *page) format {
	best, most := pageFormat, 0.0
	for header := range strings.SplitSeq(strings.Join(accept, ","), ",") {
		kind, q := readAccept(header)
		if q <= most {
			continue // what stands first wins among equals
		}
		switch kind {
		case "text/html", "text/*", "*/*", "application/xhtml+xml":
			best, most = pageFormat, q
		default:
			for _, f := range dataFormats {
				if kind == f.kind && p.answers() {
					best, most = f, q
				}
			}
		}
	}
	return best
}

// readAccept reads one entry of an Accept header: the kind and how much it is wanted.
func readAccept(entry string) (kind string, q float64) {
	kind, parameters, _ := strings.Cut(entry, ";")
	q = 1
	for p := range strings.SplitSeq(parameters, ";") {
		if value, ok := strings.CutPrefix(strings.TrimSpace(p), "q="); ok {
			v, err := strconv.ParseFloat(value, 64)
			if err != nil || v < 0 || v > 1 {
				return "", 0
			}
			q = v
		}
	}
	return strings.ToLower(strings.TrimSpace(kind)), q
}
