package lte

import (
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
)

func TestCellText(t *testing.T) {
	for _, text := range []string{"cp=extended", "mbsfn=6", "prs=1/160", "uppts=5", "cp=extended,mbsfn=2,prs=6/1280,uppts=1,crs=4,si=8,pucch=0,srs=2"} {
		c, err := ParseCell(" " + strings.ToUpper(text))
		if err != nil || c.Text() != text {
			t.Errorf("%s is read and written %s, %v", text, c.Text(), err)
		}
	}
	for text, want := range map[string]string{
		"":              `LTE cell "": must be ` + CellAllowed,
		"cp=long":       `LTE cell cp "long": must be normal or extended`,
		"mbfsn=6":       `LTE cell key "mbfsn": must be ` + CellAllowed + "; closest is mbsfn",
		"mbsfn=7":       `LTE cell mbsfn "7": must be 0 to 6 MBSFN subframes of a frame`,
		"prs=1":         `LTE cell prs "1": must be 1 to 6 positioning subframes and their period, 160, 320, 640 or 1280 ms, such as 1/160`,
		"prs=1/100":     `LTE cell prs "1/100": must be 1 to 6 positioning subframes and their period, 160, 320, 640 or 1280 ms, such as 1/160`,
		"crs=3":         `LTE cell crs "3": must be 1, 2 or 4 ports of cell-specific reference signals`,
		"srs=1,srs=2":   `LTE cell key "srs": must be given once`,
		"uppts=sixfold": `LTE cell uppts "sixfold": must be 0 to 6 symbols of PUSCH in UpPTS`,
	} {
		if _, err := ParseCell(text); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

func scheduled(t *testing.T, c Cell, dir bands.Direction, qm, layers int) *Schedule {
	t.Helper()
	s, err := c.Schedule(dir, qm, layers)
	if err != nil {
		t.Fatalf("%+v: %v", c, err)
	}
	return s
}

// TestMBSFN counts the elements of a resource block in an MBSFN subframe with one control
// symbol: 13 symbols of 12 without cell-specific reference signals, less 24 of UE-specific
// ones (TS 36.211 V19.3.0 clauses 6.10.1.2 and 6.10.3.2, and TR 37.910 V1.0.0 clause B.3.2);
// without UE-specific ones the subframes are multicast's.
func TestMBSFN(t *testing.T) {
	s := scheduled(t, Cell{RB: 100, MBSFN: 6}, bands.Downlink, 8, 8)
	for i := range s.Subframes {
		want := 100 * (13*12 - 24 - 6)
		switch i {
		case 1, 2, 3, 6, 7, 8:
			want = 100 * (13*12 - 24)
		case 0, 5:
			continue // synchronisation signals
		}
		if got := s.Subframes[i]; got.PRB != 100 || got.Elements != want {
			t.Errorf("subframe %d: %d elements of %d blocks, want %d", i, got.Elements, got.PRB, want)
		}
	}
	s = scheduled(t, Cell{RB: 100, MBSFN: 3}, bands.Downlink, 6, 2)
	for i, none := range []bool{false, true, true, true, false, false, false, false, false, false} {
		if (s.Subframes[i].Bits == 0) != none {
			t.Errorf("subframe %d: %d bits", i, s.Subframes[i].Bits)
		}
	}
	tdd, err := NewTDD(2, 7, false)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := (Cell{RB: 100, MBSFN: 5, Frame: tdd}).Schedule(bands.Downlink, 6, 2); err == nil || !strings.Contains(err.Error(), "must be 0 to 4") {
		t.Errorf("%v", err) // subframes 3, 4, 8 and 9 of DSUDDDSUDD
	}
}

// TestPositioning: a subframe in 160 ms with positioning reference signals is one of 160
// without data (TS 36.211 V19.3.0 clause 6.10.4.3).
func TestPositioning(t *testing.T) {
	plain, with := scheduled(t, Cell{RB: 50}, bands.Downlink, 6, 2), scheduled(t, Cell{RB: 50, PRS: 1, PRSPeriod: 160}, bands.Downlink, 6, 2)
	want := exact.Of(int64(16*plain.FrameBits-plain.Subframes[1].Bits)*1000, 160)
	if with.Rate().Cmp(want) != 0 || with.Rate().Cmp(plain.Rate()) >= 0 {
		t.Errorf("%s, want %s of %s", with.Rate(), want, plain.Rate())
	}
	if up := scheduled(t, Cell{RB: 50, PRS: 6, PRSPeriod: 160}, bands.Uplink, 6, 1); up.Rate().Cmp(scheduled(t, Cell{RB: 50}, bands.Uplink, 6, 1).Rate()) != 0 {
		t.Error("positioning takes from the uplink")
	}
}

// TestUpPTS: special subframe configuration 10 has six symbols of UpPTS (TS 36.211 V19.3.0
// Table 4.2-1), of which PUSCH has as many as the cell says; no other has room for it.
func TestUpPTS(t *testing.T) {
	long, err := NewTDD(2, 10, false)
	if err != nil {
		t.Fatal(err)
	}
	last := exact.Whole(0)
	for symbols := 0; symbols <= 6; symbols++ {
		s := scheduled(t, Cell{RB: 100, Frame: long, UpPTS: symbols}, bands.Uplink, 6, 1)
		for _, i := range []int{1, 6} {
			if got := s.Subframes[i]; got.Elements > 12*symbols*got.PRB || (got.Bits > 0) != (symbols > 0) || got.Bits > 0 && 1000*(got.Bits+24) > 932*got.Elements*6 {
				t.Errorf("%d symbols: %+v", symbols, got)
			}
		}
		if s.Rate().Cmp(last) < 0 {
			t.Errorf("%d symbols carry less: %s", symbols, s.Rate())
		}
		last = s.Rate()
	}
	short, err := NewTDD(2, 7, false)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := (Cell{RB: 100, Frame: short, UpPTS: 2}).Schedule(bands.Uplink, 6, 1); err == nil || !strings.Contains(err.Error(), "special subframe configuration 10") {
		t.Errorf("%v", err)
	}
}

// TestExtendedPrefix: a subframe has 12 symbols with extended cyclic prefix, of which the
// cell-specific reference signals of two ports take four elements in symbols 0, 3, 6 and 9
// (TS 36.211 V19.3.0 Table 6.2.3-1 and clause 6.10.1.2).
func TestExtendedPrefix(t *testing.T) {
	s := scheduled(t, Cell{RB: 100, Frame: NewFDD(true)}, bands.Downlink, 6, 2)
	if got := s.Subframes[1]; got.Elements != 100*(11*12-3*4) {
		t.Errorf("%d elements", got.Elements)
	}
}
