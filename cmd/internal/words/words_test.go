package words

import "testing"

func TestNearest(t *testing.T) {
	list := []string{"text", "json", "csv", "markdown"}
	for mistyped, want := range map[string]string{
		"jsn": "json", "JSON5": "json", "tetx": "text", "mark": "markdown", "xml": "", "": "", "c": "", "cs": "csv", "yaml": "",
	} {
		if got := Nearest(mistyped, list); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", mistyped, got, want)
		}
	}
}

func TestNearestNumber(t *testing.T) {
	list := []string{"15", "30", "120"}
	for given, want := range map[string]string{"14": "15", "22.5": "15", "99": "120", "x": ""} {
		if got, numbers := NearestNumber(given, list); got != want || !numbers {
			t.Errorf("NearestNumber(%q) = %q, %v; want %q", given, got, numbers, want)
		}
	}
	if near, numbers := NearestNumber("1", []string{"1", "one"}); near != "" || numbers {
		t.Errorf("among words there is no nearest number, got %q", near)
	}
}

func TestLists(t *testing.T) {
	for _, c := range []struct {
		list    []string
		or, and string
	}{
		{nil, "", ""},
		{[]string{"a"}, "a", "a"},
		{[]string{"a", "b"}, "a or b", "a and b"},
		{[]string{"a", "b", "c"}, "a, b or c", "a, b and c"},
	} {
		if or, and := Or(c.list), And(c.list); or != c.or || and != c.and {
			t.Errorf("%q: %q and %q, want %q and %q", c.list, or, and, c.or, c.and)
		}
	}
	if one, two := Counted(1, "row"), Counted(2, "row"); one != "1 row" || two != "2 rows" {
		t.Errorf("counted %q, %q", one, two)
	}
}
