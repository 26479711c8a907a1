package offline

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // for the files that are put together
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"strings"
	"sync"
	"text/template"

	"spectally/cmd/internal/pages"
)

var (
	//go:embed static/shell.html
	shellText string
	//go:embed static/loader.js
	loader string
	//go:embed static/worker.js
	worker string
)

// File is a file of the pages.
type File struct {
	Name string
	Data []byte
}

// Edition is the pages of one version of the program.
type Edition struct {
	program *Program
	// Version is the program's name and version, and a sign for what is in the pages.
	Version string
	sign    string
}

// NewEdition puts pages together. The name is that of the program with its version.
func NewEdition(name string, p *Program) *Edition {
	sum := sha256.New()
	for _, part := range [][]byte{[]byte(name), p.Packed, p.Start, []byte(shellText), []byte(loader), []byte(worker), asset("/style.css"), asset("/script.js"), asset("/icon.svg")} {
		fmt.Fprintln(sum, len(part))
		sum.Write(part)
	}
	sign := hex.EncodeToString(sum.Sum(nil)[:4])
	return &Edition{program: p, Version: name + " (" + sign + ")", sign: sign}
}

// asset is a file that the pages of a server refer to.
func asset(path string) []byte {
	var b bytes.Buffer
	_, _ = pages.Asset(path, "").Body.WriteTo(&b) // a buffer takes all
	return b.Bytes()
}

// shell is what the template of the page says.
type shell struct {
	Policy, Icon, Style, Version string
	Bytes                        int
	File, Program                string
	Scripts                      []string
}

var shellTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("shell").Parse(shellText)) })

// page writes the page that starts the program, which is in it or in a file beside it.
func (e *Edition) page(file string) []byte {
	s := shell{
		Icon:    "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(asset("/icon.svg")),
		Style:   string(asset("/style.css")),
		Version: html.EscapeString(e.Version),
		Bytes:   e.program.Size(),
		File:    file,
		Scripts: []string{string(e.program.Start), loader, string(asset("/script.js"))},
	}
	if file == "" {
		s.Program = base64.StdEncoding.EncodeToString(e.program.Packed)
	}
	s.Policy = html.EscapeString(policy(&s))
	var b bytes.Buffer
	if err := shellTemplate().Execute(&b, &s); err != nil {
		panic(err) // the template is built in
	}
	return b.Bytes()
}

// policy lets the page run its own scripts and the program, and load nothing that is not
// in it or, in a folder, beside it.
func policy(s *shell) string {
	rules := []string{"default-src 'none'", "script-src 'wasm-unsafe-eval'", "style-src " + hash(s.Style),
		"base-uri 'none'", "form-action 'none'", "require-trusted-types-for 'script'", "trusted-types spectally"}
	for _, script := range s.Scripts {
		rules[1] += " " + hash(script)
	}
	if s.File != "" {
		rules = append(rules, "img-src 'self' data:", "connect-src 'self'", "worker-src 'self'", "manifest-src 'self'")
	} else {
		rules = append(rules, "img-src data:")
	}
	return strings.Join(rules, "; ")
}

// hash names a text in a policy (CSP 3 clause 2.3.1).
func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// Single is the pages as one file of HTML.
func (e *Edition) Single() []byte { return e.page("") }

// manifest tells a browser how to install the pages.
type manifest struct {
	Name            string         `json:"name"`
	ShortName       string         `json:"short_name"`
	Description     string         `json:"description"`
	ID              string         `json:"id"`
	Start           string         `json:"start_url"`
	Scope           string         `json:"scope"`
	Display         string         `json:"display"`
	ThemeColor      string         `json:"theme_color"`
	BackgroundColor string         `json:"background_color"`
	Icons           []manifestIcon `json:"icons"`
}

type manifestIcon struct {
	Source  string `json:"src"`
	Sizes   string `json:"sizes"`
	Type    string `json:"type"`
	Purpose string `json:"purpose"`
}

// kept is a file that the service worker keeps.
type kept struct {
	Path   string `json:"path"`
	SHA256 string `json:"sha256"`
}

// Folder is the pages as files for a server. They are in the order in which they are to
// take the places of older ones: what others refer to is there before them.
func (e *Edition) Folder() []File {
	program := File{"program-" + e.sign + ".bin", e.program.Packed}
	files := []File{
		program,
		{"icon.svg", asset("/icon.svg")},
		{"manifest.webmanifest", indented(manifest{
			Name: "spectally", ShortName: "spectally", Description: "Which spectrum a set of mobile-radio carriers is, and what it can yield.",
			ID: "./", Start: "./", Scope: "./", Display: "standalone", ThemeColor: "#1b5a72", BackgroundColor: "#fbfaf6",
			Icons: []manifestIcon{{"icon.svg", "any", "image/svg+xml", "any"}},
		})},
		{"version.txt", []byte(e.Version + "\n")},
		{"index.html", e.page(program.Name)},
	}
	list := make([]kept, 0, len(files)+1)
	for _, f := range files {
		sum := sha256.Sum256(f.Data)
		list = append(list, kept{f.Name, hex.EncodeToString(sum[:])})
		if f.Name == "index.html" {
			list = append(list, kept{"./", hex.EncodeToString(sum[:])})
		}
	}
	version := indented(map[string]any{"version": e.Version, "files": list})
	return append(files, File{"sw.js", []byte(strings.Replace(worker, "VERSION", strings.TrimSpace(string(version)), 1))})
}

// Owns tells whether a folder of pages, of whatever version, has a file of that name.
func Owns(name string) bool {
	switch name {
	case "icon.svg", "manifest.webmanifest", "version.txt", "index.html", "sw.js":
		return true
	}
	return strings.HasPrefix(name, "program-") && strings.HasSuffix(name, ".bin")
}

func indented(v any) []byte {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		panic(err) // the types are this package's
	}
	return append(b, '\n')
}
