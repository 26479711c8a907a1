package render

// style turns words into coloured words, or leaves them alone.
type style struct{ color bool }

const (
	sgrReset = "\x1b[0m"
	sgrBold  = "\x1b[1m"
	sgrFaint = "\x1b[2m"
)

var toneColors = [...]string{Good: "\x1b[32m", Doubtful: "\x1b[33m", Bad: "\x1b[31m"}

func (s style) with(code, text string) string {
	if !s.color || code == "" || text == "" {
		return text
	}
	return code + text + sgrReset
}

func (s style) bold(text string) string         { return s.with(sgrBold, text) }
func (s style) faint(text string) string        { return s.with(sgrFaint, text) }
func (s style) tone(t Tone, text string) string { return s.with(toneColors[t], text) }
