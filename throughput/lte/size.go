package lte

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/internal/printed"
)

// MaxPRB is the number of columns n_prb of the LTE transport block size
// table (TS 36.213 Table 7.1.7.2.1-1).
const MaxPRB = 110

// maxCodewordLayers is the most layers of one codeword (TS 36.211 clause
// 6.3.3.2).
const maxCodewordLayers = 4

// sizeTable holds the size of a codeword on some layers for every index and number of
// blocks, 0 where the standard has none, and the table of that many layers.
type sizeTable struct {
	bits   [itbsCount + 1][MaxPRB + 1]int32
	source data.Source
}

var (
	tbsFile  = data.Lazy("lte_tbs")
	oneLayer = sync.OnceValue(loadSizes)
	// sizes are read for each number of layers when they are first asked for.
	sizes = [maxCodewordLayers + 1]func() *sizeTable{
		1: oneLayer,
		2: sync.OnceValue(func() *sizeTable { return translateSizes(2) }),
		3: sync.OnceValue(func() *sizeTable { return translateSizes(3) }),
		4: sync.OnceValue(func() *sizeTable { return translateSizes(4) }),
	}
)

func loadSizes() *sizeTable {
	table := data.Find(tbsFile(), "layers1")
	t := &sizeTable{source: table.Source}
	for _, row := range table.Rows {
		i := 1 + slices.Index(itbsNames[1:], row[0])
		n := 0
		for bits := range strings.SplitSeq(row[1], " ") {
			n++
			t.bits[i][n] = int32(printed.Int(bits))
		}
	}
	return t
}

// translateSizes applies the rule of TS 36.213 clause 7.1.7.2 once for every index and
// number of blocks: up to 110/L blocks the size of L layers is the one-layer size of L
// times the blocks, above it is the translation of the one-layer size.
func translateSizes(layers int) *sizeTable {
	one := oneLayer()
	table := data.Find(tbsFile(), "layers"+strconv.Itoa(layers))
	t := &sizeTable{source: table.Source}
	translated := make(map[int32]int32, len(table.Rows))
	for _, row := range table.Rows {
		translated[int32(printed.Int(row[0]))] = int32(printed.Int(row[1]))
	}
	for i := 1; i <= itbsCount; i++ {
		for n := 1; n <= MaxPRB; n++ {
			if layers*n <= MaxPRB {
				t.bits[i][n] = one.bits[i][layers*n]
			} else {
				t.bits[i][n] = translated[one.bits[i][n]]
			}
		}
	}
	return t
}

// GapError reports a transport block that the rules of TS 36.213 clause
// 7.1.7.2 ask for and whose size the tables do not give: the translation table
// of that many layers has no entry for the one-layer size.
type GapError struct {
	ITBS    ITBS
	PRB     int         // column n_prb
	Layers  int         // of the codeword
	OneBits int         // one-layer size that has no entry
	Source  data.Source // the translation table
}

// Error writes the error on one line.
func (e *GapError) Error() string {
	return fmt.Sprintf("the standard gives no transport block size for I_TBS %s at %d resource blocks on %d layers: %s has no entry for %d bits",
		e.ITBS, e.PRB, e.Layers, e.Source.Short(), e.OneBits)
}

// CodewordSize is the transport block size in bits of one codeword on 1 to 4
// layers, for index i and column nPRB (1 to 110) of the size table (TS 36.213
// clause 7.1.7.2). In a special subframe the column is not the number of
// allocated blocks: see [Subframe.Column]. The error is a [*GapError]
// where the standard has no size, and a [*bands.ValueError] where an argument
// is out of range.
func CodewordSize(i ITBS, nPRB, layers int) (int, error) {
	if !i.valid() || nPRB < 1 || nPRB > MaxPRB || layers < 1 || layers > maxCodewordLayers {
		return 0, sizeArgument(i, nPRB, layers, maxCodewordLayers)
	}
	if bits := sizes[layers]().bits[i][nPRB]; bits != 0 {
		return int(bits), nil
	}
	return 0, sizeGap(i, nPRB, layers)
}

func sizeGap(i ITBS, nPRB, layers int) *GapError {
	return &GapError{i, nPRB, layers, int(oneLayer().bits[i][nPRB]), sizes[layers]().source}
}

// sizeArgument names the argument of a size that is out of range.
func sizeArgument(i ITBS, nPRB, layers, maxLayers int) error {
	source := oneLayer().source
	if !i.valid() {
		return &bands.ValueError{Param: "I_TBS", Got: i.String(), Allowed: "0 to 37 or an index with a letter", Source: source}
	}
	if nPRB < 1 || nPRB > MaxPRB {
		return rangeError("number of resource blocks", nPRB, 1, MaxPRB, source)
	}
	return rangeError("number of layers", layers, 1, maxLayers, codewordSource)
}

// rangeError reports a whole number outside a range and names its nearer
// end.
func rangeError(param string, got, low, high int, source data.Source) error {
	return &bands.ValueError{
		Param: param, Got: strconv.Itoa(got),
		Allowed: fmt.Sprintf("%d to %d", low, high),
		Nearest: strconv.Itoa(min(max(got, low), high)),
		Source:  source,
	}
}
