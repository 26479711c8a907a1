package tomlfile

import "time"

// Date returns a date that may be given, as "2031-05-14"; empty if it is not.
func (t *Table) Date(key string) string {
	const allowed = "a date such as 2031-05-14"
	s, ok := t.Moment(key, Optional, allowed)
	if !ok {
		return ""
	}
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		t.Refuse(key, s, allowed)
	}
	return s
}
