package batch

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"
)

func testJSONForm(t testing.TB) *jsonForm {
	t.Helper()
	f, err := newJSONForm(newStyle(JSONLines, ',', ""), &Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// readJSON reads one line.
func readJSON(f *jsonForm, line string) (*row, bool) {
	r := &row{}
	f.next([]byte(line), r)
	return r, len(r.text) > 0 && f.fields(r, marks{true, true})
}

func TestJSONRows(t *testing.T) {
	f := testJSONForm(t)
	for _, test := range []struct {
		line, carriers string
		down           uint64
		reason         string // its beginning; empty where the row is good
	}{
		{`{"carriers":"n78:80","down":412.5}`, "n78:80", 4125, ""},
		{` { "x" : {"carriers":[1,"}",{}]} , "carriers" : " n78:80 " , "down" : "12" } `, "n78:80", 12, ""},
		{`{"carriers":"n78:80 \u002b n28:10","down":null}`, "n78:80 + n28:10", 0, ""},
		{`{"c\u0061rriers":"n78:80"}`, "n78:80", 0, ""},
		{`{"down":1e3,"carriers":"n78:80"}`, "", 0, `down "1e3": must be a plain decimal`},
		{`{"down":"1,5","carriers":"n78:80"}`, "", 0, `down "1,5": must be a decimal point, not a decimal comma; closest is 1.5`},
		{`{"down":[1],"carriers":"n78:80"}`, "", 0, `down "[1]": must be`},
		{`{"down":-1,"carriers":"n78:80"}`, "", 0, `down "-1": must be`},
		{`{"carriers":3}`, "", 0, `carriers "3": must be a JSON string`},
		{`{"carriers":"a","carriers":"b"}`, "", 0, "the key of carriers stands in the row twice"},
		{`{"carriers":"n78:80","valid":1}`, "", 0, "the row has a key that is to be added"},
		{`{"carriers":"n78:80"`, "", 0, "not JSON: unexpected end"},
		{`{"carriers":"n78:80"} {}`, "", 0, "not JSON: invalid character '{'"},
		{`["n78:80"]`, "", 0, "not an object"},
		{`null`, "", 0, "not an object"},
		{"{\"carriers\":\"n78:80\xff\"}", "", 0, "not UTF-8"},
		{"{\"carriers\":\"n78:80\x00\"}", "", 0, "a NUL byte"},
	} {
		r, ok := readJSON(f, test.line)
		switch {
		case ok != (test.reason == ""), !strings.HasPrefix(r.reason, test.reason):
			t.Errorf("%s: %v, %q; want %q", test.line, ok, r.reason, test.reason)
		case ok && (string(r.carriers) != test.carriers || r.figures[down].coefficient != test.down):
			t.Errorf("%s: carriers %q, down %+v", test.line, r.carriers, r.figures[down])
		}
	}
}

// A line is good exactly if encoding/json reads an object with the fields of a row
// from it, and gives the same carriers; and with an answer it is still that object,
// with more keys.
func FuzzJSONRow(f *testing.F) {
	for _, s := range []string{
		`{"carriers":"n78:80","down":412.5,"up":"3","latency":20}`, `{"carriers":"B3:20 \u002b n78:80","x":[{"y":"\\\""}],"z":-1.5e-3}`,
		`{}`, `{"a":{"carriers":1},"carriers":null}`, `{"valid":true}`, `[]`, `{"carriers":"\ud800"}`, `{"down":01}`, " {\t\"carriers\" :\r\"n1:20\"} ",
	} {
		f.Add(s)
	}
	form := testJSONForm(f)
	f.Fuzz(func(t *testing.T, line string) {
		if strings.Contains(line, "\n") {
			return
		}
		r, ok := readJSON(form, line)
		var object map[string]json.RawMessage
		decoder := json.NewDecoder(strings.NewReader(line))
		isObject := json.Valid([]byte(line)) && decoder.Decode(&object) == nil && object != nil
		if !ok {
			if isObject && r.reason == "" {
				t.Fatalf("%q is refused without a reason", line)
			}
			if isObject && strings.HasPrefix(r.reason, "not ") && utf8.ValidString(line) {
				t.Fatalf("%q: %s", line, r.reason)
			}
			return
		}
		if !isObject {
			t.Fatalf("%q is taken for an object", line)
		}
		var carriers *string
		if text, found := object["carriers"]; found {
			if err := json.Unmarshal(text, &carriers); err != nil {
				t.Fatalf("%q: carriers: %v", line, err)
			}
		}
		want := ""
		if carriers != nil {
			want = string(bytes.TrimSpace([]byte(*carriers)))
		}
		if string(r.carriers) != want {
			t.Fatalf("%q: carriers %q, want %q", line, r.carriers, want)
		}
		if want == "" {
			return
		}
		a := form.style.answerOf(&finding{rule: "r", configuration: "c", sets: []int{0, 1}})
		var answered map[string]json.RawMessage
		if err := json.Unmarshal(form.answered(nil, r, a), &answered); err != nil {
			t.Fatalf("%q: the answer is %q: %v", line, form.answered(nil, r, a), err)
		}
		if len(answered) != len(object)+int(columnCount) {
			t.Fatalf("%q: %d keys, of which %d are added: %q", line, len(answered), columnCount, form.answered(nil, r, a))
		}
		for key, value := range object {
			if !bytes.Equal(answered[key], value) {
				t.Fatalf("%q: key %q is now %q", line, key, answered[key])
			}
		}
	})
}
