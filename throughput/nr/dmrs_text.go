package nr

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// dmrsKey is a part of the text of a DM-RS configuration.
type dmrsKey struct {
	name, allowed string
	least, most   int
	field         func(*DMRS) *int
}

var dmrsKeys = [...]dmrsKey{
	{"type", "1 or 2", 1, 2, func(c *DMRS) *int { return &c.Type }},
	{"length", "1 (single-symbol) or 2 (double-symbol)", 1, 2, func(c *DMRS) *int { return &c.Length }},
	{"pos", "0 to 3 additional positions", 0, 3, func(c *DMRS) *int { return &c.AdditionalPositions }},
	{"groups", "1 to 3 CDM groups without data", 1, 3, func(c *DMRS) *int { return &c.Groups }},
}

const dmrsAllowed = "type=, length=, pos=, mapping= and groups= with commas between them, such as type=1,length=1,pos=1,mapping=A"

// ParseDMRS reads a DM-RS configuration, "type=1,length=1,pos=1,mapping=A,groups=2",
// in any order; letter case and blanks do not matter. What is left out is type 1,
// single-symbol, one additional position, mapping type A, and as few CDM groups
// without data as hold the layers. Whether the parts go together depends on the
// layers: [DMRS.CDMGroups] says.
func ParseDMRS(s string) (DMRS, error) {
	c := DMRS{Type: 1, Length: 1, AdditionalPositions: 1}
	var seen []string
	for part := range strings.SplitSeq(s, ",") {
		name, value, ok := strings.Cut(strings.ToLower(strings.ReplaceAll(part, " ", "")), "=")
		if !ok {
			return DMRS{}, &bands.ValueError{Param: "DM-RS", Got: s, Allowed: dmrsAllowed}
		}
		for _, n := range seen {
			if n == name {
				return DMRS{}, &bands.ValueError{Param: "DM-RS key", Got: name, Allowed: "given once"}
			}
		}
		seen = append(seen, name)
		if err := c.set(name, value); err != nil {
			return DMRS{}, err
		}
	}
	return c, nil
}

func (c *DMRS) set(name, value string) error {
	if name == "mapping" {
		c.MappingB = value == "b"
		if value != "a" && value != "b" {
			return &bands.ValueError{Param: "DM-RS mapping", Got: value, Allowed: "A or B"}
		}
		return nil
	}
	for i := range dmrsKeys {
		k := &dmrsKeys[i]
		if k.name != name {
			continue
		}
		n, ok := words.Digits(value)
		if !ok || int(n) < k.least || int(n) > k.most || len(value) > 1 {
			return &bands.ValueError{Param: "DM-RS " + name, Got: value, Allowed: k.allowed}
		}
		*k.field(c) = int(n)
		return nil
	}
	return &bands.ValueError{Param: "DM-RS key", Got: name, Allowed: "type, length, pos, mapping or groups", Nearest: nearestDMRSKey(name)}
}

func nearestDMRSKey(name string) string {
	for _, known := range [...]string{"type", "length", "pos", "mapping", "groups"} {
		if d := bands.EditDistance(name, known); d <= 2 && d < len(known) {
			return known
		}
	}
	return ""
}

// String writes the configuration as [ParseDMRS] reads it.
func (c DMRS) String() string {
	s := "type=" + strconv.Itoa(c.Type) + ",length=" + strconv.Itoa(c.Length) + ",pos=" + strconv.Itoa(c.AdditionalPositions) + ",mapping="
	if c.MappingB {
		s += "B"
	} else {
		s += "A"
	}
	if c.Groups != 0 {
		s += ",groups=" + strconv.Itoa(c.Groups)
	}
	return s
}
