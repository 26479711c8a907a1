package render

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestJSONNumbers(t *testing.T) {
	for _, test := range []struct {
		value any
		want  string
	}{
		{1e-7, "0.0000001"},
		{-1.5e-9, "-0.0000000015"},
		{1e21, "1000000000000000000000"},
		{24250.08, "24250.08"},
		{0.1, "0.1"},
		{1.4, "1.4"},
		{int64(math.MaxInt64), "9223372036854775807"},
		{`1e-7 \" 2E5`, `"1e-7 \\\" 2E5"`},
		{`ends in \`, `"ends in \\"`},
		{"<b>&</b> é 東", `"<b>&</b> é 東"`},
		{true, "true"},
	} {
		out, err := Render(&Answer{Value: func() any { return test.value }}, Options{Format: JSON})
		if err != nil || string(out) != test.want+"\n" {
			t.Errorf("%v is written %q, %v; want %q", test.value, out, err, test.want+"\n")
		}
	}
	if _, err := Render(&Answer{Value: func() any { return math.NaN() }}, Options{Format: JSON}); err == nil {
		t.Error("NaN has no JSON form, but no error came")
	}
}

// A list of numbers stands on one line, every other list and object on several; empty
// ones are closed at once.
func TestJSONLayout(t *testing.T) {
	value := map[string]any{
		"a": []any{[]int{5, 10}, []float64{1.4, 1e-7}, []int{}, []string{"x,y", `"]`}},
		"b": map[string]any{},
		"c": []any{map[string]any{"n": -1, "t": true}, nil},
	}
	const want = `{
  "a": [
    [5, 10],
    [1.4, 0.0000001],
    [],
    [
      "x,y",
      "\"]"
    ]
  ],
  "b": {},
  "c": [
    {
      "n": -1,
      "t": true
    },
    null
  ]
}
`
	out, err := Render(&Answer{Value: func() any { return value }}, Options{Format: JSON})
	if err != nil || string(out) != want {
		t.Errorf("%s, %v, want %s", out, err, want)
	}
}

// Streamed values are laid out as those of one list.
func TestStream(t *testing.T) {
	list := []any{map[string]any{"id": "a", "mhz": []int{5, 10}}, 1e-9, []any{}, "x"}
	whole, err := Render(&Answer{Value: func() any { return list }}, Options{Format: JSON})
	if err != nil {
		t.Fatal(err)
	}
	streamed, err := Render(&Answer{Values: slices.Values(list)}, Options{Format: JSON})
	if err != nil || string(streamed) != string(whole) {
		t.Errorf("%s, %v, want %s", streamed, err, whole)
	}
	var b strings.Builder
	if err := Stream(&b, slices.Values([]any{})); err != nil || b.String() != "[]\n" {
		t.Errorf("no values are written %q, %v", b.String(), err)
	}
	if err := Stream(&b, slices.Values([]any{math.Inf(1)})); err == nil {
		t.Error("infinity has no JSON form, but no error came")
	}
}

func FuzzJSONNumbers(f *testing.F) {
	f.Add(1e-7, "1e-7")
	f.Add(-3.5e300, `\"e`)
	f.Fuzz(func(t *testing.T, number float64, text string) {
		if math.IsNaN(number) || math.IsInf(number, 0) {
			return // no JSON form
		}
		want := map[string]float64{text: number}
		out, err := Render(&Answer{Value: func() any { return want }}, Options{Format: JSON})
		if err != nil {
			t.Fatal(err)
		}
		var got map[string]float64
		if err := json.Unmarshal(out, &got); err != nil {
			t.Fatalf("%v in %s", err, out)
		}
		for _, v := range got {
			if len(got) != 1 || v != number {
				t.Fatalf("%v is read back as %v", want, got)
			}
		}
		if tail := string(out)[strings.LastIndex(string(out), `"`):]; strings.ContainsAny(tail, "eE") {
			t.Fatalf("an exponent in %s", out)
		}
	})
}
