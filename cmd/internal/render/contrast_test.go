package render

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
)

var (
	paletteStart = regexp.MustCompile(`:root \{([^}]*)\}`)
	paletteColor = regexp.MustCompile(`--([a-z]+): #([0-9a-f]{3,6});`)
)

// luminance is the relative luminance of a colour (Web Content Accessibility
// Guidelines 2.2, definition of relative luminance; from memory).
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	sum := 0.0
	for i, weight := range [...]float64{0.2126, 0.7152, 0.0722} {
		var b uint8
		if _, err := fmt.Sscanf(hex[2*i:2*i+2], "%02x", &b); err != nil {
			t.Fatal(err)
		}
		c := float64(b) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// Text has a contrast of 4.5 to 1 at least against what it stands on, in light, dark
// and print (success criterion 1.4.3, level AA), and what is drawn 3 to 1 (1.4.11).
func TestContrast(t *testing.T) {
	palettes := paletteStart.FindAllStringSubmatch(stylesheet, -1)
	if len(palettes) != 3 {
		t.Fatalf("%d palettes, want those of light, dark and print", len(palettes))
	}
	for i, p := range palettes {
		colors := map[string]string{}
		for _, c := range paletteColor.FindAllStringSubmatch(p[1], -1) {
			colors[c[1]] = c[2]
		}
		for _, text := range []string{"ink", "quiet", "water", "plum", "moss", "amber", "brick"} {
			for _, ground := range []string{"paper", "raised"} {
				if colors[text] == "" || colors[ground] == "" {
					t.Fatalf("palette %d has no %s or %s", i, text, ground)
				}
				a, b := luminance(t, colors[text]), luminance(t, colors[ground])
				if ratio := (max(a, b) + 0.05) / (min(a, b) + 0.05); ratio < 4.5 {
					t.Errorf("palette %d: %s on %s has a contrast of %.2f", i, text, ground, ratio)
				}
			}
		}
	}
}

// Letters never take a colour from outside the palettes, and those of bars and blocks
// stand on the page or on a solid colour of it.
func TestColoursAreOfThePalette(t *testing.T) {
	rest := paletteStart.ReplaceAllString(stylesheet, "")
	for _, found := range regexp.MustCompile(`(?m)(color|fill|stroke|background):[^;]*#[0-9a-f]+`).FindAllString(rest, -1) {
		t.Errorf("a colour beside the palettes: %s", found)
	}
	if strings.Count(rest, "var(--paper)") == 0 {
		t.Error("the palettes are not used")
	}
}
