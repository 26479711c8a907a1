package serve

import (
	"net/netip"
	"slices"
	"strings"
	"testing"
)

// Of every address of a computer those are printed that others can open, and that for
// itself at the end; an address that was chosen is printed as it is.
func TestReached(t *testing.T) {
	var own []netip.Addr
	for _, a := range []string{"127.0.0.1", "::1", "fe80::1", "2001:db8::7", "203.0.113.9", "192.168.1.20", "169.254.3.4", "10.0.0.5"} {
		own = append(own, netip.MustParseAddr(a))
	}
	for at, want := range map[string]string{
		"127.0.0.1:80":    "127.0.0.1:80",
		"192.168.1.20:80": "192.168.1.20:80",
		"[::1]:80":        "[::1]:80",
		"0.0.0.0:80":      "192.168.1.20:80 10.0.0.5:80 203.0.113.9:80 127.0.0.1:80",
		"[::]:80":         "192.168.1.20:80 10.0.0.5:80 203.0.113.9:80 [2001:db8::7]:80 127.0.0.1:80",
	} {
		var got []string
		for _, a := range reached(netip.MustParseAddrPort(at), own) {
			got = append(got, a.String())
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: %s, want %s", at, got, want)
		}
	}
	if got := reached(netip.MustParseAddrPort("0.0.0.0:80"), nil); len(got) != 1 || !got[0].Addr().IsLoopback() {
		t.Errorf("without a network: %v", got)
	}
}

// finder is the pattern in three corners of a code, with the light modules around it
// (ISO/IEC 18004:2015 clauses 5.3.3 and 5.3.4), here in the corner above and left.
var finder = []string{
	"####### ",
	"#     # ",
	"# ### # ",
	"# ### # ",
	"# ### # ",
	"#     # ",
	"####### ",
	"        ",
}

// A code has its finder patterns in three corners, timing patterns between them, and four
// light modules around it.
func TestDrawCode(t *testing.T) {
	for _, text := range []string{"http://192.168.1.20:5378/", "http://[2001:db8:1234:5678:9abc:def0:1234:5678]:65535/"} {
		drawn, err := drawCode(text, false)
		if err != nil {
			t.Fatal(err)
		}
		var rows []string // '#' is a dark module
		for line := range strings.Lines(drawn) {
			line = strings.TrimSuffix(line, "\n")
			rows = append(rows, strings.NewReplacer("█", " ", "▀", " ", "▄", "#", " ", "#").Replace(line), strings.NewReplacer("█", " ", "▀", "#", "▄", " ", " ", "#").Replace(line))
		}
		side := len(rows[0])
		if (side-2*quiet-17)%4 != 0 || side > len(rows) || len(rows) > side+1 { // a version has 17 modules and four for its number
			t.Fatalf("%s: %d rows of %d modules", text, len(rows), side)
		}
		rows = rows[:side]
		for i := range side {
			for _, edge := range []int{0, quiet - 1, side - quiet, side - 1} {
				if rows[i][edge] != ' ' || rows[edge][i] != ' ' {
					t.Fatalf("%s: a dark module in the margin", text)
				}
			}
		}
		last := side - 1
		for y := range finder {
			for x := range finder {
				want := finder[y][x]
				if rows[quiet+y][quiet+x] != want || rows[quiet+y][last-quiet-x] != want || rows[last-quiet-y][quiet+x] != want {
					t.Fatalf("%s: no finder pattern at %d, %d", text, x, y)
				}
			}
		}
		for i := quiet + 8; i < side-quiet-8; i++ {
			want := " #"[(i-quiet+1)%2]
			if rows[quiet+6][i] != want || rows[i][quiet+6] != want {
				t.Fatalf("%s: the timing patterns are broken at %d", text, i)
			}
		}
	}
	colored, err := drawCode("http://192.168.1.20:5378/", true)
	if err != nil || slices.ContainsFunc(strings.Split(strings.TrimSpace(colored), "\n"), func(l string) bool {
		return !strings.HasPrefix(l, "\x1b[97;40m") || !strings.HasSuffix(l, "\x1b[0m")
	}) {
		t.Errorf("%q, %v", colored, err)
	}
}
