package fieldlog

import (
	"reflect"
	"testing"
)

// FuzzRead: the reader never panics; what it refuses comes with problems on lines of
// the file, in order and each on one line; what it takes can be analysed, twice alike.
func FuzzRead(f *testing.F) {
	f.Add([]byte(Demo()))
	f.Add([]byte(Template()))
	for _, b := range readBadLogs(f) {
		f.Add([]byte(b.log))
	}
	for _, h := range hostile {
		f.Add([]byte("title = '''" + h + "'''\n[[network]]\nname = 'n'\ncarriers = 'n78:20'\n"))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := Read("fuzz.toml", data)
		if err != nil {
			if l != nil {
				t.Fatalf("a log beside the error %v", err)
			}
			checkProblems(t, "fuzz", err, string(data))
			return
		}
		r := Analyse(l)
		checkReport(t, r)
		if !reflect.DeepEqual(r, Analyse(l)) {
			t.Fatal("analysed twice with different results")
		}
	})
}
