package logform

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/holdings"
	"spectally/cmd/internal/siteplan"
)

// logs are good logs of every kind of key.
func logs() map[string]string {
	return map[string]string{
		"demo": fieldlog.Demo(), "template": fieldlog.Template(),
		"small": "title = \"x\"\n[[network]]\nname = \"a\"\ncarriers = \"B3:20\"\n",
		"texts": "title = 'a \"b\" \\ c'\nplace = \"\\u00e9 東京\"\nnotes = [\"one\", \"two\\n\\nthree\"]\n[[network]]\nname = '''<script>'''\ncarriers = \"n78:80,ssb=640032,pattern=DDDSU/10:2:2\"\n[[network.radio]]\nports = \"4T4R\"\nconnected = [2]\nbands = [\"n78\", \"B3\"]\n[[network.radio]]\nports = \"4T4R\"\nconnected = 2\n" +
			"[[network.run]]\ndown = 1_000.50\ncarriers = [1]\nlat = 31.5\nlon = -41.25\nnotes = \"n\"\n[[claim]]\nsame_site = true\n[[claim]]\ntotal_mhz = 80\nabout = true\nrelation = \"at most\"\n",
	}
}

func formOf(t *testing.T, f *File, toml string) *Item {
	t.Helper()
	form, err := f.Read([]byte(toml))
	if err != nil {
		t.Fatal(err)
	}
	return form
}

// kinds are good files of each kind, and what their readers make of them.
var kinds = []struct {
	file  *File
	texts map[string]string
	read  func(text string) (any, error)
}{
	{FieldLog, logs(), func(text string) (any, error) {
		log, err := fieldlog.Read("", []byte(text))
		return log, err
	}},
	{SitePlan, map[string]string{"demo": siteplan.Demo(), "template": siteplan.Template(),
		"odd": "name = 'a'\n[[sector]]\nenvironment = 'rural'\n[[sector.radio]]\ncarriers = 'n78:100'\nports = '8T8R'\nmeasured = { dl_bps_hz = 2.10, origin = 'x, \"y\"' }\n[[option]]\nname = 'o'\nset = ['sector.1.radio.1.carriers=n78:100 + B3:20', 'backhaul.link=1 Gbit/s']\n"},
		func(text string) (any, error) {
			plan, err := siteplan.Read("", []byte(text))
			if err == nil {
				plan.Source = "" // is the text itself
				for _, o := range plan.Options {
					o.Plan.Source = ""
				}
			}
			return plan, err
		}},
	{Holdings, map[string]string{"demo": holdings.Demo(), "template": holdings.Template(),
		"dates": "[[network]]\nname = 'a'\n[[network.block]]\nrange = '3410-3500'\nfrom = '2027-06'\nbands = ['n78', 'n77']\nshared = true\nindoor = false\n"},
		func(text string) (any, error) {
			h, err := holdings.Read("", []byte(text))
			return h, err
		}},
}

// A file that goes through the form and back is the same file, and is written the same the
// second time.
func TestRoundTrip(t *testing.T) {
	for _, kind := range kinds {
		for name, toml := range kind.texts {
			want, err := kind.read(toml)
			if err != nil {
				t.Fatal(err)
			}
			written, _ := kind.file.Write(formOf(t, kind.file, toml))
			if got, err := kind.read(written); err != nil || !reflect.DeepEqual(got, want) {
				t.Errorf("%s %s is another (%v):\n%s", kind.file.Noun, name, err, written)
			}
			if again, _ := kind.file.Write(formOf(t, kind.file, written)); again != written {
				t.Errorf("%s %s is written otherwise the second time", kind.file.Noun, name)
			}
		}
	}
}

// Every line that is written has the path of its field.
func TestPaths(t *testing.T) {
	text, paths := FieldLog.Write(formOf(t, FieldLog, fieldlog.Demo()))
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) != len(paths) {
		t.Fatalf("%d lines, %d paths", len(lines), len(paths))
	}
	for i, line := range lines {
		if key, _, ok := strings.Cut(line, " = "); ok && !strings.HasSuffix(strings.ReplaceAll("/"+paths[i], ".", "/"), "/"+key) {
			t.Errorf("%q has the path %q", line, paths[i])
		}
	}
}

