package batch

import (
	"bytes"
	"strings"
	"testing"
	"testing/iotest"
)

// Whatever the input: the run comes to an end or says why not, every row is counted
// once, and what comes out depends neither on how much is read at once nor on how many
// work at it.
func FuzzRows(f *testing.F) {
	for _, s := range []string{
		"carriers,down\nn78:80,5\n\"B3:20,layers=2\",x\n", "carriers\r\nn78:80\r\n\r\n\"open\nn1:20\n", "\xef\xbb\xbf{\"carriers\":\"n78:80\"}\n{}\n[]\n\n{\"carriers\":\"CA_3A-7A\",\"down\":3}",
		"a;carriers\n1;n78:80\n", "carriers\n\"a\"\"\nb\"\nn78:80\x00\n", "x\n", "", "\n\n{\"down\":1,\"down\":2}", "carriers\n" + strings.Repeat("n28:10\n", 30), "carriers\n\"" + strings.Repeat("x\n", 99),
	} {
		f.Add([]byte(s), uint8(1))
		f.Add([]byte(s), uint8(40))
	}
	f.Fuzz(func(t *testing.T, text []byte, chunk uint8) {
		want, wantRejects, wantSum, wantErr := answerAll(t, bytes.NewReader(text), Settings{Workers: 1})
		got, rejects, sum, err := answerAll(t, iotest.HalfReader(bytes.NewReader(text)), Settings{Workers: 3, chunk: 1 + int(chunk)})
		if (err == nil) != (wantErr == nil) || err != nil && err.Error() != wantErr.Error() {
			t.Fatalf("%q: %v, in chunks of %d %v", text, wantErr, 1+int(chunk), err)
		}
		if got != want || rejects != wantRejects || sum.Counts != wantSum.Counts {
			t.Fatalf("%q: in chunks of %d\n%q\n%q, whole\n%q\n%q", text, 1+int(chunk), got, rejects, want, wantRejects)
		}
		if sum.Rows != sum.Valid+sum.Invalid+sum.Rejected {
			t.Fatalf("%q: counts %+v", text, sum.Counts)
		}
	})
}
