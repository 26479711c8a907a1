package fieldlog

import (
	"strings"
	"testing"

	"spectally/cmd/internal/render"
)

func TestRadios(t *testing.T) {
	for _, test := range []struct {
		network         string
		layers, phones  int
		assumed         bool
		statements      int
		words           string
		carrierLayers   int
		layersOfCarrier string // what the rates say they rest on
	}{
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '64T64R'\n", 4, 16, false, 2, "up to 16 such phones", 4, "the device has 4 receive antennas"},
		{"[[network.radio]]\nports = '8T8R'\n", 4, 2, true, 2, "(as the standard asks for; the log does not say)", 4, "four receive antenna ports in this band"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '2T2R'\n", 2, 1, false, 1, "as many as there are transmit ports; it has 4 receive antennas", 2, "the radio has 2 transmit ports connected"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '8T8R'\nconnected = [1, 2]\nantenna = 'omni'\n", 2, 1, false, 2, "2 of 8 transmit ports are connected", 2, "the radio has 2 transmit ports connected"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '8T8R'\nconnected = 0\n", 0, 0, false, 2, "serves nobody", 4, "the device has 4 receive antennas"},
		{"device = { receive_antennas = 1 }\n[[network.radio]]\nports = '8T8R'\nconnected = 6\n", 1, 6, false, 3, "it has 1 receive antenna.", 1, "the device has 1 receive antenna"},
		{"device = { receive_antennas = 2 }\n[[network.radio]]\nports = '3T4R'\n", 2, 1, false, 2, "add power and diversity", 2, "the device has 2 receive antennas"},
		{"device = { receive_antennas = 16 }\n[[network.radio]]\nports = '32T32R'\n", 8, 4, false, 2, "at most 8 layers", 8, "the device has 16 receive antennas"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '8T8R'\nantenna = 'omni'\n", 4, 2, false, 3, "An omni antenna seldom gives more than two ports", 4, "the device has 4 receive antennas"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '2T2R'\nbands = ['B3']\n", 2, 1, false, 1, "", 4, "the device has 4 receive antennas"},
		{"[[network.radio]]\nports = '2T2R'\nbands = ['B3']\n", 2, 1, true, 1, "2 receive antennas (as", 4, "four receive antenna ports in this band"},
	} {
		n := analysed(t, "carriers = 'n78:100'\n"+test.network)
		r := &n.Radios[0]
		if r.PhoneLayers != test.layers || r.Phones != test.phones || r.Assumed != test.assumed || len(r.Statements) != test.statements || !strings.Contains(strings.Join(r.Statements, "\n"), test.words) {
			t.Errorf("%s%+v", test.network, r)
		}
		if got := n.Carriers[0].Downlink.Layers; got != test.carrierLayers {
			t.Errorf("%s%d layers, want %d", test.network, got, test.carrierLayers)
		}
		said := ""
		for _, a := range n.Assumptions {
			said += a.Text + "\n"
		}
		if !strings.Contains(said, test.layersOfCarrier) {
			t.Errorf("%s%q not said among\n%s", test.network, test.layersOfCarrier, said)
		}
	}
}

func TestDevice(t *testing.T) {
	n := analysed(t, "carriers = 'B3:20 + n78:100 + n258:100 + n75:20'\ndevice = { receive_antennas = 4, transmit_antennas = 1, qam = 1024, ulqam = 256 }\n")
	for i, want := range []int{1024, 1024, 256, 1024} { // FR2 has no 1024QAM
		if got := n.Carriers[i].Downlink.QAM; got != want {
			t.Errorf("%s: %dQAM, want %d", n.Carriers[i].Band, got, want)
		}
	}
	if n.Carriers[0].Uplink.QAM != 256 || n.Carriers[3].Uplink != nil {
		t.Errorf("uplinks %+v, %+v", n.Carriers[0].Uplink, n.Carriers[3].Uplink)
	}
	// What the carriers say goes before what the device can.
	n = analysed(t, "carriers = 'n78:100,layers=2,qam=64,ulqam=16,ullayers=2'\ndevice = { receive_antennas = 4, transmit_antennas = 1, qam = 256, ulqam = 64 }\n")
	if c := n.Carriers[0]; c.Downlink.Layers != 2 || c.Downlink.QAM != 64 || c.Uplink.QAM != 16 || c.Downlink.LayersAssumed {
		t.Errorf("%+v, %+v", c.Downlink, c.Uplink)
	}
	if f := findings(n, "device-layers"); len(f) != 1 || !strings.Contains(f[0].Message, "2 layers in the uplink are written down, but the device has 1 transmit antenna.") || *f[0].Carrier != 1 {
		t.Errorf("findings %+v", f)
	}
	n = analysed(t, "carriers = 'n78:100,layers=4'\ndevice = { receive_antennas = 2 }\n[[network.radio]]\nports = '2T2R'\n")
	if f := append(findings(n, "device-layers"), findings(n, "radio-layers")...); len(f) != 2 || !strings.Contains(f[0].Message, "no more layers than it has receive antennas") || !strings.Contains(f[1].Message, "the radio has 2 transmit ports") {
		t.Errorf("findings %+v", f)
	}
}

func findings(n *NetworkReport, rule string) []render.FindingValue {
	var list []render.FindingValue
	for _, f := range n.Findings {
		if f.Rule == rule {
			list = append(list, f)
		}
	}
	return list
}

// A device of reduced capability has the rates of its kind: eRedCap on 20 MHz at 15 kHz 10.70055
// Mbit/s down (TS 38.306 clauses 4.1.2 and 4.2.22.2), of 25 resource blocks.
func TestReducedCapability(t *testing.T) {
	l, err := Read("sensor.toml", []byte("title = \"x\"\n[[network]]\nname = \"North\"\ndevice = { kind = \"eredcap\", receive_antennas = 1 }\ncarriers = \"n1:20,scs=15\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	n := Analyse(l).Networks[0]
	if n.PeakError != "" || n.Downlink.Max == nil || *n.Downlink.Max != "10.70055" {
		t.Errorf("%v, %q", n.Downlink.Max, n.PeakError)
	}
	found := false
	for _, a := range n.Assumptions {
		found = found || strings.Contains(a.Text, "25 resource blocks")
	}
	if !found {
		t.Errorf("%+v", n.Assumptions)
	}
}

// TestAntennasByBand: how many layers the antennas of a device give depends on the band.
// TS 38.101-1 V19.5.0 Table 7.3.2-2 and its like have requirements for up to 8 receive
// ports in n78 and n1, for 4 in n40, for no more than 2 in n75; FR2 has two polarisations
// and phones have two antennas below 1 GHz (common practice, no source).
func TestAntennasByBand(t *testing.T) {
	for _, test := range []struct {
		carrier  string
		antennas string
		layers   int
		say      string
	}{
		{"n78:100", "4", 4, "the device has 4 receive antennas"},
		{"n78:100", "8", 8, "the device has 8 receive antennas"},
		{"n40:80", "8", 4, "the most receive ports with a requirement in this band"},
		{"n1:20", "4", 4, "the device has 4 receive antennas"},
		{"n75:20", "4", 2, "the most receive ports with a requirement in this band"},
		{"n28:10", "4", 2, "below 1 GHz"},
		{"n28:10", "1", 1, "the device has 1 receive antenna"},
		{"n28:10,layers=4", "4", 4, ""},
		{"B20:10", "4", 2, "below 1 GHz"},
		{"B3:20", "4", 4, "the device has 4 receive antennas"},
		{"n260:100", "4", 2, "two polarisations"},
		{"n260:100,layers=4", "4", 4, ""},
	} {
		n := analysed(t, "carriers = '"+test.carrier+"'\ndevice = { receive_antennas = "+test.antennas+" }\n")
		said := ""
		for _, a := range n.Assumptions {
			if strings.Contains(a.Text, "downlink "+counted(test.layers, "layer")) {
				said = a.Text
			}
		}
		if got := n.Carriers[0].Downlink.Layers; got != test.layers || !strings.Contains(said, test.say) {
			t.Errorf("%s with %s antennas: %d layers, %q; want %d, %q", test.carrier, test.antennas, got, said, test.layers, test.say)
		}
	}
	n := analysed(t, "carriers = 'n258:100'\ndevice = { qam = 1024 }\n")
	said := ""
	for _, a := range n.Assumptions {
		said += a.Text + "\n"
	}
	if !strings.Contains(said, "n258 downlink 256QAM (the device's 1024QAM is for FR1)") {
		t.Errorf("1024QAM becomes 256QAM without a word:\n%s", said)
	}
}