// The form has a field for each key that the file to fill in shows.
func TestEveryKeyHasAField(t *testing.T) {
	for _, kind := range kinds {
		var odd func(*Item)
		odd = func(i *Item) {
			for key := range i.Values {
				if strings.HasPrefix(key, "=") {
					t.Errorf("no field for %s of a %s", key, kind.file.Noun)
				}
			}
			for _, list := range i.Lists {
				for _, item := range list {
					odd(item)
				}
			}
		}
		odd(formOf(t, kind.file, kind.texts["template"]))
		odd(formOf(t, kind.file, kind.texts["demo"]))
	}
}

// What is wrong with a plan is said where it stands, and the rest is still tried.
func TestTryPlan(t *testing.T) {
	form := formOf(t, SitePlan, siteplan.Demo())
	form.Values["load_percent"] = "400"
	form.Lists["sector"][1].Lists["radio"][0].Values["ports"] = "8"
	trial := SitePlan.Try(form)
	var got []string
	for _, f := range trial.Faults {
		got = append(got, f.Path)
	}
	if want := []string{"load_percent", "sector/1/radio/0/ports"}; !reflect.DeepEqual(got, want) {
		t.Errorf("faults at %q, want %q: %v", got, want, trial.Faults)
	}
	if plan, err := siteplan.Read("", []byte(trial.Text)); err != nil || len(plan.Site.Sectors) != 2 {
		t.Errorf("what is left is not tried: %v", err)
	}
}

// What is wrong is said by its path, and all else has its report.
func TestTry(t *testing.T) {
	form := formOf(t, FieldLog, fieldlog.Demo())
	networks := form.Lists["network"]
	networks[0].Lists["run"][1].Values["down"] = "6x2"
	networks[1].Lists["run"][0].Values["when"] = "noon"
	networks[2].Values["carriers"] = "B3:21"
	networks[2].Lists["neighbour"] = append(networks[2].Lists["neighbour"], &Item{Values: map[string]string{"band": "B3"}})
	trial := FieldLog.Try(form)
	want := []string{"network/0/run/1/down", "network/1/run/0/when", "network/2/carriers", "network/2/neighbour/2", "network/2/neighbour/2"}
	var got []string
	for _, f := range trial.Faults {
		got = append(got, f.Path)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("faults at %q, want %q: %v", got, want, trial.Faults)
	}
	says := trial.Shares(trial.Report())
	if s := says["network/0/run/0"]; !strings.Contains(s, "% of scheduled") || !strings.Contains(s, "% of expected") {
		t.Errorf("the first run says %q", s)
	}
	if s := says["network/1/run/3"]; s == "" {
		t.Error("a run of another network says nothing")
	}
	if empty := FieldLog.Try(&Item{}); empty.Text != "" || len(empty.Faults) == 0 {
		t.Errorf("nothing has the text %q", empty.Text)
	}
}

// Numbers typed with a comma are numbers, and no text breaks out of its line.
func TestLiterals(t *testing.T) {
	for _, tt := range []struct {
		sort    Sort
		v, want string
	}{
		{Number, "58,4", "58.4"}, {Number, "−92", "-92"}, {Number, "200.0", "200.0"}, {Number, "007", `"007"`}, {Number, "1]\nx = 2", `"1]\nx = 2"`},
		{Line, `a"b\`, `"a\"b\\"`}, {Line, "<&>\u2028\x7f", `"<&>\u2028\u007f"`}, {Numbers, "1, 2", "[1, 2]"}, {Words, "n78 B3", `["n78", "B3"]`}, {Check, "yes", "true"}, {Date, "2031-05-14", "2031-05-14"}, {Date, "today", `"today"`},
	} {
		f := Field{Sort: tt.sort}
		if got := f.literal(tt.v); got != tt.want {
			t.Errorf("%q is written %s, want %s", tt.v, got, tt.want)
		}
	}
}

func FuzzRoundTrip(f *testing.F) {
	for _, toml := range logs() {
		f.Add([]byte(toml))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		want, err := fieldlog.Read("", data)
		if err != nil || bytes.Contains(data, []byte("\r")) {
			return
		}
		written, _ := FieldLog.Write(formOf(t, FieldLog, string(data)))
		got, err := fieldlog.Read("", []byte(written))
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q became %q: %v", data, written, err)
		}
	})
}
