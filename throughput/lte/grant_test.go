package lte

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
)

func TestGrantTransport(t *testing.T) {
	grant := Grant{Direction: bands.Downlink, ITBS: itbs(t, "26"), Qm: 6, PRB: 100, Layers: 2, Subframe: 1}
	got, err := grant.Transport()
	if err != nil || got.Bits != 150752 || got.Column != 100 || got.Elements != 14400 {
		t.Fatalf("%+v, %v", got, err)
	}
	// 75376 + 24 bits in 13 code blocks of 5824; 14400 elements of 6 bits each.
	for _, cw := range got.Codewords {
		if cw.Bits != 75376 || cw.Segmentation.String() != "13 x 5824" || cw.ChannelBits != 86400 ||
			cw.CodeRate().Cmp(big.NewRat(75400, 86400)) != 0 || !cw.Decodable() {
			t.Errorf("%+v, code rate %v", cw, cw.CodeRate())
		}
	}
	if got.CodeBlocks() != 26 || got.Cell.CRSPorts != 2 || got.Cell.ControlSymbols != 1 {
		t.Errorf("%+v", got)
	}

	grant.Qm = 0
	if got, err := grant.Transport(); err != nil || got.Codewords[0].CodeRate() != nil || got.Codewords[0].Decodable() || got.Bits != 150752 {
		t.Errorf("without modulation order: %+v, %v", got, err)
	}
	grant.Qm, grant.Layers = 6, 1
	if got, err := grant.Transport(); err != nil || got.Codewords[1] != (Codeword{}) || got.Bits != 75376 {
		t.Errorf("one layer: %+v, %v", got, err)
	}
	grant.Scaling = 4 // altMCS-Table-scaling 0.5: column 50
	if got, err := grant.Transport(); err != nil || got.Column != 50 || got.Bits != 36696 {
		t.Errorf("scaled: %+v, %v", got, err)
	}
	grant.Scaling = 0
	grant.Cell.Frame = frame(t, "2/7") // worked example of TS 36.213 clause 7.1.7: column 75
	if got, err := grant.Transport(); err != nil || got.Column != 75 || got.Bits != 55056 {
		t.Errorf("DwPTS: %+v, %v", got, err)
	}
	uplink := Grant{Direction: bands.Uplink, ITBS: itbs(t, "26"), Qm: 6, PRB: 100, Layers: 1, Subframe: 3}
	if got, err := uplink.Transport(); err != nil || got.Bits != 75376 || got.Elements != 14400 {
		t.Errorf("uplink: %+v, %v", got, err)
	}
}

func TestGrantErrors(t *testing.T) {
	good := Grant{Direction: bands.Downlink, ITBS: itbs(t, "26"), Qm: 6, PRB: 100, Layers: 2, Subframe: 1, Cell: Cell{RB: 100}}
	tdd := frame(t, "2/5")
	for param, change := range map[string]func(*Grant){
		"I_TBS":                                 func(g *Grant) { g.ITBS = 0 },
		"link direction":                        func(g *Grant) { g.Direction = 0 },
		"LTE downlink modulation order":         func(g *Grant) { g.Qm = 5 },
		"LTE uplink modulation order":           func(g *Grant) { g.Direction, g.Qm = bands.Uplink, 10 },
		"allocated resource blocks":             func(g *Grant) { g.PRB = 101 },
		"resource blocks of the carrier":        func(g *Grant) { g.Cell.RB = 111 },
		"number of downlink layers":             func(g *Grant) { g.Layers = 9 },
		"number of uplink layers":               func(g *Grant) { g.Direction, g.Layers = bands.Uplink, 5 },
		"subframe":                              func(g *Grant) { g.Subframe = 10 },
		"altMCS-Table-scaling in eighths":       func(g *Grant) { g.Scaling = 3 },
		"PUSCH resource blocks":                 func(g *Grant) { g.Direction, g.PRB = bands.Uplink, 97 },
		"control symbols":                       func(g *Grant) { g.Cell.ControlSymbols = 4 },
		"CRS ports":                             func(g *Grant) { g.Cell.CRSPorts = 3 },
		"resource blocks of the PUCCH":          func(g *Grant) { g.Direction, g.Cell.PUCCH = bands.Uplink, 100 },
		"subframes with SRS":                    func(g *Grant) { g.Cell.SRS = 11 },
		"resource blocks of system information": func(g *Grant) { g.Cell.SystemInformation = -1 },
		"cyclic prefix":                         func(g *Grant) { g.Cell.Frame, g.Layers = NewFDD(true), 8 },
	} {
		g := good
		change(&g)
		got, err := g.Transport()
		var v *bands.ValueError
		if !errors.As(err, &v) || v.Param != param || got.Bits != 0 || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %+v, %v", param, got, err)
		}
	}
	for name, change := range map[string]func(*Grant){
		"DwPTS of three symbols": func(g *Grant) { g.Cell.Frame = tdd },
		"uplink subframe":        func(g *Grant) { g.Cell.Frame, g.Subframe = tdd, 2 },
		"uplink in downlink":     func(g *Grant) { g.Cell.Frame, g.Direction, g.Subframe = tdd, bands.Uplink, 3 },
		"no blocks":              func(g *Grant) { g.Cell.SystemInformation, g.Subframe = 100, 5 },
		"before the frame":       func(g *Grant) { g.Subframe = -1 },
		"fewer ports":            func(g *Grant) { g.Cell.CRSPorts = 1 },
		"no block":               func(g *Grant) { g.PRB = 0 },
		"narrow carrier":         func(g *Grant) { g.Cell.RB = 5 },
		"three ports of control": func(g *Grant) { g.Cell.RB, g.PRB, g.Cell.ControlSymbols = 6, 6, 1 },
	} {
		g := good
		change(&g)
		if got, err := g.Transport(); err == nil || got.Bits != 0 {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	gap := Grant{Direction: bands.Downlink, ITBS: itbs(t, "33B"), Qm: 8, PRB: 100, Layers: 8, Subframe: 1}
	var e *GapError
	if _, err := gap.Transport(); !errors.As(err, &e) || e.OneBits != 100752 {
		t.Errorf("gap: %v", err)
	}
}
