package siteplan

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/tomlfile"
)

// Vary writes a plan anew with some of its keys set. A setting is KEY=VALUE, with the
// table before the key: "load_percent=80", "backhaul.link=10 Gbit/s",
// "sector.town.count=2", "sector.town.carriers=n78:100 + B3:20" where the sector has one
// radio, else "sector.town.radio.NAME.carriers=…". A sector and a radio may be called by
// their numbers, counted from 1. What is no number and no word of TOML becomes text.
func Vary(plan string, settings ...string) (string, error) {
	for _, s := range settings {
		var err error
		if plan, err = vary(plan, s); err != nil {
			return "", err
		}
	}
	return plan, nil
}

const settingForm = "KEY=VALUE, such as load_percent=80, backhaul.link=10 Gbit/s or sector.NAME.carriers=n78:100"

func vary(plan, setting string) (string, error) {
	path, value, ok := strings.Cut(setting, "=")
	words := strings.Split(strings.TrimSpace(path), ".")
	refuse := func(allowed, nearest string) (string, error) {
		return "", &bands.ValueError{Param: "setting", Got: tomlfile.Shorten(setting), Allowed: allowed, Nearest: nearest}
	}
	if !ok || words[len(words)-1] == "" {
		return refuse(settingForm, "")
	}
	key := words[len(words)-1]
	lines := strings.Split(plan, "\n")
	list := sectionsOf(lines)
	var in *section
	switch {
	case len(words) == 1:
		in = &list[0]
	case words[0] != "sector" && len(words) == 2:
		for i := range list {
			if list[i].header == words[0] {
				in = &list[i]
			}
		}
		if in == nil { // the table is new
			lines = append(lines, "["+words[0]+"]")
			in = &section{start: len(lines), end: len(lines)}
		}
	case words[0] == "sector" && len(words) >= 3:
		sector, names := find(list, "sector", 0, words[1])
		if sector == nil {
			return refuse("a sector of the plan: "+strings.Join(names, ", "), tomlfile.Nearest(words[1], names))
		}
		in = sector
		if len(words) == 3 && !ofSector[key] {
			words = []string{"sector", words[1], "radio", "", key}
		}
		if len(words) == 5 && words[2] == "radio" {
			if in, names = find(list, "sector.radio", sector.number, words[3]); in == nil {
				return refuse("a radio of the sector, as sector."+words[1]+".radio.NAME."+key+": "+strings.Join(names, ", "), "")
			}
		}
	}
	if in == nil {
		return refuse(settingForm, "")
	}
	entry := key + " = " + tomlValue(strings.TrimSpace(value))
	for i := in.start; i < in.end; i++ {
		if name, _, ok := strings.Cut(lines[i], "="); ok && strings.TrimSpace(name) == key {
			lines[i] = entry
			return strings.Join(lines, "\n"), nil
		}
	}
	lines = append(lines[:in.start:in.start], append([]string{entry}, lines[in.start:]...)...)
	return strings.Join(lines, "\n"), nil
}

// ofSector are the keys that a sector has itself; all others are of its radio.
var ofSector = map[string]bool{"name": true, "count": true, "environment": true, "load_percent": true, "ul_load_percent": true}

// section is the lines of a table, from start up to end, counted from 0.
type section struct {
	header     string
	start, end int
	number     int    // of the sector, counted from 1; of a radio: of its sector
	name       string // that the table gives itself
}

// sectionsOf finds the tables of a plan; the first has the keys before any header.
func sectionsOf(lines []string) []section {
	list := []section{{end: len(lines)}}
	sectors := 0
	for i, line := range lines {
		text := strings.TrimSpace(line)
		last := &list[len(list)-1]
		if strings.HasPrefix(text, "[") && !strings.Contains(text, "=") {
			header, _, _ := strings.Cut(strings.TrimLeft(text, "["), "]")
			header = strings.TrimSpace(header)
			if header == "sector" {
				sectors++
			}
			last.end = i
			list = append(list, section{header: header, start: i + 1, end: len(lines), number: sectors})
			continue
		}
		if key, value, ok := strings.Cut(text, "="); ok && strings.TrimSpace(key) == "name" {
			value, _, _ = strings.Cut(strings.TrimLeft(strings.TrimSpace(value), `"'`), `"`)
			last.name = value
		}
	}
	return list
}

// find finds a table by its name or number among those of a sector, 0 for all; no name
// finds the only one. It returns the names that there are.
func find(list []section, header string, sector int, name string) (found *section, names []string) {
	count := 0
	for i := range list {
		s := &list[i]
		if s.header != header || sector != 0 && s.number != sector {
			continue
		}
		count++
		if s.name != "" {
			names = append(names, s.name)
		} else {
			names = append(names, strconv.Itoa(count))
		}
		if strings.EqualFold(s.name, name) && name != "" || name == strconv.Itoa(count) {
			return s, names
		}
		found = s
	}
	if name == "" && count == 1 {
		return found, names
	}
	return nil, names
}

// tomlValue writes a value as TOML has it.
func tomlValue(s string) string {
	if _, err := strconv.ParseFloat(s, 64); err == nil || s == "true" || s == "false" || s != "" && strings.ContainsAny(s[:1], `"'[{`) {
		return s
	}
	return strconv.Quote(s)
}
