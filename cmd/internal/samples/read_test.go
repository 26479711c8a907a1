package samples

import (
	"flag"
	"os"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/cmd/internal/batch"
)

var update = flag.Bool("update", false, "write the reasons of bad rows anew; read the difference")

// first reads the first row of a text.
func first(tb testing.TB, m Map, text string) (*Sample, string) {
	tb.Helper()
	f, err := (&Reader{Map: m}).Open(strings.NewReader(text), batch.None, 0)
	if err != nil {
		tb.Fatal(err)
	}
	if !f.Next() {
		tb.Fatalf("%q has no row: %v", text, f.Err())
	}
	return f.Sample(), f.Fault()
}

// TestBadRows holds the reason of each bad row against that written down.
func TestBadRows(t *testing.T) {
	const file = "testdata/bad_rows.txt"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	rows := 0
	for line := range strings.Lines(string(data)) {
		if line[0] == '#' {
			out.WriteString(line)
			continue
		}
		parts := strings.SplitN(strings.TrimSuffix(line, "\n"), " => ", 3)
		if len(parts) < 3 {
			parts = append(strings.SplitN(strings.TrimSuffix(line, " =>\n"), " => ", 2), "")
		}
		rows++
		_, reason := first(t, nil, parts[0]+"\n"+parts[1]+"\n")
		if reason == "" {
			t.Errorf("%q under %q can be used", parts[1], parts[0])
		}
		if !*update && reason != parts[2] {
			t.Errorf("%q under %q: %s\nwant %s", parts[1], parts[0], reason, parts[2])
		}
		out.WriteString(parts[0] + " => " + parts[1] + " => " + reason + "\n")
	}
	if rows < 40 {
		t.Errorf("%d rows", rows)
	}
	if *update {
		if err := os.WriteFile(file, []byte(out.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

func TestRead(t *testing.T) {
	m := Map{}
	for _, s := range []string{"time=t:ms", "rsrp=level", "down=dl:kbit/s", "up=ul:Gbit/s", "latency=rtt:s", "distance_m=far:km"} {
		if err := m.Set(s); err != nil {
			t.Fatal(err)
		}
	}
	s, fault := first(t, m, "t,Level,level,dl,ul,rtt,far,NETWORK,carriers,PCI\n1936720800250,1,-90.125,412500,0.0125,0.0245,1.5, A ,n78:80@640000 + B3,417\n")
	if fault != "" || s.Serving.Text != "n78 640000 + B3" || s.Serving.Max() != 0 {
		t.Errorf("a carrier without a width: %+v, %q", s.Serving, fault)
	}
	s, fault = first(t, m, "t,Level,level,dl,ul,rtt,far,NETWORK,carriers,PCI\n1936720800250,1,-90.125,412500,0.0125,0.0245,1.5, A ,\"n78:80@640000,rsrp=-70,sinr=9.5 + B3:20,pci=5,sinr=4\",417\n")
	if fault != "" {
		t.Fatal(fault)
	}
	if s.At != 1936720800_250_000_000 || s.RSRP != -9013 || s.SINR != 950 || s.Down != 412_500 || s.Up != 12_500 || s.Latency != 24_500 || s.Distance != 1500 || s.Network != "A" || s.PCI != 417 {
		t.Errorf("%+v", s)
	}
	if c := s.Serving.Carriers; len(c) != 2 || c[0].Band != (bands.ID{RAT: bands.NR, Number: 78}) || c[0].Channel != 640000 || c[0].Centre != 3600*bands.MHz || c[1].PCI != 5 || c[1].SINR != 400 || !c[1].Approximate {
		t.Errorf("carriers %+v", c)
	}
	if s.Serving.Text != "n78:80@640000 + B3:20" || s.Serving.Scheduled() <= 0 || s.Serving.Max() < s.Serving.Scheduled() {
		t.Errorf("%q yields %d, scheduled %d", s.Serving.Text, s.Serving.Max(), s.Serving.Scheduled())
	}
	low, high := s.Serving.Expected(-500), s.Serving.Expected(3000)
	if low <= 0 || high <= low || high > s.Serving.Scheduled() {
		t.Errorf("expected %d at -5 dB, %d at 30 dB", low, high)
	}
	s, fault = first(t, nil, `{"time":"2031-05-14T18:00:00Z","lat":31.5,"lon":-41.25,"band":"n78","channel":640000,"pci":7,"down":null,"extra":[1]}`)
	if fault != "" || s.Place != (Place{Geographic, 31.5, -41.25}) || s.Serving.Text != "n78 640000" || s.PCI != 7 || s.Down != Missing || s.RSRP != None {
		t.Errorf("%+v, %q", s, fault)
	}
}

func TestMap(t *testing.T) {
	m := Map{}
	for s, want := range map[string]string{
		"rsrp":       `mapping "rsrp"`,
		"rspr=x":     "closest is rsrp",
		"down=x:mph": `unit of down "mph"`,
		"rsrp=":      `mapping "rsrp="`,
	} {
		if err := m.Set(s); err == nil || !strings.Contains(strings.ReplaceAll(err.Error(), "closest is", "closest is"), want) {
			t.Errorf("%s: %v", s, err)
		}
	}
	if err := m.Set("rsrp=a:b"); err != nil || m["rsrp"].Name != "a:b" {
		t.Errorf("a column with a colon: %v, %v", m, err)
	}
	if err := m.Set("rsrp=c"); err == nil {
		t.Error("a field twice")
	}
	if m.String() != "rsrp=a:b" {
		t.Errorf("written as %q", m.String())
	}
}

func FuzzRows(f *testing.F) {
	f.Add("time,lat,lon,rsrp,carriers\n2031-05-14T18:00:00Z,1,2,-90,n78:80\n")
	f.Add(`{"rsrp":-90}`)
	f.Fuzz(func(t *testing.T, text string) {
		file, err := new(Reader).Open(strings.NewReader(text), batch.None, 0)
		if err != nil {
			return
		}
		for file.Next() {
			s := file.Sample()
			if file.Fault() != "" {
				continue
			}
			if s.RSRP != None && (s.RSRP < LowestRSRP || s.RSRP > HighestRSRP) || s.Down < Missing || s.Latency == 0 || s.Place.Kind == Geographic && !s.Place.Point().Valid() {
				t.Fatalf("%q is read as %+v", text, s)
			}
		}
	})
}
