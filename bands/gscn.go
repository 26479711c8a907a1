package bands

import (
	"slices"
	"strconv"
	"strings"

	"spectally/data"
)

// GSCN is a global synchronisation channel number: a frequency at which a UE
// looks for an SS/PBCH block. The numbers of blocks in 3 MHz channels follow those
// of all other blocks.
type GSCN int32

var (
	gscnTables     = data.Lazy("nr_gscn")
	gscnListTables = data.Lazy("nr_gscn_lists")
	gscnRows       = lazy(loadGSCN)
	gscnSingles    = lazy(loadGSCNSingles)
	syncRasters    = lazy(loadSyncRasters)
)

// gscnRow is a run of the global synchronisation raster. With clusters set there
// are three numbers, 100 kHz apart, on each step; M is 1, 3 or 5 for them.
type gscnRow struct {
	first, last GSCN
	base, step  Frequency
	clusters    bool
	narrow      bool // for 3 MHz channels
	origin      GSCN // GSCN of N = 0, M = 3
	source      Source
}

func loadGSCN() []gscnRow {
	var rows []gscnRow
	t := data.Find(gscnTables(), "global")
	for _, r := range t.Rows {
		row := gscnRow{
			base:   must(ParseMHz(r[2])),
			step:   kilohertz(r[3]),
			first:  GSCN(number(r[4])),
			last:   GSCN(number(r[5])),
			source: t.Source,
		}
		row.clusters = row.base == 0
		if !row.clusters {
			row.origin = row.first
		}
		rows = append(rows, row)
	}
	for _, id := range []string{"global-3mhz", "global-3mhz-ntn"} {
		t = data.Find(gscnTables(), id)
		for _, r := range t.Rows {
			rows = append(rows, gscnRow{
				base:     300 * KHz,
				step:     600 * KHz,
				first:    GSCN(number(r[2])),
				last:     GSCN(number(r[3])),
				clusters: true,
				narrow:   true,
				origin:   26638,
				source:   t.Source,
			})
		}
	}
	return rows
}

// gscnSingle is a number with a frequency of its own.
type gscnSingle struct {
	at     Frequency
	narrow bool // for 3 MHz channels
}

func loadGSCNSingles() map[GSCN]gscnSingle {
	m := make(map[GSCN]gscnSingle)
	for _, r := range data.Find(gscnTables(), "global-n100").Rows {
		m[GSCN(number(r[0]))] = gscnSingle{must(ParseMHz(r[2])), r[1] == "3"}
	}
	return m
}

func (r *gscnRow) frequency(g GSCN) Frequency {
	k := g - r.origin
	if !r.clusters {
		return r.base + r.step*Frequency(k)
	}
	n := (k + 1) / 3
	m := 3 + 2*(k-3*n)
	return r.base + r.step*Frequency(n) + 50*KHz*Frequency(m)
}

// Frequency returns SS_REF, the reference frequency of the SS/PBCH block
// (TS 38.104 clause 5.4.3.1, TS 38.101-5 clause 5.4.3.1 for satellite bands).
func (g GSCN) Frequency() (Frequency, error) {
	rows := gscnRows()
	for i := range rows {
		if r := &rows[i]; r.first <= g && g <= r.last {
			return r.frequency(g), nil
		}
	}
	if s, ok := gscnSingles()[g]; ok {
		return s.at, nil
	}
	return 0, &ValueError{
		Param:   "GSCN",
		Got:     strconv.Itoa(int(g)),
		Allowed: "2 to 26639, or 26640 to 41638 for channels of 3 MHz and n100",
		Source:  data.Find(gscnTables(), "global").Source,
	}
}

// at returns the number of the run whose block sits exactly at f.
func (r *gscnRow) at(f Frequency) (GSCN, bool) {
	n, rest := (f-r.base)/r.step, (f-r.base)%r.step
	g := Frequency(r.origin) + n
	if r.clusters {
		m := rest / (50 * KHz)
		if m != 1 && m != 3 && m != 5 {
			return 0, false
		}
		g, rest = Frequency(r.origin)+3*n+(m-3)/2, rest%(50*KHz)
	}
	return GSCN(g), rest == 0 && Frequency(r.first) <= g && g <= Frequency(r.last)
}

