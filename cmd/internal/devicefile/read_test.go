package devicefile

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/tomlfile"
	"spectally/throughput"
)

const example = "../../../testdata/devices/phone.toml"

func TestExample(t *testing.T) {
	data, err := os.ReadFile(example)
	if err != nil {
		t.Fatal(err)
	}
	d, err := Read("phone.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	lte := func(n uint16) bands.ID { return bands.ID{RAT: bands.LTE, Number: n} }
	nr := func(n uint16) bands.ID { return bands.ID{RAT: bands.NR, Number: n} }
	want := &throughput.Device{
		Name: "phone A", Carriers: 5, NRCarriers: 2, UplinkCarriers: 2, NRWidth: 190 * bands.MHz,
		Bands: []throughput.DeviceBand{
			{Band: lte(3), Layers: 4, QAM: 256, UplinkQAM: 64},
			{Band: lte(7), Layers: 4, QAM: 256, UplinkQAM: 64},
			{Band: lte(20), Layers: 2, QAM: 256, UplinkQAM: 64},
			{Band: nr(28), Layers: 2, QAM: 256, UplinkQAM: 256, Widest: 20 * bands.MHz},
			{Band: nr(78), Layers: 4, UplinkLayers: 2, QAM: 256, UplinkQAM: 256, Widest: 100 * bands.MHz},
		},
	}
	for _, s := range []string{"DC_3A-7A-20A_n78(2A)", "DC_3A-20A_n28A", "CA_n28A-n78A", "CA_3A-7A-20A"} {
		n, err := ca.ParseName(s)
		if err != nil {
			t.Fatal(err)
		}
		want.Configurations = append(want.Configurations, n)
	}
	if diff := cmp.Diff(want, d, cmp.Comparer(func(a, b ca.Name) bool { return a == b })); diff != "" {
		t.Error(diff)
	}
}

// bad are files with one fault each, and the line that tells of it.
var bad = []struct{ file, want string }{
	{"", `d.toml:1: no band given: must be one table at least under the header [[band]]`},
	{"band = 3", `d.toml:1: band "3": must be tables under the header [[band]]`},
	{"[band]\nband = \"n78\"", `d.toml:1: band "a table": must be tables under the header [[band]]`},
	{"[[band]]", `d.toml:1: band 1: no band given: must be a band such as "n78", "B3" or 3`},
	{"[[band]]\nband = true", `d.toml:2: band 1: band "true": must be a band such as "n78", "B3" or 3`},
	{"[[band]]\nband = \"m78\"", `d.toml:2: band 1: band "m78": must be`},
	{"[[band]]\nband = \"n780\"", `d.toml:2: band 1: band "n780": must be a band of the operating-band tables`},
	{"[[band]]\nband = \"n78\"\n[[band]]\nband = \"N78\"", `d.toml:4: band 2: band "N78": must be each band once`},
	{"[[band]]\nband = \"n78\"\nlayers = 0", `d.toml:3: band 1: layers "0": must be a number of downlink layers from 1 to 8`},
	{"[[band]]\nband = \"n78\"\nlayers = 2.5", `d.toml:3: band 1: layers "2.5": must be a number of downlink layers, a whole number from 1 to 8`},
	{"[[band]]\nband = \"n78\"\nlayers = \"4\"", `d.toml:3: band 1: layers "4": must be a number of downlink layers as a number, without quotes`},
	{"[[band]]\nband = \"n78\"\nlayer = 4", `d.toml:3: band 1: key "layer": must be band, layers, ullayers, qam, ulqam, widest_mhz, downlink_only, half_duplex; closest is layers`},
	{"[[band]]\nband = \"n78\"\nqam = 128", `d.toml:3: band 1: qam "128": must be the size of the largest constellation: 4, 16, 64, 256 or 1024`},
	{"[[band]]\nband = \"n78\"\nulqam = 1024", `d.toml:3: band 1: ulqam "1024": must be the size of the largest constellation from 2 to 256`},
	{"[[band]]\nband = \"B3\"\nulqam = 2", `d.toml:3: band 1: ulqam "2": must be 4, 16, 64 or 256 in LTE`},
	{"[[band]]\nband = \"B3\"\nullayers = 8", `d.toml:3: band 1: ullayers "8": must be 1 to 4 in LTE`},
	{"[[band]]\nband = \"n75\"\nullayers = 1", `d.toml:3: band 1: ullayers "1": must be nothing: n75 is SDL and has no uplink`},
	{"[[band]]\nband = \"n80\"\nlayers = 1", `d.toml:3: band 1: layers "1": must be nothing: n80 is SUL and has no downlink`},
	{"[[band]]\nband = \"n78\"\nwidest_mhz = 0", `d.toml:3: band 1: widest_mhz "0": must be a width in MHz above zero, up to 6400`},
	{"[[band]]\nband = \"n78\"\nwidest_mhz = 0.0000001", `d.toml:3: band 1: widest_mhz "0.0000001": must be a width in MHz above 0, up to 6400, whole hertz`},
	{"[[band]]\nband = \"n78\"\ndownlink_only = \"no\"", `d.toml:3: band 1: downlink_only "no": must be true or false, without quotes`},
	{"kind = \"red\"\n[[band]]\nband = \"n78\"", `d.toml:1: kind "red": must be redcap, eredcap or eredcap-full`},
	{"receive_antennas = 1\n[[band]]\nband = \"n78\"", `d.toml:1: receive_antennas "1": must be nothing without kind`},
	{"kind = \"redcap\"\nreceive_antennas = 4\n[[band]]\nband = \"n78\"", `d.toml:2: receive_antennas "4": must be a number of receive branches of a UE of reduced capability from 1 to 2`},
	{"[[band]]\nband = \"n1\"\nhalf_duplex = true", `d.toml:3: band 1: half_duplex "true": must be a paired band of FR1, of a device with kind`},
	{"kind = \"redcap\"\n[[band]]\nband = \"n78\"\nhalf_duplex = true", `d.toml:4: band 1: half_duplex "true": must be a paired band of FR1, of a device with kind`},
	{"carriers = 33\n[[band]]\nband = \"n78\"", `d.toml:1: carriers "33": must be a number of carriers from 1 to 32`},
	{"carrier = 3\n[[band]]\nband = \"n78\"", `d.toml:1: key "carrier": must be name, kind, receive_antennas, carriers,`},
	{"width_mhz = \"100\"\n[[band]]\nband = \"n78\"", `d.toml:1: width_mhz "100": must be a width in MHz as a number, without quotes, or with its unit in quotes`},
	{"name = 4\n[[band]]\nband = \"n78\"", `d.toml:1: name "4": must be a line of text, in quotes`},
	{"configurations = [\"CA_n78\"]\n[[band]]\nband = \"n78\"", `d.toml:1: configurations "CA_n78": must be`},
	{"configurations = [3.5]\n[[band]]\nband = \"n78\"", `d.toml:1: configurations "3.5": must be names of the standard`},
	{"configurations = [\"CA_n78C\", \"CA_n78C\"]\n[[band]]\nband = \"n78\"", `d.toml:1: configurations "CA_n78C": must be each configuration once`},
	{"configurations = [\"CA_n1A-n78A\"]\n[[band]]\nband = \"n78\"", `d.toml:1: configurations "CA_n1A-n78A": must be configurations of the bands that are listed; there is no [[band]] n1`},
	{"[[band]]\nband = \"n78\"\nband = \"n1\"", `d.toml:3: key "band": must be given once`},
	{"[[band]\nband = 3", `d.toml:1: not TOML`},
	{"name = \"\xff\"", `d.toml:1: text`},
}

func TestBadFiles(t *testing.T) {
	for _, test := range bad {
		d, err := Read("d.toml", []byte(test.file))
		if err == nil {
			t.Errorf("%q is read as %+v, want %s", test.file, d, test.want)
			continue
		}
		var problems tomlfile.Problems
		if !errors.As(err, &problems) || len(problems) != 1 || !strings.HasPrefix(err.Error(), test.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q\n got %v\nwant %s", test.file, err, test.want)
		}
	}
}

func TestEveryFaultIsReported(t *testing.T) {
	_, err := Read("d.toml", []byte("carriers = 0\ncolour = 1\n[[band]]\nband = \"n780\"\nlayers = 9\n[[band]]\n"))
	var problems tomlfile.Problems
	if !errors.As(err, &problems) {
		t.Fatal(err)
	}
	var lines []int
	for _, p := range problems {
		lines = append(lines, p.Line)
	}
	if diff := cmp.Diff([]int{1, 2, 4, 5, 6}, lines); diff != "" {
		t.Errorf("%v\n%s", err, diff)
	}
}

// Whatever is in a file, it is read or refused in lines that say where, and a device
// that was read can be served.
func FuzzRead(f *testing.F) {
	data, err := os.ReadFile(example)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(data))
	for _, b := range bad {
		f.Add(b.file)
	}
	carriers, err := ca.Parse("B3:20 + B20:10 + n28:10 + n78:100 + n78:80")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := Read("d.toml", []byte(s))
		if err != nil {
			for line := range strings.SplitSeq(err.Error(), "\n") {
				if !strings.HasPrefix(line, "d.toml:") {
					t.Errorf("%q: line %q says no place", s, line)
				}
			}
			return
		}
		full, _ := d.FillIn(carriers)
		r, err := throughput.Rate(ca.Assess(full))
		if err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		served := d.Serve(r)
		if len(served.Carriers) > len(carriers) {
			t.Errorf("%q: %s", s, served.Carriers)
		}
	})
}
