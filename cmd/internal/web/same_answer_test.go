package web_test

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/cmd/internal/web"
	"spectally/data/pace"
)

// drawn writes combinations of one to four carriers with widths that their bands have;
// some are placed, some say more of themselves, and some the standard does not allow.
func drawn(t *testing.T, n int) []string {
	r := rand.New(rand.NewPCG(11, 300))
	names := []string{"B1", "B3", "B7", "B20", "B28", "B38", "B40", "n1", "n3", "n28", "n41", "n77", "n78", "n258", "n75", "n80"}
	list := []string{"B3:20 + B7:20 + n78:80", "n1:5", "2xn78:80 + n28:10", "n78:100@630000 + n78:100@636664", "B3:20@1300 + B3:20@1350"}
	for len(list) < n {
		var parts []string
		for range 1 + r.IntN(4) {
			id, err := bands.ParseID(names[r.IntN(len(names))])
			if err != nil {
				t.Fatal(err)
			}
			b, err := bands.Lookup(id)
			if err != nil {
				t.Fatal(err)
			}
			widths := b.Widths()
			text := id.String() + ":" + widths[r.IntN(len(widths))].Width.MHz()
			if span := b.Span(bands.Downlink); r.IntN(3) == 0 && !span.IsZero() {
				if number, _, err := b.ChannelNumber(bands.Downlink, span.Low+(span.High-span.Low)/bands.Frequency(2+r.IntN(3))); err == nil {
					text += fmt.Sprintf("@%d", number)
				}
			}
			for _, key := range []string{"pci=17", "rsrp=-85.5", "sinr=12", "layers=2", "qam=64", "role=scell"} {
				if r.IntN(10) == 0 {
					text += "," + key
				}
			}
			parts = append(parts, text)
		}
		list = append(list, strings.Join(parts, " + "))
	}
	return list
}

// surfaces asks a combination of the commands that answer about it.
type surfaces struct {
	t    *testing.T
	site *testSite
	dir  string
}

// object is what a surface says; nil if it cannot use the carriers.
type object = map[string]any

func (s *surfaces) parse(text string) object {
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber() // digits count
	var o object
	if err := d.Decode(&o); err != nil {
		s.t.Fatalf("%v: %.200s", err, text)
	}
	return o
}

func (s *surfaces) command(args ...string) object {
	status, out, _ := command(append(args, "--format=json")...)
	if status > 1 {
		return nil
	}
	return s.parse(out)
}

func (s *surfaces) page(path, carriers string) object {
	a := s.site.get(path + "?" + queryOf("carriers", carriers))
	if a.status != 200 {
		return nil
	}
	return s.parse(a.body)
}

func (s *surfaces) file(name, text string) string {
	name = filepath.Join(s.dir, name)
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		s.t.Fatal(err)
	}
	return name
}

// field asks for a network, plan for a sector with one radio that has ports enough.
func (s *surfaces) field(carriers string) object {
	o := s.command("field", s.file("log.toml", "title = 't'\n[[network]]\nname = 'n'\ncarriers = '"+carriers+"'\n"))
	if o == nil {
		return nil
	}
	return o["networks"].([]any)[0].(object)
}

func (s *surfaces) plan(carriers string) object {
	o := s.command("site", s.file("plan.toml", "name = 't'\nenvironment = 'rural'\n[[sector]]\n[[sector.radio]]\nports = '32T32R'\ncarriers = '"+carriers+"'\n"))
	if o == nil {
		return nil
	}
	return o["sectors"].([]any)[0].(object)
}

// apart are facts of one name that are not about the combination: the name of a network
// or a sector, and what an answer says of itself.
var apart = []string{"name", "assumptions", "notes", "cautions", "working", "sources"}

// agree compares every fact that two answers share, and counts them.
func agree(t *testing.T, what string, a, b any) (n int) {
	t.Helper()
	switch x := a.(type) {
	case object:
		y, ok := b.(object)
		if !ok {
			if b != nil {
				t.Errorf("%s: an object, and %v", what, b)
			}
			return 0 // one surface has nothing to say of it
		}
		for key, v := range x {
			if w, ok := y[key]; ok && !slices.Contains(apart, key) {
				n += agree(t, what+"."+key, v, w)
			}
		}
		return n
	case []any:
		y, ok := b.([]any)
		if !ok || len(x) != len(y) {
			t.Errorf("%s: %v, and %v", what, a, b)
			return 0
		}
		for i := range x {
			n += agree(t, fmt.Sprintf("%s[%d]", what, i), x[i], y[i])
		}
		return n
	}
	if _, isObject := b.(object); isObject && a == nil {
		return 0
	}
	if a != b {
		t.Errorf("%s: %v, and %v", what, a, b)
	}
	return 1
}

