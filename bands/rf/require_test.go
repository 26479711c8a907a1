package rf

import (
	"slices"
	"testing"

	"spectally/bands"
)

func TestReceivers(t *testing.T) {
	handheld := UE{PowerClass: "3", ReceivePorts: 2}
	for _, test := range []struct {
		name           string
		ue             UE
		station        StationClass // none: the UE
		spacing, width bands.Frequency
		level          bands.DB
		tables         []string
	}{
		// TS 38.101-1 V19.5.0 Tables 7.3.2-1b, -2 (-2.2 dB), -2aa (-3.0 dB handheld, -3.3 dB
		// FWA), -1a, -1c (0.5 dB).
		{"n78", handheld, "", 30, 100, -8550, []string{"7.3.2-1b"}},
		{"n78", UE{"3", 4}, "", 30, 100, -8770, []string{"7.3.2-1b", "7.3.2-2"}},
		{"n78", UE{"3", 6}, "", 30, 100, -8850, []string{"7.3.2-1b", "7.3.2-2aa"}},
		{"n71", handheld, "", 15, 35, -6400, []string{"7.3.2-1a"}}, // the weaker of -80.7 and -64.0
		{"n71", UE{"3", 4}, "", 15, 5, -9960, []string{"7.3.2-1a", "7.3.2-2"}},
		{"n3", handheld, "", 15, 20, -9080, []string{"7.3.2-1a"}},
		{"n3", UE{"2", 2}, "", 15, 20, -9030, []string{"7.3.2-1a", "7.3.2-1c"}},
		{"n71", UE{"2", 2}, "", 15, 5, -9670, []string{"7.3.2-1a", "7.3.2-1c"}},
		// TS 38.104 V19.4.0 Tables 7.2.2-1, -2, -3, -1a.
		{"n78", handheld, WideArea, 30, 100, -9560, []string{"7.2.2-1"}},
		{"n78", handheld, MediumRange, 30, 100, -9060, []string{"7.2.2-2"}},
		{"n78", handheld, LocalArea, 30, 100, -8760, []string{"7.2.2-3"}},
		{"n104", handheld, WideArea, 30, 100, -9460, []string{"7.2.2-1a"}},
		{"n3", handheld, WideArea, 15, 10, -10170, []string{"7.2.2-1"}},
	} {
		id, err := bands.ParseID(test.name)
		if err != nil {
			t.Fatal(err)
		}
		spacing, width := test.spacing*bands.KHz, test.width*bands.MHz
		r, err := test.ue.Receiver(id, spacing, width)
		if test.station != "" {
			r, err = test.station.Receiver(id, spacing, width)
		}
		var tables []string
		for _, s := range r.Sources {
			tables = append(tables, s.Table)
		}
		if err != nil || r.Level != test.level || !slices.Equal(tables, test.tables) || (r.Channel != "") != (test.station != "") {
			t.Errorf("%s %v %s: %+v, %v", test.name, test.ue, test.station, r, err)
		}
	}
}

// TS 38.101-1 V19.5.0 Table 6.2.1-1.
func TestPowerOfUE(t *testing.T) {
	for _, test := range []struct {
		band, class string
		level       bands.DB
		fault       string
	}{
		{"n78", "3", 2300, ""},
		{"n41", "1.5", 2900, ""},
		{"n20", "2", 0, `UE power class in n20 "2": must be 3 (TS 38.101-1 Table 6.2.1-1)`},
		{"B3", "3", 0, `band for UE output power "B3": must be an NR band in FR1 with an entry in the tables here`},
	} {
		id, err := bands.ParseID(test.band)
		if err != nil {
			t.Fatal(err)
		}
		p, err := UE{test.class, 2}.Power(id)
		got := ""
		if err != nil {
			got = err.Error()
		}
		if p.Level != test.level || got != test.fault {
			t.Errorf("%s class %s: %v, %s", test.band, test.class, p.Level, got)
		}
	}
}

func TestReceiverFaults(t *testing.T) {
	n78, b3 := bands.ID{RAT: bands.NR, Number: 78}, bands.ID{RAT: bands.LTE, Number: 3}
	for want, ask := range map[string]func() (Receiver, error){
		`channel for UE REFSENS "n78:5 at 15 kHz": must be a width and spacing with an entry in the tables here`: func() (Receiver, error) {
			return UE{"3", 2}.Receiver(n78, 15*bands.KHz, 5*bands.MHz)
		},
		`receive ports of a UE in n78 "3": must be 2, or more for which the tables have a figure`: func() (Receiver, error) {
			return UE{"3", 3}.Receiver(n78, 30*bands.KHz, 100*bands.MHz)
		},
		`band for UE REFSENS "B3": must be an NR band in FR1 with an entry in the tables here`: func() (Receiver, error) {
			return UE{"3", 2}.Receiver(b3, 15*bands.KHz, 20*bands.MHz)
		},
		`channel for local-area base station REFSENS "n78:100 at 15 kHz": must be a width and spacing with an entry in the tables here`: func() (Receiver, error) {
			return LocalArea.Receiver(n78, 15*bands.KHz, 100*bands.MHz)
		},
	} {
		if _, err := ask(); err == nil || err.Error() != want {
			t.Errorf("%v; want %s", err, want)
		}
	}
}

// The reference channels of a width have the same power, so that any of them may stand for
// it (TS 38.104 V19.4.0 clause 7.2.2, TS 36.104 Table 7.2.1-1).
func TestReferenceChannelsAgree(t *testing.T) {
	type channel struct {
		bands          string
		class          StationClass
		spacing, width bands.Frequency
		source         bands.Source
	}
	levels, several := make(map[channel]bands.DB), 0
	for _, s := range StationIn(none) {
		key := channel{s.Bands, s.Class, s.Spacing, s.Width, s.Source}
		level, known := levels[key]
		if known {
			several++
		}
		if known && level != s.Level {
			t.Errorf("%+v: %v and %v", key, level, s.Level)
		}
		levels[key] = s.Level
	}
	if several < 20 {
		t.Errorf("only %d widths with several channels", several)
	}
}
