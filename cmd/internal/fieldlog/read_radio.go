package fieldlog

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/tomlfile"
)

func readRadio(t *tomlfile.Table) Radio {
	var r Radio
	r.Name, _ = t.Text("name", tomlfile.Optional, "a line of text")
	const allowed = `transmit and receive ports such as "8T8R", 1 to 1024 each`
	if s, ok := t.Text("ports", tomlfile.Required, allowed); ok {
		if r.Transmit, r.Receive, ok = parsePorts(s); !ok {
			t.Refuse("ports", s, allowed)
		}
	}
	r.Antenna, _ = t.Choice("antenna", "omni", "sector", "panel", "indoor")
	readConnected(t, &r)
	for _, s := range readList(t, "bands", `bands such as ["n78", "B3"]`) {
		id, err := bands.ParseID(s)
		if err == nil {
			_, err = bands.Lookup(id)
		}
		if err != nil {
			t.Report("bands", tomlfile.Renamed(err, "bands"))
			continue
		}
		r.Bands = append(r.Bands, id)
	}
	r.Notes = t.Prose("notes", "text")
	t.Finish()
	return r
}

const maxPorts = 1024

// parsePorts reads "8T8R". Letter case does not matter.
func parsePorts(s string) (transmit, receive int, ok bool) {
	t, r, ok := strings.Cut(strings.ToUpper(s), "T")
	r, suffix := strings.CutSuffix(r, "R")
	transmit, errT := strconv.Atoi(t)
	receive, errR := strconv.Atoi(r)
	ok = ok && suffix && errT == nil && errR == nil && strings.Trim(t+r, "0123456789") == ""
	return transmit, receive, ok && 1 <= transmit && transmit <= maxPorts && 1 <= receive && receive <= maxPorts
}

func readList(t *tomlfile.Table, key, allowed string) []string {
	list, _ := t.List(key, allowed)
	return list
}

// readConnected reads which ports are connected: how many, or their numbers.
func readConnected(t *tomlfile.Table, r *Radio) {
	most := max(r.Transmit, r.Receive)
	if most == 0 {
		most = maxPorts
	}
	allowed := "a number of ports from 0 to " + strconv.Itoa(most) + ", or a list of port numbers such as [1, 2]"
	list, ok := t.List("connected", allowed)
	if !ok {
		return
	}
	numbers := make([]int, len(list))
	for i, s := range list {
		n, err := strconv.Atoi(s)
		if err != nil || n < 0 || n > most || n == 0 && t.KindOf("connected") == tomlfile.Array || slices.Contains(numbers[:i], n) {
			t.Refuse("connected", s, allowed)
			return
		}
		numbers[i] = n
	}
	r.HasConnected = true
	if t.KindOf("connected") != tomlfile.Array {
		r.Connected = min(numbers[0], r.Transmit)
		return
	}
	r.Ports = numbers
	for _, n := range numbers {
		if n <= r.Transmit {
			r.Connected++
		}
	}
}
