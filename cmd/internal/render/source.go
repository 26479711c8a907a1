package render

import (
	"slices"
	"strings"

	"spectally/data"
)

// Source is the place in a standard that a value was read from. It is a
// [data.Source] with the field names of the JSON output.
type Source struct {
	Spec    string `json:"spec"`
	Version string `json:"version"`
	Table   string `json:"table"`
}

// String cites the place: "TS 38.101-1 V19.5.0 Table 5.2-1".
func (s Source) String() string { return data.Source(s).String() }

// short cites the place without the version.
func (s Source) short() string { return data.Source(s).Short() }

// document names the specification and its version.
func (s Source) document() string { return data.Source{Spec: s.Spec, Version: s.Version}.String() }

// citation is one document and the places in it, in the order of their first
// mention.
type citation struct {
	document string
	places   []string
}

// group puts the places of one document together and drops repeats.
func (b Sources) group() []citation {
	var groups []citation
	index := map[string]int{}
	seen := map[Source]bool{}
	for _, s := range b {
		if s == (Source{}) || seen[s] {
			continue
		}
		seen[s] = true
		doc := s.document()
		i, ok := index[doc]
		if !ok {
			i = len(groups)
			index[doc] = i
			groups = append(groups, citation{document: doc})
		}
		if place := data.Source(s).Place(); place != "" {
			groups[i].places = append(groups[i].places, place)
		}
	}
	return groups
}

// specs names the specifications alone, in order: "ITU-R M.2410, TS 36.101, 38.306".
func (b Sources) specs() string {
	var list []string
	for _, s := range b {
		list = append(list, s.Spec)
	}
	slices.Sort(list)
	series := ""
	list = slices.DeleteFunc(slices.Compact(list), func(s string) bool { return s == "" })
	for i, s := range list {
		of, number, _ := strings.Cut(s, " ")
		if of == series {
			list[i] = number
		}
		series = of
	}
	return strings.Join(list, ", ")
}

// String writes the citation on one line, with "Tables" written once:
// "TS 38.101-1 V19.5.0 Tables 5.2-1, 5.3.5-1, clause 5.4.2.3".
func (c citation) String() string {
	var tables, others []string
	for _, p := range c.places {
		if number, ok := strings.CutPrefix(p, "Table "); ok {
			tables = append(tables, number)
		} else {
			others = append(others, p)
		}
	}
	parts := make([]string, 0, 1+len(others))
	switch len(tables) {
	case 0:
	case 1:
		parts = append(parts, "Table "+tables[0])
	default:
		parts = append(parts, "Tables "+strings.Join(tables, ", "))
	}
	parts = append(parts, others...)
	return strings.TrimSpace(c.document + " " + strings.Join(parts, ", "))
}
