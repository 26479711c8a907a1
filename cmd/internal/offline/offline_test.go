package offline

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"spectally/cmd/internal/htmlcheck"
)

// sample is an edition with a program that is none.
func sample(t *testing.T, name string) *Edition {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write([]byte("no program")); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return NewEdition(name, &Program{Packed: b.Bytes(), Start: []byte("// <&>\n")})
}

// The policy of the pages allows their own scripts and style by their hash, WebAssembly,
// and nothing else; what stands in a page is what the hash is of.
func TestPolicy(t *testing.T) {
	e := sample(t, `spectally "1" <x>`)
	for name, page := range map[string][]byte{"file": e.Single(), "folder": e.page("program.bin")} {
		doc, err := html.Parse(bytes.NewReader(page))
		if err != nil {
			t.Fatal(err)
		}
		rules := map[string][]string{}
		for _, m := range htmlcheck.Find(doc, "meta") {
			if htmlcheck.Attribute(m, "http-equiv") != "Content-Security-Policy" {
				continue
			}
			for rule := range strings.SplitSeq(htmlcheck.Attribute(m, "content"), "; ") {
				words := strings.Fields(rule)
				rules[words[0]] = words[1:]
			}
		}
		allowed := map[string]bool{"'wasm-unsafe-eval'": true}
		scripts := 0
		for _, s := range append(htmlcheck.Find(doc, "script"), htmlcheck.Find(doc, "style")...) {
			if htmlcheck.Attribute(s, "src") != "" {
				t.Errorf("%s: a script from elsewhere", name)
			}
			if htmlcheck.Attribute(s, "type") != "" {
				continue // the program, which is data
			}
			scripts++
			sum := sha256.Sum256([]byte(s.FirstChild.Data))
			allowed["'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'"] = true
		}
		sources := append(append([]string{}, rules["script-src"]...), rules["style-src"]...)
		if scripts != 4 || len(sources) != len(allowed) {
			t.Errorf("%s: %d scripts and styles, %d sources", name, scripts, len(sources))
		}
		for _, source := range sources {
			if !allowed[source] {
				t.Errorf("%s: the policy allows %s, which is none of the page's", name, source)
			}
		}
		want := map[string]string{"default-src": "'none'", "base-uri": "'none'", "form-action": "'none'", "require-trusted-types-for": "'script'", "trusted-types": "spectally", "img-src": "data:"}
		if name == "folder" {
			want["img-src"] = "'self' data:"
			for _, kind := range []string{"connect-src", "worker-src", "manifest-src"} {
				want[kind] = "'self'"
			}
		}
		for kind, value := range want {
			if got := strings.Join(rules[kind], " "); got != value {
				t.Errorf("%s: %s %s, want %s", name, kind, got, value)
			}
		}
		if len(rules) != len(want)+2 {
			t.Errorf("%s: %d rules: %v", name, len(rules), rules)
		}
	}
}

// The worker knows every file of the folder but itself, as it is; the same program makes
// the same files, another one another version.
func TestFolder(t *testing.T) {
	first, again, other := sample(t, "spectally 1"), sample(t, "spectally 1"), sample(t, "spectally 2")
	if first.Version != again.Version || first.Version == other.Version || !strings.HasPrefix(first.Version, "spectally 1 (") {
		t.Errorf("versions %q, %q, %q", first.Version, again.Version, other.Version)
	}
	files, sums := first.Folder(), map[string]string{}
	for i, f := range files {
		sum := sha256.Sum256(f.Data)
		sums[f.Name] = hex.EncodeToString(sum[:])
		if !bytes.Equal(f.Data, again.Folder()[i].Data) || !Owns(f.Name) {
			t.Errorf("%s is made anew, or not owned", f.Name)
		}
	}
	sums["./"] = sums["index.html"]
	_, text, _ := strings.Cut(string(files[len(files)-1].Data), "const { version, files } = ")
	var known struct {
		Version string
		Files   []kept
	}
	if err := json.NewDecoder(strings.NewReader(text)).Decode(&known); err != nil {
		t.Fatal(err)
	}
	if known.Version != first.Version || len(known.Files) != len(sums)-1 {
		t.Errorf("the worker knows %d files of %q", len(known.Files), known.Version)
	}
	for _, k := range known.Files {
		if sums[k.Path] != k.SHA256 || k.SHA256 == "" {
			t.Errorf("%s is not as the worker knows it", k.Path)
		}
	}
	if Owns("program-x.txt") || Owns("letter.html") {
		t.Error("files of others are owned")
	}
}
