package bands_test

import (
	"fmt"
	"slices"
	"strconv"
	"testing"

	"spectally/bands"
)

// TS 38.104 V19.4.0 Table 5.4.2.1-1: F_REF = F_REF-Offs + step (N_REF - N_REF-Offs).
func TestGlobalRaster(t *testing.T) {
	next := bands.ARFCN(0)
	for _, f := range readFacts(t, "nr_arfcn_global", 3) {
		low, high, offset := mhz(t, f.fields[0]), mhz(t, f.fields[1]), mhz(t, f.fields[3])
		step, err := bands.ParseFrequency(f.fields[2] + " kHz")
		if err != nil {
			t.Fatal(err)
		}
		var n [3]bands.ARFCN
		for i := range n {
			n[i] = bands.ARFCN(atoi(t, f.fields[4+i]))
		}
		if n[1] != next {
			t.Errorf("a row begins at %d, want %d", n[1], next)
		}
		next = n[2] + 1
		for _, m := range []bands.ARFCN{n[1], n[1] + 1, n[2]} {
			want := offset + step*bands.Frequency(m-n[0])
			if got, err := m.Frequency(); got != want || err != nil || got < low || got >= high {
				t.Errorf("NR-ARFCN %d: %s, %v; want %s from %s up to %s", m, got, err, want, low, high)
			}
		}
	}
	for _, n := range []bands.ARFCN{-1, next} {
		_, err := n.Frequency()
		wantError(t, err, fmt.Sprintf(`NR-ARFCN "%d": must be 0 to 3279165 (TS 38.104 Table 5.4.2.1-1)`, n))
	}
}

// runFields writes a run of channel numbers in three fields.
func runFields(r *bands.Raster) [3]string {
	if r == nil || r.Step == 0 {
		return [3]string{}
	}
	return [3]string{strconv.Itoa(int(r.First)), strconv.Itoa(int(r.Step)), strconv.Itoa(int(r.Last))}
}

type rasterRow struct {
	spacing bands.Frequency
	ul, dl  *bands.Raster
}

// rasterRows puts the rasters of the two directions into one row, as the tables
// print them.
func rasterRows(list []bands.Raster) []rasterRow {
	var rows []rasterRow
	for i := range list {
		r := &list[i]
		at := slices.IndexFunc(rows, func(row rasterRow) bool { return row.spacing == r.Spacing })
		if at < 0 {
			rows, at = append(rows, rasterRow{spacing: r.Spacing}), len(rows)
		}
		if r.Direction == bands.Uplink {
			rows[at].ul = r
		} else {
			rows[at].dl = r
		}
	}
	return rows
}

func (r rasterRow) any() *bands.Raster {
	if r.dl != nil {
		return r.dl
	}
	return r.ul
}

// TS 38.101-1 V19.5.0 Table 5.4.2.3-1, TS 38.101-2 V19.4.0 Table 5.4.2.3-1,
// TS 38.101-5 V19.4.0 Tables 5.4.2.3-1 and 5.4.2.3-3.
func TestRasters(t *testing.T) {
	var got answers
	for _, b := range bands.All(bands.NR) {
		for _, row := range rasterRows(b.Rasters()) {
			ul, dl, r := runFields(row.ul), runFields(row.dl), row.any()
			if (row.ul != nil) != b.Has(bands.Uplink) || (row.dl != nil) != b.Has(bands.Downlink) {
				t.Errorf("%s %s: a raster for a direction that the band has not, or none for one it has", b.ID, row.spacing)
			}
			got.add(r.Source, b.ID, r.Spacing.KHz(), ul[0], ul[1], ul[2], dl[0], dl[1], dl[2], r.Note)
			if row.ul != nil && row.dl != nil && (row.ul.Note != row.dl.Note || row.ul.Source != row.dl.Source) {
				t.Errorf("%s %s: the directions differ in note or source", b.ID, row.spacing)
			}
		}
	}
	matchFacts(t, "nr_rasters", 113, &got)
}

// TS 38.101-1 V19.5.0 Table 5.4.2.3-5, TS 38.101-5 V19.4.0 Table 5.4.2.3-2.
func TestEnhancedRasters(t *testing.T) {
	var got answers
	for _, b := range bands.All(0) {
		for _, row := range rasterRows(b.EnhancedRasters()) {
			ul, dl, r := runFields(row.ul), runFields(row.dl), row.any()
			mandatory := 0
			if r.Mandatory {
				mandatory = 1
			}
			got.add(r.Source, b.ID, r.Spacing.KHz(), ul[0], ul[1], ul[2], dl[0], dl[1], dl[2], mandatory)
			if !r.Enhanced || r.Note != "the minimum guard band must also hold at the band edges" {
				t.Errorf("%s: enhanced %v, note %q", b.ID, r.Enhanced, r.Note)
			}
		}
	}
	matchFacts(t, "nr_rasters_enhanced", 59, &got)
}

