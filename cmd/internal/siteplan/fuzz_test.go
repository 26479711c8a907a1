package siteplan

import (
	"reflect"
	"testing"

	"spectally/cmd/internal/badfiles"
)

// FuzzRead: the reader never panics; what it refuses comes with problems on lines of
// the file, in order and each on one line; what it takes can be worked out, and is read
// twice alike.
func FuzzRead(f *testing.F) {
	f.Add([]byte(Demo()))
	f.Add([]byte(Template()))
	for _, b := range badfiles.Read(f, badPlansFile) {
		f.Add([]byte(b.Text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Read("fuzz.toml", data)
		if err != nil {
			if p != nil {
				t.Fatalf("a plan beside the error %v", err)
			}
			badfiles.CheckProblems(t, "fuzz", err, string(data))
			return
		}
		checkPlan(t, p)
		again, err := Read("fuzz.toml", data)
		if err != nil || !reflect.DeepEqual(p, again) {
			t.Fatalf("read twice with different results, %v", err)
		}
	})
}
