package lte

import (
	"spectally/bands"
	"spectally/data"
)

var (
	codewordSource       = data.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "clause 6.3.3.2"}
	uplinkCodewordSource = data.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "clause 5.3.2A.2"}
	puschSource          = data.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "clause 5.3.3"}
)

// split is how many layers each codeword has, by number of layers; the
// second is 0 where there is one codeword.
var split = [...][2]int{1: {1, 0}, 2: {1, 1}, 3: {1, 2}, 4: {2, 2}, 5: {2, 3}, 6: {3, 3}, 7: {3, 4}, 8: {4, 4}}

// Codewords is how 1 to 8 layers fall on one or two codewords (TS 36.211
// clause 6.3.3.2; in the uplink, clause 5.3.2A.2, up to 4): one layer is one
// codeword, more are two, the second of which has the odd layer. second is 0
// where there is one codeword.
func Codewords(layers int) (first, second int, err error) {
	if layers < 1 || layers >= len(split) {
		return 0, 0, rangeError("number of layers", layers, 1, len(split)-1, codewordSource)
	}
	return split[layers][0], split[layers][1], nil
}

// TransportBlock is the number of transport block bits of one subframe on 1
// to 8 layers, summed over its codewords, both of which have index i, for column
// nPRB (1 to 110) of the size table (TS 36.213 clause 7.1.7.2, TS 36.211 clause
// 6.3.3.2). Errors are those of [CodewordSize].
func TransportBlock(i ITBS, nPRB, layers int) (int, error) {
	if !i.valid() || nPRB < 1 || nPRB > MaxPRB || layers < 1 || layers >= len(split) {
		return 0, sizeArgument(i, nPRB, layers, len(split)-1)
	}
	split := &split[layers]
	first := sizes[split[0]]().bits[i][nPRB]
	if first == 0 {
		return 0, sizeGap(i, nPRB, split[0])
	}
	if split[1] == 0 {
		return int(first), nil
	}
	second := sizes[split[1]]().bits[i][nPRB]
	if second == 0 {
		return 0, sizeGap(i, nPRB, split[1])
	}
	return int(first + second), nil
}

// maxLayers is the most layers of a direction.
func maxLayers(dir bands.Direction) int {
	if dir == bands.Uplink {
		return 4
	}
	return 8
}

// checkLink checks a direction and a number of layers.
func checkLink(dir bands.Direction, layers int) error {
	source := codewordSource
	switch dir {
	case bands.Downlink:
	case bands.Uplink:
		source = uplinkCodewordSource
	default:
		return &bands.ValueError{Param: "link direction", Got: dir.String(), Allowed: "downlink or uplink"}
	}
	if n := maxLayers(dir); layers < 1 || layers > n {
		return rangeError("number of "+dir.String()+" layers", layers, 1, n, source)
	}
	return nil
}
