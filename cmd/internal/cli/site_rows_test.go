package cli

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
)

// siteFile writes a file of sites: three sectors with two carriers each at every site.
func siteFile(t *testing.T, sites int, more ...string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("site,sector,environment,carrier,ports,rate_mbps,link\n")
	for i := range sites {
		for _, sector := range []string{"a", "b", "c"} {
			fmt.Fprintf(&b, "site %d,%s,dense-urban,n78:100,32T32R,10,10 Gbit/s\nsite %d,%s,,B3:20,4T4R,,\n", i, sector, i, sector)
		}
	}
	for _, line := range more {
		b.WriteString(line + "\n")
	}
	path := filepath.Join(t.TempDir(), "sites.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// A site among many has the figures that its plan alone has, in JSON and in CSV.
func TestSiteRowsAgreeWithThePlan(t *testing.T) {
	plan := filepath.Join(t.TempDir(), "plan.toml")
	text := "name = \"site 0\"\nenvironment = \"dense-urban\"\n[traffic]\nrate_mbps = 10\n[backhaul]\nlink = \"10 Gbit/s\"\n"
	for _, sector := range []string{"a", "b", "c"} {
		text += "[[sector]]\nname = \"" + sector + "\"\n[[sector.radio]]\ncarriers = \"n78:100\"\nports = \"32T32R\"\n[[sector.radio]]\ncarriers = \"B3:20\"\nports = \"4T4R\"\n"
	}
	if err := os.WriteFile(plan, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	type answer struct {
		Name   string
		Line   int64
		Site   json.RawMessage
		Limits []struct{ Direction, Kind string }
	}
	var alone answer
	_, out, _ := run("site", plan, "--format", "json")
	if err := json.Unmarshal([]byte(out), &alone); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	file := siteFile(t, 5)
	status, out, errs := run("site", "--csv", file, "--format", "json", "--quiet")
	var many []answer
	if err := json.Unmarshal([]byte(out), &many); err != nil || status != command.Good || errs != "" || len(many) != 5 {
		t.Fatalf("exit status %d, %v, %s", status, err, errs)
	}
	compact := func(raw json.RawMessage) string { return strings.Join(strings.Fields(string(raw)), "") }
	for i, s := range many {
		if compact(s.Site) != compact(alone.Site) || s.Name != fmt.Sprintf("site %d", i) || s.Line != int64(2+6*i) || len(s.Limits) != len(alone.Limits) {
			t.Errorf("site %d:\n%s\nwant\n%s", i, s.Site, alone.Site)
		}
	}
	status, out, _ = run("site", "--csv", file, "--format", "csv")
	rows := csvMaps(t, out)
	if status != command.Good || len(rows) != 5 {
		t.Fatalf("exit status %d: %s", status, out)
	}
	_, out, _ = run("site", plan, "--format", "csv")
	all := csvMaps(t, out)
	total := all[len(all)-1]
	shared := 0
	for key, want := range total {
		if got, ok := rows[3][key]; ok && key != "sector" {
			if shared++; got != want && !strings.HasSuffix(key, "_limited_by") {
				t.Errorf("%s: %s, want %s", key, got, want)
			}
		}
	}
	if shared < 25 {
		t.Errorf("%d columns in common", shared)
	}
}

// Rows that cannot be used are told one by one with line and column, the others go on,
// and the exit status says so.
func TestSiteRowsFaults(t *testing.T) {
	file := siteFile(t, 2, "site 2,a,rural,n78:35,8T8R,,", "site 2,b,rural,n78:30,8T8R,,", "site 0,d,rural,n78:30,8T8R,,")
	name := filepath.Base(file)
	status, out, errs := run("site", "--csv", file)
	wants := []string{
		`:14: carrier "n78:35": n78 downlink width "35 MHz": must be 10, 15,`,
		`:16: site "site 0": must be a site whose rows stand together: this one's begin on line 2`,
	}
	if status != command.Refuted || strings.Count(errs, "\n") != 2 {
		t.Errorf("exit status %d: %s", status, errs)
	}
	for _, want := range wants {
		if !strings.Contains(errs, name+want) {
			t.Errorf("%q is missing in %s", want, errs)
		}
	}
	for _, want := range []string{"2 with 6 sectors and 12 carriers of sectors", "720 MHz down, 720 MHz up", "15\n", "2, rows that cannot be used", "left out   1, other rows of 1 site", "Caution"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
	if status, out, errs := run("site", "--csv", file, "--format", "csv"); status != command.Refuted || strings.Count(out, "\n") != 3 ||
		!strings.Contains(errs, "15 rows: 2 sites, 2 rows refused, 1 row of 1 site left out for it; ") {
		t.Errorf("exit status %d: %s%s", status, out, errs)
	}
}

// --check fails where a link carries less than its site needs.
func TestSiteRowsCheck(t *testing.T) {
	file := siteFile(t, 1)
	if status, _, errs := run("site", "--csv", file, "--check"); status != command.Good {
		t.Errorf("a link that is enough: exit status %d: %s", status, errs)
	}
	file = siteFile(t, 1, "short,a,rural,n78:100,8T8R,,100 Mbit/s")
	if status, out, _ := run("site", "--csv", file, "--check"); status != command.Refuted || !strings.Contains(out, "short links   1, sites whose link carries less than they need") {
		t.Errorf("a link that is short: exit status %d:\n%s", status, out)
	}
}

// A file of the answer appears whole or not at all.
func TestSiteRowsOutput(t *testing.T) {
	file := siteFile(t, 3)
	folder := t.TempDir()
	for _, name := range []string{"answer.csv", "answer.json", "answer.md", "answer.html"} {
		path := filepath.Join(folder, name)
		status, out, errs := run("site", "--csv", file, "--output", path)
		if status != command.Good || !strings.HasPrefix(out, path+" is written, ") {
			t.Fatalf("%s: exit status %d: %s%s", name, status, out, errs)
		}
		if text, err := os.ReadFile(path); err != nil || !strings.Contains(string(text), "site 2") {
			t.Errorf("%s: %v: %.100s", name, err, text)
		}
		if status, _, errs := run("site", "--csv", file, "--output", path); status != command.Unusable || !strings.Contains(errs, "a name that nothing has yet; --force replaces the file") {
			t.Errorf("%s once more: exit status %d: %s", name, status, errs)
		}
		if status, _, _ := run("site", "--csv", file, "--output", path, "--force"); status != command.Good {
			t.Errorf("%s by force: exit status %d", name, status)
		}
	}
	if list, err := os.ReadDir(folder); err != nil || len(list) != 4 {
		t.Errorf("left behind: %v, %v", list, err)
	}
	plain, _ := os.ReadFile(filepath.Join(folder, "answer.csv"))
	_, out, _ := run("site", "--csv", file, "--format", "csv")
	if out != string(plain) {
		t.Error("the file has other bytes than standard output")
	}
	if rows, err := csv.NewReader(strings.NewReader(out)).ReadAll(); err != nil || len(rows) != 4 {
		t.Errorf("%v, %d rows", err, len(rows))
	}
	packed := filepath.Join(folder, "gone", "answer.csv")
	if status, _, errs := run("site", "--csv", file, "--output", packed); status != command.Unwritten || !strings.Contains(errs, "could not be written: no such file or directory") {
		t.Errorf("no such folder: exit status %d: %s", status, errs)
	}
}

// Standard input is read with -, and a writer that fails ends the run.
func TestSiteRowsStandardInput(t *testing.T) {
	text, err := os.ReadFile(siteFile(t, 2))
	if err != nil {
		t.Fatal(err)
	}
	status, out, errs := runWith(string(text), "site", "--csv", "-", "--format", "csv", "--quiet")
	if status != command.Good || strings.Count(out, "\n") != 3 || errs != "" {
		t.Errorf("exit status %d: %s%s", status, out, errs)
	}
	file := siteFile(t, 300)
	for _, format := range []string{"csv", "json"} {
		var complaint strings.Builder
		if status := Run([]string{"site", "--csv", file, "--format", format}, strings.NewReader(""), &fullDisk{2}, &complaint); status != command.Unwritten || !strings.Contains(complaint.String(), "the rows could not be written: no room, after ") {
			t.Errorf("%s: exit status %d: %s", format, status, complaint.String())
		}
	}
}

// Of very many sites the table shows the first; the sums hold all, as does CSV.
func TestSiteRowsShown(t *testing.T) {
	file := siteFile(t, 620)
	status, out, errs := run("site", "--csv", file)
	for _, want := range []string{"Shown are the first 500 sites; the sums hold all. CSV and JSON list the 120 others too.", "620 with 1 860 sectors and 3 720 carriers of sectors", "\n  site 499 "} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), strings.TrimSpace(want)) {
			t.Errorf("%q is missing in\n%.2000s", want, out)
		}
	}
	if status != command.Good || errs != "" || strings.Contains(out, "site 500 ") {
		t.Errorf("exit status %d: %s", status, errs)
	}
	if _, out, _ := run("site", "--csv", file, "--format", "csv"); strings.Count(out, "\n") != 621 {
		t.Errorf("%d lines of CSV", strings.Count(out, "\n"))
	}
}

// The name of a site does no harm: no spreadsheet takes it for a formula, no terminal for
// a command, and a page shows it as text.
func TestSiteRowsHostileName(t *testing.T) {
	file := siteFile(t, 1, "=1+1,a,rural,n78:20,8T8R,,", "\x1b[31m<b>\u202e\x1b]0;t\x07,a,rural,n78:20,8T8R,,", "bad\x1b[2J,a,rural,n78:35,8T8R,,")
	status, out, errs := run("site", "--csv", file, "--format", "csv")
	if status != command.Refuted || !strings.Contains(out, "'=1+1,") || strings.Contains(errs, "\x1b") {
		t.Errorf("exit status %d: %q%q", status, out, errs)
	}
	for _, format := range []string{"text", "html", "markdown", "csv", "json"} {
		_, out, errs := run("site", "--csv", file, "--format", format)
		if format != "html" && strings.ContainsAny(out+errs, "\x1b\x07\u202e") || format != "text" && format != "csv" && format != "json" && strings.Contains(out, "<b>") {
			t.Errorf("%s: %.300q", format, out)
		}
	}
	if _, err := Ask([]string{"site", "--csv", file}, strings.NewReader("")); err == nil || !strings.Contains(err.Error(), "--csv: not here") {
		t.Errorf("asked for by another program: %v", err)
	}
}

// fullDisk takes a few writes.
type fullDisk struct{ left int }

func (f *fullDisk) Write(b []byte) (int, error) {
	if f.left--; f.left <= 0 {
		return 0, errors.New("no room")
	}
	return len(b), nil
}
