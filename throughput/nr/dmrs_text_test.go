package nr

import (
	"fmt"
	"strings"
	"testing"
)

func TestParseNRDMRSReadsEveryConfiguration(t *testing.T) {
	n := 0
	for kind := 1; kind <= 2; kind++ {
		for length := 1; length <= 2; length++ {
			for pos := range 4 {
				for groups := range 4 {
					for _, b := range []bool{false, true} {
						c := DMRS{Type: kind, Length: length, AdditionalPositions: pos, MappingB: b, Groups: groups}
						for _, s := range []string{c.String(), strings.ToUpper(c.String()), strings.ReplaceAll(c.String(), ",", " , ")} {
							got, err := ParseDMRS(s)
							if err != nil || got != c {
								t.Errorf("%q is %+v, %v; want %+v", s, got, err, c)
							}
						}
						n++
					}
				}
			}
		}
	}
	if n != 128 {
		t.Errorf("%d configurations, want 128", n)
	}
}

func TestParseNRDMRSErrors(t *testing.T) {
	for s, want := range map[string]string{
		"":              `DM-RS "": must be type=, length=`,
		"type":          `DM-RS "type": must be`,
		"type=3":        `DM-RS type "3": must be 1 or 2`,
		"type=01":       `DM-RS type "01": must be 1 or 2`,
		"length=0":      `DM-RS length "0": must be 1 (single-symbol) or 2 (double-symbol)`,
		"pos=4":         `DM-RS pos "4": must be 0 to 3 additional positions`,
		"groups=0":      `DM-RS groups "0": must be 1 to 3`,
		"mapping=c":     `DM-RS mapping "c": must be A or B`,
		"pos=1,pos=2":   `DM-RS key "pos": must be given once`,
		"kind=1":        `DM-RS key "kind": must be type, length, pos, mapping or groups`,
		"lenght=1":      `; closest is length`,
		"type=1,,pos=1": `DM-RS "type=1,,pos=1": must be`,
	} {
		if _, err := ParseDMRS(s); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, want %s", s, err, want)
		}
	}
}

func FuzzParseNRDMRS(f *testing.F) {
	for _, s := range []string{"type=1,length=2,pos=1,mapping=B,groups=2", "pos=0", "type=1,", "TYPE = 2", "mapping=ß", "=,="} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ParseDMRS(s)
		if err != nil {
			return
		}
		if again, err := ParseDMRS(c.String()); err != nil || again != c {
			t.Fatalf("%q is %+v, written %q, read back %+v, %v", s, c, c, again, err)
		}
	})
}

func ExampleParseDMRS() {
	c, _ := ParseDMRS("type=2, pos=0")
	groups, _ := c.CDMGroups(4)
	fmt.Println(c, groups)
	// Output: type=2,length=1,pos=0,mapping=A 2
}
