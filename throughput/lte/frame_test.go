package lte

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
)

func frame(t testing.TB, s string) Frame {
	t.Helper()
	f, err := ParseFrame(s)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// TS 36.211 V19.3.0 Table 4.2-2.
func TestTDDConfigurations(t *testing.T) {
	for config, want := range []string{
		"DSUUUDSUUU 5", "DSUUDDSUUD 5", "DSUDDDSUDD 5", "DSUUUDDDDD 10", "DSUUDDDDDD 10", "DSUDDDDDDD 10", "DSUUUDSUUD 5",
	} {
		f := frame(t, fmt.Sprint(config))
		var letters strings.Builder
		for i := range Subframes {
			letters.WriteString(f.Subframe(i).Kind.String())
		}
		if got := fmt.Sprintf("%s %d", &letters, f.SwitchPeriodMS()); got != want {
			t.Errorf("configuration %d: %s, want %s", config, got, want)
		}
		if f.Config() != config || f.Special() != DefaultSpecial || !f.TDD() || f.ExtendedCP() {
			t.Errorf("configuration %d: %+v", config, f)
		}
	}
}

// TS 36.211 V19.3.0 Table 4.2-1, both cyclic prefixes the same: DwPTS and UpPTS in
// Ts. The symbols follow from the lengths of symbol and prefix (clause 6.12: 2048 Ts
// and 144, the first of a slot 160, or 512).
func TestSpecialSubframes(t *testing.T) {
	tables := map[bool][][2]int{
		false: {
			{6592, 2192}, {19760, 2192}, {21952, 2192}, {24144, 2192}, {26336, 2192},
			{6592, 4384}, {19760, 4384}, {21952, 4384}, {24144, 4384}, {13168, 4384}, {13168, 13152},
		},
		true: {{7680, 2560}, {20480, 2560}, {23040, 2560}, {25600, 2560}, {7680, 5120}, {20480, 5120}, {23040, 5120}, {12800, 5120}},
	}
	symbolTs := func(k int, extended bool) int {
		switch {
		case extended:
			return 2048 + 512
		case k%7 == 0:
			return 2048 + 160
		}
		return 2048 + 144
	}
	for extended, rows := range tables {
		for special, want := range rows {
			f, err := NewTDD(1, special, extended)
			if err != nil {
				t.Fatal(err)
			}
			s := f.Subframe(1)
			if s.Kind != SpecialSubframe || s.DownlinkTs != want[0] || s.UplinkTs != want[1] || s.DownlinkTs+s.GuardTs+s.UplinkTs != 30720 {
				t.Errorf("%s: %+v, want %v", f, s, want)
			}
			n := f.symbols()
			if s.DownlinkSymbols+s.GuardSymbols+s.UplinkSymbols != n {
				t.Errorf("%s: %+v has not %d symbols", f, s, n)
			}
			down, up := 0, 0
			for k := range s.DownlinkSymbols {
				down += symbolTs(k, extended)
			}
			for k := n - s.UplinkSymbols; k < n; k++ {
				up += symbolTs(k, extended)
			}
			if down != s.DownlinkTs || up != s.UplinkTs {
				t.Errorf("%s: symbols of %d and %d Ts, table %d and %d", f, down, up, s.DownlinkTs, s.UplinkTs)
			}
		}
		if _, err := NewTDD(1, len(rows), extended); err == nil {
			t.Errorf("special subframe configuration %d exists, extended %t", len(rows), extended)
		}
	}
}

// TS 36.213 V19.3.0 clause 7.1.7, in rationals, for every allocation.
func TestColumn(t *testing.T) {
	for _, extended := range []bool{false, true} {
		for special := range map[bool]int{false: 11, true: 8}[extended] {
			f, err := NewTDD(2, special, extended)
			if err != nil {
				t.Fatal(err)
			}
			factor := big.NewRat(3, 4)
			switch {
			case extended && special == 7, !extended && special >= 9:
				factor = big.NewRat(3, 8)
			case special == 0, extended && special == 4, !extended && special == 5:
				factor = new(big.Rat)
			}
			for n := 1; n <= MaxPRB; n++ {
				for scaling := 4; scaling <= 8; scaling++ {
					product := new(big.Rat).Mul(factor, big.NewRat(int64(n*scaling), 8))
					want := int(new(big.Int).Quo(product.Num(), product.Denom()).Int64())
					if factor.Sign() != 0 {
						want = max(want, 1)
					}
					if got := f.Subframe(6).ScaledColumn(n, scaling); got != want {
						t.Errorf("%s, %d blocks, scaling %d/8: column %d, want %d", f, n, scaling, got, want)
					}
					if got := f.Subframe(5).ScaledColumn(n, scaling); got != max(n*scaling/8, 1) {
						t.Errorf("%s, %d blocks, scaling %d/8: column %d in subframe 5", f, n, scaling, got)
					}
				}
				if got := f.Subframe(2).Column(n); got != 0 {
					t.Errorf("%s: column %d in an uplink subframe", f, got)
				}
			}
			for i := range Subframes {
				s := f.Subframe(i)
				down := s.Kind == DownlinkOnly || (s.Kind == SpecialSubframe && factor.Sign() != 0)
				if s.Carries(bands.Downlink) != down || s.Carries(bands.Uplink) != (s.Kind == UplinkOnly) || s.Carries(0) {
					t.Errorf("%s: subframe %d, %+v", f, i, s)
				}
			}
		}
	}
	// The worked example: 100 blocks, special subframe configurations 7 and 9.
	for special, want := range map[int]int{7: 75, 9: 37} {
		f, err := NewTDD(2, special, false)
		if got := f.Subframe(1).Column(100); err != nil || got != want {
			t.Errorf("configuration %d: column %d, %v; want %d", special, got, err, want)
		}
	}
}

// Shares of TR 37.910 V1.0.0 Tables 5.1.2.1-2 and -3 (S = 11D:1G:2U, each direction
// with half of the guard): 0.7643 and 0.5643, there counted in symbols. The
// symbols of a subframe are not all of one length, hence the tolerance.
func TestShares(t *testing.T) {
	for s, want := range map[string]float64{"2/8": 0.7643, "1/8": 0.5643} {
		shares := frame(t, s).Shares()
		down := new(big.Rat).Add(Share(shares.Downlink), Share(shares.Guard).Quo(Share(shares.Guard), big.NewRat(2, 1)))
		if got, _ := down.Float64(); got < want-0.0002 || got > want+0.0002 {
			t.Errorf("%s: downlink share %.4f, want %.4f", s, got, want)
		}
	}
	for config := range 7 {
		for special := range 11 {
			f, err := NewTDD(config, special, false)
			if err != nil {
				t.Fatal(err)
			}
			s := f.Shares()
			sum := Share(s.Downlink)
			sum.Add(sum, Share(s.Guard)).Add(sum, Share(s.Uplink))
			if sum.Cmp(big.NewRat(1, 1)) != 0 || s.Downlink <= 0 || s.Guard <= 0 || s.Uplink <= 0 {
				t.Errorf("%s: shares %+v", f, s)
			}
		}
	}
	if s := (Frame{}).Shares(); s != (Shares{Downlink: FrameTs, Uplink: FrameTs}) {
		t.Errorf("FDD: shares %+v", s)
	}
}

func TestFDD(t *testing.T) {
	for _, f := range []Frame{NewFDD(false), NewFDD(true)} {
		for i := range Subframes {
			s := f.Subframe(i)
			if s.Kind != Paired || !s.Carries(bands.Downlink) || !s.Carries(bands.Uplink) || s.Column(100) != 100 ||
				s.DownlinkSymbols != f.symbols() || s.UplinkSymbols != f.symbols() {
				t.Errorf("%s subframe %d: %+v", f, i, s)
			}
		}
		if f.TDD() || f.SwitchPeriodMS() != 0 {
			t.Errorf("%s is TDD", f)
		}
	}
	for _, i := range []int{-1, 10} {
		if s := (Frame{}).Subframe(i); s != (Subframe{}) {
			t.Errorf("subframe %d: %+v", i, s)
		}
	}
}

func TestParseFrame(t *testing.T) {
	for in, want := range map[string]string{
		"FDD": "FDD", "fdd": "FDD", "Fdd-EXT": "FDD-ext", "2": "2/7", "0": "0/7", "2/7": "2/7", "6/10": "6/10",
		"2/0": "2/0", "3-ext": "3/5-ext", "1/7-Ext": "1/7-ext",
	} {
		if f, err := ParseFrame(in); err != nil || f.String() != want {
			t.Errorf("ParseLTEFrame(%q) = %s, %v; want %s", in, f, err, want)
		}
	}
	for _, extended := range []bool{false, true} {
		for config := range 7 {
			for special := range map[bool]int{false: 11, true: 8}[extended] {
				f, err := NewTDD(config, special, extended)
				if err != nil {
					t.Fatal(err)
				}
				if back, err := ParseFrame(f.String()); err != nil || back != f {
					t.Errorf("%s is read back as %s, %v", f, back, err)
				}
			}
		}
	}
	for in, nearest := range map[string]string{
		"": "", "TDD": "", "7": "6", "7/0": "6", "2/11": "10", "2/8-ext": "7", "2/": "", "/7": "", "2/7/1": "", "-1": "",
		"02": "", "2/07": "", " 2": "", "2 /7": "", "2/7-": "", "-ext": "", "+2": "", "999": "", "2/x": "", "FDD/7": "",
	} {
		_, err := ParseFrame(in)
		var v *bands.ValueError
		if !errors.As(err, &v) || v.Nearest != nearest || v.Source.Spec != "TS 36.211" || strings.Contains(err.Error(), "\n") {
			t.Errorf("ParseLTEFrame(%q): %v", in, err)
		}
	}
	for _, bad := range [][2]int{{-1, 0}, {7, 0}, {0, -1}, {0, 11}} {
		if f, err := NewTDD(bad[0], bad[1], false); err == nil {
			t.Errorf("NewLTETDD(%v) = %s", bad, f)
		}
	}
}

func FuzzParseFrame(f *testing.F) {
	for _, s := range []string{"FDD", "2/7", "2", "6/10", "1/7-ext", "7/11", "2/07", "", "-ext", "2//7"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		frame, err := ParseFrame(s)
		if err != nil {
			if frame != (Frame{}) {
				t.Fatalf("ParseLTEFrame(%q) = %s, %v", s, frame, err)
			}
			return
		}
		if back, err := ParseFrame(frame.String()); err != nil || back != frame {
			t.Fatalf("%q is %s, read back as %s, %v", s, frame, back, err)
		}
		if sh := frame.Shares(); sh.Downlink <= 0 || sh.Uplink <= 0 {
			t.Fatalf("%s: shares %+v", frame, sh)
		}
	})
}
