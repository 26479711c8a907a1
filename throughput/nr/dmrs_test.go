package nr

import (
	"testing"

	"spectally/bands"
)

// TestDMRSElements checks the resource elements of DM-RS against N_DMRS of
// reference channels: TS 38.101-4 V19.2.2 Tables A.3.2.1.1-1 to -20 and A.3.2.2.2-1
// to -8, TS 38.104 V19.4.0 Annex A, TS 38.101-1 V19.5.0 Table A.2.2.1-1.
func TestDMRSElements(t *testing.T) {
	for _, c := range []struct{ kind, symbols, groups, re int }{
		{1, 1, 1, 6}, {1, 2, 1, 12}, {1, 3, 1, 18}, {1, 2, 2, 24}, {1, 3, 2, 36}, {1, 4, 2, 48}, {2, 1, 1, 4}, {2, 2, 3, 24},
	} {
		d := DMRS{Type: c.kind, Length: 1}
		if got := d.RE(c.symbols, c.groups); got != c.re {
			t.Errorf("type %d, %d symbols, %d groups: %d elements, want %d", c.kind, c.symbols, c.groups, got, c.re)
		}
	}
}

// TestCDMGroups checks how many layers a configuration holds: two ports in each
// group with single-symbol, four with double-symbol DM-RS; two groups of type 1,
// three of type 2 (TS 38.211 clauses 7.4.1.1.2 and 6.4.1.1.3).
func TestCDMGroups(t *testing.T) {
	for kind, groups := range map[int]int{1: 2, 2: 3} {
		for length := 1; length <= 2; length++ {
			for layers := 0; layers <= 13; layers++ {
				d := DMRS{Type: kind, Length: length}
				need := 0 // the fewest groups that have as many ports
				for g := 1; g <= groups && need == 0; g++ {
					if layers >= 1 && g*2*length >= layers {
						need = g
					}
				}
				got, err := d.CDMGroups(layers)
				if got != need || (err != nil) != (need == 0) {
					t.Errorf("type %d, length %d, %d layers: %d groups, %v; want %d", kind, length, layers, got, err, need)
				}
				for g := 1; g <= 4; g++ {
					d.Groups = g
					got, err := d.CDMGroups(layers)
					if ok := need > 0 && g >= need && g <= groups; ok != (err == nil) || ok && got != g {
						t.Errorf("type %d, length %d, %d layers in %d groups: %d, %v", kind, length, layers, g, got, err)
					}
				}
			}
		}
	}
}

// TestDMRSSymbols checks what must hold whatever the tables are: more additional
// positions and longer allocations never have fewer DM-RS symbols, never more than
// asked for, and there is room for data. The counts themselves are from memory.
func TestDMRSSymbols(t *testing.T) {
	for direction := bands.Downlink; direction <= bands.Uplink; direction++ {
		for length := 1; length <= 2; length++ {
			for _, b := range []bool{false, true} {
				d := DMRS{Type: 1, Length: length, MappingB: b}
				if d.Source(direction).Table == "" {
					t.Errorf("%s %+v: no source", direction, d)
				}
				var longer [4]int
				for duration := 1; duration <= 14; duration++ {
					before := 0
					most := 3
					if length == 2 {
						most = 1
					}
					for add := 0; add <= most; add++ {
						d.AdditionalPositions = add
						n := d.Symbols(direction, duration)
						valid := duration <= 13 || direction == bands.Uplink || !b // PDSCH type B ends at 13
						if valid && (n < before || n < longer[add]) || n > length*(1+add) || n > duration {
							t.Errorf("%s %+v, %d symbols: %d DM-RS symbols", direction, d, duration, n)
						}
						if duration >= 5 && n == 0 {
							t.Errorf("%s %+v, %d symbols: no DM-RS", direction, d, duration)
						}
						before, longer[add] = n, n
					}
				}
			}
		}
	}
	d := DMRS{Type: 1, Length: 1}
	if d.Symbols(bands.Downlink, 0) != 0 || d.Symbols(bands.Downlink, 15) != 0 {
		t.Error("DM-RS outside a slot")
	}
	d.AdditionalPositions = 4
	if d.Symbols(bands.Downlink, 14) != 0 {
		t.Error("four additional positions")
	}
}

func TestDefaultNRDMRS(t *testing.T) {
	for direction := bands.Downlink; direction <= bands.Uplink; direction++ {
		for layers := 1; layers <= 8; layers++ {
			d := DefaultDMRS(direction, layers)
			if _, err := d.CDMGroups(layers); err != nil || d.Symbols(direction, 14) != 2*d.Length {
				t.Errorf("%s, %d layers: %+v, %v", direction, layers, d, err)
			}
		}
	}
}