// TS 38.101-1 V19.5.0 Tables 5.4.2.3-2, -3, -4 and NOTE 5 of 5.4.2.3-1, TS 38.101-2
// V19.4.0 Table 5.4.2.3-2 with its formulas expanded.
func TestListedChannels(t *testing.T) {
	var got answers
	for _, b := range bands.All(bands.NR) {
		for _, c := range b.ListedChannels() {
			got.add(c.Source, b.ID, oneWay(c.Downlink, c.Uplink), c.Width.MHz(), c.Number, c.Note)
			if c.RestrictedToFree != (c.Note == "only in regions free of other technologies in the long term") ||
				c.DownlinkOnlyTraffic != (c.Note == "downlink-only operation") {
				t.Errorf("%s %d: marks and note %q differ", b.ID, c.Number, c.Note)
			}
		}
	}
	matchFacts(t, "nr_listed_channels", 565, &got)
}

// TS 38.101-1 V19.5.0 and TS 38.101-5 V19.4.0, clause 5.4.2.1.
func TestUplinkShift(t *testing.T) {
	var got answers
	for _, b := range bands.All(0) {
		if s := b.UplinkShift(); s != "" {
			source := bands.Source{Spec: "TS 38.101-1", Version: "19.5.0", Table: "clause 5.4.2.1"}
			if b.Range == bands.FR1NTN {
				source.Spec, source.Version = "TS 38.101-5", "19.4.0"
			}
			got.add(source, b.ID, "ul", s)
		}
	}
	matchFacts(t, "nr_uplink_shift", 57, &got)
}

// TS 36.101 V19.6.0 Tables 5.7.3-1 and 5.7.3H-1.
func TestEARFCNRanges(t *testing.T) {
	var got answers
	for _, b := range bands.All(bands.LTE) {
		var fields [8]string
		note := ""
		for _, r := range b.Rasters() {
			f, err := b.ChannelFrequency(r.First)
			if err != nil {
				t.Errorf("%s: %v", b.ID, err)
			}
			first := strconv.Itoa(int(r.First))
			row := []string{f.MHz(), first, first, strconv.Itoa(int(r.Last))}
			if r.Direction == bands.Downlink {
				copy(fields[:4], row)
			} else {
				copy(fields[4:], row)
			}
			note = r.Note
			if r.Step != 1 || r.Spacing != 100*bands.KHz {
				t.Errorf("%s: step %d of %s, want 1 of 100 kHz (TS 36.101 clause 5.7.2)", b.ID, r.Step, r.Spacing)
			}
		}
		all := []any{b.ID.InName()}
		for _, f := range fields {
			all = append(all, f)
		}
		got.add(b.Rasters()[0].Source, append(all, note)...)
	}
	matchFacts(t, "lte_earfcn", 74, &got)
}

// TS 36.104 V19.2.0 Table 5.7.3-1 NOTE 3 for band 46, where n-2, n-1, n+1 and n+2
// are allowed besides every printed n; TS 36.101 V19.6.0 Table 5.7.3-1 for band 106.
func TestLTEListedChannels(t *testing.T) {
	want := make(map[string]bool)
	for _, f := range readFacts(t, "lte_listed_channels", 36) {
		b := mustLookup(t, f.fields[0])
		n := atoi(t, f.fields[3])
		at, err := b.ChannelFrequency(int32(n))
		if err != nil || at.MHz() != f.fields[4] {
			t.Errorf("%s EARFCN %d: %s, %v; want %s MHz", b.ID, n, at, err, f.fields[4])
		}
		spread := 2
		if b.ID.Number == 106 {
			spread = 0
		}
		for d := -spread; d <= spread; d++ {
			note := f.fields[5]
			if f.fields[3] == "46890" && d < 0 { // the lowest channel: 5150 MHz is the edge
				note = "the channel passes the band edge by " + strconv.Itoa(-100*d) + " kHz"
			}
			want[answerLine(f.source, b.ID, f.fields[1], f.fields[2], n+d, note)] = true
		}
	}
	got := 0
	for _, b := range bands.All(bands.LTE) {
		for _, c := range b.ListedChannels() {
			line := answerLine(c.Source.Spec+" "+c.Source.Version+" "+c.Source.Table, b.ID, oneWay(c.Downlink, c.Uplink), c.Width.MHz(), c.Number, c.Note)
			if !want[line] {
				t.Errorf("not in the tables: %s", line)
			}
			if c.RestrictedToFree != (c.Width == 10*bands.MHz) {
				t.Errorf("%s: restricted to free regions is %v", line, c.RestrictedToFree)
			}
			got++
		}
	}
	if got != len(want) || got != 34*5+2 {
		t.Errorf("%d listed numbers, want %d", got, len(want))
	}
}
