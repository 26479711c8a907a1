package bands

import (
	"encoding/json"
	"testing"

	"spectally/cmd/internal/commandtest"
)

// TS 38.101-1 V19.5.0 Tables 7.3.2-1b, 7.3.2-2, 6.2.1-1 and its change history.
func TestRadioOfN78(t *testing.T) {
	var list []struct {
		Sensitivities []struct {
			MHz json.Number `json:"mhz"`
			KHz json.Number `json:"scs_khz"`
			DBm json.Number `json:"dbm"`
		} `json:"refsens"`
		Ports []struct {
			Ports int         `json:"ports"`
			Delta json.Number `json:"delta_db"`
		} `json:"receive_ports"`
		Powers []struct {
			Class string      `json:"power_class"`
			DBm   json.Number `json:"dbm"`
		} `json:"ue_power"`
		Since struct {
			Release  int    `json:"release"`
			Evidence string `json:"evidence"`
		} `json:"since"`
	}
	if err := json.Unmarshal([]byte(commandtest.Must(t, Command(), "bands", "n78", "--format", "json")), &list); err != nil || len(list) != 1 {
		t.Fatal(err)
	}
	b := &list[0]
	found := 0
	for _, s := range b.Sensitivities {
		if s.KHz == "30" && (s.MHz == "20" && s.DBm == "-92.8" || s.MHz == "100" && s.DBm == "-85.5") {
			found++
		}
	}
	if found != 2 || len(b.Ports) == 0 || b.Ports[0].Ports != 4 || b.Ports[0].Delta != "-2.2" {
		t.Errorf("%+v", b)
	}
	if len(b.Powers) != 4 || b.Powers[3].Class != "3" || b.Powers[3].DBm != "23" || b.Since.Release != 15 || b.Since.Evidence != "at latest" {
		t.Errorf("power %+v, since %+v", b.Powers, b.Since)
	}
}
