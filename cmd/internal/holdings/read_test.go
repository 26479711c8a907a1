package holdings

import (
	"strings"
	"testing"
)

func TestReadDemoAndTemplate(t *testing.T) {
	for name, text := range map[string]string{"demo": Demo(), "template": Template()} {
		h, err := Read(name, []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range h.Networks {
			if n.Name == "" || len(n.Blocks) == 0 {
				t.Errorf("%s: network %q has %d blocks", name, n.Name, len(n.Blocks))
			}
		}
	}
}

func TestParseBlocks(t *testing.T) {
	h, err := ParseBlocks("1805-1825/1710-1730, 3410-3500, 758-768/703-713")
	if err != nil || len(h.Networks[0].Blocks) != 3 {
		t.Fatal(h, err)
	}
	for text, want := range map[string]string{
		"1805-1825, 1820-1830":   "overlaps",
		"100-200":                "spectrum of a band",
		"1805":                   "a range in MHz",
		"":                       "a range in MHz",
		"3410-3500,":             "a range in MHz",
		"1805-1825/1710-1730-40": "a range in MHz",
	} {
		if _, err := ParseBlocks(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(Demo())
	f.Add(Template())
	f.Add("[[network]]\nname=1\nblocks=\"1-2\"")
	f.Fuzz(func(t *testing.T, text string) {
		h, err := Read("fuzz", []byte(text))
		if (h == nil) == (err == nil) {
			t.Fatal("both or neither of an answer and an error")
		}
	})
}
