package siteplan

import (
	"slices"
	"strconv"

	"spectally/bands/rf"
	"spectally/cmd/internal/tomlfile"
	"spectally/cmd/internal/words"
	"spectally/throughput/propagation"
)

const bySensitivity = "refsens"

// readRequirement reads whether and for which ends the standard's REFSENS is asked for.
func readRequirement(t *tomlfile.Table, c *propagation.Coverage) {
	q := propagation.DefaultRequirement()
	word, _ := t.Choice("sensitivity", "budget", bySensitivity)
	if class, ok := t.Choice("bs_class", string(rf.WideArea), string(rf.MediumRange), string(rf.LocalArea)); ok {
		q.Station = rf.StationClass(class)
	}
	if class, ok := readOneOf(t, "user_power_class", "1", "1.5", "2", "3"); ok {
		q.UE.PowerClass = class
	}
	if ports, ok := readOneOf(t, "user_receive_ports", "2", "4", "6", "8"); ok {
		q.UE.ReceivePorts, _ = strconv.Atoi(ports)
	}
	if word == bySensitivity {
		c.Requirement = &q
		return
	}
	for _, key := range []string{"bs_class", "user_power_class", "user_receive_ports"} {
		if t.Has(key) && (word != "" || !t.Has("sensitivity")) {
			t.Conflict(key, key+` without sensitivity = "refsens"`, "both, or none of them")
		}
	}
}

// readOneOf reads one of a few numbers.
func readOneOf(t *tomlfile.Table, key string, list ...string) (string, bool) {
	got, ok := t.Single(key, tomlfile.Optional, words.Or(list))
	if ok && !slices.Contains(list, got) {
		t.Refuse(key, got, words.Or(list))
		return "", false
	}
	return got, ok
}