// GSCNAt returns the number whose block sits exactly at f, for channels above
// 3 MHz; false if none does.
func GSCNAt(f Frequency) (GSCN, bool) { return gscnAt(f, false) }

// NarrowGSCNAt returns the number whose block sits exactly at f, for channels of
// 3 MHz; false if none does.
func NarrowGSCNAt(f Frequency) (GSCN, bool) { return gscnAt(f, true) }

func gscnAt(f Frequency, narrow bool) (GSCN, bool) {
	rows := gscnRows()
	for i := range rows {
		if r := &rows[i]; r.narrow == narrow {
			if g, ok := r.at(f); ok {
				return g, true
			}
		}
	}
	for g, s := range gscnSingles() {
		if s.at == f && s.narrow == narrow {
			return g, true
		}
	}
	return 0, false
}

// SyncRaster is a run of synchronisation raster entries that a band allows.
type SyncRaster struct {
	SCS     Frequency // of the SS/PBCH block
	Pattern string    // SS/PBCH block pattern, case A to G of TS 38.213 clause 4.1
	// First, Step and Last are GSCN; all zero where only List holds, the outer
	// limits of numbering where there is a List besides.
	First, Step, Last GSCN
	// List holds the entries where the band allows only some, ListSource where it
	// stands; else nil.
	List       []GSCN
	ListSource Source
	// Narrow tells that the run is for 3 MHz channels.
	Narrow bool
	Note   string
	Source Source
}

// Has tells whether g is an entry of the run.
func (s *SyncRaster) Has(g GSCN) bool {
	if s.List != nil {
		_, ok := slices.BinarySearch(s.List, g)
		return ok
	}
	return s.Step > 0 && s.First <= g && g <= s.Last && (g-s.First)%s.Step == 0
}

// Entries lists the entries of the run in rising order.
func (s *SyncRaster) Entries() []GSCN {
	if s.List != nil {
		return slices.Clone(s.List)
	}
	var list []GSCN
	for g := s.First; s.Step > 0 && g <= s.Last; g += s.Step {
		list = append(list, g)
	}
	return list
}

func loadSyncRasters() map[ID][]SyncRaster {
	type key struct {
		band ID
		scs  Frequency
	}
	type list struct {
		entries []GSCN
		source  Source
	}
	lists := make(map[key]list)
	for _, t := range gscnListTables() {
		for _, row := range t.Rows {
			l := list{source: t.Source}
			for field := range strings.FieldsSeq(row[2]) {
				first, step, last := cutRun(field)
				for g := first; g <= last; g += step {
					l.entries = append(l.entries, GSCN(g))
				}
			}
			slices.Sort(l.entries)
			lists[key{must(ParseID(row[0])), kilohertz(row[1])}] = l
		}
	}
	m := make(map[ID][]SyncRaster)
	for _, t := range gscnTables() {
		if strings.HasPrefix(t.ID, "global") {
			continue
		}
		for _, row := range t.Rows {
			band := must(ParseID(row[0]))
			s := SyncRaster{
				SCS:     kilohertz(row[1]),
				Pattern: row[2],
				Narrow:  strings.HasSuffix(t.ID, "-3mhz"),
				Note:    row[4],
				Source:  t.Source,
			}
			if row[3] != "" {
				first, step, last := cutRun(row[3])
				s.First, s.Step, s.Last = GSCN(first), GSCN(step), GSCN(last)
			}
			if strings.Contains(s.Note, "the listed") {
				l := lists[key{band, s.SCS}]
				s.List, s.ListSource = l.entries, l.source
			}
			m[band] = append(m[band], s)
		}
	}
	return m
}

// SyncRasters lists the synchronisation raster of an NR band; empty for bands
// without SS/PBCH blocks.
func (b *Band) SyncRasters() []SyncRaster { return slices.Clone(syncRasters()[b.ID]) }

// SSBSpan is the spectrum of the 240 subcarriers of an SS/PBCH block whose SS_REF
// is f: SS_REF is the centre of subcarrier 120 (TS 38.101-1 clause 5.4.3.2). In a
// 3 MHz channel only the middle of the block is sent.
func SSBSpan(f, scs Frequency) Span {
	low := f - blockHalf*scs - scs/2
	return Span{low, low + 2*blockHalf*scs}
}
