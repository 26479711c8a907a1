package imports

import "time"

// isMoment tells whether a text is a point in time as a field log takes it.
func isMoment(s string) bool {
	for _, form := range []string{"15:04", "15:04:05", time.DateOnly, "2006-01-02 15:04", "2006-01-02 15:04:05", "2006-01-02T15:04:05", "2006-01-02T15:04:05Z07:00"} {
		if _, err := time.Parse(form, s); err == nil {
			return true
		}
	}
	return false
}
