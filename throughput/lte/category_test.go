package lte

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/internal/printed"
)

// carrierMost is the largest number of bits of one 20 MHz carrier (100 blocks)
// by a short name: modulation, or I_TBS 33B in place of 33, and layers.
func carrierMost(t *testing.T, dir bands.Direction, name string) int {
	t.Helper()
	modulation, layers, _ := strings.Cut(name, "x")
	if modulation == "33B" {
		bits, err := TransportBlock(itbs(t, modulation), 100, printed.Int(layers))
		if err != nil {
			t.Fatal(err)
		}
		return bits
	}
	qm := map[string]int{"16": 4, "64": 6, "256": 8, "1024": 10}[modulation]
	got, err := LargestBlock(dir, qm, printed.Int(layers), 100)
	if err != nil {
		t.Fatal(err)
	}
	return got.Bits
}

// Limits of TS 36.306 V19.2.0 Tables 4.1-1, 4.1-2, 4.1A-1, 4.1A-2 that are sums of
// largest transport blocks of carriers of 20 MHz: number of carriers, modulation and
// layers ("2*64x4" is two carriers of 64QAM on four layers). Which carriers a limit
// stands for is worked out, not printed. Left out: limits below one carrier, and
// the upper ends of categories 23 and 26, lower end of 26, which only mixtures
// without a pattern give.
var categorySums = []struct {
	dir       bands.Direction
	field     CategoryField
	name      string
	low, high string // high is empty where the limit is one figure
}{
	{bands.Downlink, CategoryBoth, "4", "1*64x2", ""}, {bands.Downlink, CategoryBoth, "5", "1*64x4", ""},
	{bands.Downlink, CategoryBoth, "6", "2*64x2", ""}, {bands.Downlink, CategoryBoth, "7", "2*64x2", ""},
	{bands.Downlink, CategoryBoth, "8", "5*64x8", ""}, {bands.Downlink, CategoryBoth, "9", "3*64x2", ""},
	{bands.Downlink, CategoryBoth, "10", "3*64x2", ""}, {bands.Downlink, CategoryBoth, "11", "4*64x2", ""},
	{bands.Downlink, CategoryBoth, "12", "4*64x2", ""},
	{bands.Downlink, CategoryDownlink, "4", "1*64x2", ""}, {bands.Downlink, CategoryDownlink, "6", "2*64x2", ""},
	{bands.Downlink, CategoryDownlink, "7", "2*64x2", ""}, {bands.Downlink, CategoryDownlink, "9", "3*64x2", ""},
	{bands.Downlink, CategoryDownlink, "10", "3*64x2", ""}, {bands.Downlink, CategoryDownlink, "11", "4*64x2", ""},
	{bands.Downlink, CategoryDownlink, "12", "4*64x2", ""}, {bands.Downlink, CategoryDownlink, "13", "1*256x4", ""},
	{bands.Downlink, CategoryDownlink, "14", "5*256x8", ""}, {bands.Downlink, CategoryDownlink, "17", "32*256x8", ""},
	{bands.Downlink, CategoryDownlink, "15", "2*64x4 1*64x2", "2*33Bx4"},
	{bands.Downlink, CategoryDownlink, "16", "5*256x2", "2*64x4 3*64x2"},
	{bands.Downlink, CategoryDownlink, "18", "6*256x2", "3*33Bx4"},
	{bands.Downlink, CategoryDownlink, "19", "8*256x2", "11*64x2"},
	{bands.Downlink, CategoryDownlink, "20", "6*64x4 1*64x2", "5*33Bx4"},
	{bands.Downlink, CategoryDownlink, "21", "4*64x4 1*64x2", "3*33Bx4 1*33Bx2"},
	{bands.Downlink, CategoryDownlink, "22", "12*256x2", "17*64x2"},
	{bands.Downlink, CategoryDownlink, "23", "9*64x4", "?"},
	{bands.Downlink, CategoryDownlink, "24", "15*256x2", "7*33Bx4 1*33Bx2"},
	{bands.Downlink, CategoryDownlink, "25", "16*256x2", "22*64x2"},
	{bands.Uplink, CategoryBoth, "3", "1*16x1", ""}, {bands.Uplink, CategoryBoth, "4", "1*16x1", ""},
	{bands.Uplink, CategoryBoth, "5", "1*64x1", ""}, {bands.Uplink, CategoryBoth, "6", "1*16x1", ""},
	{bands.Uplink, CategoryBoth, "7", "2*16x1", ""}, {bands.Uplink, CategoryBoth, "8", "5*64x4", ""},
	{bands.Uplink, CategoryBoth, "9", "1*16x1", ""}, {bands.Uplink, CategoryBoth, "10", "2*16x1", ""},
	{bands.Uplink, CategoryBoth, "11", "1*16x1", ""}, {bands.Uplink, CategoryBoth, "12", "2*16x1", ""},
	{bands.Uplink, CategoryUplink, "3", "1*16x1", ""}, {bands.Uplink, CategoryUplink, "5", "1*64x1", ""},
	{bands.Uplink, CategoryUplink, "7", "2*16x1", ""}, {bands.Uplink, CategoryUplink, "8", "5*64x4", ""},
	{bands.Uplink, CategoryUplink, "13", "2*64x1", ""}, {bands.Uplink, CategoryUplink, "14", "32*64x4", ""},
	{bands.Uplink, CategoryUplink, "15", "3*64x1", ""}, {bands.Uplink, CategoryUplink, "16", "1*256x1", ""},
	{bands.Uplink, CategoryUplink, "17", "5*256x4", ""}, {bands.Uplink, CategoryUplink, "18", "2*256x1", ""},
	{bands.Uplink, CategoryUplink, "19", "32*256x4", ""}, {bands.Uplink, CategoryUplink, "20", "3*256x1", ""},
	{bands.Uplink, CategoryUplink, "21", "4*64x1", ""}, {bands.Uplink, CategoryUplink, "22", "4*256x1", ""},
	{bands.Uplink, CategoryUplink, "23", "5*256x1", ""}, {bands.Uplink, CategoryUplink, "24", "6*256x1", ""},
	{bands.Uplink, CategoryUplink, "25", "7*256x1", ""}, {bands.Uplink, CategoryUplink, "26", "8*256x1", ""},
}

