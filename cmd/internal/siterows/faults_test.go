package siterows

import (
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"spectally/cmd/internal/batch"
)

var update = flag.Bool("update", false, "write what is said of the files with faults anew; read the difference")

// planned is what became of a file.
type planned struct {
	sites  []*Site
	faults []string
	counts Counts
}

func planText(tb testing.TB, text string, workers int) planned {
	tb.Helper()
	var out planned
	f, err := Open(strings.NewReader(text))
	if err != nil {
		tb.Fatal(err)
	}
	out.counts, err = f.Run(context.Background(), Settings{
		Workers: workers,
		Site:    func(s *Site) error { out.sites = append(out.sites, s); return nil },
		Fault:   func(f *Fault) { out.faults = append(out.faults, f.String()) },
	}, &batch.Progress{})
	if err != nil {
		tb.Fatal(err)
	}
	return out
}

// faultCase is an entry of the corpus.
type faultCase struct{ name, text, faults, counts string }

func readFaults(t testing.TB) (head string, list []faultCase) {
	t.Helper()
	data, err := os.ReadFile("testdata/faults.txt")
	if err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(string(data), "\n== ")
	for entry := range strings.SplitSeq(rest, "\n== ") {
		name, body, ok := strings.Cut(entry, "\n")
		text, said, ok2 := strings.Cut(body, "--\n")
		faults, counts, ok3 := strings.Cut(said, "=>")
		if !ok || !ok2 || !ok3 {
			t.Fatalf("an entry without its parts: %q", entry)
		}
		list = append(list, faultCase{name, text, faults, strings.TrimSpace(counts)})
	}
	return head, list
}

// TestFaults holds what is said of rows that cannot be used to a corpus, and that every
// row is accounted for.
func TestFaults(t *testing.T) {
	head, list := readFaults(t)
	var out strings.Builder
	out.WriteString(head + "\n")
	for _, c := range list {
		got := planText(t, c.text, 2)
		var names []string
		rows := int64(0)
		for _, s := range got.sites {
			names = append(names, s.Plan.Name)
			rows += int64(len(s.Plan.Sectors[0].Radios))
			for i := range s.Plan.Sectors[1:] {
				rows += int64(len(s.Plan.Sectors[i+1].Radios))
			}
		}
		n := got.counts
		if rows+n.Refused+n.Left != n.Rows || n.Sites != int64(len(got.sites)) {
			t.Errorf("%s: %d rows of sites, but %+v", c.name, rows, n)
		}
		if int64(len(got.faults)) > n.Refused || len(got.faults) == 0 {
			t.Errorf("%s: %d lines, but %+v", c.name, len(got.faults), n)
		}
		faults := ""
		for _, f := range got.faults {
			faults += f + "\n"
		}
		if names == nil {
			names = []string{"none"}
		}
		counts := fmt.Sprintf("%d rows, %d refused, %d left out of %d sites; worked out: %s", n.Rows, n.Refused, n.Left, n.Without, strings.Join(names, ", "))
		fmt.Fprintf(&out, "== %s\n%s--\n%s=> %s\n", c.name, c.text, faults, counts)
		if !*update && (faults != c.faults || counts != c.counts) {
			t.Errorf("%s:\n got %s=> %s\nwant %s=> %s", c.name, faults, counts, c.faults, c.counts)
		}
	}
	if *update {
		if err := os.WriteFile("testdata/faults.txt", []byte(out.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// TestHeaders: a header that cannot be used is an error that names what is wrong.
func TestHeaders(t *testing.T) {
	const all = "site, sector, environment, carrier, ports, count, load_percent, ul_load_percent, cell_layers, ul_cell_layers, dl_bps_hz, ul_bps_hz, dl_edge_bps_hz, ul_edge_bps_hz, origin, measured_ports, rate_mbps, ul_rate_mbps, active_percent, oversubscription, busy_hour_percent, link, ul_link, transport_percent, security_percent, size_by"
	for _, c := range []struct{ header, want string }{
		{"site,sector,environment,carrier,prots", `column "prots": must be ` + all + `; closest is ports`},
		{"site,sector,environment,carrier,ports,owner_of_the_ground", `column "owner_of_the_ground": must be ` + all},
		{"site,sector,environment,carrier,ports,Site", `column "Site": must be given once`},
		{"site,sector,environment,carrier,ports,", `column "": must be ` + all},
		{"site,sector,environment,ports", `header "site,sector,environment,ports": must be one with a column carrier (one carrier in the notation, such as n78:80@640000)`},
		{"site", `header "site": must be one with a column sector (the name of the sector)`},
		{"site sector environment carrier ports", `column "site sector environment carrier ports": must be ` + all},
		{"\"site", "header: a quote that is not closed, or should not be there"},
		{"", "empty: must be a header row, and rows"},
	} {
		if _, err := Open(strings.NewReader(c.header)); err == nil || err.Error() != c.want {
			t.Errorf("%q:\n got %v\nwant %s", c.header, err, c.want)
		}
	}
	if _, err := Open(strings.NewReader("SITE;Sector;environment;carrier;ports\n")); err != nil {
		t.Errorf("letter case and semicolons: %v", err)
	}
}
