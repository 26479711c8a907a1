package lte

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"spectally/data"
	"spectally/throughput/internal/printed"
)

// Every cell of the size tables, by the sums of testdata/lte_tbs_sums.txt over
// TS 36.213 V19.3.0 Tables 7.1.7.2.1-1, 7.1.7.2.2-1, 7.1.7.2.4-1 and 7.1.7.2.5-1.
func TestSizeSums(t *testing.T) {
	text, err := os.ReadFile("../../testdata/lte_tbs_sums.txt")
	if err != nil {
		t.Fatal(err)
	}
	size := func(i ITBS, n int) int {
		bits, err := CodewordSize(i, n, 1)
		if err != nil {
			t.Fatal(err)
		}
		return bits
	}
	lines := 0
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		if len(f) == 0 || f[0] == "#" {
			continue
		}
		lines++
		sum := 0
		switch f[0] {
		case "index":
			for n := 1; n <= MaxPRB; n++ {
				sum += size(itbs(t, f[1]), n)
			}
		case "column":
			for _, i := range ITBSValues() {
				sum += size(i, printed.Int(f[1]))
			}
		case "layers":
			ones, codewords, products := 0, 0, 0
			rows := data.Find(tbsFile(), "layers"+f[1]).Rows
			for _, row := range rows {
				one, codeword := printed.Int(row[0]), printed.Int(row[1])
				ones, codewords, products = ones+one, codewords+codeword, products+one*codeword
			}
			if got := fmt.Sprint(len(rows), ones, codewords, products); got != strings.Join(f[2:], " ") {
				t.Errorf("%s layers: %s, want %s", f[1], got, strings.Join(f[2:], " "))
			}
			continue
		default:
			t.Fatalf("unknown line %q", line)
		}
		if sum != printed.Int(f[2]) {
			t.Errorf("%s %s: sum %d, want %s", f[0], f[1], sum, f[2])
		}
	}
	if lines != 44+110+3 {
		t.Errorf("%d sums", lines)
	}
}