// One answer: 300 combinations and some names, asked of every surface, and every fact that
// two of them share is equal in name, value and digits.
func TestSameAnswerEverywhere(t *testing.T) {
	s := &surfaces{t, newTestSite(t, web.Config{}), t.TempDir()}
	texts := drawn(t, pace.Times(300, 12))
	names := []string{"CA_3A-7A", "DC_3A-7A_n78A", "CA_n78(2A)", "DC_(n)41AA", "SUL_n78A-n80A", "DC_n77A-n257A", "n78A", "CA_3A-7A-20A-28A", "CA_1A-99A"}
	rows := s.batch(append(slices.Clone(texts), names...))
	facts := map[string]int{}
	for i, text := range append(texts, names...) {
		ca := s.command("ca", text)
		if ca == nil {
			t.Errorf("%s: ca has no answer", text)
			continue
		}
		rate, field, site := s.command("throughput", text), object{}, object{}
		if i < len(texts) {
			field, site = s.field(text), s.plan(text)
		}
		facts["page"] += agree(t, text+": ca and its page", ca, s.page("/ca.json", text))
		if rate != nil {
			facts["page"] += agree(t, text+": throughput and its page", rate, s.page("/throughput.json", text))
			facts["field"] += agree(t, text+": throughput and field", rate, field)
		}
		facts["batch"] += agreeRow(t, text, rows[i], ca, rate)
		withoutRates(rate)
		withoutRates(field)
		facts["throughput"] += agree(t, text+": ca and throughput", ca, rate)
		facts["field"] += agree(t, text+": ca and field", ca, field)
		facts["site"] += agree(t, text+": ca and site", ca, site)
		facts["site"] += agree(t, text+": throughput and site", rate, site)
	}
	for surface, n := range facts {
		if n < 9*len(texts) {
			t.Errorf("%s shares %d facts", surface, n)
		}
	}
}

// withoutRates takes away what is found only where rates are worked out.
func withoutRates(o object) {
	if list, ok := o["findings"].([]any); ok {
		o["findings"] = slices.DeleteFunc(list, func(f any) bool { return strings.HasPrefix(f.(object)["rule"].(string), "data-rate") })
	}
}

// batch asks for all texts at once; a rejected row is nil.
func (s *surfaces) batch(texts []string) []map[string]string {
	var in strings.Builder
	w := csv.NewWriter(&in)
	w.Write([]string{"i", "carriers"})
	for i, text := range texts {
		w.Write([]string{fmt.Sprint(i), text})
	}
	w.Flush()
	_, out, errs := command("batch", s.file("rows.csv", in.String()), "--quiet")
	records, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil || len(records) < 2 {
		s.t.Fatal(err, errs)
	}
	rows := make([]map[string]string, len(texts))
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, key := range records[0] {
			row[key] = record[i]
		}
		var i int
		if _, err := fmt.Sscan(row["i"], &i); err != nil {
			s.t.Fatal(err)
		}
		rows[i] = row
	}
	return rows
}

// agreeRow compares the columns of batch with what ca and throughput say.
func agreeRow(t *testing.T, text string, row map[string]string, ca, rate object) (n int) {
	if row == nil {
		if rate != nil && ca["valid"] == true {
			t.Errorf("%s: batch rejects what ca and throughput answer", text)
		}
		return 0
	}
	equal := func(column string, want any) {
		n++
		if got := row[column]; want != nil && got != fmt.Sprint(want) || want == nil && got != "" {
			t.Errorf("%s: batch has %s %q, want %v", text, column, got, want)
		}
	}
	equal("valid", ca["valid"])
	for _, key := range []string{"dl_mhz", "ul_mhz", "occupied_mhz", "dl_equivalent_mhz"} {
		equal(key, ca["totals"].(object)[key])
	}
	configurations := ca["configurations"].([]any)
	at := func(listed bool) int {
		return slices.IndexFunc(configurations, func(c any) bool {
			o := c.(object)
			return o["holds"] == true && (!listed || o["listed"] == true)
		})
	}
	best := at(true)
	if best < 0 {
		best = at(false)
	}
	if best >= 0 {
		c := configurations[best].(object)
		equal("configuration", c["id"])
		equal("bandwidth_sets", strings.Trim(fmt.Sprint(c["bandwidth_sets"]), "[]"))
	}
	if rate != nil {
		for _, d := range []string{"dl", "ul"} {
			for _, key := range []string{"max_rate_mbps", "scheduled_mbps"} {
				equal(d+"_"+key, rate[d].(object)[key])
			}
		}
	}
	return n
}
