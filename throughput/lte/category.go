package lte

import (
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/internal/printed"
)

// CategoryField is the signalled field that a UE category belongs to; its
// numbers are counted on in the newer fields, with gaps.
type CategoryField uint8

// The fields of TS 36.306 clauses 4.1 and 4.1A. The zero field is none.
const (
	CategoryBoth     CategoryField = iota + 1 // ue-Category: downlink and uplink together, 1 to 12
	CategoryDownlink                          // ue-CategoryDL
	CategoryUplink                            // ue-CategoryUL
)

// String writes the name of the field: "ue-Category", "ue-CategoryDL",
// "ue-CategoryUL".
func (f CategoryField) String() string {
	switch f {
	case CategoryBoth:
		return "ue-Category"
	case CategoryDownlink:
		return "ue-CategoryDL"
	case CategoryUplink:
		return "ue-CategoryUL"
	}
	return "none"
}

// Category is what a UE category can receive or send in one TTI of 1 ms, all
// carriers together (TS 36.306).
type Category struct {
	Direction bands.Direction
	Field     CategoryField
	Name      string // "4", "1bis", "M1"
	// MinBits and MaxBits are the transport block bits of a TTI. They differ where
	// the standard gives a range (the UE must reach what its own carrier, MIMO and
	// modulation capabilities give, no less than the first) or Note names a
	// condition.
	MinBits, MaxBits int
	SoftBits         []int // soft channel bits, downlink; several where Note names a condition
	Layers           []int // most layers, downlink; several where capabilities decide
	QAM64, QAM256    bool  // modulations of the uplink
	Note             string
	Blocks           []CategoryBlock // largest single block
	Source           data.Source
}

// CategoryBlock is the largest transport block of one codeword that a category
// takes.
type CategoryBlock struct {
	Layers     int    // of the category; 0: the table makes no difference
	Modulation string // "64QAM", "256QAM", "1024QAM"; empty: the table makes no difference
	Bits       int
	Condition  string // capability or configuration that it depends on
}

var (
	categoryFile = data.Lazy("lte_ue_categories")
	categories   = sync.OnceValue(loadCategories)
)

func loadCategories() []Category {
	var all []Category
	for _, from := range []struct {
		id    string
		dir   bands.Direction
		field CategoryField
	}{
		{"dl", bands.Downlink, CategoryBoth}, {"dl-r12", bands.Downlink, CategoryDownlink},
		{"ul", bands.Uplink, CategoryBoth}, {"ul-r12", bands.Uplink, CategoryUplink},
	} {
		table := data.Find(categoryFile(), from.id)
		blocks := data.Find(categoryFile(), from.id+"-block")
		for _, row := range table.Rows {
			c := Category{
				Direction: from.dir, Field: from.field, Name: row[0], Source: table.Source,
				MinBits: printed.Int(row[1]), MaxBits: printed.Int(row[2]), Note: row[5],
			}
			if from.dir == bands.Downlink {
				c.SoftBits, c.Layers = numbers(row[3]), numbers(row[4])
			} else {
				c.QAM64, c.QAM256 = row[3] == "yes", row[4] == "yes"
			}
			for _, b := range blocks.Rows {
				if b[0] == c.Name {
					block := CategoryBlock{Modulation: b[2], Bits: printed.Int(b[3]), Condition: b[4]}
					if b[1] != "" {
						block.Layers = printed.Int(b[1])
					}
					c.Blocks = append(c.Blocks, block)
				}
			}
			all = append(all, c)
		}
	}
	return all
}

// numbers reads a list of whole numbers of an embedded table.
func numbers(s string) []int {
	var list []int
	for n := range strings.SplitSeq(s, "|") {
		list = append(list, printed.Int(n))
	}
	return list
}

// Categories lists the UE categories, the downlink first, in the order of the
// tables. The list is shared: don't change it.
func Categories() []Category { return categories() }

// LookupCategory finds a category by direction, field and name ("4", "1bis",
// "M1"; letter case does not matter). A category of the newer fields that
// ue-Category does not have, and the other way round, is a [*bands.ValueError].
func LookupCategory(dir bands.Direction, field CategoryField, name string) (Category, error) {
	var have []string
	var source data.Source
	for _, c := range categories() {
		if c.Direction != dir || c.Field != field {
			continue
		}
		if strings.EqualFold(c.Name, name) {
			return c, nil
		}
		have, source = append(have, c.Name), c.Source
	}
	if have == nil {
		return Category{}, &bands.ValueError{
			Param: "LTE UE category field of the " + dir.String(), Got: field.String(),
			Allowed: "ue-Category, ue-CategoryDL for the downlink, ue-CategoryUL for the uplink",
		}
	}
	return Category{}, &bands.ValueError{
		Param: "LTE " + dir.String() + " category (" + field.String() + ")", Got: name,
		Allowed: strings.Join(have, ", "), Source: source,
	}
}
