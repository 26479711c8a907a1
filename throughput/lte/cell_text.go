package lte

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// CellAllowed says what [ParseCell] reads.
const CellAllowed = "cp=, mbsfn=, prs=, uppts=, crs=, si=, pucch= and srs= with commas between them, such as mbsfn=6,prs=1/160"

// cellKey is a part of the text of a cell.
type cellKey struct {
	name, allowed string
	least, most   int
	field         func(*Cell) *int
}

var cellKeys = [...]cellKey{
	{"mbsfn", "0 to 6 MBSFN subframes of a frame", 0, 6, func(c *Cell) *int { return &c.MBSFN }},
	{"prs", "1 to 6 positioning subframes and their period, 160, 320, 640 or 1280 ms, such as 1/160", 1, 6, func(c *Cell) *int { return &c.PRS }},
	{"uppts", "0 to 6 symbols of PUSCH in UpPTS", 0, 6, func(c *Cell) *int { return &c.UpPTS }},
	{"crs", "1, 2 or 4 ports of cell-specific reference signals", 1, 4, func(c *Cell) *int { return &c.CRSPorts }},
	{"si", "0 to 110 resource blocks of system information in subframe 5", 0, MaxPRB, func(c *Cell) *int { return &c.SystemInformation }},
	{"pucch", "0 to 98 resource blocks", 0, 98, func(c *Cell) *int { return &c.PUCCH }},
	{"srs", "0 to 10 subframes of a frame", 0, Subframes, func(c *Cell) *int { return &c.SRS }},
}

// prsPeriods are the periods of positioning subframes in ms (TS 36.211 Table 6.10.4.3-1).
var prsPeriods = []int{160, 320, 640, 1280}

// ParseCell reads what of a cell is not as usual: "cp=extended,mbsfn=6,prs=1/160,uppts=5",
// with crs=, si=, pucch= and srs=, in any order; letter case and blanks do not matter. The
// resource blocks and the frame structure stay open; cp=extended leaves an FDD frame with
// extended cyclic prefix there.
func ParseCell(s string) (Cell, error) {
	var c Cell
	seen := make(map[string]bool)
	for part := range strings.SplitSeq(strings.ToLower(strings.ReplaceAll(s, " ", "")), ",") {
		name, value, isKey := strings.Cut(part, "=")
		switch {
		case !isKey:
			return Cell{}, &bands.ValueError{Param: "LTE cell", Got: part, Allowed: CellAllowed}
		case seen[name]:
			return Cell{}, &bands.ValueError{Param: "LTE cell key", Got: name, Allowed: "given once"}
		}
		seen[name] = true
		if err := c.set(name, value); err != nil {
			return Cell{}, err
		}
	}
	return c, nil
}

func (c *Cell) set(name, value string) error {
	if name == "cp" {
		c.Frame = NewFDD(value == cyclicPrefixes[1])
		if !slices.Contains(cyclicPrefixes[:], value) {
			return &bands.ValueError{Param: "LTE cell cp", Got: value, Allowed: "normal or extended"}
		}
		return nil
	}
	i := slices.IndexFunc(cellKeys[:], func(k cellKey) bool { return k.name == name })
	if i < 0 {
		return &bands.ValueError{Param: "LTE cell key", Got: name, Allowed: CellAllowed, Nearest: nearestCellKey(name)}
	}
	k := &cellKeys[i]
	count, period, hasPeriod := strings.Cut(value, "/")
	n, ok := words.Digits(count)
	ok = ok && len(count) <= 3 && k.least <= int(n) && int(n) <= k.most && hasPeriod == (name == "prs") && (name != "crs" || n != 3)
	if hasPeriod {
		p, digits := words.Digits(period)
		c.PRSPeriod = int(p)
		ok = ok && digits && slices.Contains(prsPeriods, c.PRSPeriod)
	}
	if !ok {
		return &bands.ValueError{Param: "LTE cell " + name, Got: value, Allowed: k.allowed}
	}
	*k.field(c) = int(n)
	if name == "pucch" && n == 0 {
		c.PUCCH = -1
	}
	return nil
}

func nearestCellKey(name string) string {
	for i := range cellKeys {
		if d := bands.EditDistance(name, cellKeys[i].name); d <= 2 && d < len(cellKeys[i].name) {
			return cellKeys[i].name
		}
	}
	return ""
}

// Text writes what of the cell is not as usual, as [ParseCell] reads it; empty if nothing is.
func (c Cell) Text() string {
	var list []string
	if c.Frame.ExtendedCP() {
		list = append(list, "cp="+cyclicPrefixes[1])
	}
	for i := range cellKeys {
		k := &cellKeys[i]
		n := *k.field(&c)
		switch {
		case n == 0:
			continue
		case k.name == "prs":
			list = append(list, "prs="+strconv.Itoa(n)+"/"+strconv.Itoa(c.PRSPeriod))
			continue
		}
		list = append(list, k.name+"="+strconv.Itoa(max(n, 0)))
	}
	return strings.Join(list, ",")
}
