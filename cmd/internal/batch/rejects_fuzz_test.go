package batch

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"strings"
	"testing"
	"unicode/utf8"
)

// FuzzRejects sends anything as rows: what cannot be used comes out once, with the bytes
// that it had.
func FuzzRejects(f *testing.F) {
	for _, s := range []string{"n78:80\nbad\n", "\"n78\n", "a\xffb\r\n\"q\"\"\"\n", "{\"carriers\":\"x\xff\\\"\"}\n{}\n[\n", "\x00\x7f\n", "n78:80,x\n=1\n"} {
		f.Add([]byte(s), true)
		f.Add([]byte(s), false)
	}
	f.Fuzz(func(t *testing.T, text []byte, inJSON bool) {
		set, in := Settings{Rows: CSV, Columns: []string{"carriers"}, Workers: 1, chunk: 64}, bytes.NewReader(text)
		if inJSON {
			set.Rows, set.Columns = JSONLines, nil
		}
		_, rejects, sum, err := answerAll(t, in, set)
		if err != nil {
			return // no rows at all: another encoding
		}
		if sum.Rows != sum.Valid+sum.Invalid+sum.Rejected {
			t.Fatalf("%+v", sum.Counts)
		}
		rows := csvRejects
		if inJSON {
			rows = jsonRejects
		}
		list := rows(t, rejects)
		if int64(len(list)) != sum.Rejected {
			t.Fatalf("%d rejects of %d in %q", len(list), sum.Rejected, rejects)
		}
		for _, row := range list {
			if !bytes.Contains(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")), []byte(strings.ReplaceAll(row, "\r\n", "\n"))) {
				t.Fatalf("%q is not among the rows %q", row, text)
			}
		}
	})
}

func csvRejects(t *testing.T, rejects string) (rows []string) {
	r := csv.NewReader(strings.NewReader(rejects))
	for {
		fields, err := r.Read()
		if err == io.EOF {
			return rows[1:] // the first is the header
		}
		if err != nil || len(fields) != len(rejectColumns) {
			t.Fatalf("%q, %v in %q", fields, err, rejects)
		}
		rows = append(rows, fields[2])
	}
}

func jsonRejects(t *testing.T, rejects string) (rows []string) {
	for line := range strings.Lines(rejects) {
		var r Reject
		if err := json.Unmarshal([]byte(line), &r); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		if !utf8.ValidString(line) { // a lenient reader has put U+FFFD in the place of bytes
			_, row, _ := strings.Cut(line, `"row":"`)
			row = strings.TrimSuffix(row, "\"}\n")
			r.Row = ""
			for row != "" {
				n := 1
				if row[0] == '\\' {
					if n = 2; row[1] == 'u' {
						n = 6
					}
					var s string
					if err := json.Unmarshal([]byte(`"`+row[:n]+`"`), &s); err != nil {
						t.Fatal(err)
					}
					r.Row += s
				} else {
					r.Row += row[:1]
				}
				row = row[n:]
			}
		}
		rows = append(rows, r.Row)
	}
	return rows
}
