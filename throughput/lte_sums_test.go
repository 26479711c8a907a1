package throughput

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"spectally/data"
)

// Every cell of the size tables, by the sums of testdata/lte_tbs_sums.txt over
// TS 36.213 V19.3.0 Tables 7.1.7.2.1-1, 7.1.7.2.2-1, 7.1.7.2.4-1 and 7.1.7.2.5-1.
func TestLTESizeSums(t *testing.T) {
	text, err := os.ReadFile("../testdata/lte_tbs_sums.txt")
	if err != nil {
		t.Fatal(err)
	}
	size := func(i ITBS, n int) int {
		bits, err := LTECodewordSize(i, n, 1)
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
			for n := 1; n <= LTEMaxPRB; n++ {
				sum += size(lteITBS(t, f[1]), n)
			}
		case "column":
			for _, i := range ITBSValues() {
				sum += size(i, tableInt(f[1]))
			}
		case "layers":
			ones, codewords, products := 0, 0, 0
			rows := data.Find(lteTBSFile(), "layers"+f[1]).Rows
			for _, row := range rows {
				one, codeword := tableInt(row[0]), tableInt(row[1])
				ones, codewords, products = ones+one, codewords+codeword, products+one*codeword
			}
			if got := fmt.Sprint(len(rows), ones, codewords, products); got != strings.Join(f[2:], " ") {
				t.Errorf("%s layers: %s, want %s", f[1], got, strings.Join(f[2:], " "))
			}
			continue
		default:
			t.Fatalf("unknown line %q", line)
		}
		if sum != tableInt(f[2]) {
			t.Errorf("%s %s: sum %d, want %s", f[0], f[1], sum, f[2])
		}
	}
	if lines != 44+110+3 {
		t.Errorf("%d sums", lines)
	}
}
