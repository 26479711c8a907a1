package render

// Format is an output format.
type Format uint8

// The output formats.
const (
	Text Format = iota
	JSON
	CSV
	Markdown
	HTML
)

var formatNames = [...]string{Text: "text", JSON: "json", CSV: "csv", Markdown: "markdown", HTML: "html"}

// FormatNames lists the names of the formats in the order they are offered.
func FormatNames() []string { return formatNames[:] }

// String returns the name of the format.
func (f Format) String() string {
	if int(f) < len(formatNames) {
		return formatNames[f]
	}
	return "no format"
}
