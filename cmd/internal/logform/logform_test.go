package logform

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"spectally/cmd/internal/fieldlog"
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

func ofLog(t *testing.T, toml string) (*fieldlog.Log, *Item) {
	t.Helper()
	log, err := fieldlog.Read("", []byte(toml))
	if err != nil {
		t.Fatal(err)
	}
	return log, Read([]byte(toml), func(n int) string { return log.Networks[n].Carriers.String() })
}

// A log that goes through the form and back is the same log, with the same analysis.
func TestRoundTrip(t *testing.T) {
	for name, toml := range logs() {
		want, form := ofLog(t, toml)
		written, _ := Write(form)
		got, again := ofLog(t, written)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s is another log:\n%s", name, written)
		}
		if !reflect.DeepEqual(fieldlog.Analyse(got), fieldlog.Analyse(want)) {
			t.Errorf("%s has another analysis", name)
		}
		if second, _ := Write(again); second != written {
			t.Errorf("%s is written otherwise the second time", name)
		}
	}
}

// Every line that is written has the path of its field.
func TestPaths(t *testing.T) {
	_, form := ofLog(t, fieldlog.Demo())
	text, paths := Write(form)
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) != len(paths) {
		t.Fatalf("%d lines, %d paths", len(lines), len(paths))
	}
	for i, line := range lines {
		if key, _, ok := strings.Cut(line, " = "); ok && !strings.HasSuffix("/"+paths[i], "/"+key) {
			t.Errorf("%q has the path %q", line, paths[i])
		}
	}
}

// The form has a field for each key that the log to fill in shows.
func TestEveryKeyHasAField(t *testing.T) {
	_, form := ofLog(t, fieldlog.Template())
	var odd func(*Item)
	odd = func(i *Item) {
		for key := range i.Values {
			if strings.HasPrefix(key, "=") {
				t.Errorf("no field for %s", key)
			}
		}
		for _, list := range i.Lists {
			for _, item := range list {
				odd(item)
			}
		}
	}
	odd(form)
}

// What is wrong is said by its path, and all else has its report.
func TestTry(t *testing.T) {
	_, form := ofLog(t, fieldlog.Demo())
	networks := form.Lists["network"]
	networks[0].Lists["run"][1].Values["down"] = "6x2"
	networks[1].Lists["run"][0].Values["when"] = "noon"
	networks[2].Values["carriers"] = "B3:21"
	networks[2].Lists["neighbour"] = append(networks[2].Lists["neighbour"], &Item{Values: map[string]string{"band": "B3"}})
	trial := Try(form)
	want := []string{"network/0/run/1/down", "network/1/run/0/when", "network/2/carriers", "network/2/neighbour/2", "network/2/neighbour/2"}
	var got []string
	for _, f := range trial.Faults {
		got = append(got, f.Path)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("faults at %q, want %q: %v", got, want, trial.Faults)
	}
	says := trial.Shares()
	if s := says["network/0/run/0"]; !strings.Contains(s, "% of scheduled") || !strings.Contains(s, "% of expected") {
		t.Errorf("the first run says %q", s)
	}
	if s := says["network/1/run/3"]; s == "" {
		t.Error("a run of another network says nothing")
	}
	if empty := Try(&Item{}); empty.Report != nil || len(empty.Faults) == 0 {
		t.Errorf("nothing has the report %v", empty.Report)
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
		form := Read(data, func(n int) string { return want.Networks[n].Carriers.String() })
		written, _ := Write(form)
		got, err := fieldlog.Read("", []byte(written))
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q became %q: %v", data, written, err)
		}
	})
}