func TestCategorySums(t *testing.T) {
	sum := func(dir bands.Direction, text string) int {
		total := 0
		for _, part := range strings.Fields(text) {
			count, name, _ := strings.Cut(part, "*")
			total += printed.Int(count) * carrierMost(t, dir, name)
		}
		return total
	}
	for _, c := range categorySums {
		got, err := LookupCategory(c.dir, c.field, c.name)
		if err != nil {
			t.Fatal(err)
		}
		if low := sum(c.dir, c.low); got.MinBits != low {
			t.Errorf("%s %s category %s: %d bits, %s is %d", c.dir, c.field, c.name, got.MinBits, c.low, low)
		}
		switch c.high {
		case "":
			if got.MaxBits != got.MinBits {
				t.Errorf("%s %s category %s: %d to %d bits", c.dir, c.field, c.name, got.MinBits, got.MaxBits)
			}
		case "?":
		default:
			if high := sum(c.dir, c.high); got.MaxBits != high {
				t.Errorf("%s %s category %s: %d bits at most, %s is %d", c.dir, c.field, c.name, got.MaxBits, c.high, high)
			}
		}
	}
}

// The largest single block of a category is the codeword of its modulation at 100
// blocks: layers of the category by two codewords, in the uplink a codeword of one or
// two layers.
func TestCategoryBlocks(t *testing.T) {
	checked := 0
	for _, c := range Categories() {
		for _, b := range c.Blocks {
			if b.Modulation == "" {
				continue
			}
			index := map[string]string{"64QAM": "26", "256QAM": "33", "1024QAM": "37"}[b.Modulation]
			if b.Condition == "with alternativeTBS-Index-r14" {
				index = "33B"
			}
			bits, err := CodewordSize(itbs(t, index), 100, b.Layers/2)
			if err != nil || bits != b.Bits {
				t.Errorf("%s %s: %+v, table has %d, %v", c.Field, c.Name, b, bits, err)
			}
			checked++
		}
		biggest := slices.MaxFunc(c.Blocks, func(a, b CategoryBlock) int { return a.Bits - b.Bits })
		if biggest.Bits > c.MaxBits {
			t.Errorf("%s %s: a block of %d bits, %d in all", c.Field, c.Name, biggest.Bits, c.MaxBits)
		}
	}
	if checked < 100 {
		t.Errorf("%d blocks checked", checked)
	}
}

func TestCategories(t *testing.T) {
	count := make(map[string]int)
	for _, c := range Categories() {
		count[fmt.Sprintf("%s %s", c.Direction.Short(), c.Field)]++
		got, err := LookupCategory(c.Direction, c.Field, strings.ToLower(c.Name))
		if err != nil || got.Name != c.Name || got.MinBits != c.MinBits || got.MaxBits < got.MinBits || got.Source.Spec != "TS 36.306" {
			t.Errorf("%+v, %v", got, err)
		}
		if (c.Direction == bands.Downlink) != (len(c.Layers) > 0 && len(c.SoftBits) > 0) || len(c.Blocks) == 0 {
			t.Errorf("%+v", c)
		}
		// A category with 64QAM in the uplink has a block that 16QAM does not reach (51024).
		if c.Direction == bands.Uplink && c.QAM64 != (c.Blocks[0].Bits > 51024) {
			t.Errorf("%+v", c)
		}
		if c.QAM256 && (!c.QAM64 || c.Blocks[0].Bits < 105528) {
			t.Errorf("%+v", c)
		}
	}
	want := map[string]int{"dl ue-Category": 12, "ul ue-Category": 12, "dl ue-CategoryDL": 25, "ul ue-CategoryUL": 22}
	for key, n := range want {
		if count[key] != n {
			t.Errorf("%s: %d categories, want %d", key, count[key], n)
		}
	}
	for _, c := range []struct {
		dir   bands.Direction
		field CategoryField
		name  string
		param string
	}{
		{bands.Downlink, CategoryBoth, "13", "LTE downlink category (ue-Category)"},
		{bands.Uplink, CategoryUplink, "4", "LTE uplink category (ue-CategoryUL)"},
		{bands.Downlink, CategoryUplink, "3", "LTE UE category field of the downlink"},
		{0, CategoryBoth, "3", "LTE UE category field of the none"},
	} {
		_, err := LookupCategory(c.dir, c.field, c.name)
		var v *bands.ValueError
		if !errors.As(err, &v) || v.Param != c.param {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
