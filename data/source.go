package data

import "strings"

// Source says where a row was read, closely enough to check it by hand:
// a specification, its version, and a table number ("5.2-1") or another
// place in it ("clause 5.4A.1").
type Source struct{ Spec, Version, Table string }

// String writes s as the trade cites it: "TS 38.101-1 V19.5.0 Table 5.2-1",
// "ITU-R M.2410-0 clause 4.5". Parts that are empty are left out.
func (s Source) String() string {
	parts := make([]string, 0, 3)
	if s.Spec != "" {
		parts = append(parts, s.Spec)
	}
	switch {
	case s.Version == "":
	case strings.HasPrefix(s.Spec, "ITU-R"): // a Report counts its revisions behind a hyphen
		parts[0] += "-" + s.Version
	default:
		parts = append(parts, "V"+s.Version)
	}
	if s.Table != "" {
		parts = append(parts, s.Place())
	}
	return strings.Join(parts, " ")
}

// Short writes s without the version: "TS 38.101-1 Table 5.2-1".
func (s Source) Short() string {
	return strings.TrimSpace(s.Spec + " " + s.Place())
}

// Place writes the place alone: "Table 5.2-1" or "clause 5.4A.1".
func (s Source) Place() string {
	if s.Table != "" && s.Table[0] >= '0' && s.Table[0] <= '9' {
		return "Table " + s.Table
	}
	return s.Table
}
